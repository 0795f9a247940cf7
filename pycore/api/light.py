"""Methods for one lamp's own light: reading a recording, keeping the log of an arc's sweep."""

from pycore.api import light_wire
from pycore.api.method import Json, method
from pycore.api.shots import load_of, opened
from pycore.api.wire import Wire, problem
from pycore.base import units
from pycore.base.problem import Refused, refuse
from pycore.base.quantity import Quantity
from pycore.camera import take
from pycore.camera.quiet import SEEN, Seen
from pycore.findings import arc_log, measured_light
from pycore.findings.common import attempt, percent
from pycore.findings.measured_light import Reading, Source
from pycore.findings.scene import blend
from pycore.findings.shots import described
from pycore.rig.edit import put
from pycore.rig.model import Rig

KINDS = ("samples", "frames")


@method("{text, kind?: samples|frames, sample_rate?, exposure_time?, dark?, note?, rig?, load?, show?}",
        "{says, terms: [Term], orders: [{order, frequency: Term, size: Term, degrees}], findings: [Finding], plots: [Plot], notes: [text], problems: [Problem], changes: [{address, text}], "
        "shots: [{id, name, text, verdict, spread: Quantity|null, says}]}  sample_rate, exposure_time: text with units; dark: a level; changes keep it as the lamp's light")
def recording(text: str, kind: str = "samples", sample_rate: str = "", exposure_time: str = "", dark: str = "", note: str = "", rig: Json | None = None, load: str = "",
              show: dict[str, str] | None = None) -> Json:
    """Read a recording of light: its form, what it is to people and to the shot list, and the changes that keep it."""
    wire, it = Wire(show), opened(rig, None) if rig else None
    if it and load:
        load_of(it, load)
    found = measured_light.read(text, _source(kind, sample_rate, exposure_time, dark, note), it.rig if it else None, load)
    return {"says": found.says, "terms": [wire.term(t) for t in found.terms], "findings": [wire.finding(f) for f in found.findings], "plots": [light_wire.plot(p) for p in found.plots],
            "orders": [{"order": k, "frequency": wire.term(f), "size": wire.term(size), "degrees": round(angle, 1)} for k, f, size, angle in found.orders],
            "notes": list(found.notes), "problems": [problem(p) for p in found.problems], "changes": [{"address": a, "text": t} for a, t in found.changes],
            "shots": _shots(it.rig, found, load) if it and load else []}


def _source(kind: str, sample_rate: str, exposure_time: str, dark: str, note: str) -> Source:
    """What was entered beside the text. Raises `Refused` with every entry that cannot be read."""
    problems = [] if kind in KINDS else list(refuse("kind-unknown", f"“{kind}” is no kind of recording", f"Choose {' or '.join(KINDS)}", "kind").problems)
    values: dict[str, float | None] = {}
    for key, entered, unit in (("sample_rate", sample_rate, "Hz"), ("exposure_time", exposure_time, "s"), ("dark", dark, "")):
        try:
            values[key] = units.parse(entered, unit) if entered.strip() else None
            if values[key] is not None and key != "dark" and not values[key] > 0:  # type: ignore[operator]
                raise refuse("out-of-range", "This must be more than 0", "Check the entry")
        except Refused as refused:
            problems += [p.at(key) for p in refused.problems]
    if problems:
        raise Refused(*problems)
    return Source(kind, values["sample_rate"], values["exposure_time"], values["dark"] or 0.0, note)


def _shots(rig: Rig, found: Reading, load: str) -> list[Json]:
    """What the recorded light does to each shot."""
    lights = measured_light.lit_by_it(rig, found, load)
    answers = []
    for i, shot in rig.shots.items():
        seen, problems = attempt(lambda shot=shot: take.see(blend(rig, lights, {load: 1.0}), take.take_of(shot), take.limits_of(rig.picture), brief=True))  # type: ignore[misc]
        says = problems[0].message if seen is None else f"{percent(seen.spread)} between frames"
        answers.append({"id": i, "name": shot.name, "text": described(shot), "verdict": str(seen.verdict) if seen else "unknown", "spread": light_wire.share(seen.spread) if seen else None, "says": says})
    return answers


def _hertz(value: float) -> Quantity:
    return Quantity(value, "Hz")


def _seen(add: dict[str, str], address: str) -> Seen:
    """A reading as entered. Raises `Refused` for what is no frequency or no observation."""
    what = str(add.get("seen", ""))
    if what not in SEEN:
        raise refuse("seen-unknown", f"“{what}” is not something that was seen", "Choose one of the list", address)
    return Seen(units.parse(str(add.get("frequency", "")), "Hz"), what)


@method("{rig, load, add?: {frequency, seen}, remove?: number, changes?, show?}",
        "{rig, version, problems, load, name, readings: [{frequency: Quantity, seen, words}], choices: [{value, label}], windows: [{low: Quantity, high: Quantity, width: Quantity, readings}], finding: Finding, "
        "tones: [{name, low: Term, middle: Term, high: Term, rung_by, step: Step}], plot: Plot|null, cautions: [text], fields: [Field]}")
def arc_sweep(rig: Json, load: str, add: dict[str, str] | None = None, remove: int | None = None, changes: list[Json] | None = None, show: dict[str, str] | None = None) -> Json:
    """The log of a sweep of a ballast's frequency: its quiet windows, the setting advised, and the tones of the arc tube."""
    it, wire = opened(rig, changes), Wire(show)
    at = f"loads/{load_of(it, load)}/arc/sweep"
    sweep = list(arc_log.read(it.rig.loads[load].arc.sweep, at))
    if add is not None:
        sweep.append(_seen(add, at))
    if remove is not None and 0 <= remove < len(sweep):
        del sweep[remove]
    if add is not None or remove is not None:
        document = put(it.document, ((at, arc_log.written(tuple(sweep))),))
        it = opened(document, None)
    found = arc_log.log(it.rig.loads[load])
    part = it.rig.loads[load]
    return {**it.answer(), "load": load, "name": part.name or load, "choices": [{"value": k, "label": words} for k, words in SEEN.items()],
            "readings": [{"frequency": wire.quantity(_hertz(s.frequency)), "seen": s.what, "words": SEEN[s.what]} for s in found.sweep],
            "windows": [{"low": wire.quantity(_hertz(w.low)), "high": wire.quantity(_hertz(w.high)), "width": wire.quantity(_hertz(w.width)), "readings": w.readings} for w in found.windows],
            "finding": wire.finding(found.finding), "plot": light_wire.plot(found.plot), "cautions": [arc_log.LAMP_SPECIFIC],
            "tones": [{"name": t.name, "low": wire.term(t.low), "middle": wire.term(t.step.result), "high": wire.term(t.high), "rung_by": t.rung_by, "step": wire.step(t.step)} for t in found.tones],
            "fields": [wire.field(e) for e in [*it.fields(part.arc, f"loads/{load}/arc"), *it.fields(part.ballast, f"loads/{load}/ballast", only=("output_frequency",))]]}
