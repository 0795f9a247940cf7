"""A change tried out: the same rig with it made, looked at through one run and one lamp, and every question of the run asked again."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from pycore.base.problem import Refused
from pycore.base.result import Finding, Verdict
from pycore.findings import cable_rating, device, earth, residual, run, short_circuit, volt_drop, withstand
from pycore.findings.changes import Change, applied
from pycore.findings.solved import Solved, path_of
from pycore.findings.supply_side import Cable, Feed
from pycore.findings.whole_rig import WholeRig, solve_rig


@dataclass(frozen=True, slots=True)
class Trial:
    """A solved rig, with the run and the lamp through which it is looked at."""

    whole: WholeRig
    feed: Feed
    cable: Cable
    load: str


Judge = Callable[[Trial], Finding | None]
JUDGES: dict[str, Judge] = {
    run.QUESTION: lambda t: run.arrives(t.whole.rig, t.feed, t.cable, next(n for n, c in enumerate(t.feed.cables, 1) if c.run.id == t.cable.run.id)),
    volt_drop.QUESTION: lambda t: volt_drop.stages(t.whole.rig, t.whole.rig.loads[t.load], t.feed, False),
    cable_rating.QUESTION: lambda t: cable_rating.carries(t.whole, t.feed, t.cable),
    device.RATING: lambda t: device.suits(t.whole, t.feed, t.cable),
    device.STRIKE: lambda t: device.strike(t.whole, t.cable.run.id),
    device.ORDER: lambda t: device.order(t.whole, t.cable.run.id),
    earth.FAULT: lambda t: earth.fault(t.whole.rig, t.cable.run.id),
    short_circuit.QUESTION: lambda t: short_circuit.ends(t.whole, t.feed, t.cable),
    residual.DEVICE: lambda t: residual.guards_people(t.whole.rig, t.cable.run.id),
    withstand.BREAKING: lambda t: withstand.breaking(t.whole.rig, t.cable.run.id),
    withstand.HEAT: lambda t: withstand.heat(t.whole.rig, t.cable.run.id),
    withstand.CONDUCTOR: lambda t: withstand.conductor(t.whole.rig, t.cable.run.id),
}
BY_VOLTAGE = (run.QUESTION, volt_drop.QUESTION)  # answered only by solving again


def quick(s: Solved, now: Trial, change: Change) -> Trial:
    """The change made on the present currents."""
    rig = applied(s.rig, change)
    return Trial(replace(s.whole, rig=rig), now.feed, replace(now.cable, run=rig.runs[now.cable.run.id]), now.load)


def sure(now: Trial, tried: Trial, change: Change) -> Trial | None:
    """The change solved again where it moves currents; None where the rig then has no answer."""
    if not change.moves_currents:
        return tried
    try:
        alone = len(tried.whole.rig.loads) == 1  # then the path has a closed form
        whole = tried.whole if alone else solve_rig(tried.whole.rig)
        feed = path_of(whole, now.load)
    except Refused:
        return None
    cable = next((c for c in feed.cables if c.run.id == now.cable.run.id), None)
    return Trial(whole, feed, cable, now.load) if cable and feed.state == "runs" else None


def made(question: str, trial: Trial) -> Finding | None:
    """A question asked again; None where it cannot be answered."""
    try:
        return JUDGES[question](trial)
    except Refused:
        return None


def stops(trial: Trial, questions: Iterable[str] = JUDGES) -> set[str]:
    """The questions whose answer is a stop."""
    return {q for q in questions if (f := made(q, trial)) is not None and f.verdict is Verdict.STOP}


def unprotected(trial: Trial) -> float:
    """How many times too large the device is for its cable, or the load for its device; 0 where neither."""
    f = made(device.RATING, trial)
    return f.demand.value / f.limit.term.value if f and f.verdict is Verdict.STOP and f.demand and f.limit else 0.0
