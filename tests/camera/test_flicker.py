"""Figures of merit for people."""

from math import cos, inf, pi, tau

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.camera import flicker

STEPS = 4000


def levels(of):
    return [of(i / STEPS) for i in range(STEPS)]


@given(st.floats(0.01, 1))
def test_a_pure_ripple(m):
    """Percent flicker is the ripple, flicker index is m/π: identities of the definitions, IEV 845-22-094."""
    wave = levels(lambda x: 1 + m * cos(tau * x))

    assert flicker.percent_flicker(Φ_2=max(wave), Φ_1=min(wave)) == pytest.approx(m)
    assert flicker.flicker_index(wave) == pytest.approx(m / pi, rel=1e-3)
    assert flicker.flicker_index_of_ripple(m=m) == pytest.approx(m / pi)


@given(st.floats(0.02, 0.98))
def test_pulses_of_any_width(duty):
    """Full depth, and a flicker index of one less the duty: all but the duty's part of the light lies above the mean."""
    wave = levels(lambda x: 1.0 if x < duty else 0.0)

    assert flicker.percent_flicker(Φ_2=1, Φ_1=0) == 1
    assert flicker.flicker_index(wave) == pytest.approx(1 - duty, abs=1e-3)


@given(st.floats(0.01, 1), st.floats(0.1, 50))
def test_figures_do_not_depend_on_how_bright(m, scale):
    """Both are ratios."""
    wave = levels(lambda x: 1 + m * cos(tau * x))

    assert flicker.flicker_index([scale * x for x in wave]) == pytest.approx(flicker.flicker_index(wave))


@pytest.mark.parametrize(("frequency", "low", "none"), [(100, 8.0, 3.33), (120, 9.6, 4.0), (1000, 80, 33.3), (50, 1.25, 0.5), (89, 2.225, 0.89), (90, 7.2, 2.997)])
def test_limits_for_people(frequency, low, none):
    """IEEE 1789-2015, 8.1.1, read second hand: 0.025 and 0.01 %/Hz below 90 Hz, 0.08 and 0.0333 %/Hz above."""
    assert 100 * flicker.low_risk(frequency) == pytest.approx(low)
    assert 100 * flicker.no_effect(frequency) == pytest.approx(none, abs=0.005)


def test_limits_that_a_page_in_circulation_gets_wrong():
    """Above 90 Hz low risk is not 0.0333 %/Hz and no effect not 0.01 %/Hz; below 90 Hz the zone between the two is not free of risk."""
    assert flicker.low_risk(120) != pytest.approx(0.000333 * 120) and flicker.no_effect(120) != pytest.approx(0.0001 * 120)
    assert flicker.no_effect(60) < 0.0003 * 60 < 0.000333 * 60
    assert 0.0003 * 60 > flicker.low_risk(60)  # 1.8 % at 60 Hz: above the low-risk limit, not "no risk"


def test_where_the_limits_end():
    """No low-risk limit above 1250 Hz, no no-effect limit above 3000 Hz."""
    assert flicker.low_risk(1250) < inf and flicker.low_risk(1251) == inf
    assert flicker.no_effect(3000) < inf and flicker.no_effect(3001) == inf


def test_stroboscopic_visibility():
    """100 Hz at 50 %: threshold 0.2563, visibility 1.95. CIE TN 006:2016, constants from memory."""
    assert flicker.stroboscopic_threshold(f=100, f_1=1) == pytest.approx(0.2563, rel=0.01)
    assert flicker.stroboscopic([(100, 0.5)]) == pytest.approx(1.95, rel=0.01)
    assert flicker.stroboscopic([(60, 0.5), (2500, 0.9)]) == 0
