"""Run-up and age."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.lamp import run_up
from pycore.lamp.run_up import RunUp

ELECTRONIC = RunUp(kind="electronic", power=4348, reactive=600, start_current=1.15, full_light=180)
CHOKE = RunUp(kind="magnetic", power=1364, reactive=2362, uncorrected=2362, start_current=1.5, full_light=180)
CORRECTED = RunUp(kind="magnetic", power=1364, reactive=581, uncorrected=2362, start_current=1.5, full_light=180)


@pytest.mark.parametrize("lamp", [ELECTRONIC, CHOKE, CORRECTED])
def test_it_starts_low_and_ends_at_running(lamp):
    """Light rises from the strike to full, and from then on it draws what it draws running."""
    light = [lamp.at(t).light for t in range(0, 200, 5)]

    assert light == sorted(light) and light[0] < 0.5 and light[-1] == 1
    assert (lamp.at(180).power, lamp.at(180).reactive) == (lamp.power, lamp.reactive)
    assert lamp.at(179.999).power == pytest.approx(lamp.power, rel=1e-4)
    assert lamp.at(179.999).reactive == pytest.approx(lamp.reactive, rel=2e-3)


def test_an_electronic_ballast_draws_least_at_first():
    """At a quarter of the arc voltage and 115 % of the current it gives 29 % of the power."""
    assert ELECTRONIC.at(0).power == pytest.approx(0.25 * 1.15 * 4348)
    assert max(ELECTRONIC.at(t).apparent for t in range(180)) <= ELECTRONIC.at(180).apparent * (1 + 1e-9)


def test_a_choke_draws_most_at_first_and_at_a_low_power_factor():
    """One and a half times the running current, for 37.5 % of the power."""
    start = CHOKE.at(0)

    assert start.apparent == pytest.approx(1.5 * CHOKE.at(180).apparent)
    assert start.power == pytest.approx(1.5 * 0.25 * 1364)
    assert start.power / start.apparent < 0.2


def test_a_capacitor_takes_the_same_vars_off_all_the_while():
    """Corrected and bare draw the same watts, and differ by the same vars at every moment."""
    for t in (0, 10, 60, 150, 180):
        assert CORRECTED.at(t).power == CHOKE.at(t).power
        assert CHOKE.at(t).reactive - CORRECTED.at(t).reactive == pytest.approx(2362 - 581)


@given(st.floats(0, 200), st.floats(0, 60))
def test_the_most_of_a_window_is_its_most(t, window):
    """Nothing inside a window exceeds what `most` says, in watts or in vars."""
    for lamp in (ELECTRONIC, CHOKE, CORRECTED):
        most = lamp.most(t, window)
        for k in range(11):
            inside = lamp.at(t + window * k / 10)
            assert inside.power <= most.power * (1 + 1e-9) and inside.reactive <= most.reactive * (1 + 1e-9)


def test_a_metered_warm_up_current_counts():
    """Where more than running was metered while it warms up, that is drawn until it is warm."""
    metered = RunUp(kind="electronic", power=1000, reactive=100, kick=1.2)

    assert (metered.at(1).power, metered.at(1).reactive, metered.at(200).power) == (1200, 120, 1000)


@pytest.mark.parametrize("lamp", [ELECTRONIC, CHOKE])
def test_time_to_a_share_of_the_light(lamp):
    """The light is there from then on and not before."""
    t = lamp.time_to(0.9)

    assert lamp.at(t + 0.01).light >= 0.9 > lamp.at(t - 0.01).light
    assert lamp.time_to(1.0) == pytest.approx(180, abs=0.01)


def test_others_are_there_at_once():
    """Tungsten and LED have no run-up."""
    lamp = RunUp(kind="none", power=2000, reactive=0)

    assert (lamp.at(0).light, lamp.settles, lamp.time_to(1.0)) == (1, 0, 0)


def test_an_aged_lamp_on_a_choke():
    """A 150 W choke gives about 150 W at 100 V and up to 175 W at 150 V. Technical guide to discharge lamps, choke characteristic, second hand; within 5 %."""
    assert run_up.aged_choke_power(P_n=150, a=1.0, a_m=run_up.AGED_PEAK) == pytest.approx(150)
    assert run_up.aged_choke_power(P_n=150, a=1.5, a_m=run_up.AGED_PEAK) == pytest.approx(175, rel=0.05)
