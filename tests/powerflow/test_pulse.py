"""Current pulses of a rectifier, against strips added up and against their own limits."""

from math import cos, hypot, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.powerflow.pulse import NARROW, WIDE, angle_of, inner_resistance, pulse_distortion, pulse_power, pulse_spectrum, widened
from pycore.powerflow.spectrum import typical

ANGLES = st.floats(0.1, 1.15)
STRIPS = 20_000


def strips(theta):
    """Position and current, of E/R, of each strip of one pulse, and their width."""
    width = 2 * theta / STRIPS
    at = [-theta + (k + 0.5) * width for k in range(STRIPS)]
    return at, [sqrt(2) * (cos(x) - cos(theta)) for x in at], width


@pytest.mark.parametrize("theta", [0.2, 0.412, 0.84, 1.1])
def test_power_and_shape_against_strips(theta):
    """Mean, rms and every order of the pulse by adding up strips: two pulses of opposite sign a period."""
    at, amps, width = strips(theta)
    mean, rms = sum(amps) * width / pi, sqrt(sum(i * i for i in amps) * width / pi)
    order = {h: sqrt(2) / pi * sum(i * cos(h * x) for x, i in zip(at, amps, strict=True)) * width for h in (1, 3, 5, 7, 9)}

    assert pulse_power(θ=theta) == pytest.approx(sqrt(2) * cos(theta) * mean, rel=1e-6)
    assert pulse_distortion(θ=theta) == pytest.approx(sqrt((rms / order[1]) ** 2 - 1), rel=1e-6)
    for h, share, angle in pulse_spectrum(theta, 0.0)[:4]:
        assert share * cos(angle) == pytest.approx(order[h] / order[1], abs=5e-3)  # orders above the 25th count in these


def test_what_simulation_gave_as_typical_is_such_a_pulse():
    """The typical spectrum came from a circuit in the time domain; the pulse with its distortion has the same orders within 5 points."""
    usual = typical()["electronic"]
    made = {h: share for h, share, _ in pulse_spectrum(angle_of(usual.distortion), 0.0)}

    for h, share, _ in usual.parts:
        assert made[h] == pytest.approx(share, abs=0.05), h


@given(ANGLES)
def test_shares_make_the_distortion(theta):
    """Root of the sum of squares of the shares is the distortion; and the angle comes back from it."""
    assert hypot(*(share for _, share, _ in pulse_spectrum(theta, 0.05))) == pytest.approx(pulse_distortion(θ=theta), rel=1e-9)
    assert angle_of(pulse_distortion(θ=theta)) == pytest.approx(theta, abs=1e-6)


@given(ANGLES, st.floats(0, 0.5), st.floats(500, 5000), st.floats(200, 250))
def test_resistance_only_widens(theta, ohms, watts, volts):
    """More resistance makes wider pulses with less distortion; none on the nominal voltage leaves them alone."""
    same = widened(θ=theta, V_n=230, P=watts, R=0.0, E=230)
    more = widened(θ=theta, V_n=230, P=watts, R=ohms, E=230)

    assert same == pytest.approx(theta, abs=1e-6)
    assert more >= same - 1e-9 and pulse_distortion(θ=more) <= pulse_distortion(θ=same) + 1e-9
    assert NARROW <= widened(θ=theta, V_n=230, P=watts, R=ohms, E=volts) <= WIDE


def test_the_widest_is_where_most_power_passes():
    """P·R/E² has its maximum at WIDE: the derivative changes sign there."""
    assert pulse_power(θ=WIDE) > max(pulse_power(θ=WIDE - 0.01), pulse_power(θ=WIDE + 0.01))
    assert pulse_power(θ=WIDE) == pytest.approx(0.2306, abs=1e-4)  # of E²/R; a plain resistance takes 0.25


def test_resistance_inside():
    """4 kW at 63 % true and 97 % displacement: 1.17 of distortion, 0.0268 of E²/R, 0.354 Ω at 230 V."""
    theta = angle_of(1.17)

    assert inner_resistance(p=pulse_power(θ=theta), V_n=230, P=4000) == pytest.approx(0.354, abs=0.001)


def test_no_pulse_has_that_shape():
    """Less distortion than the widest pulse, or more than the narrowest: none."""
    assert angle_of(0.1) == angle_of(30.0) == angle_of(float("nan")) == 0.0
