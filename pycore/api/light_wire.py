"""Shots, lamps' light and plots as plain JSON values."""

from typing import Any

from pycore.api.method import Json
from pycore.api.wire import Wire, problem, remedy
from pycore.base.quantity import Quantity
from pycore.base.result import Term
from pycore.findings.plots import Axis, Plot
from pycore.findings.rate_limits import Mode, Safe
from pycore.findings.shots import Cell, Row
from pycore.rig.edit import entered
from pycore.rig.form import Entry
from pycore.rig.model import SHARE, Rig

DIGITS = 7  # of a plotted number


def number(x: float) -> float:
    """A plotted number, without digits that nobody sees."""
    return float(f"{x:.{DIGITS}g}")


def axis(a: Axis) -> Json:
    """An axis."""
    return {"label": a.label, "unit": a.unit, "scale": a.scale}


def plot(p: Plot | None) -> Json | None:
    """A plot: numbers in the units of its axes."""
    if p is None:
        return None
    return {"id": p.id, "title": p.title, "says": p.says, "x": axis(p.x), "y": axis(p.y),
            "lines": [{"name": x.name, "points": [[number(a), number(b)] for a, b in x.points], "labels": list(x.labels)} for x in p.lines],
            "marks": [{"label": m.label, "x": number(m.x), "y": number(m.y), "verdict": m.verdict} for m in p.marks],
            "bands": [{"label": b.label, "from": number(b.start), "to": number(b.end), "verdict": b.verdict} for b in p.bands],
            "levels": [{"label": label, "y": number(y)} for label, y in p.levels]}


def cell(c: Cell) -> Json:
    """A lamp on a shot."""
    return {"load": c.load, "verdict": str(c.verdict), "spread": spread(c.spread), "says": c.says, "share": share(c.share)}


def row(r: Row, rig: Rig, text: str) -> Json:
    """A shot."""
    shot = rig.shots[r.shot]
    return {"id": r.shot, "name": shot.name, "text": text, "kind": shot.kind, "verdict": str(r.verdict), "spread": spread(r.spread), "says": r.says,
            "shared": bool(shot.lit_by), "advice": remedy(r.advice) if r.advice else None, "cells": [cell(c) for c in r.cells], "problems": [problem(p) for p in r.problems]}


def spread(value: float | None) -> Json | None:
    """A difference between frames: as exact as it is, shown to a hundredth of a per cent as sentences show it."""
    return None if value is None else {**(share(round(value, 4)) or {}), "value": value}


def share(value: float | None) -> Json | None:
    """A share as a figure with its unit."""
    if value is None:
        return None
    text, unit = Quantity(value, "%").shown()
    return {"value": value, "unit": "1", "shown": text, "shown_unit": unit}


def share_field(document: Json, rig: Rig, shot: str, load: str, problems: dict[str, Any]) -> Entry:
    """The field of a lamp's share in a shot."""
    address = f"shots/{shot}/lit_by/{load}"
    return Entry(address=address, label=rig.loads[load].name or load, kind="quantity", text=entered(document, address), usual=None, usual_text="", unit="%", units=("%",),
                 options=(), hint=SHARE.firm_up, problem=problems.get(address), more=False)


def mode(m: Mode, wire: Wire) -> Json:
    """A lamp in one of its modes."""
    return {"id": m.id, "title": m.title, "lamp": m.lamp, "present": m.present, "highest": wire.term(m.finding.demand), "shown": wire.quantity(m.shown) if m.shown else None, "finding": wire.finding(m.finding)}


def safe(x: Safe, wire: Wire) -> Json:
    """A safe rate or angle."""
    return {"value": wire.term(x.step.result), "holds": x.holds, "drift_proof": x.steady, "step": wire.step(x.step)}


def terms(listed: tuple[Term, ...], wire: Wire) -> list[Json | None]:
    """Entries that an answer rests on, each once."""
    return [wire.term(t) for t in dict.fromkeys(listed)]
