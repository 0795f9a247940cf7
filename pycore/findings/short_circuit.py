"""Does a short circuit between live conductors, at the far end of a run, open its device before the cable suffers?"""

from pycore.base.law import work
from pycore.base.result import Finding, Limit, Step, Term, Verdict, worst
from pycore.findings import device, loading
from pycore.findings.circuit import Guard, name_of, overcurrent, rating_of, stated
from pycore.findings.common import by_rule, within
from pycore.findings.fault_loop import Fault, smallest_between
from pycore.findings.supply_side import Cable, Feed
from pycore.findings.whole_rig import WholeRig
from pycore.findings.withstand import unproven, until
from pycore.protection import adiabatic
from pycore.protection import overcurrent as overcurrents
from pycore.protection.iec import AT_ONCE, FIVE_SECONDS
from pycore.protection.rule_sets import device_rules
from pycore.protection.rules import Band
from pycore.rig.model import Rig
from pycore.rig.typical import need

QUESTION, TITLE = "line-fault", "Does a short circuit cut itself off?"
SPARE = 0.8  # of the current there is: our own; a warm joint or a low supply takes the rest
SLOWLY = "The rule set lets a device that is no larger than the cable end it slowly; the cable gets hot meanwhile, and the lamps stay dark: shorten the run or enlarge it."


def ends(whole: WholeRig, feed: Feed, cable: Cable) -> Finding:
    """The smallest short-circuit current against what opens the device, and the heat until then against what the copper stands."""
    rig, run_id = whole.rig, cable.run.id
    guard, rules = overcurrent(rig, run_id), device_rules(rig)
    band = rules.band(guard.device, guard.at)
    flows = smallest_between(rig, run_id, loading.conductors(rig, run_id), after=AT_ONCE.value)
    at_once = flows.current.value >= band.trips.value
    needs, time = (band.trips, AT_ONCE) if at_once else (rules.late_trip(guard.device, band, FIVE_SECONDS), FIVE_SECONDS)
    if not flows.current.value >= needs.value:
        return _slowly(whole, feed, cable, guard, flows, band)
    heat, steps = _heat(rig, run_id, guard, flows, time)
    if heat is Verdict.STOP and guard.device.let_through is None:
        raise unproven(guard)
    verdict = worst([within(needs.value, flows.current.value, SPARE), heat])
    says = f"{flows.current.quantity} flows at the far end; the {name_of(rig, guard)} opens from {needs.quantity} within {time.quantity}"
    if heat is Verdict.STOP:
        says += ", and until then the cable gets hotter than it stands"
    return Finding(question=QUESTION, title=TITLE, place=f"runs/{run_id}", verdict=verdict, says=says, demand=flows.current, limit=_needed(needs, band),
                   steps=(*flows.steps, *band.steps, *steps), note="Cable burns" if heat is Verdict.STOP else "")


def _needed(needs: Term, band: Band) -> Limit:
    return Limit(">=", by_rule(needs, needs, *(t for s in band.steps for t in s.given), name="current that opens the device"))


def _heat(rig: Rig, run_id: str, guard: Guard, flows: Fault, time: Term) -> tuple[Verdict, tuple[Step, ...]]:
    """Heat of the fault against the live conductors' own, where the rule set has such a rule."""
    at = f"runs/{run_id}"
    k = device_rules(rig).heating(need(rig.runs[run_id], "insulation", at))
    if k is None:
        return Verdict.CLEAR, ()
    sets = need(rig.runs[run_id].laid, "parallel", f"{at}/laid").value
    spent, stands = until(guard, flows.current, time), work(adiabatic.withstand, k=k, S=stated(rig.runs[run_id], "size", at))
    return within(spent.result.value, stands.result.value * sets**2), (spent, stands)


def _slowly(whole: WholeRig, feed: Feed, cable: Cable, guard: Guard, flows: Fault, band: Band) -> Finding:
    """Too little flows for the quick part of the device: its slow part ends it, if the device is no larger than the cable."""
    rig = whole.rig
    protected, slow = device.cap(whole, cable, guard), device_rules(rig).slow(guard.device)
    opens = work(overcurrents.held, h=slow.trips, I_n=rating_of(guard))
    too_large, too_little = rating_of(guard).value > protected.value * (1 + 1e-9), flows.current.value < opens.result.value
    stays = too_large or too_little
    says = f"{flows.current.quantity} flows at the far end; the {name_of(rig, guard)} opens at once from {band.trips.quantity} only"
    if too_little:
        says += f", and does not open at all below {opens.result.quantity}"
    else:
        says += f", and it is too large to save the cable slowly: {protected.quantity} at the most" if too_large else ": its slow part ends it, in seconds to minutes"
    return Finding(question=QUESTION, title=TITLE, place=f"runs/{cable.run.id}", verdict=Verdict.STOP if stays else Verdict.TIGHT, says=says, demand=flows.current, limit=_needed(band.trips, band),
                   steps=(*flows.steps, *band.steps, opens), cautions=() if stays else (SLOWLY,), note="Short stays" if stays else "")
