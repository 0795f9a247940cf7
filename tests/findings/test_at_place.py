"""What a meter shows at a place: the whole rig's figures as a true-rms analyser, an averaging clamp and a power meter tell them."""

import json
from math import pi, sqrt

import pytest

from pycore.api import door
from pycore.base.problem import Refused
from pycore.findings.at_place import AVERAGES, ROWS, at_place
from pycore.findings.chain import settled
from pycore.findings.source import source_findings
from pycore.findings.supplied import UNLIKE, currents
from pycore.findings.whole_rig import solve_rig
from pycore.rig.read import read
from tests.findings.test_whole_rig import document

TUNGSTEN = {"kind": "tungsten", "lamp": {"rated_power": "2 kW"}}
RECTIFIER = {"kind": "arc lamp", "lamp": {"rated_power": "2500 W"}, "ballast": {"kind": "electronic"}, "head_cable": {}}


def rig(*loads, system="three-phase wye"):
    """Lamps on lines in turn, each on a run of 2 m from a box behind 5 m of 35 mm²."""
    lines = {"three-phase wye": ("L1-N", "L2-N", "L3-N"), "single-phase": ("L1-N",)}[system]
    return {"format": "feed to frame rig", "schema": 1, "supply": {"system": system, "voltage": "230 V", "frequency": "50 Hz", "rating": "63 A", "impedance": "0.02 Ω"},
            "runs": {"F1": {"fed_by": "supply", "size": "35 mm²", "length": "5 m"}} | {f"K{n}": {"fed_by": "B1", "size": "2.5 mm²", "length": "2 m"} for n, _ in enumerate(loads)},
            "boxes": {"B1": {"fed_by": "F1"}}, "loads": {f"A{n}": {**x, "fed_by": f"K{n}", "connection": lines[n % len(lines)]} for n, x in enumerate(loads)}}  # fmt: skip


def seen(given, place):
    """Figures of every channel of a place, as plain numbers."""
    found = at_place(solve_rig(settled(read(given))), place)
    return {c.title: {name: t.value for name, t in c.figures.items()} for c in found.channels}


def test_a_filament_is_a_plain_sine():
    """Power factor 1, no distortion, crest √2, K 1, and any clamp reads it right: theory of a sine on a resistance."""
    here = seen(rig(TUNGSTEN, system="single-phase"), "A0")["L1-N"]

    assert here["factor"] == pytest.approx(1) and here["distortion"] == pytest.approx(0, abs=1e-12)
    assert here["crest"] == pytest.approx(sqrt(2), abs=1e-4) and here["K"] == pytest.approx(1)
    assert here["averages"] == pytest.approx(here["rms"], rel=1e-5)
    assert here["power"] == pytest.approx(here["voltage"] * here["rms"])


def test_a_clamp_that_averages_reads_pulses_low():
    """An uncorrected electronic ballast: crest above 2, and an averaging clamp misses a quarter of the current and more (common practice, no source); the place says so."""
    found = at_place(solve_rig(settled(read(rig(RECTIFIER, system="single-phase")))), "A0")
    here = {name: t.value for name, t in found.channels[0].figures.items()}

    assert here["crest"] > 2 and here["averages"] < 0.75 * here["rms"]
    assert here["factor"] == pytest.approx(here["power"] / (here["voltage"] * here["rms"]))
    assert AVERAGES in found.cautions


def test_the_neutral_of_three_rectifiers_is_full_of_thirds():
    """Equal pulses on three lines: the neutral has hardly any fundamental, no distortion is told of it, and more current than a line: orders divisible by 3 add (theory)."""
    here = seen(rig(RECTIFIER, RECTIFIER, RECTIFIER), "B1")

    assert here["N"]["rms"] > 1.4 * here["L1"]["rms"]
    assert "distortion" not in here["N"] and "voltage" not in here["N"]
    assert here["N"]["K"] > 8


@pytest.mark.parametrize("place", ["supply", "F1", "B1"])
def test_power_passes_on(place):
    """What the lines carry at a place is what all lamps and the cables behind it take: no watt is lost between two tables."""
    whole = solve_rig(settled(read(document())))
    lamps = sum(at_place(whole, i).channels[0].figures["power"].value for i in whole.rig.loads)
    here = sum(c.figures["power"].value for c in at_place(whole, place).channels if "power" in c.figures)
    runs = sum(abs(i) ** 2 * w.r for b in whole.flow.network.branches if b.id != "F1" or place == "supply"
               for c, w in ((w.bottom, w) for w in b.wires) for i in [whole.operation.distortion.rms_currents(b.id)[c]])

    assert here == pytest.approx(lamps + runs, rel=1e-4)


def test_a_box_shows_what_the_run_that_feeds_it_shows_and_the_supply_what_its_bars_show():
    """One place, one set of figures, whichever way it is asked for."""
    whole = solve_rig(settled(read(document())))

    assert seen(document(), "B1") == seen(document(), "F1")
    assert {c: t.value for c, t in currents(whole).items()} == pytest.approx({c: f["rms"] for c, f in seen(document(), "supply").items()})


def test_voltage_and_current_make_the_orders_up():
    """Rms and distortion are two views of the same orders: rms = fundamental·√(1 + THD²), definition of IEC 61000-4-7."""
    whole = solve_rig(settled(read(rig(RECTIFIER, TUNGSTEN))))
    first = abs(whole.operation.distortion.current("F1", "L1")[1])
    here = seen(rig(RECTIFIER, TUNGSTEN), "F1")["L1"]

    assert here["rms"] == pytest.approx(first * sqrt(1 + here["distortion"] ** 2))
    assert here["averages"] < pi / (2 * sqrt(2)) * here["crest"] * here["rms"]


def test_every_figure_opens_to_its_working_and_to_what_it_leans_on():
    """The door gives each row in words, the laws behind it, the residuals of the solution, and the estimates."""
    found = json.loads(door.answer("meter_here", {"rig": document(), "place": "B1"}))["result"]

    assert [r["name"] for r in found["rows"]] == [*ROWS.values()]
    assert found["channels"] == ["L1", "L2", "L3", "N"] and all(len(r["cells"]) == 4 for r in found["rows"])
    assert {s["title"] for s in found["steps"]} >= {"Rms current", "Crest factor", "Power factor", "What a meter that averages shows"}
    assert found["evidence"]["residuals"] and found["assumptions"]


def test_where_nothing_flows_nothing_is_made_up():
    """A run that feeds nothing is refused with a way out; a lamp that is out shows its voltage and no current."""
    idle = rig(TUNGSTEN)
    idle["runs"]["K9"] = {"fed_by": "B1", "size": "2.5 mm²", "length": "2 m"}
    far = rig(RECTIFIER)
    far["runs"]["K0"]["length"] = "900 m"
    with pytest.raises(Refused, match="Nothing is fed"):
        seen(idle, "K9")
    dark = seen(far, "A0")["L1-N"]
    assert dark["rms"] == 0 and dark["voltage"] > 200 and "factor" not in dark


@pytest.mark.parametrize(("watts", "kind", "warned"), [("575 W", "electronic", True), ("2500 W", "electronic", False), ("575 W", "electronic corrected", False)])
def test_unlike_rectifiers_on_one_generator_are_said_to_be_evened_out(watts, kind, warned):
    """Where the model is known to be off, against the time domain (tests/outside/long_cable), the place and the source say so; alike ones and those on mains are not concerned."""
    given = rig(RECTIFIER, {**RECTIFIER, "lamp": {"rated_power": watts}, "ballast": {"kind": kind}})
    given["supply"] |= {"kind": "generator", "rated_power": "20 kVA"}
    behind = solve_rig(settled(read(given)))
    given["supply"]["kind"] = "mains"
    source = next(f for f in source_findings(behind) if f.question == "source-distortion")

    assert (UNLIKE in at_place(behind, "B1").cautions) is (UNLIKE in source.cautions) is warned
    assert UNLIKE not in at_place(solve_rig(settled(read(given))), "B1").cautions
