"""Several lamps under shared devices: together at the strike, by the fullest line, by the fullest neutral."""

import pytest

from pycore.base.result import Verdict
from tests.protection.rigs import IEC, changed, findings

SHARED = {"supply/system": "three-phase wye", "supply/rating": "63 A", "supply/impedance": "0.1 Ω", "supply/device/breaking_capacity": "10 kA", "runs/K1/size": "10 mm²",
          "runs/K1/device/kind": "C", "runs/K1/device/rating": "32 A", "runs/K1/device/breaking_capacity": "10 kA", "runs/K1/laid/earth_size": "10 mm²"}


def lamps(count, lines=("L1-N",), **entries):
    """Lamps like A1 on the shared run, spread over lines."""
    own = {"kind": "arc lamp", "fed_by": "K1", "dim": "100 %", "earth_leakage": "2 mA", "inrush": "60 A", "inrush_time": "20 ms", "run_up": "100 %", "lamp/rated_power": "1200 W",
           "lamp/arc_voltage": "100 V", "ballast/kind": "electronic corrected", "ballast/power_factor": "0.98", "ballast/low_cut_out": "180 V", "head_cable/size": "2.5 mm²"} | entries
    return {f"loads/A{n + 1}/{k}": v for n in range(count) for k, v in {**own, "connection": lines[n % len(lines)]}.items()}


def answer(*sets, load="A1"):
    return findings(changed(IEC, SHARED, *sets), load=load)


def test_striking_four_together():
    """Four inrushes of 60 A on one line are 170 A as rms, more than the 160 A that C32 holds; on three lines two of them share one."""
    together = answer(lamps(4))["device-strike"]
    spread = answer(lamps(4, ("L1-N", "L2-N", "L3-N")))["device-strike"]

    assert together.verdict is Verdict.TIGHT and together.demand.value == pytest.approx(4 * 60 / 2**0.5)
    assert "strike 3 at a time" in together.says
    assert spread.verdict is Verdict.CLEAR and spread.demand.value == pytest.approx(2 * 60 / 2**0.5)


def test_warming_up_together():
    """Magnetic lamps that draw half as much again while they warm up outgrow the device before they are bright."""
    found = answer(lamps(4, run_up="170 %"))["device-strike"]

    assert found.verdict is not Verdict.CLEAR and "let one warm up" in found.says


def test_standing_currents_add_up():
    """Five times 2 mA stand under one 30 mA device: more than the 9 mA advised."""
    assert answer(lamps(4))["residual-budget"].verdict is Verdict.CLEAR
    five = answer(lamps(5))["residual-budget"]

    assert five.verdict is Verdict.TIGHT and five.demand.value == pytest.approx(10e-3)
    assert "At most 4 of these lamps" in five.remedies[0].text


def test_two_ballasts_of_the_luminaire_limit():
    """At 3.5 mA each, a 30 mA device takes two."""
    found = answer(lamps(3, earth_leakage="3.5 mA"))["residual-budget"]

    assert found.verdict is Verdict.TIGHT and "At most 2 of these lamps" in found.remedies[0].text


def test_a_neutral_full_of_thirds_asks_for_more_cable():
    """Uncorrected ballasts on three lines: by Annex E the cable is chosen by its neutral."""
    bent = lamps(6, ("L1-N", "L2-N", "L3-N"), **{"ballast/kind": "electronic", "ballast/power_factor": "0.92", "ballast/displacement": "0.98"})
    found = answer(bent)["run-current"]
    sizing = next(s for s in found.steps if s.law.endswith("required_rating"))

    assert "neutral asks for" in found.says and found.demand == sizing.result
    assert sizing.terms[1].value == 0.86


def test_the_fullest_conductor_may_be_the_neutral():
    """Badly bent currents fill the neutral more than any line: it is the one that is held against the cable."""
    bent = lamps(6, ("L1-N", "L2-N", "L3-N"), **{"ballast/kind": "electronic", "ballast/power_factor": "0.63", "ballast/displacement": "0.97"})
    found, plain = answer(bent)["run-current"], answer(lamps(6, ("L1-N", "L2-N", "L3-N")))["run-current"]

    assert "in its neutral" in found.says and found.demand.value > 1.5 * plain.demand.value


def test_three_lines_are_rated_as_three_loaded_cores():
    """The same cable may carry less when all three lines are loaded: 10 mm², 51 A for two cores, 47 A for three."""
    assert answer(lamps(2))["run-current"].limit.term.value == 51
    assert answer(lamps(3, ("L1-N", "L2-N", "L3-N")))["run-current"].limit.term.value == 47


def test_a_device_above_several_runs_carries_them_all():
    """A run without a device of its own leans on the outlet's, which carries the other runs, too."""
    two = {**lamps(2), "runs/K1/device/kind": "none", "runs/K1/device/rating": "", "runs/K2/fed_by": "supply", "runs/K2/length": "10 m", "runs/K2/size": "25 mm²", "loads/A2/fed_by": "K2",
           "loads/A2/lamp/rated_power": "12 kW", "supply/rating": "50 A"}
    found = answer(two)["device-rating"]

    assert found.demand.value > 50 and found.verdict is Verdict.STOP


def test_the_answer_of_a_run_is_the_same_for_each_of_its_lamps():
    """Two lamps on one run see one verdict of it."""
    first, second = (answer(lamps(4), load=i) for i in ("A1", "A3"))

    assert {q: f.verdict for q, f in first.items()} == {q: f.verdict for q, f in second.items()}
