"""Methods for the whole rig: rearranging it, asking what a fault would do, balancing it."""

import json

from pycore.api.method import Json, method
from pycore.api.wire import Wire
from pycore.base.units import parse
from pycore.findings import balancing
from pycore.findings import what_if as faults
from pycore.findings.at_place import at_place
from pycore.findings.chain import settled
from pycore.findings.whole_rig import WholeRig, solve_rig
from pycore.rig import arrange
from pycore.rig.read import load_document, read


@method("{rig, load}", "{rig, load}")
def duplicate_lamp(rig: Json, load: str) -> Json:
    """Another lamp like this one, on a run like its own."""
    changed, new = arrange.duplicate(rig, load)
    return {"rig": changed, "load": new}


@method("{rig, part, to}", "{rig}")
def move_part(rig: Json, part: str, to: str) -> Json:
    """A lamp, run or box fed by another place: "supply", a run or a box."""
    return {"rig": arrange.move(rig, part, to)}


@method("{rig, part}", "{rig}")
def remove_part(rig: Json, part: str) -> Json:
    """The rig without a run or box; what it fed hangs on its feeder."""
    return {"rig": arrange.remove_part(rig, part)}


@method("{rig, fed_by?, name?}", "{rig, box}")
def add_box(rig: Json, fed_by: str = "supply", name: str = "") -> Json:
    """A distribution box at the end of a new feeder."""
    changed, box = arrange.add_box(rig, fed_by, name)
    return {"rig": changed, "box": box}


@method("{rig, fault: {kind: open neutral|poor neutral|lost line|swapped, place: supply|run, line?, ohms?}}",
        "{title, place, verdict, says, hits: [{load, name, verdict, says, before: Term, after: Term|null, highest: Term}], steps: [Step], evidence: Evidence, cautions: [text]}")
def what_if(rig: Json, fault: Json) -> Json:
    """What a fault of the rig would do to every lamp."""
    ohms = parse(str(fault.get("ohms") or "1 Ω"), "Ω")
    answer = faults.what_if(_solved(rig), kind=str(fault.get("kind")), place=str(fault.get("place", "supply")), line=str(fault.get("line") or "L1"), ohms=ohms)
    wire = Wire()
    hits = [{"load": h.load, "name": h.name, "verdict": str(h.verdict), "says": h.says, "before": wire.term(h.before), "after": wire.term(h.after), "highest": wire.term(h.highest)} for h in answer.hits]
    return {"title": answer.title, "place": answer.place, "verdict": str(answer.verdict), "says": answer.says, "hits": hits, "steps": [wire.step(s) for s in answer.steps],
            "evidence": wire.evidence(answer.evidence), "cautions": list(answer.cautions)}


@method("{rig, place: supply|run|box|load}", "{title, channels: [name], rows: [{name, cells: [Term|null]}], steps: [Step], evidence: Evidence, assumptions: [Assumption], cautions: [text]}")
def meter_here(rig: Json, place: str) -> Json:
    """What a meter shows at a place: every conductor's current and voltage with their harmonics, power and power factor."""
    found, wire = at_place(_solved(rig), place), Wire()
    return {"title": found.title, "channels": [c.title for c in found.channels], "rows": [{"name": name, "cells": [wire.term(t) for t in cells]} for name, cells in found.rows],
            "steps": wire.steps(tuple(s for c in found.channels for s in c.steps)), "evidence": wire.evidence(found.evidence), "assumptions": wire.assumptions(found.assumptions), "cautions": list(found.cautions)}


@method("{rig, most_moves?}", "{says, before: {conductor: Term}, after: {conductor: Term}, moves: [{load, name, from, to}], changes: [{address, text}], proven}")
def balance(rig: Json, most_moves: int | None = None) -> Json:
    """Which lamp on which line for even lines and a small neutral, with the fewest re-plugs."""
    whole, wire = _solved(rig), Wire()
    answer = balancing.balance(whole, most_moves)
    moves = [{"load": i, "name": whole.rig.loads[i].name or i, "from": a, "to": b} for i, a, b in answer.moves]
    return {"says": answer.says, "before": {c: wire.term(t) for c, t in answer.before.items()}, "after": {c: wire.term(t) for c, t in answer.after.items()}, "moves": moves,
            "changes": [{"address": a, "text": t} for a, t in answer.remedy.changes], "proven": answer.proven}


def _solved(rig: Json) -> WholeRig:
    return solve_rig(settled(read(load_document(json.dumps(rig)))))
