"""In which order, and when, to strike the lamps.

    plan      entered (Struck at) or the shortest that keeps every limit
    findings  one for each limit, with the moment at which it is used most
    course    currents, kVA and voltages over time, by the power flow
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from pycore.base.problem import Problem
from pycore.base.result import Evidence, Finding, Verdict, unknown, worst
from pycore.findings.common import attempt
from pycore.findings.strike_course import Moment, course
from pycore.findings.strike_moments import worst_moments
from pycore.findings.strike_ready import Made, make_ready, starters
from pycore.findings.strike_terms import WORDS
from pycore.findings.strike_waits import Wait, waits
from pycore.findings.strike_words import clock, finding_of, sentence
from pycore.lamp import strike as search
from pycore.lamp import strike_search
from pycore.lamp.strike import Use
from pycore.powerflow.single_path import sending_voltage
from pycore.rig import graph
from pycore.rig.model import Rig
from pycore.rig.typical import need


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
    waits: dict[str, Wait] = field(default_factory=dict)
    judged: int = 0  # moments that the search judged

    @property
    def verdict(self) -> Verdict:
        """The worst of its findings; unknown while a lamp is left out."""
        return worst([*(f.verdict for f in self.findings), *([Verdict.UNKNOWN] if self.left_out else [])])


def plan(rig: Rig, *, optimise: bool = False, budget: int = 600) -> Strikes:
    """The strike plan of a settled rig: the entered one, or the shortest where none is entered or when asked for. Raises `Refused`."""
    return plan_on(make_ready(rig), {} if optimise else entered_times(rig), budget, {})


def entered_times(rig: Rig) -> dict[str, float]:
    """Strike times (s) that stand in a rig."""
    return {i: x.strike_at.value for i, x in rig.loads.items() if x.strike_at is not None}


def plan_on(made: Made, entered: Mapping[str, float], budget: int, known: strike_search.Known) -> Strikes:
    """The plan of a rig made ready: judged as entered (s), or sought with at most `budget` more moments judged than are `known` from an earlier search, added to here."""
    counted = {i: t for i, t in entered.items() if i in made.bench.lamps}
    if counted:
        return _entered(made, counted)
    listed = starters(made.bench)
    settled = {s.id: s.settles for s in listed}

    def judge(state: search.State) -> tuple[Use, ...]:
        return made.bench.uses({i: _seconds(made, i, age, settled[i]) for i, age in state})

    found = strike_search.shortest(listed, judge, budget, known)
    if found.plan is None:
        return _forbidden(made, found, len(known))
    return _answer(made, {i: slot * made.bench.gap for i, slot in found.plan.items()}, entered=False, proven=found.proven, states=len(known))


def _seconds(made: Made, lamp: str, age: int, settled: int) -> float:
    """Age in s of a slot; a settled lamp is past its run-up."""
    return made.settled(lamp) if age >= settled else age * made.bench.gap


def _entered(made: Made, at: dict[str, float]) -> Strikes:
    """A plan as entered; lamps without a time follow the last one, a gap apart."""
    last = max(at.values())
    for i in made.bench.lamps:
        if i not in at:
            last += made.bench.gap
            at[i] = last
    return judged(made, at)


def judged(made: Made, at: dict[str, float]) -> Strikes:
    """Everything to be said of strikes at given times (s)."""
    return _answer(made, at, entered=True, proven=False)


def _forbidden(made: Made, found: search.Outcome, judged: int) -> Strikes:
    """No plan: the limits that forbid it, or that the search was cut short."""
    listed = tuple(finding_of(made, u, None, Verdict.STOP if found.proven else Verdict.UNKNOWN) for u in found.blocked)
    why = listed[0].says if listed else "the search found nothing"
    says = f"No order of strikes keeps every limit. {why}" if found.proven else f"No plan found among {judged} moments judged; there may be one. {why}"
    return Strikes(at={}, entered=False, proven=found.proven, full_at={}, colour_at={}, findings=listed, course=(), left_out=made.left_out, says=says, gap=made.bench.gap, judged=judged)


def _answer(made: Made, at: dict[str, float], *, entered: bool, proven: bool, states: int = 0) -> Strikes:
    bench = made.bench
    most, first_broken = worst_moments(made, at)
    listed = tuple(finding_of(made, use, when) for use, when in most.values())
    full = {i: t + bench.lamps[i].run_up.time_to(1.0) for i, t in at.items()}
    colour = {i: t + (bench.lamps[i].full_colour if bench.lamps[i].run_up.settles else 0.0) for i, t in at.items()}
    says = _says(made, at, full, first_broken, entered, proven)
    if states:
        listed = tuple(replace(f, evidence=_evidence(states, proven)) for f in listed)
    if made.rig.supply.kind == "battery" and made.rig.supply.peak_power is None:
        listed = (*listed, unknown("strike-peak", WORDS["peak"].question, graph.SUPPLY, *attempt(lambda: need(made.rig.supply, "peak_power", "supply"))[1]))
        says += ". What the inverter gives for a moment is not entered"
    return Strikes(at=dict(sorted(at.items(), key=lambda pair: pair[1])), entered=entered, proven=proven, full_at=full, colour_at=colour, findings=listed,
                   course=course(made, at), left_out=made.left_out, says=says, gap=bench.gap, waits=waits(made, at), judged=states)


def _evidence(states: int, proven: bool) -> Evidence:
    method = "All orders and gaps searched, longest run-up first; each moment by the power flow of the whole rig"
    return Evidence(method=method if proven else f"{method}; cut short: a shorter plan may exist", equations=(sending_voltage.law.formula,),  # type: ignore[attr-defined]
                    iterations=states, residuals=())


def _says(made: Made, at: Mapping[str, float], full: Mapping[str, float], broken: tuple[Use, float] | None, entered: bool, proven: bool) -> str:
    if broken is not None:
        use, when = broken
        return f"At {clock(when)}{' a device may trip' if use.may_hold else ''}: {sentence(made, use)}"
    order = ", ".join(f"{made.name(i)} at {clock(t)}" for i, t in sorted(at.items(), key=lambda pair: pair[1]))
    how = "" if entered else ", the shortest that keeps every limit" if proven else ", which keeps every limit; a shorter one may exist"
    return f"All at full light after {clock(max(full.values()))}{how}: {order}"
