"""The head cable in the rig: length, size, ceilings, make-up."""

import pytest

from pycore.base.result import Verdict
from pycore.base.units import parse
from pycore.findings import head_cable
from pycore.findings.lamp_side import delivered, lamp_side
from pycore.rig.read import read
from pycore.rig.typical import settle
from tests.rigs import BALLAST, HEAD, LAMP, MAGNETIC, answer, finding, rig

BARE_ENDS = {f"{BALLAST}/makes_up": "no"}


def load(*changes):
    """The settled lamp of the plain rig."""
    return settle(read(rig(*changes)).rig).loads["A1"]


def test_the_longest_cable_by_hand():
    """4 kW at 200 V, not made up, 97 %: 19.4 A leave 120 W for the cable, 0.3188 Ω, of 4 mm² at 60 °C (4.95 Ω/km × 1.1572) 27.8 m."""
    found = head_cable.reaches(load(BARE_ENDS))
    ohms = (4000 - 3880) / 19.4**2

    assert found.limit.term.value == pytest.approx(ohms / (2 * 4.95e-3 * 1.1572), rel=1e-3)
    assert found.verdict is Verdict.CLEAR


def test_at_that_length_the_lamp_has_just_that_power():
    """Lay the longest cable of each size: the lamp gets 97 %."""
    for x in head_cable.lengths(load(BARE_ENDS), 0.97, american=False):
        lamp = load(BARE_ENDS, {f"{HEAD}/size": x.size, f"{HEAD}/length": f"{x.length.value:.9f} m"})
        side = lamp_side(lamp)
        assert delivered(lamp, side, side.output).power.value == pytest.approx(0.97 * 4000, rel=1e-6)


def test_larger_sizes_reach_further_and_thin_ones_are_left_out():
    """Lengths rise with the size, and no size is offered that may not carry the arc's current."""
    listed = head_cable.lengths(load(BARE_ENDS), 0.97, american=False)
    lengths = [x.length.value for x in listed]

    assert lengths == sorted(lengths)
    assert all(x.current.value <= x.rating.value for x in listed)
    assert min(parse(x.size, "mm²") for x in listed) > 1.5e-6


@pytest.mark.parametrize(("changes", "ceiling", "words"), [
    ({}, "power", "its most power"),
    ({f"{BALLAST}/most_voltage": "205 V"}, "voltage", "its most voltage"),
])
def test_the_ceiling_that_ends_it_is_named(changes, ceiling, words):
    """Made up, the ballast's own ceiling ends the length, and the finding says which."""
    found = head_cable.longest(load(changes), 0.97, load().head_cable.size)

    assert found.ceiling == ceiling and words in head_cable.reaches(load(changes)).says


def test_no_cable_is_short_enough_for_too_little_current():
    """A ballast that gives 18 A never drives 4 kW at 200 V."""
    found = head_cable.reaches(load({f"{BALLAST}/most_current": "18 A"}))

    assert found.verdict is Verdict.TIGHT and "No head cable" in found.says


@pytest.mark.parametrize(("changes", "ceiling", "share"), [
    ({f"{HEAD}/length": "150 m", f"{HEAD}/size": "2.5 mm²"}, "power", None),
    ({f"{BALLAST}/most_current": "18 A"}, "current", 18 * 200 / 4000),
    ({f"{BALLAST}/most_voltage": "201 V"}, "voltage", None),
])
def test_at_a_ceiling_the_lamp_gets_less_and_it_is_said(changes, ceiling, share):
    """The chain names the ceiling and shows the lamp's share."""
    made = answer(changes)
    takes = finding(made, "head-cable")

    assert lamp_side(load(changes)).ceiling == ceiling
    assert takes.note == "Ceiling reached" and head_cable.CEILING[ceiling] in takes.says
    assert finding(made, "lamp-power").demand.value == pytest.approx(share, rel=1e-6) if share else finding(made, "lamp-power").demand.value < 0.999


def test_the_voltage_ceiling_by_hand():
    """201 V at the ballast over 0.1718 Ω and an arc of 200 V: 1 V / 0.1718 Ω = 5.82 A."""
    lamp = load({f"{BALLAST}/most_voltage": "201 V"})
    side = lamp_side(lamp)
    got = delivered(lamp, side, side.output)

    assert got.current.value == pytest.approx(1 / side.resistance.value, rel=1e-6)


def test_an_arc_out_of_reach_is_unknown_not_dark():
    """An arc voltage above what the ballast can give: no figure, and the reason."""
    made = answer({f"{BALLAST}/most_voltage": "190 V"})

    assert finding(made, "head-cable").verdict is Verdict.UNKNOWN
    assert "more voltage than the ballast can give" in finding(made, "head-cable").problems[0].message


def test_a_slope_changes_a_dimmed_lamp_only():
    """At rated power the slope does not count; dimmed, a rising arc voltage takes a little more current."""
    def amps(*changes):
        lamp = load(*changes)
        side = lamp_side(lamp)
        return delivered(lamp, side, side.output).current.value

    slope, half = {f"{LAMP}/arc_slope": "2 Ω"}, {"loads/A1/dim": "50 %"}

    assert amps(slope) == pytest.approx(amps())
    assert amps(slope, half) == pytest.approx((-160 + (160**2 + 8 * 2000) ** 0.5) / 4, rel=1e-9)  # 2·I² + 160·I = 2000
    assert amps(half) == pytest.approx(10)


def test_the_supply_gives_more_for_the_makeup():
    """The loss over efficiency, power factor and voltage, in amperes, is named where it is made up and only there."""
    made, bare = answer(), answer(MAGNETIC)
    takes = finding(made, "head-cable")
    extra = next(s for s in takes.steps if s.law.endswith("extra_current")).result

    lost = 20**2 * 2 * 15 * 4.95e-3 * 1.1572
    volts = finding(made, "ballast-window").demand.value
    assert extra.value == pytest.approx(lost / (0.92 * 0.98 * volts), rel=1e-3)
    assert str(extra.quantity) in takes.says
    assert not any(s.law.endswith("extra_current") for s in finding(bare, "head-cable").steps)
