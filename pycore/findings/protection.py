"""The protection of each run and of the outlet, put together: what could be judged, and once what was not said."""

from collections.abc import Callable
from dataclasses import replace

from pycore.base.problem import Problem
from pycore.base.result import Finding, Verdict, unknown
from pycore.findings import cable_rating, cautions, device, earth, residual, run, short_circuit, volt_drop, what_clears, withstand
from pycore.findings.common import attempt, finding_or_unknown
from pycore.findings.solved import Solved
from pycore.findings.supply_side import Cable, Feed
from pycore.findings.whole_rig import WholeRig
from pycore.rig import graph
from pycore.rig.model import Rig

QUESTION, TITLE = "protection", "Is it all described?"
MISSING = "entry-missing"
Asked = tuple[str, str, Callable[[], Finding | None]]


def run_findings(whole: WholeRig, feed: Feed, cable: Cable) -> tuple[Finding, ...]:
    """What is to be said of a run's cable and its protection. Checks that only lack entries become one finding that names them.

    Where several lamps share the rig a run's answer is the same for all of them, and is found once.
    """
    if feed.others and cable.run.id in whole.protection:
        return whole.protection[cable.run.id]
    whole.protection[cable.run.id] = _of_run(whole, feed, cable)
    return whole.protection[cable.run.id]


def _of_run(whole: WholeRig, feed: Feed, cable: Cable) -> tuple[Finding, ...]:
    rig, i = whole.rig, cable.run.id
    asked: list[Asked] = [
        (cable_rating.QUESTION, cable_rating.TITLE, lambda: cable_rating.carries(whole, feed, cable)),
        (device.RATING, device.RATING_TITLE, lambda: device.suits(whole, feed, cable)),
        (device.STRIKE, device.STRIKE_TITLE, lambda: device.strike(whole, i)),
        (device.ORDER, device.ORDER_TITLE, lambda: device.order(whole, i)),
        (earth.FAULT, earth.FAULT_TITLE, lambda: earth.fault(rig, i)),
        (short_circuit.QUESTION, short_circuit.TITLE, lambda: short_circuit.ends(whole, feed, cable)),
        (residual.DEVICE, residual.DEVICE_TITLE, lambda: residual.guards_people(rig, i)),
        (residual.BUDGET, residual.BUDGET_TITLE, lambda: residual.budget(rig, i)),
        (withstand.BREAKING, withstand.BREAKING_TITLE, lambda: withstand.breaking(rig, i)),
        (withstand.HEAT, withstand.HEAT_TITLE, lambda: withstand.heat(rig, i)),
        (withstand.CONDUCTOR, withstand.CONDUCTOR_TITLE, lambda: withstand.conductor(rig, i)),
    ]
    return gathered(asked, f"runs/{i}")


def outlet_findings(whole: WholeRig) -> tuple[Finding, ...]:
    """The same for all lamps, and found once."""
    if graph.SUPPLY not in whole.protection:
        whole.protection[graph.SUPPLY] = supply_findings(whole.rig)
    return whole.protection[graph.SUPPLY]


def supply_findings(rig: Rig) -> tuple[Finding, ...]:
    """What is to be said of the outlet's earth and of the place."""
    asked: list[Asked] = [(earth.SUPPLY, earth.SUPPLY_TITLE, lambda: earth.supply_earth(rig))]
    if rig.supply.site.overhead:
        asked.append((cautions.QUESTION, cautions.TITLE, lambda: cautions.overhead(rig)))
    return gathered(asked, graph.SUPPLY)


def of_run(s: Solved, feed: Feed, cable: Cable, count: int) -> tuple[Finding, ...]:
    """All findings of a run, the path's `count`th, with what would make each clear, where advice is asked for; the last run tells where the voltage went."""
    place = f"runs/{cable.run.id}"
    found = [finding_or_unknown(run.QUESTION, run.TITLE, place, lambda: run.arrives(s.rig, feed, cable, count))]
    if s.load.kind != "tungsten" and feed.state in ("runs", "under") and cable.run.id == feed.cables[-1].run.id:
        found.append(finding_or_unknown(volt_drop.QUESTION, volt_drop.TITLE, place, lambda: volt_drop.stages(s.rig, s.load, feed, s.advise)))
    found += run_findings(s.whole, feed, cable)
    return tuple(_advised(s, feed, cable, found)) if s.advise else tuple(found)


def _advised(s: Solved, feed: Feed, cable: Cable, found: list[Finding]) -> list[Finding]:
    """With one piece of advice of a kind for all findings; that on the lamp's voltage is about the path's thinnest run."""
    thinnest = max(feed.cables, key=lambda c: c.resistance.value)
    own = [f for f in found if f.question != volt_drop.QUESTION or thinnest.run.id == cable.run.id]
    offers = what_clears.advice(s, feed, cable, own)
    elsewhere = [f for f in found if f not in own]
    offers |= what_clears.advice(s, feed, thinnest, elsewhere, thinnest.run.name or thinnest.run.id) if elsewhere else {}
    return [replace(f, remedies=offers[f.question]) if offers.get(f.question) else f for f in found]


def gathered(asked: list[Asked], place: str) -> tuple[Finding, ...]:
    """The findings in their order; those that only wait for entries as one, which says what to enter."""
    found: list[Finding] = []
    waiting: list[str] = []
    wanted: dict[str, Problem] = {}
    for question, title, make in asked:
        made, problems = attempt(make)
        if made is not None:
            found.append(made)
        elif problems and all(p.code == MISSING for p in problems):
            waiting.append(title)
            wanted.update({p.address: p for p in problems if p.address not in wanted})
        elif problems:
            found.append(unknown(question, title, place, *problems))
    return (*found, *((_undescribed(waiting, tuple(wanted.values()), place),) if waiting else ()))


def _undescribed(waiting: list[str], wanted: tuple[Problem, ...], place: str) -> Finding:
    """One finding for all that waits for entries."""
    entries = list(dict.fromkeys(p.way_out.partition(" ")[2] or p.message for p in wanted))
    says = f"{f'{len(waiting)} checks wait' if len(waiting) > 1 else 'One check waits'} for: {', '.join(entries)}"
    note = "Earth not described" if place == graph.SUPPLY else "Protection not described"
    return Finding(question=QUESTION, title=TITLE, place=place, verdict=Verdict.UNKNOWN, says=says, problems=wanted, note=note)
