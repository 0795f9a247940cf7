"""Is there a good earth, and does a fault to it cut itself off in time?"""

from dataclasses import dataclass

from pycore.base.law import work
from pycore.base.problem import Problem, Refused, refuse
from pycore.base.result import Finding, Limit, Step, Term, Verdict, term
from pycore.findings import cautions
from pycore.findings.circuit import Guard, final, name_of, overcurrent, rating_of, residual, to_earth
from pycore.findings.common import attempt, by_rule, rule, within
from pycore.findings.fault_loop import EARTH, Fault, outlet_loop, smallest
from pycore.protection import earth_fault
from pycore.protection import residual as residuals
from pycore.protection.iec import AT_ONCE
from pycore.protection.rule_sets import device_rules
from pycore.rig import graph
from pycore.rig.model import Rig
from pycore.rig.typical import need, need_choice

FAULT, FAULT_TITLE = "earth-fault", "Does a fault to earth cut itself off in time?"
SUPPLY, SUPPLY_TITLE = "supply-earth", "Is there an earth to rely on?"
SPARE = 0.8  # of the limit; a measured cold loop is compared with it: BS 7671, so a warm one near the limit is tight


@dataclass(frozen=True, slots=True)
class Cut:
    """One device that may end the fault: the current it needs, the time it takes, and its working."""

    name: str
    needs: Term
    time: Term
    fault: Fault
    steps: tuple[Step, ...]


def system(rig: Rig) -> str:
    """TN or TT. Raises `Refused` where the arrangement is not said, or has no rule here."""
    earth = rig.supply.earth
    arrangement = need_choice(earth, "arrangement", EARTH)
    if arrangement != "separate" and rig.supply.kind == "mains":
        return "TT" if arrangement == "TT" else "TN"
    if need_choice(earth, "bond", EARTH) == "floating":
        raise refuse("no-bond", "The neutral of this source is not joined to earth: a fault to earth drives no current back, and neither breakers nor residual devices answer to it",
                     "Have a licensed person join neutral and earth at the source, once", f"{EARTH}/bond")
    return "TN"


def fault(rig: Rig, run_id: str) -> Finding:
    """The smallest fault current at the end of a run against what opens its devices within the time allowed."""
    rules, place = device_rules(rig), f"runs/{run_id}"
    kind, guard = system(rig), overcurrent(rig, run_id)
    allowed = rules.time_allowed(kind, to_earth(rig.supply), rating_of(guard), final(rig, guard))
    cuts, problems = _cuts(rig, run_id, guard, allowed)
    if not cuts:
        raise Refused(*problems)
    best = min(cuts, key=lambda c: c.needs.value / c.fault.current.value)
    verdict = _verdict(best, allowed)
    if verdict is Verdict.STOP and problems:
        raise Refused(*problems)
    return Finding(question=FAULT, title=FAULT_TITLE, place=place, verdict=verdict, says=_says(best, allowed, verdict, kind), demand=best.fault.current, limit=Limit(">=", by_rule(best.needs, best.needs, *(t for s in best.steps for t in s.given), name="current that opens the device")),
                   steps=(*best.fault.steps, *best.steps), cautions=_cautions(rig, kind, best), note="Fault stays" if verdict is Verdict.STOP else "")


def _cuts(rig: Rig, run_id: str, guard: Guard, allowed: Term | None) -> tuple[list[Cut], list[Problem]]:
    """The devices that may end the fault, and why the others could not be judged."""
    found: list[Cut] = []
    problems: list[Problem] = []
    for make in (lambda: _breaker(rig, run_id, guard, allowed), lambda: _residual(rig, run_id)):
        cut, missing = attempt(make)
        found += [cut] if cut is not None else []
        problems += missing
    return found, problems


def _breaker(rig: Rig, run_id: str, guard: Guard, allowed: Term | None) -> Cut:
    rules = device_rules(rig)
    band = rules.band(guard.device, guard.at)
    needs = band.trips if allowed is None else rules.late_trip(guard.device, band, allowed)
    flows = smallest(rig, run_id, after=AT_ONCE.value)
    largest = () if flows.loop is None else (work(earth_fault.largest_loop, c=rules.lowest, U_0=to_earth(rig.supply), I_a=needs),)
    time = AT_ONCE if needs is band.trips or allowed is None else allowed
    return Cut(name_of(rig, guard), needs, time, flows, (*band.steps, *largest))


def _residual(rig: Rig, run_id: str) -> Cut | None:
    guard = residual(rig, run_id)
    if guard is None:
        return None
    rating, delayed = need(guard.device, "residual_rating", guard.at), need_choice(guard.device, "residual_delay", guard.at) == "delayed"
    flows = smallest(rig, run_id, after=0.3, sure=False)
    loop = work(residuals.largest_loop, U_L=device_rules(rig).touch_voltage, I_r=rating)
    needs = term(max(rating.value, device_rules(rig).lowest.value * to_earth(rig.supply).value / loop.result.value), "A", "current for the residual device", rests_on=(rating,))
    time = residuals.break_time(flows.current.value / rating.value, delayed)
    if time is None:
        time = residuals.break_time(1.0, delayed)
    assert time is not None
    return Cut(f"{rating.quantity} residual device", needs, time, flows, (loop,))


def _verdict(best: Cut, allowed: Term | None) -> Verdict:
    if allowed is not None and best.time.value > allowed.value * (1 + 1e-9):
        return Verdict.STOP
    return within(best.needs.value, best.fault.current.value, SPARE)


def _says(best: Cut, allowed: Term | None, verdict: Verdict, kind: str) -> str:
    loop = f"A loop of {best.fault.loop.quantity} lets" if best.fault.loop else "The set lets"
    limit = f"{allowed.quantity} allowed in {kind}" if allowed else "the code wants it cleared at once, and names no time"
    if verdict is Verdict.STOP:
        return f"{loop} {best.fault.current.quantity} flow; the {best.name} needs {best.needs.quantity}: it would not open in time ({limit})"
    return f"{loop} {best.fault.current.quantity} flow; the {best.name} needs {best.needs.quantity} and opens within {best.time.quantity} ({limit})"


def _cautions(rig: Rig, kind: str, best: Cut) -> tuple[str, ...]:
    found = [cautions.COLD_LOOP] if best.fault.loop and "residual" not in best.name else []
    found += [cautions.TEST_BUTTON] if "residual" in best.name else []
    return tuple(found)


def supply_earth(rig: Rig) -> Finding:
    """The earthing arrangement with what it asks for before anything is energised."""
    earth, kind = rig.supply.earth, system(rig)
    if kind == "TT":
        return _electrode(rig)
    if rig.supply.kind != "mains" or earth.arrangement == "separate":
        return Finding(question=SUPPLY, title=SUPPLY_TITLE, place=graph.SUPPLY, verdict=Verdict.CLEAR, says="Neutral and earth are joined at the source, as entered",
                       cautions=cautions.before_energising(rig))
    loop = outlet_loop(rig)
    flows = work(earth_fault.fault_current, c=device_rules(rig).lowest, U_0=to_earth(rig.supply), Z_s=loop)
    limit = rule(1.0, "Ω", "loop that calls for a closer look", "our own yardstick: public earths are mostly below it")
    verdict = Verdict.CLEAR if loop.value <= limit.value else Verdict.TIGHT if loop.value <= 10 * limit.value else Verdict.STOP
    words = {Verdict.CLEAR: "a good earth", Verdict.TIGHT: "a poor earth for this arrangement", Verdict.STOP: "no earth to rely on"}
    return Finding(question=SUPPLY, title=SUPPLY_TITLE, place=graph.SUPPLY, verdict=verdict, says=f"{loop.quantity} at the outlet: {words[verdict]}, {flows.result.quantity} in a fault there",
                   demand=loop, limit=Limit("<=", limit), steps=(flows,), cautions=cautions.before_energising(rig), note="No earth" if verdict is Verdict.STOP else "")


def _electrode(rig: Rig) -> Finding:
    """TT: electrode and residual device belong together."""
    loop, device = outlet_loop(rig), rig.supply.device
    if device.residual == "":
        raise refuse("entry-missing", "A TT supply lives by its residual device; nothing says whether the outlet has one", "Choose residual current device", "supply/device/residual")
    if device.residual == "none":
        return Finding(question=SUPPLY, title=SUPPLY_TITLE, place=graph.SUPPLY, verdict=Verdict.STOP, note="No residual device",
                       says="TT without a residual device at the outlet: the electrode alone lets too little current flow to open a breaker", cautions=(cautions.LICENSED,))
    rating = need(device, "residual_rating", "supply/device")
    most = work(residuals.largest_loop, U_L=device_rules(rig).touch_voltage, I_r=rating)
    verdict = within(loop.value, most.result.value)
    says = f"{loop.quantity} at the electrode, of {most.result.quantity} that a {rating.quantity} device allows"
    if verdict is Verdict.CLEAR and loop.value > STEADY:
        verdict, says = Verdict.TIGHT, says + "; above 200 Ω an electrode is not steady through the seasons"
    return Finding(question=SUPPLY, title=SUPPLY_TITLE, place=graph.SUPPLY, verdict=verdict, says=says, demand=loop, limit=Limit("<=", by_rule(most.result, *most.given)), steps=(most,),
                   cautions=(*cautions.before_energising(rig), cautions.TEST_BUTTON))


STEADY = 200.0  # Ω; practice
