"""Settings of a lamp: from level, power or stops to everything else, and the chain under a dim."""

from math import log, log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.base.problem import Refused
from pycore.base.result import Origin, Verdict, term
from pycore.findings import dimming
from pycore.findings.chain import chain
from pycore.findings.refit import refitted
from pycore.lamp.refit import Reading
from pycore.rig import edit, kit
from pycore.rig.read import read
from pycore.rig.typical import settle


def document(lamp, ballast="none", **entries):
    """A kit lamp on a 32 A outlet."""
    made, _ = kit.add_lamp(None, lamp=lamp, ballast=ballast, supply="house-230-32")
    return edit.put(made, [(a.replace("__", "/"), t) for a, t in entries.items()])


def load(lamp, ballast="none", **entries):
    """The settled lamp."""
    return settle(read(document(lamp, ballast, **entries)).rig).loads["A1"]


ARC = load("arc-4000", "electronic corrected")
LAMPS = [ARC, load("tungsten-2000"), load("led-400"), load("arc-1200", "electronic", loads__A1__control__curve="square"), load("tungsten-650", loads__A1__control__curve="S")]


@pytest.mark.parametrize("lamp", LAMPS, ids=lambda x: f"{x.kind} {x.control.curve}")
@given(st.floats(0.06, 1))
def test_level_to_stops_to_level(lamp, level):
    """A level gives stops, and those stops ask for the same level and power."""
    there = dimming.at_level(lamp, term(level, "%", "control level"))
    back = dimming.for_stops(lamp, there.stops)

    assert back.level.value == pytest.approx(level, abs=1e-6)
    assert back.power.value == pytest.approx(there.power.value, rel=1e-9)
    assert dimming.light_at_level(lamp, level) == pytest.approx(there.light.value, rel=1e-9)


def test_a_stop_of_an_arc_lamp_by_hand():
    """Half the light is 0.5^(1/1.3219) = 59.2 % of the power."""
    found = dimming.for_stops(ARC, term(-1.0, "stop"))

    assert found.power.value == pytest.approx(0.5 ** (log(0.5) / log(0.4)))
    assert found.level.value == pytest.approx((found.power.value - 0.5) / 0.5)


def test_below_its_floor_the_rest_is_lost_otherwise():
    """Three stops of a ballast that stops at half power: 1.32 by the dim, the rest by 31 % transmission or from 5 m to 8.9 m."""
    wanted = term(-3.0, "stop")
    with pytest.raises(Refused) as refused:
        dimming.for_stops(ARC, wanted)
    below = dimming.below_floor(ARC, wanted, term(5.0, "m"))

    assert refused.value.problems[0].code == "below-floor"
    assert below.left.value == pytest.approx(-3 - log2(0.4))
    assert below.transmission.value == pytest.approx(2**-3 / 0.4)
    assert below.distance.value == pytest.approx(5 / (2**-3 / 0.4) ** 0.5)
    assert below.scrims[:2] == (1, 1)


def test_colour_says_how_sure_it_is():
    """An arc's colour at half power is a range marked as an estimate, tungsten's one figure by rule, an LED's its own."""
    low, high = dimming.kelvin(ARC, term(0.5, "%"))
    warm, same = dimming.kelvin(LAMPS[1], term(0.845, "%"))

    assert (low.value, high.value) == (5600, pytest.approx(5600 * 1.15)) and high.origin is Origin.TYPICAL
    assert warm is same and warm.value == pytest.approx(3061, rel=0.005)
    assert dimming.kelvin(LAMPS[2], term(0.5, "%"))[1].value == 5600


def test_the_table_falls_from_full_to_the_lowest():
    """Light and power fall together from 100 % to the floor."""
    rows = dimming.table(ARC)

    assert rows[0].light.value == 1 and rows[-1].power.value == pytest.approx(0.5)
    assert [r.light.value for r in rows] == sorted((r.light.value for r in rows), reverse=True)


def test_a_ballast_that_does_not_dim_has_one_row():
    """A magnetic ballast is full or off."""
    assert len(dimming.table(load("arc-1200", "magnetic"))) == 1


def test_a_refit_offers_its_exponent():
    """Readings of a lamp that follows 1.6: the exponent with its residual, as a change of the rig."""
    found = refitted(ARC, [Reading(setting=s, light=900 * s**1.6) for s in (1.0, 0.75, 0.5)], True)

    assert found.exponent.value == pytest.approx(1.6) and found.exponent.origin is Origin.MEASURED
    assert found.finding.verdict is Verdict.CLEAR
    assert found.finding.remedies[0].changes == (("loads/A1/lamp/exponent", "1.6"),)


def test_two_readings_are_not_yet_a_test():
    """Two readings fit any law: that is said, and is no pass."""
    found = refitted(ARC, [Reading(setting=1.0, light=100), Reading(setting=0.5, light=40)], True)

    assert found.finding.verdict is Verdict.UNKNOWN


def test_a_knob_has_no_exponent_to_enter():
    """Knob positions are no power: nothing is offered for the rig, and a bad fit is said."""
    found = refitted(ARC, [Reading(setting=s, light=x) for s, x in ((1.0, 1000), (0.4, 560), (0.05, 530))], False)

    assert found.finding.remedies == () and found.finding.verdict is Verdict.TIGHT


def finding(made, question):
    """One finding of a chain."""
    return next(f for x in made.links for f in x.findings if f.question == question)


def test_the_supply_sees_the_dim():
    """Half the power is a little less than half the current, as the cables lose less; a metered power factor counts instead of that at full."""
    at_full = chain(read(document("arc-4000", "electronic corrected")), "A1")
    half = chain(read(document("arc-4000", "electronic corrected", loads__A1__dim="50 %")), "A1")
    metered = chain(read(document("arc-4000", "electronic corrected", loads__A1__dim="50 %", loads__A1__ballast__power_factor_dimmed="0.8")), "A1")
    current = [finding(c, "supply-current").demand.value for c in (at_full, half, metered)]

    assert current[1] / current[0] == pytest.approx(0.48, abs=0.01)
    assert current[2] / current[1] == pytest.approx(0.985 / 0.8, rel=0.02)  # and a little for what its harmonics lose on the way
    assert current[2] / current[1] > 0.985 / 0.8
    assert "stays as at full" in finding(half, "dim-supply").says and finding(half, "dim-supply").cautions


def test_a_dimmed_filament_draws_at_a_low_power_factor():
    """Phase-cut to half the power: voltage 0.5^(1/1.6) = 64.8 %, current as much of full as voltage gives, power factor the same share."""
    made = chain(read(document("tungsten-2000", loads__A1__dim="50 %", supply__impedance="0 Ω", runs__K1__size="300 mm²", runs__K1__length="0.1 m")), "A1")
    v = 0.5 ** (1 / 1.6)

    assert finding(made, "supply-current").demand.value == pytest.approx(1000 / (v * 230), rel=1e-3)
    assert finding(made, "dim-supply").cautions


def test_a_filament_follows_its_voltage():
    """207 V on a 230 V lamp: 90 %, 69.9 % of the light, 3061 K, 3.9 times the life. Lamp rerating, second hand."""
    made = chain(read(document("tungsten-2000", supply__voltage_measured="207 V", supply__impedance="0 Ω", runs__K1__size="300 mm²", runs__K1__length="0.1 m")), "A1")
    lamp = next(x for x in made.links if x.kind == "lamp")

    assert lamp.figure.value == pytest.approx(0.699, rel=0.005)
    assert finding(made, "lamp-colour").says.startswith("3061")
    assert finding(made, "lamp-life").demand.value == pytest.approx(3.93, rel=0.01)
    assert [x.kind for x in made.links] == ["supply", "run", "lamp", "shutter"]


def test_a_lamp_of_another_voltage():
    """A 240 V lamp on 230 V draws (230/240)^1.6 of its power and says that it misses light."""
    made = chain(read(document("tungsten-2000", loads__A1__lamp__rated_voltage="240 V", supply__impedance="0 Ω", runs__K1__size="300 mm²", runs__K1__length="0.1 m")), "A1")

    assert finding(made, "supply-current").demand.value == pytest.approx(2000 * (230 / 240) ** 1.6 / 230, rel=1e-3)
    assert finding(made, "lamp-voltage").demand.value == pytest.approx(3.4 * log2(230 / 240), rel=1e-2)


def test_an_overfed_filament_is_tight():
    """6 % over its voltage it lives less than half as long."""
    made = chain(read(document("tungsten-2000", supply__voltage_measured="244 V", supply__impedance="0 Ω", runs__K1__size="300 mm²", runs__K1__length="0.1 m")), "A1")

    assert finding(made, "lamp-voltage").verdict is Verdict.TIGHT and "half as long" in finding(made, "lamp-voltage").says


def test_an_led_holds_its_light_and_knows_its_black():
    """Half the power of an LED with 5 % standing draw is 47.4 % of its light; below black there is none."""
    made = chain(read(document("led-400", loads__A1__dim="50 %")), "A1")
    dark = chain(read(document("led-400", loads__A1__dim="4 %")), "A1")

    assert next(x for x in made.links if x.kind == "lamp").figure.value == pytest.approx(0.45 / 0.95)
    assert finding(dark, "lamp-floor").verdict is Verdict.STOP
    assert finding(dark, "lamp-light").verdict is Verdict.UNKNOWN
