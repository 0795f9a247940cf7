"""What would make this clear? The smallest change of each kind that does, found by trying it."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import islice

from pycore.base.problem import Refused
from pycore.base.result import Finding, Remedy, Verdict
from pycore.findings import cable_rating, changes, device, earth, residual, withstand
from pycore.findings.changes import Change, applied
from pycore.findings.solved import Solved, path_of
from pycore.findings.supply_side import Cable, Feed
from pycore.findings.whole_rig import WholeRig, solve_rig
from pycore.rig.model import Rig

MOST_TRIALS = 12
Judge = Callable[[WholeRig, Feed, Cable], Finding | None]


def advice(s: Solved, feed: Feed, cable: Cable, finding: Finding) -> tuple[Remedy, ...]:
    """The smallest change of each kind that makes a finding of a run clear. None for a clear one."""
    judge = JUDGES.get(finding.question)
    if finding.verdict in (Verdict.CLEAR, Verdict.UNKNOWN) or judge is None:
        return ()
    spoilt = _stopped(s.whole, feed, cable)
    wishes = [Wish(judge, Verdict.CLEAR, spoilt)] + ([Wish(judge, Verdict.TIGHT, spoilt)] if finding.verdict is Verdict.STOP else [])
    found = [next(filter(None, (first_that_clears(s, feed, cable, w, make(s, cable)) for w in wishes)), None) for make in KINDS[finding.question]]
    return tuple(r for r in found if r is not None)


@dataclass(frozen=True, slots=True)
class Wish:
    """What a change is to achieve; `spoilt`: the cable was unprotected before, so no change is blamed for that."""

    judge: Judge
    verdict: Verdict
    spoilt: bool


def first_that_clears(s: Solved, feed: Feed, cable: Cable, wish: Wish, offered: Iterable[Change]) -> Remedy | None:
    """The first change that does it. Each is tried on the present currents, and the one that does is solved again to be sure."""
    for change in islice(offered, MOST_TRIALS):
        rig = applied(s.rig, change)
        if not _granted(wish, replace(s.whole, rig=rig, cables={}, protection={}), feed, replace(cable, run=rig.runs[cable.run.id])):
            continue
        sure = _solved(s, rig, cable.run.id) if change.moves_currents else (replace(s.whole, rig=rig, cables={}, protection={}), feed, replace(cable, run=rig.runs[cable.run.id]))
        if sure and _granted(wish, *sure):
            return Remedy(_text(change, wish.judge(*sure)), change.entries)
    return None


def _text(change: Change, made: Finding | None) -> str:
    """The change with the figures that it gives."""
    does = "would be just enough" if made is not None and made.verdict is Verdict.TIGHT else "would do"
    if made is None or made.demand is None or made.limit is None:
        return f"{change.words} {does}"
    figures = f"{made.demand.quantity} of {made.limit.term.quantity}" if made.limit.relation == "<=" else f"{made.demand.quantity}, where {made.limit.term.quantity} is needed"
    return f"{change.words} {does}: {figures}"


def _granted(wish: Wish, whole: WholeRig, feed: Feed, cable: Cable) -> bool:
    made = _made(wish.judge, whole, feed, cable)
    return made is not None and made.verdict is wish.verdict and (wish.spoilt or wish.judge is device.suits or not _stopped(whole, feed, cable))


def _stopped(whole: WholeRig, feed: Feed, cable: Cable) -> bool:
    """Is the cable unprotected, or does its device open on load? No cure may leave it so."""
    made = _made(device.suits, whole, feed, cable)
    return made is not None and made.verdict is Verdict.STOP


def _made(judge: Judge, whole: WholeRig, feed: Feed, cable: Cable) -> Finding | None:
    try:
        return judge(whole, feed, cable)
    except Refused:
        return None


def _solved(s: Solved, rig: Rig, run_id: str) -> tuple[WholeRig, Feed, Cable] | None:
    try:
        whole = solve_rig(rig)
        feed = path_of(whole, s.load.id)
    except Refused:
        return None
    cable = next((c for c in feed.cables if c.run.id == run_id), None)
    return (whole, feed, cable) if cable else None


JUDGES: dict[str, Judge] = {
    cable_rating.QUESTION: cable_rating.carries,
    device.RATING: device.suits,
    device.STRIKE: lambda whole, feed, cable: device.strike(whole, cable.run.id),
    device.ORDER: lambda whole, feed, cable: device.order(whole, cable.run.id),
    earth.FAULT: lambda whole, feed, cable: earth.fault(whole.rig, cable.run.id),
    residual.DEVICE: lambda whole, feed, cable: residual.guards_people(whole.rig, cable.run.id),
    withstand.BREAKING: lambda whole, feed, cable: withstand.breaking(whole.rig, cable.run.id),
    withstand.HEAT: lambda whole, feed, cable: withstand.heat(whole.rig, cable.run.id),
    withstand.CONDUCTOR: lambda whole, feed, cable: withstand.conductor(whole.rig, cable.run.id),
}
KINDS: dict[str, tuple[Callable[[Solved, Cable], Iterator[Change]], ...]] = {
    cable_rating.QUESTION: (changes.laying, changes.other_lines, changes.sizes),
    device.RATING: (changes.ratings_below, changes.ratings_above, changes.other_lines, changes.sizes, changes.sizes_with_device),
    device.STRIKE: (changes.curves, changes.ratings_above),
    device.ORDER: (changes.ratings_below,),
    earth.FAULT: (changes.residual_device, changes.quicker_curves, changes.sizes, changes.lengths),
    residual.DEVICE: (changes.residual_types, changes.residual_device),
    withstand.BREAKING: (changes.breaking_capacities,),
    withstand.HEAT: (changes.sizes, changes.residual_device),
    withstand.CONDUCTOR: (changes.earth_sizes,),
}
