"""What set electricians know, with no source but common practice: the usual dips must make it come out.

The limits that are computed with them: 198 fps at 180° for 75 Hz, 3105 fps at 180° for 1 kHz.
"""

from math import pi

import pytest

from pycore.base import units
from pycore.camera import arc_light
from pycore.camera.clocks import Group, Mix
from pycore.camera.lamp_light import typical_dip
from pycore.camera.steady import Search, always_from
from pycore.rig.fill import listed


def square(f):
    dip, form = typical_dip(f), listed()["pulse"]
    return arc_light.on_square(f=f, τ=units.parse(dip["time"], "µs"), d=units.parse(dip["dip"], "%"), e=units.parse(form["edge"], "%"), s=units.parse(form["sag"], "%"))


def highest(f, degrees=180.0):
    """Frame rate up to which light on a square wave of f (Hz) is steady at a shutter angle, whatever its pulses do."""
    T = always_from(Search(Mix((Group("own", 1.0, square(f), ("lamp",)),)), units.parse(listed()["picture"]["steady"], "%")))
    return degrees / 360 / T


@pytest.mark.parametrize("rate", [24, 25, 30, 48, 50, 60, 96, 100, 120])
def test_75_hz_serves_ordinary_rates(rate):
    """Common practice, no source: a square wave of about 75 Hz serves ordinary rates such as 24 frames a second."""
    assert highest(75) > rate


def test_75_hz_does_not_serve_high_speed():
    """Or nobody would carry ballasts that go higher."""
    assert highest(75) < 500


def test_1_khz_serves_1000_fps_easily_and_about_3000_in_tests():
    """Common practice, no source: about 1 kHz serves 1000 frames a second easily and was used to about 3000 in tests."""
    assert highest(1000) > 2 * 1000
    assert 2500 < highest(1000) < 4000


@pytest.mark.parametrize("f", range(900, 1201, 50))
def test_the_range_for_high_speed(f):
    """Common practice, no source: the range for high-speed work is about 900 to 1200 Hz; all of it serves 1000 frames a second."""
    assert highest(f) > 1000


def test_a_mains_arc_serves_no_rate_freely():
    """Common practice, no source: light from a magnetic ballast needs safe rates or angles already at 24 and 25 frames a second."""
    ripple = units.parse(listed()["lamp"]["ripple"], "%")
    T = always_from(Search(Mix((Group("supply", 1.0, arc_light.on_sine(f=50, m=ripple), ("lamp",)),)), 0.02))

    assert pi / (2 * pi * T) < 24
