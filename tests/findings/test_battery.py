"""A battery with its inverter: load, peaks and time, each by a hand computation from circuit theory."""

from math import sqrt

import pytest

from pycore.base.result import Verdict
from pycore.findings.chain import settled
from pycore.findings.source import source_findings
from pycore.findings.whole_rig import solve_rig
from pycore.rig.read import read

LED = {"kind": "LED", "lamp": {"rated_power": "600 W"}, "ballast": {"efficiency": "100 %", "power_factor": "1", "displacement": "1"}, "inrush": "60 A"}
FILAMENT = {"kind": "tungsten", "lamp": {"rated_power": "1 kW"}, "inrush": "50 A"}
BALLAST = {"kind": "arc lamp", "lamp": {"rated_power": "575 W"}, "ballast": {"kind": "electronic"}, "head_cable": {}, "inrush": "5 A"}


def found(*loads, system="single-phase", **supply):
    """Findings of the source by question, for lamps at the end of 2 m of 6 mm² each."""
    given = {"kind": "battery", "system": system, "voltage": "230 V", "frequency": "50 Hz", "rating": "32 A", "rated_power": "3 kVA", "peak_power": "6 kVA",
             "energy": "5 kWh", "usable": "80 %", "inverter_efficiency": "90 %", "own_use": "30 W"} | supply
    lines = {"single-phase": ("L1-N",), "split-phase": ("L1-N", "L2-N")}[system]
    rig = {"format": "feed to frame rig", "schema": 1, "supply": {k: v for k, v in given.items() if v}, "runs": {f"K{n}": {"fed_by": "supply", "size": "6 mm²", "length": "2 m"} for n, _ in enumerate(loads)},
           "loads": {f"A{n}": {**x, "name": f"Lamp {n}", "fed_by": f"K{n}", "connection": lines[n % len(lines)]} for n, x in enumerate(loads)}}  # fmt: skip
    return {f.question: f for f in source_findings(solve_rig(settled(read(rig))))}


def test_time_on_the_battery_counts_what_may_be_used_and_what_the_inverter_takes():
    """5 kWh · 80 % · 90 % over 600 W and 30 W: 3.6 kWh / 0.63 kW = 5.71 h, the cable's fraction of a watt aside."""
    last = found(LED)["battery"]

    assert last.demand.value / 3600 == pytest.approx(5.71, abs=0.01)
    assert last.verdict is Verdict.CLEAR
    assert found(LED, LED)["battery"].verdict is Verdict.TIGHT


def test_the_load_of_the_fullest_line_counts():
    """Two 1 kW filaments of 3 kVA: two thirds. On a split-phase set each line gives half: 2 kW on one leg of 1.5 kVA is too much."""
    assert found(FILAMENT, FILAMENT)["inverter-load"].demand.value == pytest.approx(2 / 3, rel=0.005)
    uneven = found(FILAMENT, LED, FILAMENT, system="split-phase")["inverter-load"]
    assert uneven.demand.value == pytest.approx(2 / 1.5, rel=0.005)
    assert uneven.verdict is Verdict.STOP


def test_the_largest_inrush_counts_on_top_of_the_rest():
    """60 A peak is 42.4 A rms, 9.76 kVA at 230 V, and the filament's kilowatt beside it: 10.76 kVA of 6 kVA; of 15 kVA 72 %."""
    struck = found(FILAMENT, LED)["inverter-peak"]

    assert struck.demand.value == pytest.approx((60 / sqrt(2) * 230 + 1000) / 6000, rel=0.005)
    assert struck.verdict is Verdict.STOP and "Lamp 1" in struck.says
    assert found(FILAMENT, LED, peak_power="15 kVA")["inverter-peak"].demand.value == pytest.approx(0.717, abs=0.003)


def test_the_pulses_of_the_steady_current_count():
    """A rectifier's peaks ask for a sine half as large again and more: with little inrush they are what counts."""
    steady = found(BALLAST)["inverter-peak"]
    apparent = found(BALLAST)["inverter-load"].demand.value * 3000

    assert "pulses" in steady.says
    assert steady.demand.value * 6000 > 1.3 * apparent


@pytest.mark.parametrize(("entry", "question"), [("peak_power", "inverter-peak"), ("energy", "battery"), ("rated_power", "inverter-load")])
def test_what_is_not_entered_is_unknown(entry, question):
    """Without the nameplate's figure the check cannot be made, and says what to enter."""
    missing = found(LED, **{entry: ""})[question]

    assert missing.verdict is Verdict.UNKNOWN
    assert missing.problems[0].address == f"supply/{entry}"


def test_what_is_typical_of_a_battery_looks_like_it():
    """Share, efficiency and own use are usual values until somebody reads the nameplate."""
    usual = found(LED, usable="", inverter_efficiency="", own_use="")["battery"]

    assert {t.address for t in usual.assumptions} >= {"supply/usable", "supply/inverter_efficiency", "supply/own_use"}
