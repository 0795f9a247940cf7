"""Lights on one clock are summed, clocks that run free meet at their worst."""

from itertools import product
from math import radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.camera import arc_light
from pycore.camera.clocks import SUPPLY, Part, fits, mix, turn
from tests.camera.waves import edged, windows

ARC = arc_light.on_sine(f=50, m=0.8)


def on(connection, wave=ARC, system="three-phase wye"):
    return [Part(SUPPLY, wave, turn(connection, system))]


@given(windows)
def test_three_equal_lamps_on_three_phases_cancel(T):
    """Ripple at 2f of balanced phases adds to nothing."""
    even = mix([(c, 1 / 3, on(c)) for c in ("L1-N", "L2-N", "L3-N")], 50)

    assert even.spread(T) == pytest.approx(0, abs=1e-12)


def test_two_phases_leave_half():
    """Two equal phasors 240° apart are as long as half of one: the mix ripples with half the depth of one lamp."""
    T = 1e-4

    assert mix([("a", 0.5, on("L1-N")), ("b", 0.5, on("L2-N"))], 50).spread(T) == pytest.approx(ARC.extremes(T).spread / 2, rel=1e-6)


def test_both_legs_of_a_split_phase_pulse_together():
    """Half a turn of the voltage is a whole turn of the light."""
    both = mix([("a", 0.5, on("L1-N", system="split-phase")), ("b", 0.5, on("L2-N", system="split-phase"))], 50)

    assert both.spread(1e-3) == pytest.approx(ARC.extremes(1e-3).spread)


def test_line_to_line_lies_between():
    """L1-L2 leads L1 by 30°: its light by 60°."""
    assert turn("L1-L2", "three-phase wye") == pytest.approx(radians(30))
    apart = mix([("a", 0.5, on("L1-N")), ("b", 0.5, on("L1-L2"))], 50)
    assert apart.spread(1e-5) == pytest.approx(ARC.extremes(1e-5).spread * 3**0.5 / 2, rel=1e-6)


@given(st.lists(st.tuples(edged, st.floats(0.05, 1)), min_size=1, max_size=4), windows)
def test_free_clocks_add(waves, T):
    """The spread of a mix on clocks of their own is the sum of the spreads by share."""
    total = sum(w for _, w in waves)
    lights = [(str(i), w / total, [Part(f"clock {i}", wave)]) for i, (wave, w) in enumerate(waves)]

    assert mix(lights, 50).spread(T) == pytest.approx(sum(w / total * wave.extremes(T).spread for wave, w in waves))


def test_free_clocks_reach_their_worst():
    """Two incommensurate ripples, tried at many moments, come within a few per cent of the sum."""
    a, b, T = arc_light.on_sine(f=50, m=0.5), arc_light.on_sine(f=53.7, m=0.4), 2e-3
    both = mix([("a", 0.5, [Part("a", a)]), ("b", 0.5, [Part("b", b)])], 50)
    frames = [(a.average(i / 24, T) + b.average(i / 24, T)) / 2 for i in range(6000)]

    assert 0.95 * both.spread(T) <= max(frames) - min(frames) <= both.spread(T) + 1e-9


def test_unequal_half_cycles_of_two_lamps_may_lie_either_way():
    """Which half-cycle is the brighter is not known: the mix is as bad as the worse of both ways."""
    uneven, T = arc_light.on_sine(f=50, m=0.5, a=0.1), 0.01
    both = mix([(i, 0.5, on("L1-N", uneven)) for i in "ab"], 50)
    signs = [mix([("a", 0.5, on("L1-N", uneven)), ("b", 0.5, on("L1-N", arc_light.on_sine(f=50, m=0.5, a=0.1 * s)))], 50).spread(T) for s in (1, -1)]

    assert both.spread(T) >= max(signs) - 1e-9


def test_shares_weigh_within_a_group():
    """A steady lamp dilutes, a heavier one counts more."""
    for a, b in product((0.2, 0.7), repeat=2):
        lights = [("a", a, on("L1-N")), ("b", b, on("L1-N", arc_light.on_sine(f=50, m=0.2)))]
        assert mix(lights, 50).spread(1e-5) == pytest.approx(2 * (a * 0.8 + b * 0.2), rel=1e-4)


@pytest.mark.parametrize(("pulses", "rate", "whole"), [(100, 25, True), (100, 24, False), (120, 24, True), (120, 23.976, False), (100, 100, True), (100, 200, False), (100, 50, True), (100, 16.667, True), (100, 0.203, False)])
def test_which_rates_fit(pulses, rate, whole):
    """Whole pulses in each frame, one at least: the published lists for 50 and 60 Hz."""
    assert fits(pulses, rate) is whole
