"""Does the residual device guard people, suit the lamps, and leave their standing currents alone?"""

from pycore.base.law import work
from pycore.base.result import Finding, Limit, Remedy, Term, Verdict, worst
from pycore.findings import cautions, loading
from pycore.findings.circuit import Guard, guards, overcurrent, rating_of, residual, to_earth
from pycore.findings.common import by_rule
from pycore.findings.withstand import standing
from pycore.protection import residual as residuals
from pycore.protection.rule_sets import device_rules
from pycore.rig import graph
from pycore.rig.model import Load, Rig
from pycore.rig.typical import need

DEVICE, DEVICE_TITLE = "residual-device", "Does a residual device guard people here?"
BUDGET, BUDGET_TITLE = "residual-budget", "Do the lamps leave the residual device alone?"
ELECTRONIC = ("electronic", "electronic corrected", "LED driver")
BLIND = "Smooth direct current from a rectifier blinds this type: a fault may go unseen."


def guards_people(rig: Rig, run_id: str) -> Finding | None:
    """Rating and type of the residual device over a run; None where the rule set asks for none."""
    place, loads = f"runs/{run_id}", loading.loads_below(rig, run_id)
    wanted = device_rules(rig).residual_for_people(rating_of(overcurrent(rig, run_id)), to_earth(rig.supply))
    guard = residual(rig, run_id)
    if wanted is None and guard is None:
        return None
    if guard is None:
        return _none(rig, place)
    rating = need(guard.device, "residual_rating", guard.at)
    sharp = Verdict.CLEAR if wanted is None or rating.value <= wanted.value * (1 + 1e-9) else Verdict.TIGHT
    suited, words = _type(guard.device.residual, loads)
    says = f"{rating.quantity}, {'class A' if guard.device.residual == 'GFCI' else 'type ' + guard.device.residual}{words}"
    if sharp is Verdict.TIGHT and wanted:
        says += f"; {wanted.quantity} would guard people"
    found = [cautions.TEST_BUTTON] + ([cautions.NO_PEOPLE] if rating.value > 0.0301 else []) + ([BLIND] if suited is not Verdict.CLEAR else [])
    return Finding(question=DEVICE, title=DEVICE_TITLE, place=place, verdict=worst([sharp, suited]), says=says, demand=rating, limit=Limit("<=", wanted) if wanted else None,
                   cautions=tuple(found), note="Wrong type" if suited is Verdict.STOP else "")


def _none(rig: Rig, place: str) -> Finding:
    """None over an outlet for people: on wet ground that is a stop."""
    wet = rig.supply.site.ground == "wet"
    return Finding(question=DEVICE, title=DEVICE_TITLE, place=place, verdict=Verdict.STOP if wet else Verdict.TIGHT,
                   says="No residual device over this run" + (", and the ground is wet" if wet else ": a fault through a person opens nothing"),
                   remedies=(Remedy("Put a 30 mA residual device at the head of this run" if rig.rules == "iec" else "Put a class A ground-fault interrupter at the head of this run"),),
                   cautions=(cautions.WET,) if wet else ())


def _type(kind: str, loads: list[Load]) -> tuple[Verdict, str]:
    """Electronic gear needs type A at least; between two lines its rectifier may send smooth direct current, which asks for type B."""
    electronic = [x for x in loads if x.ballast.kind in ELECTRONIC]
    if kind in ("B", "GFCI") or not electronic:
        return Verdict.CLEAR, ""
    if kind == "AC":
        return Verdict.STOP, " under electronic gear: type A at the least"
    if any(not x.connection.endswith("N") for x in electronic):
        return Verdict.TIGHT, " under electronic gear between two lines: type B sees its direct current"
    return Verdict.CLEAR, ""


def budget(rig: Rig, run_id: str) -> Finding | None:
    """Standing currents of all lamps under the residual device against its share; None where there is no such device."""
    guard = residual(rig, run_id)
    if guard is None:
        return None
    loads, share = _under(rig, guard), device_rules(rig).leak(guard.device, guard.at)
    rating, current = need(guard.device, "residual_rating", guard.at), standing(loads)
    advised, opens = (work(residuals.budget, s=s, I_r=rating) for s in (share.advised, share.opens))
    verdict = Verdict.CLEAR if current.value <= advised.result.value * (1 + 1e-9) else Verdict.TIGHT if current.value <= opens.result.value else Verdict.STOP
    says = f"{current.quantity} stands under the {rating.quantity} device with {len(loads)} lamp{'s' if len(loads) != 1 else ''}; {advised.result.quantity} is advised, from {opens.result.quantity} it may open"
    return Finding(question=BUDGET, title=BUDGET_TITLE, place=f"runs/{run_id}", verdict=verdict, says=says, demand=current, limit=Limit("<=", by_rule(opens.result, *opens.given) if verdict is Verdict.STOP else by_rule(advised.result, *advised.given)),
                   steps=(advised, opens), remedies=_split(loads, advised.result) if verdict is not Verdict.CLEAR else (), note="Opens by itself" if verdict is Verdict.STOP else "")


def _under(rig: Rig, guard: Guard) -> list[Load]:
    """The lamps for which this is the nearest residual device."""
    if guard.place == graph.SUPPLY:
        return [x for x in rig.loads.values() if _nearest(rig, x) in (graph.SUPPLY, "")]
    return [x for x in loading.loads_below(rig, guard.place) if _nearest(rig, x) == guard.place]


def _nearest(rig: Rig, load: Load) -> str:
    path = graph.path(rig, load.id)
    if not path:
        return graph.SUPPLY
    return next((g.place for g in guards(rig, path[-1].id) if g.device.residual not in ("", "none")), "")


def _split(loads: list[Load], advised: Term) -> tuple[Remedy, ...]:
    """How many of them one device takes."""
    largest = max((need(x, "earth_leakage", f"loads/{x.id}").value for x in loads), default=0.0)
    count = int(advised.value / largest * (1 + 1e-9)) if largest > 0 else 0
    if not count:
        return (Remedy("Give this lamp a residual device of its own with a larger rating, and keep people off its metal"),)
    return (Remedy(f"At most {count} of these lamp{'s' if count != 1 else ''} under one such device: give the others one of their own"),)

