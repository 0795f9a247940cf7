"""A lamp's own law from readings."""

from math import log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.base.problem import Refused
from pycore.lamp.refit import Reading, own_law, power_law


def readings(*pairs):
    """Readings of (setting, light)."""
    return [Reading(setting=s, light=x) for s, x in pairs]


@given(st.floats(0.5, 3), st.floats(1, 1e5), st.lists(st.sampled_from([0.3, 0.4, 0.5, 0.6, 0.7, 0.85, 1.0]), min_size=2, max_size=7, unique=True))
def test_a_lamp_that_follows_a_law_gives_it_back(n, full, settings):
    """Readings made by a law are fitted by that law, whatever the meter's unit."""
    fit = power_law(readings(*((s, full * s**n) for s in settings)))

    assert fit.exponent == pytest.approx(n)
    assert fit.light(1.0) == pytest.approx(full)
    assert fit.worst == pytest.approx(0, abs=1e-9)
    assert fit.exact == (len(settings) == 2)


def test_least_squares_by_hand():
    """Readings of 100, 50 and 20 at 1, 1/2 and 1/4: in powers of two the slope is the mean of the outer step, and residuals are known."""
    fit = power_law(readings((1.0, 100.0), (0.5, 50.0), (0.25, 20.0)))
    slope = log2(100 / 20) / 2

    assert fit.exponent == pytest.approx(slope)
    assert fit.worst == pytest.approx(2 / 3 * abs(log2(50) - (log2(100) + log2(20)) / 2))


@given(st.lists(st.floats(0.02, 1), min_size=2, max_size=6, unique_by=lambda s: round(s, 2)), st.floats(0, 1))
def test_the_own_law_goes_through_its_readings_and_back(settings, along):
    """At a reading its stops, between two a straight way, and the way back gives the setting."""
    rising = sorted(settings)
    if min(b - a for a, b in zip(rising, rising[1:], strict=False)) < 0.006:
        return
    law = own_law(readings(*((s, 10.0 + 100 * k) for k, s in enumerate(rising))))
    wanted = rising[0] + along * (rising[-1] - rising[0])

    assert law.stops(rising[-1]) == pytest.approx(0)
    assert law.stops(rising[0]) == pytest.approx(log2(10 / (10 + 100 * (len(rising) - 1))))
    assert law.setting(law.stops(wanted)) == pytest.approx(wanted, abs=1e-9)


@pytest.mark.parametrize(("given_", "code"), [
    ([(1.0, 100.0)], "readings-few"),
    ([(1.0, 100.0), (0.5, 0.0)], "reading-unusable"),
    ([(1.0, 100.0), (0.0, 5.0)], "reading-unusable"),
    ([(1.0, 100.0), (0.5, float("nan"))], "reading-unusable"),
    ([(1.0, 100.0), (1.0, 90.0)], "readings-alike"),
    ([(1.0, 100.0), (0.5, 200.0)], "light-falls"),
])
def test_readings_that_give_no_law_are_refused(given_, code):
    """Each with its reason; several bad readings are named at once."""
    for fit in (power_law, own_law):
        with pytest.raises(Refused) as refused:
            fit(readings(*given_))
        assert refused.value.problems[0].code == code


def test_all_bad_readings_are_named():
    """Two unusable readings give two problems, each with its place."""
    with pytest.raises(Refused) as refused:
        power_law(readings((1.0, -1.0), (0.7, 50.0), (2.0, 40.0)))

    assert [p.address for p in refused.value.problems] == ["readings/0", "readings/2"]


def test_nothing_is_known_beyond_the_readings():
    """No extrapolation, up or down."""
    law = own_law(readings((0.3, 20.0), (0.8, 100.0)))
    for ask in (lambda: law.stops(0.9), lambda: law.stops(0.2), lambda: law.setting(-5.0), lambda: law.setting(0.5)):
        with pytest.raises(Refused):
            ask()
