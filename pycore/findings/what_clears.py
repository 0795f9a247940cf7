"""What would make this clear? Of each kind of change the smallest that clears all that this kind can, found by trying it."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import islice

from pycore.base.result import Finding, Remedy, Verdict
from pycore.findings import cable_rating, changes, device, earth, residual, run, short_circuit, trials, volt_drop, withstand
from pycore.findings.changes import Change
from pycore.findings.common import gauge_or_size, percent
from pycore.findings.solved import Solved
from pycore.findings.supply_side import Cable, Feed
from pycore.findings.trials import Trial

MOST_TRIALS, MOST_SOLVED = 12, 8
TROUBLED = (Verdict.TIGHT, Verdict.STOP)
Kind = Callable[[Solved, Cable], Iterator[Change]]
KINDS: dict[str, tuple[Kind, ...]] = {
    run.QUESTION: (changes.sizes, changes.lengths, changes.other_lines),
    volt_drop.QUESTION: (changes.sizes, changes.lengths, changes.other_lines, changes.higher_voltages),
    cable_rating.QUESTION: (changes.laying, changes.other_lines, changes.sizes),
    device.RATING: (changes.ratings_below, changes.ratings_above, changes.other_lines, changes.sizes, changes.sizes_with_device),
    device.STRIKE: (changes.curves, changes.ratings_above),
    device.ORDER: (changes.ratings_below,),
    earth.FAULT: (changes.residual_device, changes.quicker_curves, changes.sizes, changes.lengths),
    short_circuit.QUESTION: (changes.quicker_curves, changes.sizes, changes.lengths),
    residual.DEVICE: (changes.residual_types, changes.residual_device),
    withstand.BREAKING: (changes.breaking_capacities,),
    withstand.HEAT: (changes.sizes, changes.residual_device),
    withstand.CONDUCTOR: (changes.earth_sizes,),
}
SUBJECTS = {
    run.QUESTION: "the drop", volt_drop.QUESTION: "the lamp's voltage", cable_rating.QUESTION: "the cable's current", device.RATING: "the device", device.STRIKE: "the strike",
    device.ORDER: "the order of devices", earth.FAULT: "the fault to earth", short_circuit.QUESTION: "the short circuit", residual.DEVICE: "the residual device", withstand.BREAKING: "the breaking capacity",
    withstand.HEAT: "the heat of a fault", withstand.CONDUCTOR: "the protective conductor",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Offer:
    """A change with the answers that it gives to the questions in trouble."""

    change: Change
    trial: Trial
    answers: dict[str, Finding]

    @property
    def worth(self) -> tuple[int, int]:
        """How many questions it clears, and how many it takes from a stop to tight."""
        found = [f.verdict for f in self.answers.values()]
        return found.count(Verdict.CLEAR), found.count(Verdict.TIGHT)


def advice(s: Solved, feed: Feed, cable: Cable, findings: Iterable[Finding], name: str = "") -> dict[str, tuple[Remedy, ...]]:
    """For each finding in trouble what would make it clear: one change of a kind, the same for all findings that this kind can clear.

    `name` names the run where it is not the one that the finding belongs to.
    """
    now, troubled = Trial(s.whole, feed, cable, s.load.id), [f for f in findings if f.verdict in TROUBLED and f.question in KINDS]
    before = trials.stops(now) if troubled else set()
    offers = []
    for kind in dict.fromkeys(k for f in troubled for k in KINDS[f.question]):
        offers.append(_best(s, now, before, [f for f in troubled if kind in KINDS[f.question]], kind(s, cable)))
    return {f.question: tuple(_remedy(o, f, name) for o in offers if o and f.question in o.answers) for f in troubled}


def _best(s: Solved, now: Trial, before: set[str], wanted: list[Finding], offered: Iterable[Change]) -> Offer | None:
    """The first change that clears all, else the one that is worth most. Each is tried on the present currents, and solved only if it may be worth more."""
    best, solved = None, 0
    for change in islice(offered, MOST_TRIALS):
        tried = trials.quick(s, now, change)
        hoped = _offer(change, tried, wanted, hopeful=change.moves_currents)
        if hoped is None or (best and hoped.worth <= best.worth):
            continue
        solved += 1
        trial = trials.sure(now, tried, change)
        offer = _offer(change, trial, wanted) if trial else None
        if offer and (best is None or offer.worth > best.worth) and not _harms(now, before, offer.trial):
            best = offer
        if best and best.worth[0] == len(wanted) or solved >= MOST_SOLVED:
            break
    return best


def _offer(change: Change, trial: Trial, wanted: list[Finding], hopeful: bool = False) -> Offer | None:
    """The questions that a change makes better; None where it makes none. A hopeful one leaves the voltage to be solved."""
    answers = {}
    for f in wanted:
        found = f if hopeful and f.question in trials.BY_VOLTAGE else trials.made(f.question, trial)
        if found is not None and (found is f or found.verdict is Verdict.CLEAR or (found.verdict is Verdict.TIGHT and f.verdict is Verdict.STOP)):
            answers[f.question] = found if found is not f else _cleared(f)
    return Offer(change, trial, answers) if answers else None


def _cleared(f: Finding) -> Finding:
    """The best that may be hoped for."""
    return Finding(question=f.question, title=f.title, place=f.place, verdict=Verdict.CLEAR, says="")


def _harms(now: Trial, before: set[str], then: Trial) -> bool:
    """No cure may stop what was no stop before, nor leave a cable less protected than it was."""
    return bool(trials.stops(then) - before) or trials.unprotected(then) > max(1.0, trials.unprotected(now)) * (1 + 1e-9)


def _remedy(offer: Offer, f: Finding, name: str) -> Remedy:
    """A change with the figures that it gives to one finding."""
    made, does = offer.answers[f.question], f"{name}: {offer.change.words}" if name else offer.change.words
    return Remedy(f"{does} {_gives(offer.trial, made, f)}", offer.change.entries, does=does, clears=SUBJECTS[f.question], fully=made.verdict is Verdict.CLEAR)


def _gives(trial: Trial, made: Finding, f: Finding) -> str:
    if made.question == run.QUESTION and trial.cable.arrives and made.demand:
        return f"gives {trial.cable.arrives.quantity}, {percent(-made.demand.value, sign=True)}"
    if made.question == volt_drop.QUESTION and trial.feed.voltage:
        return f"gives {trial.feed.voltage.quantity}"
    does = "would do" if made.verdict is Verdict.CLEAR else "would be just enough"
    if made.demand is None or made.limit is None or (f.demand and f.limit and (made.demand.value, made.limit.term.value) == (f.demand.value, f.limit.term.value)):
        return does
    if made.demand.quantity.unit == "mm²":
        return f"{does}: {gauge_or_size(made.limit.term)} is needed"
    figures = f"{made.demand.quantity} of {made.limit.term.quantity}" if made.limit.relation == "<=" else f"{made.demand.quantity}, where {made.limit.term.quantity} is needed"
    return f"{does}: {figures}"
