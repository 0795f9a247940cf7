"""Timing, steps and addresses of a control line."""

from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.lamp import control_line as dmx
from pycore.lamp.control_line import Receiver, free_start, overlaps

RECEIVERS = st.lists(st.builds(Receiver, id=st.uuids().map(str), first=st.integers(1, 40), slots=st.integers(1, 8)), max_size=7)


@given(RECEIVERS)
def test_overlaps_against_every_slot(receivers):
    """A pair is named just when some slot is in both and they are not set alike."""
    named = {(a, b) for a, b, _, _ in overlaps(receivers)}
    for k, a in enumerate(receivers):
        for b in receivers[k + 1:]:
            shared = set(range(a.first, a.last + 1)) & set(range(b.first, b.last + 1))
            assert ((a.id, b.id) in named) == (bool(shared) and (a.first, a.slots) != (b.first, b.slots))


@given(RECEIVERS, st.integers(1, 12), st.integers(30, 60))
def test_a_free_place_is_free_and_the_lowest(receivers, slots, most):
    """The place found touches nobody and no lower one would do; none is found only where there is none."""
    taken = {s for r in receivers for s in range(r.first, r.last + 1)}
    fits = [s for s in range(1, most - slots + 2) if not taken & set(range(s, s + slots))]

    assert free_start(receivers, slots, most) == (fits[0] if fits else None)


@pytest.mark.parametrize(("loads", "more"), [(0, 0), (32, 0), (32.25, 1), (40, 1), (65, 2)])
def test_splitters(loads, more):
    """32 unit loads a line: EIA-485, second hand."""
    assert dmx.splitters(loads, 32) == more


def test_a_fade_by_hand():
    """From full to black in 5 s in one slot: 255 levels, 19.6 ms each; packets of 22.7 ms carry 1.16 levels at a time."""
    hold = dmx.hold_time(T=5.0, x_1=1.0, x_2=0.0, N=255)
    packet = dmx.packet_time(t_b=92e-6, t_m=12e-6, n=512, t_s=44e-6, t_0=1204e-6)

    assert hold == pytest.approx(5 / 255)
    assert dmx.change_time(h=hold, t=packet) == pytest.approx(packet)
    assert dmx.levels_at_once(t=packet, h=hold) == pytest.approx(packet / hold)
    assert dmx.stops_between(Φ_2=2 / 255, Φ_1=1 / 255) == pytest.approx(log2(2))


def test_two_slots_are_257_times_finer():
    """65 535 steps against 255."""
    assert dmx.level_step(N=dmx.STEPS["8 bit"]) / dmx.level_step(N=dmx.STEPS["16 bit"]) == pytest.approx(257)
