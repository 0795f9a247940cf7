"""In which order, and when, to strike the lamps; what the supply bears meanwhile; what to do when one goes out.

    plan      entered (Struck at) or the shortest that keeps every limit
    findings  one for each limit, with the moment at which it is used most
    course    currents, kVA and voltages over time, by the power flow
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil

from pycore.base.problem import Problem, Refused, refuse
from pycore.base.result import Evidence, Finding, Limit, Remedy, Term, Verdict, term, worst
from pycore.findings.common import within
from pycore.findings.strike_draws import at_full, striking
from pycore.findings.strike_limits import WORDS, Bench, behind, breakers, machine
from pycore.findings.strike_supply import network_solver
from pycore.lamp import strike as search
from pycore.lamp.strike import Starter, Use
from pycore.powerflow.single_path import sending_voltage
from pycore.rig import graph
from pycore.rig.model import Rig
from pycore.rig.typical import need

WARN = "Warn everybody before a strike: a hot lamp may take tens of kilovolts. Strike from the ballast, glass shut, head closed."
FULL_FIRST = "Lamps are struck and warmed at full power here, about 15 minutes before the first dim."
POINTS = 40  # moments in a course


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """The supply at one time (s). Currents and voltages by line; `light` by lamp; `dip` is the share that a strike takes off."""

    at: float
    currents: dict[str, float]
    outlet: dict[str, float]
    apparent: float
    active: float
    light: dict[str, float]
    voltages: dict[str, float]
    strikes: tuple[str, ...] = ()
    dip: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Strikes:
    """A plan with everything said about it. `at`: when each lamp is struck, s; `proven`: whether nothing shorter keeps the limits."""

    at: dict[str, float]
    entered: bool
    proven: bool
    full_at: dict[str, float]
    colour_at: dict[str, float]
    findings: tuple[Finding, ...]
    course: tuple[Moment, ...]
    left_out: dict[str, tuple[Problem, ...]]
    says: str
    gap: float

    @property
    def verdict(self) -> Verdict:
        """The worst of its findings; unknown while a lamp is left out."""
        return worst([*(f.verdict for f in self.findings), *([Verdict.UNKNOWN] if self.left_out else [])])


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A rig made ready: its bench, and the estimates that its limits lean on."""

    rig: Rig
    bench: Bench
    left_out: dict[str, tuple[Problem, ...]]
    leans_on: tuple[Term, ...]

    def name(self, load: str) -> str:
        """A lamp's name, with its id where another lamp has the same."""
        name = self.rig.loads[load].name
        return f"{name} ({load})" if sum(x.name == name for x in self.rig.loads.values()) > 1 and name else name or load


def make_ready(rig: Rig) -> Made:
    """Bench of a settled rig. Raises `Refused` where there is nothing to judge."""
    if not rig.loads:
        raise refuse("no-lamps", "The rig has no lamps", "Add a lamp", "loads")
    lamps, left_out = striking(rig)
    if not lamps:
        raise Refused(*(p for problems in left_out.values() for p in problems))
    rig = replace(at_full(rig), loads={i: x for i, x in at_full(rig).loads.items() if i in lamps})
    devices, device_leans = breakers(rig)
    set_, set_leans = machine(rig)
    bench = Bench(lamps=lamps, solve=network_solver(rig, lamps), breakers=devices, below={b.place: behind(rig, b.place) for b in devices}, machine=set_,
                  gap=need(rig.supply.steps, "gap", "supply/steps").value, frequency=need(rig.supply, "frequency", "supply").value)
    return Made(rig=rig, bench=bench, left_out=left_out, leans_on=(*device_leans, *set_leans))


def starters(bench: Bench) -> list[Starter]:
    """The lamps in slots of one gap."""
    return [Starter(id=s.id, settles=max(1, ceil(s.run_up.settles / bench.gap - 1e-9)), full=ceil(s.run_up.time_to(1.0) / bench.gap - 1e-9), alike=s.alike) for s in bench.lamps.values()]


def plan(rig: Rig, *, optimise: bool = False, budget: int = 600) -> Strikes:
    """The strike plan of a settled rig: the entered one, or the shortest where none is entered or when asked for. Raises `Refused`."""
    made = make_ready(rig)
    entered = {i: rig.loads[i].strike_at for i in made.bench.lamps}
    if not optimise and any(entered.values()):
        return _entered(made, {i: t.value for i, t in entered.items() if t is not None})
    listed = starters(made.bench)
    settled = {s.id: s.settles for s in listed}

    def judge(state: search.State) -> tuple[Use, ...]:
        return made.bench.uses({i: _seconds(made.bench, i, age, settled[i]) for i, age in state})

    found = search.shortest(listed, judge, budget)
    if found.plan is None:
        return _forbidden(made, found)
    return _answer(made, {i: slot * made.bench.gap for i, slot in found.plan.items()}, entered=False, proven=found.proven, states=found.states)


def _seconds(bench: Bench, lamp: str, age: int, settled: int) -> float:
    """Age in s of a slot; a settled lamp is past its run-up."""
    return max(bench.gap, bench.lamps[lamp].run_up.settles) if age >= settled else age * bench.gap


def _entered(made: Made, at: dict[str, float]) -> Strikes:
    """A plan as entered; lamps without a time follow the last one, a gap apart."""
    last = max(at.values())
    for i in made.bench.lamps:
        if i not in at:
            last += made.bench.gap
            at[i] = last
    return _answer(made, at, entered=True, proven=False)


def _forbidden(made: Made, found: search.Outcome) -> Strikes:
    """No plan: the limits that forbid it, or that the search was cut short."""
    listed = tuple(_finding(made, u, None, Verdict.STOP if found.proven else Verdict.UNKNOWN) for u in found.blocked)
    why = listed[0].says if listed else "the search found nothing"
    says = f"No order of strikes keeps every limit. {why}" if found.proven else f"No plan found among {found.states} moments judged; there may be one. {why}"
    return Strikes(at={}, entered=False, proven=found.proven, full_at={}, colour_at={}, findings=listed, course=(), left_out=made.left_out, says=says, gap=made.bench.gap)


def _answer(made: Made, at: dict[str, float], *, entered: bool, proven: bool, states: int = 0) -> Strikes:
    bench = made.bench
    most, first_broken = _judged(made, at)
    listed = tuple(_finding(made, use, when, None) for use, when in most.values())
    full = {i: t + bench.lamps[i].run_up.time_to(1.0) for i, t in at.items()}
    colour = {i: t + (bench.lamps[i].full_colour if bench.lamps[i].run_up.settles else 0.0) for i, t in at.items()}
    says = _says(made, at, full, first_broken, entered, proven)
    if states:
        listed = tuple(replace(f, evidence=_evidence(states, proven)) for f in listed)
    return Strikes(at=dict(sorted(at.items(), key=lambda pair: pair[1])), entered=entered, proven=proven, full_at=full, colour_at=colour, findings=listed,
                   course=course(made, at), left_out=made.left_out, says=says, gap=bench.gap)


def _evidence(states: int, proven: bool) -> Evidence:
    method = "All orders and gaps searched, longest run-up first; each moment by the power flow of the whole rig"
    return Evidence(method=method if proven else f"{method}; cut short: a shorter plan may exist", equations=(sending_voltage.law.formula,),  # type: ignore[attr-defined]
                    iterations=states, residuals=())


def _says(made: Made, at: Mapping[str, float], full: Mapping[str, float], broken: tuple[Use, float] | None, entered: bool, proven: bool) -> str:
    if broken is not None:
        use, when = broken
        return f"At {clock(when)}: {_sentence(made, use)}"
    order = ", ".join(f"{made.name(i)} at {clock(t)}" for i, t in sorted(at.items(), key=lambda pair: pair[1]))
    how = "" if entered else ", the shortest that keeps every limit" if proven else ", which keeps every limit; a shorter one may exist"
    return f"All at full light after {clock(max(full.values()))}{how}: {order}"


def clock(seconds: float) -> str:
    """Minutes and seconds: "3:05"."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d}"


def moments(made: Made, at: Mapping[str, float]) -> list[float]:
    """The times at which a plan is judged: each strike, and every gap after each until all has settled."""
    bench, end = made.bench, _end(made, at)
    steps = {round(t + k * bench.gap, 6) for t in at.values() for k in range(ceil((end - t) / bench.gap) + 1)}
    return sorted(t for t in steps if t <= end + 1e-6)


def _end(made: Made, at: Mapping[str, float]) -> float:
    return max(t + max(made.bench.gap, made.bench.lamps[i].run_up.settles) for i, t in at.items())


def _ages(made: Made, at: Mapping[str, float], now: float) -> dict[str, float]:
    return {i: max(0.0, round(now - t, 6)) for i, t in at.items() if t <= now + 1e-6}


def _judged(made: Made, at: Mapping[str, float]) -> tuple[dict[tuple[str, str], tuple[Use, float]], tuple[Use, float] | None]:
    """What is used most of each limit and when, and what breaks first."""
    most: dict[tuple[str, str], tuple[Use, float]] = {}
    first: tuple[Use, float] | None = None
    known: dict[tuple[tuple[str, float], ...], tuple[Use, ...]] = {}
    for now in moments(made, at):
        ages = _ages(made, at, now)
        key = tuple((i, min(a, max(made.bench.gap, made.bench.lamps[i].run_up.settles))) for i, a in ages.items())
        if key not in known:
            known[key] = made.bench.uses(dict(key))
        for use in known[key]:
            if use.broken and first is None:
                first = (use, now)
            if (use.limit, _group(use)) not in most or not use.share <= most[use.limit, _group(use)][0].share:
                most[use.limit, _group(use)] = (use, now)
    gap = _gap(made, at)
    if gap is not None:
        most["gap", ""] = (gap, 0.0)
        first = first or ((gap, 0.0) if gap.broken else None)
    return most, first


def _group(use: Use) -> str:
    """Device limits are shown for each device, the others once for the worst lamp."""
    return use.place if use.limit in ("carry", "long", "surge") else ""


def _gap(made: Made, at: Mapping[str, float]) -> Use | None:
    times = sorted(at.values())
    gaps = [b - a for a, b in zip(times, times[1:], strict=False)]
    if not gaps:
        return None
    least = made.bench.gap
    return Use(limit="gap", place=graph.SUPPLY, demand=min(gaps), allowed=least, share=least / min(gaps) if min(gaps) > 0 else 99.0)


def _place(made: Made, use: Use) -> str:
    if use.place == graph.SUPPLY:
        return "the outlet"
    group, _, name = use.place.partition("/")
    if group == "loads":
        return made.name(name)
    return made.rig.runs[use.place].name or use.place


def _terms(made: Made, use: Use) -> tuple[Term, Term]:
    _, demanded, allowed, unit = WORDS[use.limit]
    own = use.place.removeprefix("loads/")
    lamps = [made.bench.lamps[own]] if own in made.bench.lamps else list(made.bench.lamps.values())
    rests = [t for s in lamps for t in (s.surge_leans_on if use.limit in ("surge", "dip") else s.leans_on)]
    return term(use.demand, unit, demanded, rests_on=rests), term(use.allowed, unit, allowed, rests_on=made.leans_on)


def _sentence(made: Made, use: Use) -> str:
    demand, allowed = _terms(made, use)
    if use.limit == "collapse":
        return "the cables or the supply cannot carry this at all: the voltage collapses"
    sign = "of" if not use.broken or use.limit in ("hold", "out", "gap") else "against"
    return f"{demand.quantity} {demand.name}, {_place(made, use)}, {sign} {allowed.quantity} {allowed.name}"


RELATION = {"hold": ">=", "out": ">=", "gap": ">="}
REMEDIES = {
    "carry": "Spread the lamps over more circuits, or let the plan leave longer gaps",
    "long": "Spread the lamps over more circuits",
    "surge": "Use a device with a slower curve (C or D), or put this lamp on a circuit of its own",
    "kva": "Use a larger set, corrected ballasts or fewer lamps", "kw": "Use a larger set or fewer lamps",
    "line": "Spread the lamps over the lines", "dip": "Use a larger set, or a lamp with a softer start", "frequency": "Use a larger set, or bring this lamp up from a low dim",
    "hold": "Strike this lamp before the ones that would drop out", "out": "Larger cable, shorter run or a stiffer supply: see the run",
    "collapse": "Larger cable or fewer lamps: see the runs", "gap": "Leave more time between strikes",
}


def finding_of(made: Made, use: Use) -> Finding:
    """One limit as it is used at one moment."""
    return _finding(made, use, None, None)


def _finding(made: Made, use: Use, when: float | None, forced: Verdict | None) -> Finding:
    """One limit of the plan at the moment when it is used most."""
    demand, allowed = _terms(made, use)
    verdict = forced or (Verdict.STOP if use.broken else Verdict.CLEAR if use.limit == "gap" else within(use.share, 1.0, 0.95))
    at = "" if when is None or use.limit in ("gap", "long") else f", at {clock(when)}"
    says = _sentence(made, use)
    cautions = (WARN, FULL_FIRST) if use.limit == "surge" else ()
    place = use.place if use.place == graph.SUPPLY or "/" in use.place else f"runs/{use.place}"
    return Finding(question=f"strike-{use.limit}", title=WORDS[use.limit][0], place=place, verdict=verdict, says=says[:1].upper() + says[1:] + at, demand=demand,
                   limit=Limit(RELATION.get(use.limit, "<="), allowed), cautions=cautions, remedies=(Remedy(REMEDIES[use.limit]),) if verdict is not Verdict.CLEAR else ())


def course(made: Made, at: Mapping[str, float]) -> tuple[Moment, ...]:
    """The supply over time: at every strike, just before it, and evenly in between until all has settled."""
    end = _end(made, at)
    even = [end * k / POINTS for k in range(POINTS + 1)]
    strikes = sorted(set(at.values()))
    times = sorted({round(t, 3) for t in (*even, *strikes, *(t - 0.01 for t in strikes if t > 0))})
    return tuple(_moment(made, at, t) for t in times)


def _moment(made: Made, at: Mapping[str, float], now: float) -> Moment:
    bench = made.bench
    ages = {i: now - t for i, t in at.items() if t <= now + 1e-6}
    light = {i: bench.lamps[i].run_up.at(max(0.0, a)).light for i, a in ages.items()}
    borne = bench.solve(bench.draws({i: max(0.0, a) for i, a in ages.items()}, 0.0))
    if not borne.solved:
        return Moment(at=now, currents={}, outlet={}, apparent=0.0, active=0.0, light={}, voltages={})
    struck = tuple(i for i, t in at.items() if abs(t - now) < 1e-3)
    lines = {line: amps for (place, line), amps in borne.currents.items() if place == graph.SUPPLY}
    return Moment(at=now, currents=lines, outlet=borne.outlet, apparent=borne.apparent, active=borne.total.real, light=light, voltages=borne.voltages, strikes=struck,
                  dip=max((u.demand for u in bench.uses(ages, 0.0) if u.limit == "dip"), default=0.0) if struck else 0.0)
