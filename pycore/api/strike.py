"""Methods of the strike screen: plan, a lamp that went out, run-up, timers; and dimming, banks, head cables, control lines."""

import json
from collections.abc import Sequence
from typing import Any

from pycore.api.method import Json, method
from pycore.api.wire import Wire, problem, remedy
from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Term, term
from pycore.base.units import parse
from pycore.findings import bank as banks
from pycore.findings import control_line as control
from pycore.findings import dimming, head_cable, lamp_out, run_up
from pycore.findings import strike as plans
from pycore.findings.chain import settled
from pycore.lamp import on_the_day as day
from pycore.lamp import refit as refits
from pycore.rig import edit, form
from pycore.rig.model import Load, Rig
from pycore.rig.read import Reading, load_document, read
from pycore.rig.typical import american


class Asked:
    """A rig as a method gets it: read, settled, with its forms."""

    def __init__(self, rig: Json, changes: list[Json] | None = None):
        pairs = [(str(c.get("address")), str(c.get("text"))) for c in changes or []]
        self.reading: Reading = read(edit.put(load_document(json.dumps(rig)), pairs))
        self.rig: Rig = settled(self.reading)
        self.wire = Wire()

    def load(self, load: str) -> Load:
        """One lamp. Raises `Refused` for one that is not there."""
        if load not in self.rig.loads:
            raise refuse("lamp-unknown", f"The rig has no lamp {load}", "Choose one of the rig's lamps")
        return self.rig.loads[load]

    def fields(self, part: Any, address: str, **choose: Any) -> list[Json]:
        """The form of a part."""
        return [self.wire.field(e) for e in form.entries(part, address, self.reading.document, self.reading.problems, **choose)]

    def all(self) -> Json:
        """What every answer carries of the rig itself."""
        return {"rig": self.reading.document, "problems": [problem(p) for p in self.reading.problems]}

    def seconds(self, value: float) -> Json:
        """A time as a quantity, and as minutes and seconds."""
        return {**self.wire.quantity(Quantity(value, "s")), "clock": plans.clock(value)}


def changes_of(pairs: Sequence[tuple[str, str]]) -> list[Json]:
    """Changes as the page applies them."""
    return [{"address": a, "text": t} for a, t in pairs]


@method("{rig, changes?, optimise?}",
        "{rig, problems, verdict, says, entered, proven, gap: Time, order: [{load, name, at: Time, full_at: Time, colour_at: Time, address}], findings: [Finding], course: {t: [s], lines: {line: [A]}, "
        "outlet: {line: [V]}, apparent: [VA], active: [W], light: {load: [share]}, voltages: {load: [V]}, dips: [{at: s, loads: [id], dip: share}]}, limits: {line: A|null, apparent: VA|null, active: W|null}, "
        "left_out: [{load, name, problems}], changes: [{address, text}], fields: [Field], lamp_fields: {load: [Field]}, cautions: [text]}")
def strike(rig: Json, changes: list[Json] | None = None, optimise: bool = False) -> Json:
    """The strike plan: as entered, or the shortest that keeps every limit; simulated, with each limit's worst moment."""
    asked = Asked(rig, changes)
    plan = plans.plan(asked.rig, optimise=optimise)
    order = [{"load": i, "name": asked.rig.loads[i].name or i, "at": asked.seconds(t), "full_at": asked.seconds(plan.full_at[i]), "colour_at": asked.seconds(plan.colour_at[i]),
              "address": f"loads/{i}/strike_at"} for i, t in plan.at.items()]
    return {**asked.all(), "verdict": str(plan.verdict), "says": plan.says, "entered": plan.entered, "proven": plan.proven, "gap": asked.seconds(plan.gap), "order": order,
            "findings": [asked.wire.finding(f) for f in plan.findings], "course": _course(plan), "limits": _limits(asked.rig),
            "left_out": [{"load": i, "name": asked.rig.loads[i].name or i, "problems": [problem(p) for p in ps]} for i, ps in plan.left_out.items()],
            "changes": changes_of([(f"loads/{i}/strike_at", f"{t:g} s") for i, t in plan.at.items()]),
            "fields": asked.fields(asked.rig.supply.steps, "supply/steps"), "lamp_fields": {i: _strike_fields(asked, x) for i, x in asked.rig.loads.items()},
            "cautions": [plans.WARN, plans.FULL_FIRST, *run_up.CAUTIONS]}


def _strike_fields(asked: Asked, load: Load) -> list[Json]:
    at = f"loads/{load.id}"
    warm = asked.fields(load.warm, f"{at}/warm", **({} if load.kind == "arc lamp" else {"without": ("arc_start",)}))
    return [*asked.fields(load, at, only=("strike_at", "inrush", "inrush_time", "run_up")), *warm]


def _course(plan: plans.Strikes) -> Json:
    """The moments as columns, ready to be drawn."""
    moments = plan.course
    lines = sorted({c for m in moments for c in m.currents})
    return {"t": [m.at for m in moments], "lines": {c: [m.currents.get(c, 0.0) for m in moments] for c in lines}, "outlet": {c: [m.outlet.get(c, 0.0) for m in moments] for c in lines},
            "apparent": [m.apparent for m in moments], "active": [m.active for m in moments], "light": {i: [m.light.get(i, 0.0) for m in moments] for i in plan.at},
            "voltages": {i: [m.voltages.get(i) for m in moments] for i in plan.at},
            "dips": [{"at": m.at, "loads": list(m.strikes), "dip": m.dip} for m in moments if m.strikes]}


def _limits(rig: Rig) -> Json:
    from pycore.findings.strike_limits import machine

    made, _ = machine(rig)
    rated = [x for x in (rig.supply.rating.value if rig.supply.rating else None, made.line if made else None) if x is not None]
    return {"line": min(rated) if rated else None, "apparent": made.apparent if made else None, "active": made.active if made else None}


@method("{rig, load}", "{verdict, says, strike_after: Time, light_after: Time, colour_after: Time, options: [{text, verdict, says, off: [load]}], findings: [Finding], cautions: [text], fields: [Field]}")
def lamp_dropped(rig: Json, load: str) -> Json:
    """One lamp went out while the others burn: when its light is back, and what to do with the others."""
    asked = Asked(rig)
    lamp = asked.load(load)
    out = lamp_out.went_out(asked.rig, load)
    return {"verdict": str(out.options[0].verdict), "says": out.says, "strike_after": asked.seconds(out.back.strike), "light_after": asked.seconds(out.back.light),
            "colour_after": asked.seconds(out.back.colour), "options": [{"text": o.text, "verdict": str(o.verdict), "says": o.says, "off": list(o.off)} for o in out.options],
            "findings": [asked.wire.finding(f) for f in out.findings], "cautions": list(out.cautions), "fields": asked.fields(lamp.warm, f"loads/{load}/warm")}


@method("{rig, load, arc_voltage?}", "{curve: {t: [s], light: [share], power: [W], current: [A]}, findings: [Finding], cautions: [text], fields: [Field]}")
def warm_up(rig: Json, load: str, arc_voltage: str = "") -> Json:
    """How a lamp comes up, how it strikes again, and what age (a higher arc voltage) does to it."""
    asked = Asked(rig)
    lamp = asked.load(load)
    aged = term(parse(arc_voltage, "V"), "V", "arc voltage now") if arc_voltage else None
    curve, found = run_up.curve(asked.rig, lamp), run_up.findings(asked.rig, lamp, aged)
    return {"curve": curve, "findings": [asked.wire.finding(f) for f in found], "cautions": list(run_up.CAUTIONS), "fields": _strike_fields(asked, lamp)}


@method("{rig, marks: [{load, what: struck|out|hot|clock, at: s since 1970, by?: s}], now: s since 1970, last_seen?: s since 1970, steady?: s since last_seen}",
        "{lamps: {load: {name, state: cold|running up|full|cooling, since, full_at, colour_at, ready_at: s since 1970 | null, burnt: Time, strikes, unsure, says}}, mark: Mark|null to be added for a clock that went back}")
def timers(rig: Json, marks: list[Json], now: int | float, last_seen: int | float | None = None, steady: int | float | None = None) -> Json:
    """The lamps of the day, from the marks alone; instants are as the phone's clock shows them now."""
    asked = Asked(rig)
    listed = [_mark(m, k) for k, m in enumerate(marks)]
    back = day.slip(last_seen=last_seen, now=now, steady=steady) if last_seen is not None else 0.0
    clock = {"what": "clock", "load": "", "at": now, "by": back} if back else None
    if clock:
        listed.append(_mark(clock, len(listed)))
    return {"lamps": {i: _timer(asked, x, listed, now) for i, x in asked.rig.loads.items()}, "mark": clock}


def _mark(m: Json, k: int) -> day.Mark:
    what = str(m.get("what"))
    try:
        at, by = float(m["at"]), float(m.get("by") or 0.0)
    except (KeyError, TypeError, ValueError):
        at = by = float("nan")
    if what not in ("struck", "out", "hot", "clock") or not (abs(at) < 1e12 and 0 <= by < 1e12):
        raise refuse("mark-unreadable", f"Mark {k + 1} is not readable", "Remove it", f"marks/{k}")
    return day.Mark(what=what, at=at, load=str(m.get("load", "")), by=by)


def _timer(asked: Asked, load: Load, marks: list[day.Mark], now: float) -> Json:
    found = day.lamp(marks, load.id, lamp_out.times_of(load), now)
    return {"name": load.name or load.id, "state": found.state, "since": found.since, "full_at": found.full_at, "colour_at": found.colour_at, "ready_at": found.ready_at,
            "burnt": asked.seconds(found.hours), "strikes": found.strikes, "unsure": found.unsure, "says": run_up.timer_says(found, now)}


@method("{rig, load, stops?, level?, power?, distance?}",
        "{setting: Setting|null, table: [Setting], below: {floor: Setting, left: Term, transmission: Term, distance: Term|null, doubles, singles, left_over: Term}|null, colour_known, cautions: [text], changes: "
        "[{address, text}], steps: [Step], fields: [Field]}; Setting = {level: Term|null, power: Term, light: Term, stops: Term, kelvin: text, kelvin_low: Term, kelvin_high: Term}")
def dim(rig: Json, load: str, stops: str = "", level: str = "", power: str = "", distance: str = "") -> Json:
    """From wanted stops, a control level or a power to everything else, and what to lose by other means below the lowest dim."""
    asked = Asked(rig)
    lamp = asked.load(load)
    below, setting = None, None
    away = term(parse(distance, "m"), "m", "distance now") if distance else None
    if stops:
        wanted = term(-abs(parse(stops, "stop")), "stop", "stops wanted")
        if lamp.kind != "tungsten" and _too_low(lamp, wanted):
            below = dimming.below_floor(lamp, wanted, away)
            setting = below.floor
        else:
            setting = dimming.for_stops(lamp, wanted)
    elif level:
        setting = dimming.at_level(lamp, term(parse(level, "%"), "%", "control level"))
    elif power:
        setting = dimming.at_power(lamp, term(parse(power, "%"), "%", "share of rated power"))
    wire = asked.wire
    return {"setting": _setting(wire, setting) if setting else None, "table": [_setting(wire, s) for s in dimming.table(lamp)],
            "below": {"floor": _setting(wire, below.floor), "left": wire.term(below.left), "transmission": wire.term(below.transmission), "distance": wire.term(below.distance),
                      "doubles": below.scrims[0], "singles": below.scrims[1], "left_over": wire.term(term(below.scrims[2], "stop", "stops left over"))} if below else None,
            "colour_known": dimming.COLOUR_KNOWN[lamp.kind], "cautions": [dimming.WARM_FIRST, dimming.LESS_STRAIGHT] if lamp.kind == "arc lamp" else [],
            "changes": changes_of([(f"loads/{load}/dim", f"{100 * setting.power.value:.4g} %")]) if setting else [],
            "steps": [wire.step(s) for s in (below.steps if below else setting.steps if setting else ())],
            "fields": asked.fields(lamp.control, f"loads/{load}/control", only=("curve", "resolution"))}


def _too_low(load: Load, wanted: Term) -> bool:
    lowest = banks.lowest_light(load)
    return 2**wanted.value < lowest * (1 - 1e-9)


def _setting(wire: Wire, s: dimming.Setting) -> Json:
    return {"level": wire.term(s.level), "power": wire.term(s.power), "light": wire.term(s.light), "stops": wire.term(s.stops), "kelvin": dimming.shown_kelvin(s.kelvin),
            "kelvin_low": wire.term(s.kelvin[0]), "kelvin_high": wire.term(s.kelvin[1])}


@method("{rig, load, readings: [{setting, light}], of: power|level, stops?}",
        "{exponent: Term, residual: Term, finding: Finding, points: [{setting: Term, light: Term, stops: Term}], wanted: {setting: Term}|null, changes: [{address, text}]}")
def refit(rig: Json, load: str, readings: list[Json], of: str = "power", stops: str = "") -> Json:
    """A lamp's own law from light readings at known powers, or at positions of a knob or levels of a control."""
    asked = Asked(rig)
    lamp = asked.load(load)
    listed = [refits.Reading(setting=parse(str(r.get("setting", "")), "%"), light=parse(str(r.get("light", "")), "lx")) for r in readings]
    found, wire = dimming.refitted(lamp, listed, of == "power"), asked.wire
    name = "share of rated power" if of == "power" else "setting"
    points = [{"setting": wire.term(term(r.setting, "%", name)), "light": wire.term(term(r.light, "lx", "light read")), "stops": wire.term(term(found.own.stops(r.setting), "stop", "stops"))}
              for r in found.own.readings]
    wanted = {"setting": wire.term(term(found.own.setting(-abs(parse(stops, "stop"))), "%", name))} if stops else None
    return {"exponent": wire.term(found.exponent), "residual": wire.term(found.residual), "finding": wire.finding(found.finding), "points": points, "wanted": wanted,
            "changes": [c for r in found.finding.remedies for c in remedy(r)["changes"]]}


@method("{rig, lamps: [{load, light?: at full, wanted?}], wanted?: of all together}",
        "{lamps: [{load, name, full: Term, light: Term, setting: Setting, current: Term|null, left: Term|null}], total: Term, supply: Term|null, finding: Finding, changes: [{address, text}]}")
def bank(rig: Json, lamps: list[Json], wanted: str = "") -> Json:
    """Dim several lamps to a level together, or each to its own; the light and the supply current of each."""
    asked = Asked(rig)
    chosen = {str(x.get("load")): x for x in lamps}
    lights = {i: _lux(x["light"], f"{asked.load(i).name or i} at full") if x.get("light") else banks.full_light(asked.load(i)) for i, x in chosen.items()}
    if wanted:
        found = banks.to_level(asked.rig, lights, _lux(wanted, "light wanted"))
    elif all(x.get("wanted") for x in chosen.values()):
        found = banks.to_balance(asked.rig, lights, {i: _lux(x["wanted"], "light wanted") for i, x in chosen.items()})
    else:
        raise refuse("nothing-wanted", "No light is wanted", "Enter the light of all together, or of each lamp")
    wire = asked.wire
    return {"lamps": [{"load": x.load, "name": asked.rig.loads[x.load].name or x.load, "full": wire.term(x.full), "light": wire.term(x.light), "setting": _setting(wire, x.setting),
                       "current": wire.term(x.current), "left": wire.term(x.left)} for x in found.lit],
            "total": wire.term(found.total), "supply": wire.term(found.supply), "finding": wire.finding(found.finding), "changes": changes_of(found.changes)}


def _lux(text: Any, name: str) -> Term:
    return term(parse(str(text), "lx"), "lx", name)


@method("{rig, load, share?}", "{share, sizes: [{size, length: Term|null, ceiling: power|current|voltage, rating: Term|null, current: Term, changes: [{address, text}]}], finding: Finding}")
def head_cables(rig: Json, load: str, share: str = "") -> Json:
    """The longest head cable of each size that leaves a share of the lamp's power."""
    asked = Asked(rig)
    lamp = asked.load(load)
    if lamp.kind != "arc lamp":
        raise refuse("no-head-cable", "This lamp has no head cable", "Choose an arc lamp")
    keep = parse(share, "%") if share else head_cable.KEEPS
    wire = asked.wire
    sizes = [{"size": x.size, "length": wire.term(x.length), "ceiling": x.ceiling, "rating": wire.term(x.rating), "current": wire.term(x.current),
              "changes": changes_of([(f"loads/{load}/head_cable/size", x.size)])} for x in head_cable.lengths(lamp, keep, american(asked.rig))]
    return {"share": wire.quantity(Quantity(keep, "%")), "sizes": sizes, "finding": wire.finding(head_cable.reaches(lamp, keep))}


@method("{rig, changes?, line, shot?}",
        "{rig, problems, verdict, findings: [Finding], receivers: [{load, name, first, last, line, fields: [Field]}], others: [{load, name}], fields: [Field], lines: [{id, name}], cautions: [text]}")
def control_line(rig: Json, line: str, changes: list[Json] | None = None, shot: str = "") -> Json:
    """Check one control line: loads, length, end, addresses, refresh, and whether a fade shows its steps at the shot's frame rate."""
    asked = Asked(rig, changes)
    if line not in asked.rig.control_lines:
        raise refuse("line-unknown", f"The rig has no control line {line}", "Add one")
    picked = asked.rig.shots.get(shot) or next(iter(asked.rig.shots.values()))
    found = control.findings(asked.rig, line, picked.frame_rate)
    it = control.on_line(asked.rig, line)
    return {**asked.all(), "verdict": str(control.verdict_of(found)), "findings": [asked.wire.finding(f) for f in found],
            "receivers": [{"load": i, "name": x.name or i, "first": round(x.control.address.value) if x.control.address else None,
                           "last": round(x.control.address.value + x.control.slots.value) - 1 if x.control.address and x.control.slots else None, "line": line,
                           "fields": asked.fields(x.control, f"loads/{i}/control")} for i, x in it.lamps.items()],
            "others": [{"load": i, "name": x.name or i} for i, x in asked.rig.loads.items() if not x.control.line],
            "fields": asked.fields(it.line, f"control_lines/{line}"), "lines": [{"id": i, "name": x.name or i} for i, x in asked.rig.control_lines.items()],
            "cautions": [control.ISOLATE, control.NO_Y]}


@method("{rig}", "{rig, line}")
def add_control_line(rig: Json) -> Json:
    """The rig with one more control line."""
    document = edit.put(load_document(json.dumps(rig)), [])
    lines = document.setdefault("control_lines", {})
    if not isinstance(lines, dict):
        raise refuse("not-a-group", "control_lines must be a group of named parts", "Compare with a saved rig", "control_lines")
    line = edit.free_id(lines, "D")
    lines[line] = {}
    return {"rig": document, "line": line}


@method("{rig, line}", "{rig}")
def remove_control_line(rig: Json, line: str) -> Json:
    """The rig without a control line; its lamps keep their addresses."""
    document = edit.put(load_document(json.dumps(rig)), [])
    document.get("control_lines", {}).pop(line, None)
    for x in document.get("loads", {}).values():
        if isinstance(x, dict) and isinstance(x.get("control"), dict) and x["control"].get("line") == line:
            x["control"].pop("line")
    return {"rig": document}
