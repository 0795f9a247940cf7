"""The whole rig: agreement with the closed form, verdicts carried up, rig faults, balancing, re-arranging."""

import json
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from pycore.api import door
from pycore.base.problem import Refused
from pycore.base.result import Verdict, worst
from pycore.findings import balancing, what_if
from pycore.findings.chain import chain_in, settled
from pycore.findings.rig_tree import line_loads, tree
from pycore.findings.source import source_findings
from pycore.findings.supply_side import feed
from pycore.findings.whole_rig import feed_of, solve_rig
from pycore.rig import arrange
from pycore.rig.read import read

BRICKWORKS = json.loads((Path(__file__).parents[2] / "e2e" / "rigs" / "brickworks.json").read_text("utf-8"))


def document(**changes):
    """The brickworks rig with some top-level parts exchanged."""
    return {**json.loads(json.dumps(BRICKWORKS)), **changes}


def solved(rig=None):
    """The brickworks rig, or another, solved."""
    return solve_rig(settled(read(rig or document())))


def alone(kind: str, size: str, length: str):
    """One lamp on one run of a single-phase supply."""
    return {"format": "feed to frame rig", "schema": 1, "supply": {"system": "single-phase", "voltage": "230 V", "frequency": "50 Hz", "rating": "63 A", "impedance": "0.2 Ω"},
            "runs": {"K1": {"fed_by": "supply", "size": size, "length": length}}, "loads": {"A1": {"fed_by": "K1", "lamp": {"rated_power": "4 kW"}, "ballast": {"kind": kind}}}}


@pytest.mark.parametrize("kind", ["electronic corrected", "electronic", "magnetic", "magnetic corrected"])
@pytest.mark.parametrize(("size", "length"), [("10 mm²", "20 m"), ("16 mm²", "40 m")])
def test_one_lamp_has_one_answer_whichever_way_it_is_solved(kind, size, length):
    """Closed form and network solver give the same voltage and current to a hundred-thousandth."""
    whole = solved(alone(kind, size, length))
    closed, network = feed(whole.rig, whole.rig.loads["A1"], whole.counted["A1"].draw), feed_of(whole, "A1")

    assert closed.state == network.state == "runs"
    assert network.voltage.value == pytest.approx(closed.voltage.value, rel=1e-5)
    assert network.current.value == pytest.approx(closed.current.value, rel=1e-5)
    assert network.socket.value == pytest.approx(closed.socket.value, rel=1e-5)


@pytest.mark.parametrize(("system", "connection", "volts"), [("single-phase", "L1-N", "230 V"), ("split-phase", "L1-L2", "120 V"), ("three-phase wye", "L1-N", "230 V"), ("three-phase wye", "L1-L2", "120 V")])
@pytest.mark.parametrize(("reactance", "rated"), [("12 %", "25 kVA"), ("20 %", "15 kVA")])
def test_one_answer_behind_a_generator(system, connection, volts, reactance, rated):
    """The same where the generator's sub-transient reactance widens the pulses and makes them late."""
    rig = alone("electronic", "16 mm²", "40 m")
    rig["supply"] |= {"kind": "generator", "system": system, "voltage": volts, "rated_power": rated, "subtransient": reactance}
    rig["loads"]["A1"]["connection"] = connection
    whole = solved(rig)
    closed, network = feed(whole.rig, whole.rig.loads["A1"], whole.counted["A1"].draw), feed_of(whole, "A1")
    late = next(s.result.value for s in closed.steps if s.title == "Reactive power that late pulses take")

    assert closed.state == network.state == "runs" and 0.1 < late < 0.48
    assert network.voltage.value == pytest.approx(closed.voltage.value, rel=1e-5)
    assert network.current.value == pytest.approx(closed.current.value, rel=1e-5)
    assert network.socket.value == pytest.approx(closed.socket.value, rel=1e-5)


def test_the_lines_carry_what_the_lamps_draw():
    """Three 2.5 kW lamps on L1 weigh more than three 575 W lamps on L2 and as many on L3, and the neutral takes the rest."""
    amps = {x.conductor: x.current.value for x in line_loads(solved())}

    assert amps["L1"] > 4 * amps["L2"]
    assert amps["L2"] == pytest.approx(amps["L3"], rel=0.05)
    assert amps["L1"] - amps["L2"] == pytest.approx(amps["N"], rel=0.1)


def test_the_worst_verdict_is_carried_up_to_the_supply():
    """Each place carries the worst of its own verdict and of everything that it feeds."""
    whole = solved()
    source = source_findings(whole)
    chains = {i: chain_in(whole, (), i, advise=False, source=source) for i in whole.rig.loads}
    nodes = {n.id: n for n in tree(whole, chains, source)}

    assert len(nodes) == 1 + 10 + 1 + 9
    for node in nodes.values():
        below = [n.carried for n in nodes.values() if n.parent == node.id]
        assert node.carried is worst([node.own, *below])


def test_a_lamp_that_cannot_be_counted_leaves_no_supply_clear():
    """With one lamp's power missing, every other lamp's supply says that not all are counted."""
    rig = document()
    del rig["loads"]["A3"]["lamp"]["rated_power"]
    whole = solved(rig)
    link = chain_in(whole, (), "A1").links[0]

    assert "A3" in whole.left_out
    assert next(f for f in link.findings if f.question == "supply-others").verdict is Verdict.UNKNOWN


def test_a_broken_neutral_raises_the_lightly_loaded_lines():
    """The heavy line pulls the neutral point to itself; lamps on the others see more than they stand."""
    answer = what_if.what_if(solved(), kind="open neutral", place="F1")
    light = [h for h in answer.hits if h.load in ("A4", "A5", "A6", "A7", "A8", "A9")]

    assert answer.verdict is Verdict.STOP
    assert any(h.verdict is Verdict.STOP and h.highest.value > 265 for h in light)
    assert len(answer.steps) == 4  # the shift of the neutral point and the three voltages, by Millman


def test_changed_over_wires_stop_though_no_lamp_notices():
    """Line and neutral changed over at a run is a danger to people, and said so first."""
    answer = what_if.what_if(solved(), kind="swapped", place="K4", line="L2")

    assert answer.verdict is Verdict.STOP
    assert "stays live" in answer.says


@pytest.mark.parametrize(("kind", "place", "line"), [("swapped", "supply", "L1"), ("lost line", "K4", "L1"), ("melted", "F1", "L1"), ("open neutral", "K99", "L1")])
def test_a_fault_that_cannot_be_is_refused(kind, place, line):
    """There is a reason and no answer."""
    with pytest.raises(Refused):
        what_if.what_if(solved(), kind=kind, place=place, line=line)


def test_balancing_evens_the_lines_and_its_moves_do_what_it_says():
    """The worst line falls, and the rig re-plugged as proposed has just the currents foretold."""
    whole = solved()
    answer = balancing.balance(whole)
    rig = document()
    for load, _, to in answer.moves:
        rig["loads"][load]["connection"] = f"{to}-N"
    after = {x.conductor: x.current.value for x in line_loads(solved(rig))}

    assert max(t.value for c, t in answer.after.items() if c != "N") < 0.7 * max(t.value for c, t in answer.before.items() if c != "N")
    assert {c: t.value for c, t in answer.after.items()} == pytest.approx(after, rel=1e-5)


def test_a_single_phase_supply_has_nothing_to_balance():
    """Refused with the reason."""
    with pytest.raises(Refused, match="one line only"):
        balancing.balance(solved(alone("magnetic", "10 mm²", "20 m")))


def test_parts_are_doubled_moved_and_removed_without_touching_the_rig_given():
    """Each change is a copy; a lamp takes its own run along; what a removed box fed hangs on its feeder."""
    rig = document()
    doubled, new = arrange.duplicate(rig, "A9")
    boxed, box = arrange.add_box(doubled, "B1")
    moved = arrange.move(boxed, new, box)
    removed = arrange.remove_part(moved, box)

    assert rig == BRICKWORKS
    assert doubled["loads"][new]["name"] == "Head 10"
    assert moved["runs"][moved["loads"][new]["fed_by"]]["fed_by"] == box
    assert removed["runs"][removed["loads"][new]["fed_by"]]["fed_by"] == boxed["boxes"][box]["fed_by"]
    assert not read(removed).problems


def test_nothing_is_moved_below_itself():
    """A feeder cannot hang on the box at its own end."""
    with pytest.raises(Refused, match="circle"):
        arrange.move(document(), "F1", "B1")


def test_the_door_answers_for_the_whole_rig():
    """Lines, tree, source, faults and balance come as JSON with text for people."""
    answer = json.loads(door.answer("check", {"rig": document(), "load": "A2", "compact": True}))["result"]
    fault = json.loads(door.answer("what_if", {"rig": document(), "fault": {"kind": "poor neutral", "place": "supply", "ohms": "2 Ω"}}))["result"]
    even = json.loads(door.answer("balance", {"rig": document()}))["result"]

    assert [x["title"] for x in answer["lines"]] == ["L1", "L2", "L3", "Neutral"]
    assert all(n < len(answer["workings"]) for link in answer["chain"]["links"] for f in link["findings"] for n in f["steps"])
    assert {h["load"] for h in fault["hits"]} == set(BRICKWORKS["loads"])
    assert even["changes"] and even["moves"]


EDITS = [(), (("supply/frequency", "60 Hz"),), (("loads/A1/dim", "70 %"),), (("runs/F1/length", "55 m"),), (("runs/F1/size", "25 mm²"),), (("runs/K2/device/kind", "C"), ("runs/K2/device/rating", "16 A")),
         (("runs/K3/laid/how", "reel"), ("runs/K3/laid/layers", "2")), (("supply/earth/arrangement", "TT"), ("supply/earth/loop", "20 Ω")), (("runs/F1/name", "Long feeder"),), (("rules", "na"),),
         (("loads/A4/connection", "L3-N"),), (("loads/A5/fed_by", "K4"),), (("supply/kind", "mains"), ("supply/impedance", "0.3 Ω")), (("runs/K9/length", "sixty"),)]


def test_what_is_kept_between_edits_is_what_would_be_computed():
    """The whole answer for the brickworks after other edits before it, in metres and in feet, against a fresh one in a process that has kept nothing."""
    asked = [{"rig": document(), "advise": False, "show": {"length": unit}, "load": load, "changes": [{"address": a, "text": t} for a, t in edit]}
             for edit in EDITS for unit, load in (("m", "A2"), ("ft", "A4"))]
    one_after_the_other = [json.loads(door.answer("check", a)) for a in asked]
    script = "import json, sys; from pycore.api import door; print(door.answer('check', json.load(sys.stdin)))"
    with ThreadPoolExecutor() as pool:
        fresh = list(pool.map(lambda a: json.loads(subprocess.run([sys.executable, "-c", script], input=json.dumps(a), capture_output=True, text=True, check=True).stdout), asked[::3]))

    assert all(a["ok"] for a in one_after_the_other)
    assert len({json.dumps(a) for a in one_after_the_other}) == len(asked), "an edit changed nothing"
    assert one_after_the_other[::3] == fresh
    assert [json.loads(door.answer("check", a)) for a in asked] == one_after_the_other
