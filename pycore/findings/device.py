"""Does the breaker or fuse suit load and cable, hold at the strike, and open before the one above it?"""

from pycore.base.law import Var, law, work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Step, Term, Verdict, term, worst
from pycore.base.source import Cite
from pycore.conductors.rule_sets import cable_rules
from pycore.conductors.rules import Laying
from pycore.findings import loading
from pycore.findings.cable_rating import current_of, rated
from pycore.findings.circuit import Guard, name_of, next_above, overcurrent, rating_of
from pycore.findings.common import by_rule, within
from pycore.findings.supply_side import Cable, Feed
from pycore.findings.whole_rig import WholeRig
from pycore.findings.whole_rig import cable as cable_of
from pycore.protection import overcurrent as devices
from pycore.protection.rule_sets import device_rules
from pycore.rig import graph
from pycore.rig.model import Load, Rig
from pycore.rig.typical import need

RATING, RATING_TITLE = "device-rating", "Does the device suit load and cable?"
STRIKE, STRIKE_TITLE = "device-strike", "Does it hold when the lamps strike?"
ORDER, ORDER_TITLE = "device-order", "Does the nearer device open first?"
LONG = 5e-3  # s: a surge of half a half-cycle and more moves a magnetic trip; shorter ones may pass. Memory.


@law("I_b = h*I_u/m", "Largest device that opens first on overload", I_b=Var("largest device below", "A"), h=Var("held by the upper one, times rating", "", 0.5, 3),
     I_u=Var("rating of the upper one", "A", 0), m=Var("opens the lower one, times rating", "", 1, 3), source=Cite("circuit-theory", "the rule is in the currents"))
def first_to_open(*, h: float, I_u: float, m: float) -> float:
    """Rating in A of a lower device that opens before one of I_u (A) on any lasting overload."""
    return h * I_u / m


def suits(whole: WholeRig, feed: Feed, cable: Cable) -> Finding:
    """Load current ≤ device ≤ cable, with the duty of long burns."""
    rig, rules, place = whole.rig, device_rules(whole.rig), f"runs/{cable.run.id}"
    guard = overcurrent(rig, cable.run.id)
    rating, of = rating_of(guard), rated(rig, cable.run)
    least, tight_from = loading.counted(rig, guard.device, guard.at, _load_current(whole, feed, cable, guard))
    most = work(devices.largest_rating, f=rules.cable_factor(guard.device), I_z=of.allowed)
    cap = _cap(rig, cable, by_rule(most.result, *most.given))
    steps = (*of.steps, least, most)
    name = name_of(rig, guard)
    if rating.value > cap.value * (1 + 1e-9):
        return Finding(question=RATING, title=RATING_TITLE, place=place, steps=steps, verdict=Verdict.STOP, demand=rating, limit=Limit("<=", cap), note="Cable unprotected", cautions=(rules.oversize,) if rules.oversize else (),
                       says=f"The {name} is too large for this cable: {cap.quantity} at the most, or an overload burns it")
    verdict = within(least.result.value, rating.value, tight_from)
    says = f"{least.result.quantity} of load ≤ {rating.quantity} ({name}) ≤ {cap.quantity} of this cable"
    if verdict is Verdict.STOP:
        says = f"The {name} opens: the load asks for a rating of {least.result.quantity}"
    return Finding(question=RATING, title=RATING_TITLE, place=place, steps=steps, verdict=verdict, says=says, demand=least.result, limit=Limit("<=", rating), note="Device opens" if verdict is Verdict.STOP else "")


def _load_current(whole: WholeRig, feed: Feed, cable: Cable, guard: Guard) -> Term:
    """What flows through the device itself, which may stand above other runs too."""
    if guard.place == cable.run.id or feed.others == 0:
        return current_of(feed, cable)
    if guard.place == graph.SUPPLY:
        return feed.total or current_of(feed, cable)
    return cable_of(whole, whole.rig.runs[guard.place]).current or current_of(feed, cable)


def cap(whole: WholeRig, cable: Cable, guard: Guard) -> Term:
    """The largest rating of this device that protects the cable."""
    most = work(devices.largest_rating, f=device_rules(whole.rig).cable_factor(guard.device), I_z=rated(whole.rig, cable.run).allowed)
    return _cap(whole.rig, cable, most.result)


def _cap(rig: Rig, cable: Cable, most: Term) -> Term:
    """The smaller of the cable's capacity and the rule set's largest device for this size."""
    largest = cable_rules(rig).largest_device(Laying(cable.run, loading.loaded(rig, cable.run.id)))
    return largest if largest is not None and largest.value < most.value else most


def strike(whole: WholeRig, run_id: str) -> Finding:
    """Inrush of lamps struck together against the band of their device, and their run-up against its slow trip."""
    rig, place = whole.rig, f"runs/{run_id}"
    guard = overcurrent(rig, run_id)
    band = device_rules(rig).band(guard.device, guard.at)
    lamps = _on_fullest_line(rig, guard)
    surge = _surge(lamps)
    one = max((need(x, "inrush", f"loads/{x.id}") for x in lamps), key=lambda t: t.value)
    count = devices.together(holds=band.holds.value, peak=one.value)
    alone = work(devices.inrush, N=term(1.0, "", "lamps struck together"), i=one)
    warm, warm_says, warm_steps = _warming_up(rig, guard, lamps)
    verdict = worst([_at_once(surge, alone, band.holds, band.trips, lamps), warm])
    together = f"all {len(lamps)} lamps of this line struck together" if len(lamps) > 1 else "its inrush"
    says = f"{surge.result.quantity} as rms with {together}; the {name_of(rig, guard)} holds {band.holds.quantity}{_advice(lamps, count, surge, band.holds)}{warm_says}"
    return Finding(question=STRIKE, title=STRIKE_TITLE, place=place, verdict=verdict, says=says, demand=surge.result, limit=Limit("<=", by_rule(band.holds, band.holds, *(t for s in band.steps for t in s.given), name="surge that the device holds")),
                   steps=(*band.steps, surge, alone, *warm_steps), note="Trips at the strike" if verdict is Verdict.STOP else "")


def _on_fullest_line(rig: Rig, guard: Guard) -> list[Load]:
    """The lamps under a device that share the line with the largest inrush."""
    below = list(rig.loads.values()) if guard.place == graph.SUPPLY else loading.loads_below(rig, guard.place)
    lines = {c for x in below for c in x.connection.split("-") if c != "N"}
    if not lines:
        raise refuse("no-lamp", "No lamp hangs below this device", "", guard.at)
    on = {c: [x for x in below if c in x.connection.split("-")] for c in sorted(lines)}
    return max(on.values(), key=lambda lamps: sum(need(x, "inrush", f"loads/{x.id}").value for x in lamps))


def _surge(lamps: list[Load]) -> Step:
    """Their peaks add up."""
    peaks = [need(x, "inrush", f"loads/{x.id}") for x in lamps]
    total = term(sum(t.value for t in peaks), "A", "inrush together, peak", rests_on=peaks)
    return work(devices.inrush, N=term(1.0, "", "all of them"), i=total)


def _at_once(surge: Step, alone: Step, holds: Term, trips: Term, lamps: list[Load]) -> Verdict:
    """One lamp that surely trips it is a stop; what a strike in turn avoids is tight."""
    if surge.result.value <= holds.value:
        return Verdict.CLEAR
    long = any(need(x, "inrush_time", f"loads/{x.id}").value >= LONG for x in lamps)
    return Verdict.STOP if alone.result.value > trips.value and long else Verdict.TIGHT


def _advice(lamps: list[Load], count: int, surge: Step, holds: Term) -> str:
    if surge.result.value <= holds.value:
        return ""
    return f": strike {count} at a time at the most" if 1 <= count < len(lamps) else ": even one may trip it"


def _warming_up(rig: Rig, guard: Guard, lamps: list[Load]) -> tuple[Verdict, str, tuple[Step, ...]]:
    """The minutes of the run-up against the currents that the device holds and opens at within the hour."""
    rating, parts = rating_of(guard), [_run_up(x) for x in lamps]
    amps = term(sum(t.value for t in parts), "A", "current while they warm up", rests_on=parts)
    if amps.value <= rating.value:
        return Verdict.CLEAR, "", ()
    slow = device_rules(rig).slow(guard.device)
    held, opens = (work(devices.held, h=h, I_n=rating) for h in (slow.holds, slow.trips))
    if amps.value <= held.result.value:
        return Verdict.CLEAR, "", (held,)
    verdict = Verdict.TIGHT if amps.value <= opens.result.value else Verdict.STOP
    return verdict, f". Warming up they draw {amps.quantity} together, above the {held.result.quantity} that it holds for long: let one warm up before the next", (held, opens)


def _run_up(load: Load) -> Term:
    """Line current while a lamp warms up to full power."""
    at = f"loads/{load.id}"
    power, efficiency, factor = need(load.lamp, "rated_power", f"{at}/lamp"), need(load.ballast, "efficiency", f"{at}/ballast"), need(load.ballast, "power_factor", f"{at}/ballast")
    share = need(load, "run_up", at)
    if load.nominal is None:
        raise refuse("entry-missing", "Voltage of the supply is missing or cannot be read", "Enter the voltage", "supply/voltage")
    return term(share.value * power.value / (efficiency.value * factor.value * load.nominal.value), "A", "current while it warms up", rests_on=(share, power, efficiency, factor))


def order(whole: WholeRig, run_id: str) -> Finding | None:
    """This run's device and the one above it: on overload the nearer should open first. None where it has none of its own, or none is above."""
    rig = whole.rig
    guard = overcurrent(rig, run_id)
    above = next_above(rig, guard) if guard.place == run_id else None
    if above is None:
        return None
    rules, lower, upper = device_rules(rig), rating_of(guard), rating_of(above)
    limit = work(first_to_open, h=rules.slow(above.device).holds, I_u=upper, m=rules.slow(guard.device).trips)
    names = f"{name_of(rig, guard)} below the {name_of(rig, above)}"
    verdict, says = Verdict.CLEAR, f"{names[0].upper()}{names[1:]}: on overload the nearer opens first"
    if lower.value >= upper.value:
        verdict, says = Verdict.STOP, f"{names[0].upper()}{names[1:]}: an overload here takes out all that the upper one feeds"
    elif lower.value > limit.result.value:
        verdict, says = Verdict.TIGHT, f"{names[0].upper()}{names[1:]}: their bands overlap, either may open"
    if _residuals_race(guard, above):
        verdict = worst([verdict, Verdict.TIGHT])
        says += ". Their residual devices race: the upper one needs type S and three times the rating"
    return Finding(question=ORDER, title=ORDER_TITLE, place=f"runs/{run_id}", verdict=verdict, says=says, demand=lower, limit=Limit("<=", by_rule(limit.result, *limit.given, name="largest device that opens first")), steps=(limit,), cautions=(BOTH,),
                   note="Not in order" if verdict is Verdict.STOP else "")


BOTH = "A short circuit may still open both."


def _residuals_race(lower: Guard, upper: Guard) -> bool:
    both = all(g.device.residual not in ("", "none") for g in (lower, upper))
    if not both:
        return False
    small, large = (g.device.residual_rating for g in (lower, upper))
    return upper.device.residual_delay != "delayed" or small is None or large is None or large.value < 3 * small.value * 0.999
