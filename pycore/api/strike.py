"""Methods of the strike screen: the plan, a lamp that went out, how one comes up, and the day's timers."""

import json

from pycore.api.asked import Asked, Show, changes_of
from pycore.api.method import Json, method
from pycore.api.wire import problem
from pycore.base.result import term
from pycore.base.units import parse
from pycore.findings import lamp_out, run_up
from pycore.findings import strike as plans
from pycore.findings.strike_guards import machine
from pycore.findings.strike_ready import Made, make_ready
from pycore.findings.strike_waits import Wait
from pycore.findings.strike_words import FULL_FIRST, WARN
from pycore.lamp import on_the_day as day
from pycore.lamp.strike_search import Known
from pycore.rig import edit, graph
from pycore.rig.marks import read_mark
from pycore.rig.model import Load, Rig


@method("{rig, changes?, optimise?, effort?: moments to be judged at most, show?}",
        "{rig, problems, verdict, says, entered, proven, judged, gap: Time, order: [{load, name, at: Time, full_at: Time, colour_at: Time, address, feed, again, wait: {kind: first|least gap|short|limit|free, says, finding: Finding|null}}], findings: [Finding], course: {t: [s], lines: {line: [A]}, "
        "outlet: {line: [V]}, apparent: [VA], active: [W], light: {load: [share]}, voltages: {load: [V]}, dips: [{at: s, loads: [id], dip: share}]}, limits: {line: A|null, apparent: VA|null, active: W|null}, "
        "left_out: [{load, name, problems}], changes: [{address, text}], fields: [Field], lamp_fields: {load: [Field]}, cautions: [text]}")
def strike(rig: Json, changes: list[Json] | None = None, optimise: bool = False, effort: int = 600, show: Show = None) -> Json:
    """The strike plan: as entered, or the shortest that keeps every limit; simulated, with each limit's worst moment."""
    asked = Asked(rig, changes, show)
    made, known = begun(asked)
    plan = plans.plan_on(made, {} if optimise else plans.entered_times(asked.rig), effort, known)
    order = [_start(asked, plan, i) for i in plan.at]
    return {**asked.all(), "verdict": str(plan.verdict), "says": plan.says, "entered": plan.entered, "proven": plan.proven, "judged": plan.judged, "gap": asked.seconds(plan.gap), "order": order,
            "findings": [asked.wire.finding(f) for f in plan.findings], "course": _course(plan), "limits": _limits(asked.rig),
            "left_out": [{"load": i, "name": asked.rig.loads[i].name or i, "problems": [problem(p) for p in ps]} for i, ps in plan.left_out.items()],
            "changes": changes_of([(f"loads/{i}/strike_at", f"{t:g} s") for i, t in plan.at.items()]),
            "fields": asked.fields(asked.rig.supply.steps, "supply/steps"), "lamp_fields": {i: _strike_fields(asked, x) for i, x in asked.rig.loads.items()},
            "cautions": [WARN, FULL_FIRST, *run_up.CAUTIONS[1:]]}


_LAST: dict[str, tuple[Made, Known]] = {}


def begun(asked: Asked) -> tuple[Made, Known]:
    """The rig made ready, with what has been judged of it: the last one is kept, so that a search goes on where it stopped and a moved strike costs little."""
    key = json.dumps(edit.put(asked.reading.document, [(f"loads/{i}/strike_at", "") for i in asked.rig.loads]))
    if key not in _LAST:
        made = make_ready(asked.rig)
        _LAST.clear()
        _LAST[key] = made, {}
    return _LAST[key]


def _start(asked: Asked, plan: plans.Strikes, load: str) -> Json:
    """One strike of the order, with what it hangs on and when it may be struck again."""
    x = asked.rig.loads[load]
    runs = [run.name or run.id for run in graph.path(asked.rig, load)]
    return {"load": load, "name": x.name or load, "at": asked.seconds(plan.at[load]), "full_at": asked.seconds(plan.full_at[load]), "colour_at": asked.seconds(plan.colour_at[load]),
            "address": f"loads/{load}/strike_at", "feed": ", ".join([x.connection, *runs[-1:]]), "again": run_up.again(x).says, "wait": _wait(asked, plan.waits[load])}


def _wait(asked: Asked, wait: Wait) -> Json:
    return {"kind": wait.kind, "says": wait.says, "finding": asked.wire.finding(wait.finding) if wait.finding else None}


def _strike_fields(asked: Asked, load: Load) -> list[Json]:
    at = f"loads/{load.id}"
    warm = asked.fields(load.warm, f"{at}/warm", **({} if load.kind == "arc lamp" else {"without": ("arc_start",)}))
    return [*asked.fields(load, at, only=("strike_at", "inrush", "inrush_time", "run_up")), *warm]


def _course(plan: plans.Strikes) -> Json:
    """The moments as columns, ready to be drawn."""
    moments = plan.course
    lines = sorted({c for m in moments for c in m.currents})
    return {"t": [m.at for m in moments], "lines": {c: [m.currents.get(c) for m in moments] for c in lines}, "outlet": {c: [m.outlet.get(c) for m in moments] for c in lines},
            "apparent": [m.apparent for m in moments], "active": [m.active for m in moments], "light": {i: [m.light.get(i, 0.0) for m in moments] for i in plan.at},
            "voltages": {i: [m.voltages.get(i) for m in moments] for i in plan.at},
            "dips": [{"at": m.at, "loads": list(m.strikes), "dip": m.dip} for m in moments if m.strikes]}


def _limits(rig: Rig) -> Json:
    made, _ = machine(rig)
    rated = [x for x in (rig.supply.rating.value if rig.supply.rating else None, made.line if made else None) if x is not None]
    return {"line": min(rated) if rated else None, "apparent": made.apparent if made else None, "active": made.active if made else None}


@method("{rig, load, show?}", "{verdict, says, strike_after: Time, light_after: Time, colour_after: Time, options: [{text, verdict, says, off: [load]}], findings: [Finding], cautions: [text], fields: [Field]}")
def lamp_dropped(rig: Json, load: str, show: Show = None) -> Json:
    """One lamp went out while the others burn: when its light is back, and what to do with the others."""
    asked = Asked(rig, show=show)
    lamp = asked.load(load)
    out = lamp_out.went_out(asked.rig, load, begun(asked)[0])
    return {"verdict": str(out.options[0].verdict), "says": out.says, "strike_after": asked.seconds(out.back.strike), "light_after": asked.seconds(out.back.light),
            "colour_after": asked.seconds(out.back.colour), "options": [{"text": o.text, "verdict": str(o.verdict), "says": o.says, "off": list(o.off)} for o in out.options],
            "findings": [asked.wire.finding(f) for f in out.findings], "cautions": list(out.cautions), "fields": asked.fields(lamp.warm, f"loads/{load}/warm")}


@method("{rig, load, arc_voltage?, show?}", "{curve: {t: [s], light: [share], power: [W], current: [A]}, findings: [Finding], cautions: [text], fields: [Field]}")
def warm_up(rig: Json, load: str, arc_voltage: str = "", show: Show = None) -> Json:
    """How a lamp comes up, how it strikes again, and what age (a higher arc voltage) does to it."""
    asked = Asked(rig, show=show)
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
    return day.Mark(**read_mark(m, k))


def _timer(asked: Asked, load: Load, marks: list[day.Mark], now: float) -> Json:
    found = day.lamp(marks, load.id, lamp_out.times_of(load), now)
    return {"name": load.name or load.id, "state": found.state, "since": found.since, "full_at": found.full_at, "colour_at": found.colour_at, "ready_at": found.ready_at,
            "burnt": asked.seconds(found.hours), "strikes": found.strikes, "unsure": found.unsure, "says": run_up.timer_says(found, now)}
