"""Power, level, light and stops, there and back."""

from math import cos, log, pi, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.lamp import curve, dimming, led, tungsten

SHARE = st.floats(0.02, 1)


def test_half_the_power_gives_two_fifths_of_the_light():
    """The trade's fact gives the exponent: ln 0.40 / ln 0.50 = 1.32. Common practice, no source."""
    n = dimming.exponent(Φ=0.40, p=0.50)

    assert n == pytest.approx(1.3219, abs=5e-5)
    assert dimming.stops(Φ=dimming.light(p=0.50, n=n)) == pytest.approx(-1.3219, abs=5e-5)


@given(SHARE, st.floats(0.5, 3))
def test_arc_light_and_power_are_each_others_inverse(p, n):
    """Power to light to power, and stops to power to stops."""
    assert dimming.power_for_light(Φ=dimming.light(p=p, n=n), n=n) == pytest.approx(p)
    assert dimming.stops(Φ=dimming.light(p=dimming.setting_for_stops(s=log(p) / log(2), n=n), n=n)) == pytest.approx(log(p) / log(2))


@pytest.mark.parametrize("kind", curve.CURVES)
@given(st.floats(0, 1))
def test_every_curve_has_its_inverse(kind, x):
    """Level to output to level, from 0 to 1, rising all the way."""
    out, level = curve.OUTPUT[kind], curve.LEVEL[kind]

    assert level(c=out(x=x)) == pytest.approx(x, abs=1e-6)
    assert out(x=0.0) == 0 and out(x=1.0) == 1
    assert out(x=min(1, x + 0.01)) >= out(x=x)


@given(st.floats(0, 0.95), st.floats(0, 1))
def test_a_ballast_from_floor_to_full_and_back(floor, c):
    """Output 0 is the lowest dim, output 1 full power."""
    p = dimming.power_of_output(p_f=floor, c=c)

    assert floor - 1e-12 <= p <= 1 + 1e-12
    assert dimming.output_of_power(p=p, p_f=floor) == pytest.approx(c, abs=1e-9)


@given(SHARE)
def test_tungsten_there_and_back(share):
    """Light and power of a filament determine its voltage."""
    assert tungsten.light(v=tungsten.voltage_for_light(Φ=share)) == pytest.approx(share)
    assert tungsten.power(v=tungsten.voltage_for_power(p=share)) == pytest.approx(share)
    assert tungsten.power_at(P_n=1000, V=230 * share, V_n=230) == pytest.approx(1000 * tungsten.power(v=share))


@given(st.floats(0.05, 0.999))
def test_the_dimmer_against_its_own_wave(v):
    """A sine cut at the firing angle, summed instant by instant: rms, displacement and power factor agree with the laws."""
    α, count = tungsten.firing_angle(v), 4000
    angles = [(k + 0.5) * pi / count for k in range(count)]
    wave = [sqrt(2) * sin(a) if a >= α else 0.0 for a in angles]
    rms = sqrt(sum(w * w for w in wave) / count)
    active = sum(w * sqrt(2) * sin(a) for w, a in zip(wave, angles, strict=True)) / count
    in_step, across = (2 * sum(w * f(a) for w, a in zip(wave, angles, strict=True)) / count for f in (sin, cos))

    assert rms == pytest.approx(v, abs=2e-3)
    assert active / rms == pytest.approx(tungsten.dimmer_factor(v=v), abs=3e-3)
    assert in_step / sqrt(in_step**2 + across**2) == pytest.approx(tungsten.dimmer_displacement(α=α), abs=3e-3)


@given(SHARE, st.floats(0, 0.3))
def test_an_led_draws_something_in_the_dark(light, standby):
    """Power goes from the standing draw to full, light from none to full."""
    assert led.light(p=led.power(s=standby, Φ=light), s=standby) == pytest.approx(light)
    assert led.power(s=standby, Φ=0.0) == standby


@given(st.floats(-12, -0.01))
def test_stops_left_are_lost_by_passing_less_or_standing_further(s):
    """Transmission and distance each lose exactly the stops that are left."""
    assert dimming.stops(Φ=dimming.transmission(s_r=s)) == pytest.approx(s)
    assert dimming.stops(Φ=(3 / dimming.distance(d_1=3, s_r=s)) ** 2) == pytest.approx(s)


@pytest.mark.parametrize(("stops", "doubles", "singles"), [(0.2, 0, 0), (0.5, 0, 1), (1.0, 1, 0), (1.4, 1, 1), (2.1, 2, 0)])
def test_scrims_come_nearest(stops, doubles, singles):
    """A double takes a stop, a single half a stop. Common practice, no source."""
    found = dimming.scrims(stops)

    assert found[:2] == (doubles, singles)
    assert found[2] == pytest.approx(stops - doubles - singles / 2)
