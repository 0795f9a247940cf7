"""Methods for light on camera: the shot list and one shot."""

import json
from dataclasses import dataclass
from math import pi

from pycore import __version__
from pycore.api import light_wire, methods
from pycore.api.method import Json, method
from pycore.api.wire import Wire, problem, remedy
from pycore.base.problem import Problem, refuse
from pycore.base.result import Finding, unknown, worst
from pycore.camera.clocks import Mix
from pycore.camera.lamp_light import LampLight
from pycore.findings import light_plots, shutter
from pycore.findings.chain import settled
from pycore.findings.common import attempt, finding_or_unknown
from pycore.findings.plots import Mark, Plot
from pycore.findings.scene import Scene
from pycore.findings.shots import Board, described
from pycore.rig import edit, form
from pycore.rig.model import Rig, Shot
from pycore.rig.read import Reading, load_document, read

TOLD_APART = 7  # lines of lamps in one plot beside that of all together
FASTEST = 4000.0  # fps: how far the frame rates are drawn at least


@dataclass(frozen=True, slots=True)
class Opened:
    """A rig document with changes made, read and settled."""

    document: Json
    reading: Reading
    rig: Rig

    def fields(self, part: object, address: str, **choose: object) -> list[form.Entry]:
        """The form of a part."""
        return form.entries(part, address, self.document, self.reading.problems, **choose)  # type: ignore[arg-type]

    def answer(self) -> Json:
        """What every answer starts with."""
        return {"rig": self.document, "version": __version__, "problems": [problem(p) for p in self.reading.problems]}


def opened(rig: Json, changes: list[Json] | None) -> Opened:
    """The rig with changes made. Raises `Refused` for what is no rig."""
    document = edit.put(load_document(json.dumps(rig)), methods.pairs(changes))
    reading = read(document)
    return Opened(document, reading, settled(reading))


def shot_of(it: Opened, shot: str) -> Shot:
    """A shot by id, the first for none. Raises `Refused` for one that is not there."""
    if shot and shot not in it.rig.shots:
        raise refuse("shot-unknown", f"The rig has no shot {shot}", "Choose one of its shots")
    return it.rig.shots[shot or next(iter(it.rig.shots))]


def load_of(it: Opened, load: str) -> str:
    """A lamp's id. Raises `Refused` for one that is not there."""
    if load not in it.rig.loads:
        raise refuse("lamp-unknown", f"The rig has no lamp {load}", "Choose one of its lamps")
    return load


@method("{rig, changes?, show?}",
        "{rig, version, problems, verdict, headline, lamps: [{id, name, title, form, verdict, problems: [Problem]}], list_advice: [Remedy], limit_fields: [Field], "
        "shots: [{id, name, text, kind, verdict, spread: Quantity|null, says, shared, advice: Remedy|null, problems, cells: [{load, verdict, spread, says, share: Quantity|null}]}]}")
def shots(rig: Json, changes: list[Json] | None = None, show: dict[str, str] | None = None) -> Json:
    """The day's shots against all lamps: a verdict in each cell, and what would clean the whole list."""
    it, wire = opened(rig, changes), Wire(show)
    board = Board(it.rig)
    rows = board.rows()
    bad, not_known = sum(r.verdict in ("stop", "tight") for r in rows), sum(r.verdict == "unknown" for r in rows)
    words = [f"{bad} of {len(rows)} shots not steady"] * bool(bad) + [f"{not_known} not known"] * bool(not_known)
    listed, problems = attempt(board.for_the_list)
    return {**it.answer(), "verdict": str(worst(r.verdict for r in rows)), "headline": ", ".join(words) or "Every shot is steady",
            "lamps": [_lamp(it, board, i, [c for r in rows for c in r.cells if c.load == i]) for i in it.rig.loads],
            "shots": [light_wire.row(r, it.rig, described(it.rig.shots[r.shot])) for r in rows],
            "list_advice": [remedy(r) for r in listed or ()], "limit_fields": [wire.field(e) for e in it.fields(it.rig.picture, "picture", only=("steady", "spoiled"))]}


def _lamp(it: Opened, board: Board, load: str, cells: list) -> Json:
    """A lamp of the list, as bad as the worst of the shots that it lights, or of all."""
    light, lit = board.lights.get(load), [c for c in cells if c.share is not None]
    return {"id": load, "name": it.rig.loads[load].name or load, "title": light.title if light else "Its light is not known", "form": light.form if light else "",
            "verdict": str(worst(c.verdict for c in lit or cells)), "problems": [problem(p) for p in board.unknown.get(load, ())]}


@method("{rig, like?}", "{rig, shot}")
def add_shot(rig: Json, like: str = "") -> Json:
    """The rig with one more shot, like another where that is given."""
    document = load_document(json.dumps(rig))
    listed = document.setdefault("shots", {})
    new = edit.free_id(listed, "S")
    listed[new] = {k: v for k, v in listed.get(like, {}).items() if k != "name"}
    return {"rig": document, "shot": new}


@method("{rig, shot}", "{rig}")
def remove_shot(rig: Json, shot: str) -> Json:
    """The rig without a shot."""
    document = load_document(json.dumps(rig))
    document.get("shots", {}).pop(shot, None)
    return {"rig": document}


@method("{rig, shot?, load?, changes?, show?, compact?}",
        "{rig, version, problems, shot, name, text, load, finding: Finding, lamps: [{id, name, title, form, share: Quantity|null, entries: [Term], fields: [Field], recorded, forget: [{address, text}]}], "
        "plots: [Plot], fields: [Field], share_fields: [Field], limit_fields: [Field], workings?: [Step]}  "
        "Plot: {id, title, says, x: {label, unit, scale}, y, lines: [{name, points: [[x, y]], labels: [text]}], marks: [{label, x, y, verdict}], bands: [{label, from, to, verdict}], levels: [{label, y}]}")
def shot(rig: Json, shot: str = "", load: str = "", changes: list[Json] | None = None, show: dict[str, str] | None = None, compact: bool = False) -> Json:
    """One shot under one lamp, or under all that light it when none is named: the finding, its plots and its fields."""
    it, wire = opened(rig, changes), Wire(show, compact)
    what = shot_of(it, shot)
    chosen = [load_of(it, load)] if load else [i for i in what.lit_by if i in it.rig.loads]
    board = Board(it.rig, advise=False)
    problems = {p.address: p for p in it.reading.problems}
    at = f"shots/{what.id}"
    made, reasons = attempt(lambda: _judged(board, what, load))
    answer = {**it.answer(), "shot": what.id, "name": what.name, "text": described(what), "load": load, "under": _under(it.rig, made), "finding": wire.finding(_finding(made, reasons, what)),
              "lamps": [_light(it, board.lights.get(i), i, what, wire) for i in chosen or it.rig.loads],
              "plots": [light_wire.plot(p) for p in (_plots(made, board, load) if made else ())],
              "fields": [wire.field(e) for e in it.fields(what, at, only=form.shot_keys(what.kind))],
              "share_fields": [wire.field(light_wire.share_field(it.document, it.rig, what.id, i, problems)) for i in it.rig.loads],
              "limit_fields": [wire.field(e) for e in it.fields(it.rig.picture, "picture", only=("steady", "spoiled"))]}
    return {**answer, "workings": wire.workings} if compact else answer


def _judged(board: Board, what: Shot, load: str) -> Scene | shutter.Apart:
    """The shot under one lamp, as it is lit, or under every lamp by itself where nobody said what lights it. Raises `Refused` where it cannot be seen."""
    if load or what.lit_by:
        return board.scene(what, load)
    return shutter.by_itself(board.rig, what, board.lights, tuple(p for why in board.unknown.values() for p in why))


def _under(rig: Rig, made: Scene | shutter.Apart | None) -> Json | None:
    """Which light the answer is about, and why: the lamps that count, and in words."""
    if made is None:
        return None
    if isinstance(made, shutter.Apart):
        count, worst_one = made.count, next(iter(made.worst.lights))
        says = "No shares are entered, so each lamp counts by itself" if count > 1 else f"Under {made.name} alone, the only lamp"
        return {"loads": list(made.every.lights), "worst": worst_one, "says": says}
    names = [rig.loads[i].name or i for i in made.lights]
    return {"loads": list(made.lights), "worst": "", "says": f"Under {names[0]} alone" if len(names) == 1 else f"Under {len(names)} lamps together, by their shares"}


def _finding(made: Scene | shutter.Apart | None, reasons: tuple[Problem, ...], what: Shot) -> Finding:
    at = f"shots/{what.id}"
    if made is None:
        return unknown("shot-steady", shutter.ALONE, at, *reasons)
    if isinstance(made, shutter.Apart):
        return finding_or_unknown("shot-steady", shutter.ALONE, at, lambda: shutter.each(made, prove=True))
    return finding_or_unknown("shot-steady", shutter.ALONE, at, lambda: shutter.judged(made, prove=True))


def _light(it: Opened, light: LampLight | None, load: str, what: Shot, wire: Wire) -> Json:
    """A lamp's light: what it is, what it rests on, and the fields that change it."""
    part, at = it.rig.loads[load], f"loads/{load}"
    keys = {"LED": ("drive", "pulse_frequency")}.get(part.kind, () if part.kind != "arc lamp" else ("output", "output_frequency", "commutation_time", "dip_depth"))
    fields = [*(it.fields(part.ballast, f"{at}/ballast", only=keys) if keys else []), *it.fields(part.lamp, f"{at}/lamp", only=("ripple", "asymmetry")),
              *(it.fields(part.pulse, f"{at}/pulse") if part.kind == "arc lamp" else [])]
    return {"id": load, "name": part.name or load, "title": light.title if light else "Its light is not known", "form": light.form if light else "",
            "share": light_wire.share(what.lit_by[load].value) if load in what.lit_by else None, "entries": light_wire.terms(light.rests_on, wire) if light else [],
            "fields": [wire.field(e) for e in fields], "recorded": bool(part.recording.components), "note": part.recording.note,
            "forget": [{"address": f"{at}/recording/{k}", "text": ""} for k in ("frequency", "components", "note")]}


def _plots(made: Scene | shutter.Apart, board: Board, load: str) -> list[Plot]:
    """Waveform with windows, difference against the frame rate with the day's shots, and the ramp."""
    if isinstance(made, shutter.Apart):
        return _drawn(made.every, made.worst, board, next(iter(made.worst.lights)) if made.count == 1 else "")
    return _drawn(made, made, board, next(iter(made.lights)) if load or len(made.lights) == 1 else "")


def _drawn(all_of_it: Scene, shown: Scene, board: Board, one: str) -> list[Plot]:
    """The plots of a scene; the waveform is that of the light `shown`, marks are those of one lamp where it is named."""
    take, found = all_of_it.take, [light_plots.waveform(shown)]
    if take.kind in ("moving", "ramp") and take.angle > 0:
        apart = [(board.rig.loads[i].name or i, board.alone[i]) for i in _worst_first(all_of_it, board)]
        together = [("All together", all_of_it.mix)] if isinstance(all_of_it.mix, Mix) and len(apart) > 1 else []
        found.append(light_plots.against_rate("Against the frame rate", [*together, *apart], min(take.angle, 2 * pi), all_of_it.limits, marks(board, one), max(FASTEST, 2 * take.fastest)))
    return [*found, light_plots.ramp(all_of_it)] if take.ramps else found


def _worst_first(s: Scene, board: Board) -> list[str]:
    """The lamps in their order; where they are more than a plot tells apart, those that trouble the shot most first."""
    if len(s.lights) <= TOLD_APART:
        return list(s.lights)
    return sorted(s.lights, key=lambda i: -board.alone[i].spread(s.seen.T))


def marks(board: Board, load: str) -> list[Mark]:
    """The day's shots at their frame rates."""
    found = []
    for i, shot in board.rig.shots.items():
        value = board.cell(load, shot) if load else board.as_bad(shot)
        if shot.kind == "moving" and shot.frame_rate and value is not None and value.spread is not None:
            found.append(Mark(shot.name or i, shot.frame_rate.value, max(light_plots.FLOOR, 100 * value.spread), str(value.verdict)))
    return found
