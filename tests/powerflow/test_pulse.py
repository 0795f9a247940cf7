"""Current pulses of a rectifier, against strips added up and against their own limits."""

from cmath import phase, rect
from math import cos, hypot, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.powerflow.pulse import (
    NARROW,
    WIDE,
    YIELDS,
    Pulse,
    angle_of,
    inner_resistance,
    leaning_power,
    pulse_distortion,
    pulse_power,
    pulse_spectrum,
    widened,
)
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
    same = widened(θ=theta, V_n=230, P=watts, R=0.0, E=230).start
    more = widened(θ=theta, V_n=230, P=watts, R=ohms, E=230).start

    assert same == pytest.approx(theta, abs=1e-6)
    assert more >= same - 1e-9 and pulse_distortion(θ=more) <= pulse_distortion(θ=same) + 1e-9
    assert NARROW <= widened(θ=theta, V_n=230, P=watts, R=ohms, E=volts).start <= WIDE


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


def marched(pulse):
    """Position and current (of sqrt(2)*E/R) of each strip of a pulse behind a reactance, and their width: ξ·J' + J = cos(x) - cos(θ), step by step."""
    width = (pulse.start + pulse.end) / STRIPS
    at, amps, now = [], [], 0.0
    for k in range(STRIPS):
        x = -pulse.start + (k + 0.5) * width
        after = (now * (pulse.ratio / width - 0.5) + cos(x) - cos(pulse.start)) / (pulse.ratio / width + 0.5)
        at.append(x)
        amps.append((now + after) / 2)
        now = after
    return at, amps, width, now


@pytest.mark.parametrize(("theta", "ohms", "coil"), [(0.412, 0.0, 0.05), (0.412, 0.3, 1.0), (0.6, 0.0, 0.5), (0.3, 0.1, 1.6)])
def test_a_pulse_behind_a_reactance_against_strips(theta, ohms, coil):
    """Its end, power, shape, orders and reactive power, by marching through it: 2.7 kW on 230 V."""
    pulse = widened(θ=theta, V_n=230, P=2700, R=ohms, X=coil, E=230)
    at, amps, width, left = marched(pulse)
    order = {h: 2 / pi * width * sum(i * rect(1, -h * x) for x, i in zip(at, amps, strict=True)) for h in (1, 3, 5, 7)}
    whole = pulse_power(θ=theta) * 230**2 / 2700 + ohms
    own = 1 - complex(ohms / whole, pulse.ratio) * order[1]  # the voltage before what is inside

    assert left == pytest.approx(0, abs=1e-6) and min(amps) > -1e-6
    assert pulse.ratio == pytest.approx(YIELDS * coil / whole, rel=1e-9)
    assert leaning_power(θ=pulse.start, β=pulse.end) == pytest.approx(2700 * whole / 230**2, rel=1e-9)
    assert 2 / pi * cos(pulse.start) * sum(amps) * width == pytest.approx(2700 * whole / 230**2, rel=1e-5)
    assert pulse.distortion == pytest.approx(sqrt(sum(i * i for i in amps) * width * 2 / pi / abs(order[1]) ** 2 - 1), rel=1e-5)
    assert pulse.late == pytest.approx((own * order[1].conjugate()).imag / (own * order[1].conjugate()).real, abs=1e-6)
    for h, share, angle in pulse.spectrum(0.02)[:3]:
        assert share * rect(1, angle) == pytest.approx(order[h] / abs(order[1]) * rect(1, h * (0.02 - phase(own))), abs=3e-3)  # orders above the 25th count in these


def test_late_pulses_take_what_their_harmonics_give_back_each_by_its_order():
    """Over a pulse the reservoir's voltage does no work on the current's change: the sum of h·Q_h is 0 at the ballast."""
    pulse = widened(θ=0.412, V_n=230, P=2700, R=0.3, X=1.0, E=230)
    at, amps, width, _ = marched(pulse)
    order = {h: 2 / pi * width * sum(i * rect(1, -h * x) for x, i in zip(at, amps, strict=True)) for h in range(1, 200, 2)}
    whole = pulse_power(θ=0.412) * 230**2 / 2700 + 0.3
    own = 1 - complex(0.3 / whole, pulse.ratio) * order[1]
    given = sum(h * h * pulse.ratio * abs(order[h]) ** 2 for h in range(3, 200, 2))

    assert (own * order[1].conjugate()).imag == pytest.approx(given, rel=0.01)  # orders above the 200th are left out


@given(st.floats(0.1, 0.7), st.floats(0, 0.5), st.floats(500, 3000), st.floats(1e-6, 0.8))
def test_reactance_only_widens(theta, ohms, watts, coil):
    """More reactance makes wider, later pulses with less distortion; hardly any changes hardly anything; and no reactance gives a number that is none."""
    even, little, more, most = (widened(θ=theta, V_n=230, P=watts, R=ohms, X=x, E=230) for x in (0.0, 1e-7, coil, 1.2 * coil))

    assert (even.ratio, even.late, even.ahead, even.start) == (0.0, 0.0, 0.0, even.end)
    assert little.distortion == pytest.approx(even.distortion, abs=1e-4) and little.start == pytest.approx(even.start, abs=1e-4)
    assert even.start <= more.start <= more.end <= pi - more.start and more.start <= most.start + 1e-9
    assert 0 < most.distortion <= more.distortion + 1e-6 <= even.distortion + 2e-6
    assert 0 <= more.late < 0.48


def test_pulses_that_would_run_into_each_other_stay_apart():
    """5 kW behind 5 Ω: more than can pass. The widest pulse is the answer, and it ends where the next one starts."""
    pulse = widened(θ=0.4, V_n=230, P=5000, R=0.1, X=5.0, E=230)

    assert pulse.end == pytest.approx(pi - pulse.start, abs=1e-6)
    assert 0 < pulse.distortion < 0.3


def test_without_reactance_it_is_the_even_pulse():
    """The same numbers as ever, to the last digit."""
    pulse = widened(θ=0.4, V_n=230, P=2700, R=0.5, X=0.0, E=225)

    assert pulse == Pulse(pulse.start, pulse.start)
    assert pulse.spectrum(0.05) == pulse_spectrum(pulse.start, 0.05) and pulse.distortion == pulse_distortion(θ=pulse.start)
