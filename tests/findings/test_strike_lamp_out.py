"""A lamp goes out: when it is back, and what to do with the others; how it comes up; what age does."""

import pytest

from pycore.base.result import Verdict, term
from pycore.findings import run_up
from pycore.findings.lamp_out import went_out
from tests.findings.test_strike import CORRECTED, MAGNETIC, WITH_CAPACITOR, rig


def test_it_must_cool_then_run_up():
    """Ten minutes to cool, three to full light, five to full colour, all as entered."""
    whole = rig(*[("arc-1200", CORRECTED)] * 2, loads__A1__warm__cooling="10 min", loads__A1__warm__full_light="3 min", loads__A1__warm__full_colour="5 min")
    out = went_out(whole, "A1")

    assert (out.back.strike, out.back.light, out.back.colour) == (600, 780, 900)
    assert "10:00" in out.says and "13:00" in out.says and "15:00" in out.says


def test_one_that_strikes_hot_is_struck_at_once():
    """No wait, and no word against trying."""
    out = went_out(rig(*[("arc-1200", CORRECTED)] * 2, loads__A1__warm__strikes_hot="yes"), "A1")

    assert (out.back.strike, out.back.light) == (0, 180)
    assert not any("not made for it" in c for c in out.cautions)


def test_with_room_the_others_stay():
    """Eight on 60 kVA: keep the seven burning."""
    out = went_out(rig(*[("arc-4000", CORRECTED)] * 8, supply__rated_power="60 kVA", supply__rating="80 A"), "A3")

    assert [(o.verdict, o.off) for o in out.options] == [(Verdict.CLEAR, ())]
    assert any("Leave the other arc lamps burning" in c for c in out.cautions)


def test_without_room_the_others_are_dimmed():
    """A choke beside LEDs that fill the outlet: dimming the LEDs makes room for the strike."""
    whole = rig(("arc-1200", MAGNETIC), ("led-1500", "none"), ("led-1500", "none"), supply="house-230-32", supply__rating="25 A")
    out = went_out(whole, "A1")

    assert [o.verdict for o in out.options] == [Verdict.STOP, Verdict.CLEAR]
    assert "Dim the others" in out.options[1].text


def test_what_is_back_soonest_is_switched_off_first():
    """Three chokes on 40 A, none of which dims: the strike finds no room until one is off, and that is the one that cools in two minutes."""
    whole = rig(*[("arc-1200", MAGNETIC)] * 3, supply="house-230-32", supply__rating="40 A", loads__A3__warm__cooling="2 min")
    out = went_out(whole, "A1")

    assert [(o.verdict, o.off) for o in out.options] == [(Verdict.STOP, ()), (Verdict.CLEAR, ("A3",))]
    assert "is back 5:00 after" in out.options[1].says


def test_it_says_how_it_comes_up():
    """A choke's most is half as much again as it draws running; light and colour with their times."""
    whole = rig(("arc-1200", MAGNETIC))
    up, again = run_up.findings(whole, whole.loads["A1"])

    assert up.demand.value == pytest.approx(1.5, rel=1e-3)
    assert "3:00" in up.says and "5:00" in up.says
    assert again.demand.value == 600


@pytest.mark.parametrize(("ballast", "aged", "verdict", "power"), [
    (CORRECTED, "120 V", Verdict.CLEAR, 1200),  # held
    (MAGNETIC, "110 V", Verdict.TIGHT, 1200 * 1.1 * 1.9 / 2),
    (MAGNETIC, "140 V", Verdict.STOP, 1200 * 1.4 * 1.6 / 2),
])
def test_age_by_hand(ballast, aged, verdict, power):
    """An electronic ballast holds the power, a choke lets it rise: a·(3 - a)/2 of the power when new."""
    whole = rig(("arc-1200", ballast))
    aged_now = term(float(aged.removesuffix(" V")), "V", "arc voltage now")
    found = next(f for f in run_up.findings(whole, whole.loads["A1"], aged_now) if f.question == "age")

    assert found.demand.value == pytest.approx(power)
    assert found.verdict is verdict


def test_an_arc_above_the_ballasts_voltage_goes_out():
    """A lamp so old that the ballast cannot hold it is a stop."""
    whole = rig(("arc-1200", CORRECTED), loads__A1__ballast__most_voltage="130 V")
    found = next(f for f in run_up.findings(whole, whole.loads["A1"], term(140.0, "V")) if f.question == "age")

    assert found.verdict is Verdict.STOP and "goes out" in found.says


def test_the_curve_ends_at_running():
    """Light and power of the drawn curve end where the lamp runs."""
    whole = rig(("arc-2500", WITH_CAPACITOR))
    curve = run_up.curve(whole, whole.loads["A1"])

    assert curve["light"][0] < 0.5 and curve["light"][-1] == 1
    assert curve["power"][-1] == pytest.approx(max(curve["power"]), rel=1e-6)
    assert max(curve["current"]) == curve["current"][0]
