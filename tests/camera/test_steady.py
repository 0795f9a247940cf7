"""The search for steady windows misses nothing."""

from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pycore.camera import arc_light, led_light
from pycore.camera.clocks import Group, Mix
from pycore.camera.steady import FINEST, Search, always_from, nearest, stretches
from tests.camera.waves import any_wave

ALLOWED = st.sampled_from([0.005, 0.02, 0.05])


def search(*waves, allowed=0.02):
    return Search(Mix(tuple(Group(str(i), 1 / len(waves), w, (str(i),)) for i, w in enumerate(waves))), allowed)


@settings(max_examples=25)
@given(st.lists(any_wave, min_size=1, max_size=3), ALLOWED)
def test_stretches_agree_with_trying_everything(waves, allowed):
    """Every length tried between is on the side that its stretch says, but for those within the finest step of an end."""
    looking = search(*waves, allowed=allowed)
    cut = stretches(looking, 0.5e-3, 20e-3)

    assert cut[0].short == 0.5e-3 and cut[-1].long == 20e-3
    assert all(a.long == b.short and a.steady != b.steady for a, b in zip(cut, cut[1:], strict=False))
    for i in range(400):
        T = 0.5e-3 * 40 ** ((i + 0.5) / 400)
        part = next(x for x in cut if x.short <= T <= x.long)
        near = min(T - part.short, part.long - T) < 2 * FINEST * T
        assert near or (looking.excess(T) <= 0) is part.steady


@settings(max_examples=25)
@given(st.lists(any_wave, min_size=1, max_size=2), ALLOWED)
def test_from_there_on_all_is_steady(waves, allowed):
    """Longer windows than the one found are steady, a slightly shorter one is not."""
    looking = search(*waves, allowed=allowed)
    T = always_from(looking)

    if T is None:
        return
    assert all(looking.excess(T * 1.0001 * (1 + i / 200) ** 3) <= 1e-12 for i in range(400))
    assert looking.excess(T * (1 - 1e-5)) > -1e-9


def test_a_light_without_ripple_is_always_steady():
    """There is no length below which it is not."""
    assert always_from(search(arc_light.on_sine(f=50, m=1e-15))) is None


def test_nearest_steady_window():
    """At 24 frames a second under 100 pulses, from 1/48 s down to two whole pulses and up to three."""
    looking = search(arc_light.on_sine(f=50, m=0.8))

    assert nearest(looking, 1 / 48, 1 / 240) == pytest.approx(0.02, rel=2e-3)
    assert nearest(looking, 1 / 48, 1 / 24) == pytest.approx(0.03, rel=2e-3)
    assert nearest(looking, 4e-3, 2e-3) is None


def test_nearest_stays_where_it_is_steady():
    """A window that is steady is no further from itself than the margin that is looked into."""
    looking = search(led_light.rippling(f=50, m=0.005))

    assert nearest(looking, 0.01, 0.001) == pytest.approx(0.01, rel=0.11)


def test_highest_rate_of_a_square_wave_by_its_law():
    """d·τ over the light between dips, over what is allowed: 50 µs/0.9925/2 % is 2.52 ms, or 198.5 frames a second at 180°."""
    T = always_from(search(arc_light.on_square(f=75, τ=1e-4, d=0.5, e=0.5)))

    assert pi / (2 * pi * T) == pytest.approx(198.5, rel=1e-4)
