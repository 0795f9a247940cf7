"""Methods for frame-rate limits and for the light that reaches the subject."""

from math import pi

from pycore.api import light_wire
from pycore.api.method import Json, method
from pycore.api.shots import FASTEST, Opened, load_of, marks, opened, shot_of
from pycore.api.wire import Wire, problem, remedy
from pycore.findings import exposure_budget, light_plots, rate_limits, shot_sheet
from pycore.findings.common import attempt
from pycore.findings.rate_limits import Mode
from pycore.findings.shots import Board, described
from pycore.findings.whole_rig import solve_rig
from pycore.rig.model import Shot


@method("{rig, load?, shot?, changes?, show?}",
        "{rig, version, problems, load, name, says, modes: [{id, title, lamp, present, highest: Term|null, shown: Quantity|null, finding: Finding}], rates: [{value: Term, holds, drift_proof, step: Step}], "
        "angles: [...], plot: Plot|null, unknown: [Problem], fields: [Field]}")
def limits(rig: Json, load: str = "", shot: str = "", changes: list[Json] | None = None, show: dict[str, str] | None = None) -> Json:
    """Up to which frame rate a lamp is steady in each of its modes, and the rates and angles that are safe; with no lamp named, each that lights the shot as it is set."""
    it, wire = opened(rig, changes), Wire(show)
    if not load:
        return _all_limits(it, wire, shot_of(it, shot))
    part, what = it.rig.loads[load_of(it, load)], shot_of(it, shot)
    modes, problems = attempt(lambda: rate_limits.modes(it.rig, part, what))
    safe, more = attempt(lambda: rate_limits.safe(it.rig, part, what))
    rates, angles = safe or ([], [])
    name = part.name or load
    drawn = light_plots.against_rate(f"{name} against the frame rate", [(m.title, m.mix) for m in modes], what.shutter.value if what.shutter else pi,
                                     Board(it.rig).limits, marks(Board(it.rig, advise=False), load), FASTEST) if modes else None
    return {**it.answer(), "load": load, "name": name, "says": "", "modes": [light_wire.mode(m, wire) for m in modes or ()], "rates": [light_wire.safe(x, wire) for x in rates],
            "angles": [light_wire.safe(x, wire) for x in angles], "plot": light_wire.plot(drawn), "unknown": [problem(p) for p in dict.fromkeys((*problems, *more))],
            "fields": [wire.field(e) for e in it.fields(part.pulse, f"loads/{load}/pulse", only=("lowest_frequency", "highest_frequency"))]}


def _all_limits(it: Opened, wire: Wire, what: Shot) -> Json:
    """The lamps of a shot beside each other, and which of them sets the limit."""
    modes, problems = rate_limits.lamps(it.rig, what)
    alone = [m for m in modes if m.highest is not None and m.id != "together"]
    least = min(alone, key=lambda m: m.highest or 0.0, default=None)
    says = "" if least is None or len(modes) == 1 else f"{least.lamp} sets the limit where each is alone: {least.shown}"
    return {**it.answer(), "load": "", "name": "", "says": says, "modes": [light_wire.mode(m, wire) for m in modes], "rates": [], "angles": [], "plot": None,
            "unknown": [problem(p) for p in problems], "fields": []}


@method("{rig, shot?, changes?, show?, compact?}",
        "{rig, version, problems, shot, text, finding: Finding, lamps: [{id, name, lux: Term|null, share: Quantity|null, fields: [Field]}], shares: Remedy|null, colours: [Finding], fields: [Field], workings?}")
def exposure(rig: Json, shot: str = "", changes: list[Json] | None = None, show: dict[str, str] | None = None, compact: bool = False) -> Json:
    """Light at the subject against what the shot needs, and whether the lamps agree in colour."""
    it, wire = opened(rig, changes), Wire(show, compact)
    what = shot_of(it, shot)
    found = exposure_budget.budget(solve_rig(it.rig), what)
    lit = {x.load: x for x in found.lit}
    chosen = [i for i in (what.lit_by or it.rig.loads) if i in it.rig.loads]
    answer = {**it.answer(), "shot": what.id, "text": described(what), "finding": wire.finding(found.finding), "shares": remedy(found.shares) if found.shares else None,
              "lamps": [{"id": i, "name": it.rig.loads[i].name or i, "lux": wire.term(lit[i].lux) if i in lit else None, "share": light_wire.share(lit[i].share) if i in lit else None,
                         "fields": [wire.field(e) for e in [*it.fields(it.rig.loads[i].beam, f"loads/{i}/beam"), *it.fields(it.rig.loads[i], f"loads/{i}", only=("dim",))]]} for i in chosen],
              "colours": [wire.finding(f) for f in found.colours],
              "fields": [wire.field(e) for e in [*it.fields(what, f"shots/{what.id}", only=("speed", "aperture", "shutter", "exposure_time", "frame_rate")),
                                                 *it.fields(it.rig.picture, "picture", only=("calibration",))]]}
    return {**answer, "workings": wire.workings} if compact else answer


@method("{rig, changes?, show?}",
        "{rig, version, problems, name, supply, at, lamps: [{id, name, title, shown: Quantity|null, steady, says}], shots: [{id, name, text, lit, verdict, spread: Quantity|null, says, advice: [text], "
        "cells: [{load, verdict, spread, says, share}]}], estimates: [{lamp, term: Term}], unknown: [Problem], limits: [Term], cautions: [text]}  steady: at every rate")
def shots_sheet(rig: Json, changes: list[Json] | None = None, show: dict[str, str] | None = None) -> Json:
    """The shot list to hand over on paper: verdicts and ways out, how fast each lamp may be filmed, what is estimated."""
    it, wire = opened(rig, changes), Wire(show)
    found, picture, frequency = shot_sheet.sheet(it.rig), it.rig.picture, it.rig.supply.frequency
    limits = {m.id: m for m in found.limits}
    return {**it.answer(), "name": it.rig.name, "supply": f"{it.rig.supply.name or 'Supply'}, {frequency.quantity}" if frequency else it.rig.supply.name,
            "at": f"{found.at.shutter.quantity} shutter" if found.at and found.at.shutter else "",
            "lamps": [_sheet_lamp(i, load.name or i, limits.get(i), wire) for i, load in it.rig.loads.items()],
            "shots": [{**light_wire.row(x.row, it.rig, described(it.rig.shots[x.row.shot])), "lit": x.lit, "verdict": str(x.finding.verdict), "says": x.finding.says, "advice": list(shot_sheet.advice(x.finding))} for x in found.lines],
            "estimates": [{"lamp": lamp, "term": wire.term(t)} for lamp, t in found.estimates], "unknown": [problem(p) for p in found.problems],
            "limits": [wire.term(t) for t in (picture.steady, picture.spoiled) if t is not None], "cautions": list(shot_sheet.CAUTIONS)}


def _sheet_lamp(load: str, name: str, limit: Mode | None, wire: Wire) -> Json:
    shown = limit.shown if limit else None
    return {"id": load, "name": name, "title": limit.title if limit else "Its light is not known", "shown": wire.quantity(shown) if shown else None, "steady": bool(limit and shown is None),
            "says": limit.finding.says if limit else ""}
