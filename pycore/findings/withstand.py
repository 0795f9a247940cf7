"""Do device and cable stand the largest fault, and is the protective conductor strong enough?"""

from pycore.base.law import work
from pycore.base.problem import Refused, refuse
from pycore.base.result import Finding, Limit, Origin, Step, Term, Verdict, term
from pycore.base.source import Cite
from pycore.findings import loading
from pycore.findings.circuit import Guard, name_of, overcurrent, rating_of, residual, stated
from pycore.findings.common import as_entered, attempt, gauge_or_size, within
from pycore.findings.fault_largest import largest
from pycore.findings.fault_loop import Fault, smallest
from pycore.protection import adiabatic
from pycore.protection import residual as residuals
from pycore.protection.iec import AT_ONCE
from pycore.protection.rule_sets import device_rules
from pycore.rig.model import Load, Rig
from pycore.rig.typical import need

BREAKING, BREAKING_TITLE = "device-breaking", "Does the device break the largest fault?"
HEAT, HEAT_TITLE = "cable-fault", "Does the cable stand a fault?"
CONDUCTOR, CONDUCTOR_TITLE = "earth-conductor", "Is the protective conductor strong enough?"
HALF_CYCLE = term(0.01, "s", "time to break a large fault", origin=Origin.TYPICAL, note="half a cycle, from memory; current-limiting devices are quicker", firm_up="Ask for the energy that the device lets through")
STRONG = 10e-6  # m²: a protective conductor of 10 mm² counts as one of high integrity


def breaking(rig: Rig, run_id: str) -> Finding:
    """The largest fault current at the device over a run against its breaking capacity."""
    guard, place = overcurrent(rig, run_id), f"runs/{run_id}"
    most = largest(rig, guard.place)
    limit = _capacity(rig, guard, most)
    verdict = within(most.current.value, limit.value)
    says = f"Up to {most.current.quantity} at the {name_of(rig, guard)}, which breaks {limit.quantity}"
    return Finding(question=BREAKING, title=BREAKING_TITLE, place=place, verdict=verdict, says=says, demand=most.current, limit=Limit("<=", limit), steps=most.steps,
                   note="Device may burst" if verdict is Verdict.STOP else "")


def _capacity(rig: Rig, guard: Guard, most: Fault) -> Term:
    """As read off the device, or the least that every such breaker has where that is enough."""
    least = device_rules(rig).least_breaking
    if guard.device.breaking_capacity is not None:
        return guard.device.breaking_capacity
    if least is not None and guard.device.kind in ("B", "C", "D") and most.current.value <= 0.8 * least.value:
        return least
    return need(guard.device, "breaking_capacity", guard.at)


def heat(rig: Rig, run_id: str) -> Finding | None:
    """Energy of the smallest and of the largest fault against what the copper stands; None where the rule set has no such rule."""
    run, at, guard = rig.runs[run_id], f"runs/{run_id}", overcurrent(rig, run_id)
    k = device_rules(rig).heating(need(run, "insulation", at))
    if k is None:
        return None
    sizes = {"line": stated(run, "size", at), "protective": need(run.laid, "earth_size", f"{at}/laid")}
    thin = min(sizes, key=lambda name: sizes[name].value)
    stands = work(adiabatic.withstand, k=k, S=sizes[thin])
    faults = (_far(rig, run_id, guard), _near(rig, guard))
    worst = max(faults, key=lambda steps: steps[-1].result.value)
    last = worst[-1].terms
    least = (work(adiabatic.least_size, I=last[0], t=last[1], k=k),) if len(last) == 2 else ()
    verdict = within(worst[-1].result.value, stands.result.value)
    if verdict is Verdict.STOP and guard.device.let_through is None:
        raise unproven(guard)
    says = f"{worst[-1].result.quantity} at the most, of {stands.result.quantity} that the {thin} conductor stands"
    return Finding(question=HEAT, title=HEAT_TITLE, place=at, verdict=verdict, says=says, demand=worst[-1].result, limit=Limit("<=", stands.result),
                   steps=(*worst, stands, *least), note="Cable burns" if verdict is Verdict.STOP else "")


def _far(rig: Rig, run_id: str, guard: Guard) -> tuple[Step, ...]:
    """The fault at the far end, for as long as the quickest device takes."""
    rules = device_rules(rig)
    flows = smallest(rig, run_id, after=AT_ONCE.value, sure=False)
    band, problems = attempt(lambda: rules.band(guard.device, guard.at))
    opened = band is not None and flows.current.value >= band.trips.value
    time = AT_ONCE if opened else _residual_time(rig, run_id, flows)
    if time is None:
        raise refuse("not-cut-off", "This fault is not cut off in time, so its heat has no end", "See the earth fault above", f"{guard.at}/kind")
    return (*flows.steps, until(guard, flows.current, time))


def until(guard: Guard, current: Term, time: Term) -> Step:
    """Energy of a fault until it is cut off: all of the time allowed, or what the device lets through at the most, where that is less."""
    spent, through = work(adiabatic.energy, I=current, t=time), guard.device.let_through
    return spent if through is None or spent.result.value <= through.value else work(adiabatic.let_through, E_t=through)


def unproven(guard: Guard) -> Refused:
    """A cautious estimate that fails proves nothing: the device is quicker than the estimate."""
    return refuse("entry-missing", "By a cautious estimate a fault is more than this cable stands; the device's own figure may clear it", "Enter energy it lets through", f"{guard.at}/let_through")


def _residual_time(rig: Rig, run_id: str, flows: Fault) -> Term | None:
    guard = residual(rig, run_id)
    if guard is None:
        return None
    return residuals.break_time(flows.current.value / need(guard.device, "residual_rating", guard.at).value, guard.device.residual_delay == "delayed")


def _near(rig: Rig, guard: Guard) -> tuple[Step, ...]:
    """The fault at the device itself: what it lets through, or half a cycle of the largest current."""
    most = largest(rig, guard.place)
    through = guard.device.let_through
    if through is None:
        return (*most.steps, work(adiabatic.energy, I=most.current, t=HALF_CYCLE))
    return (*most.steps, work(adiabatic.let_through, E_t=through))


def conductor(rig: Rig, run_id: str) -> Finding:
    """Standing earth current of the lamps below against what asks for a strong conductor, or the size that the table asks for."""
    run, at, rules = rig.runs[run_id], f"runs/{run_id}", device_rules(rig)
    size = need(run.laid, "earth_size", f"{at}/laid")
    stated(run, "size", at)
    if rules.earth_current is None:
        return _by_device(rig, run_id, size)
    from_connector, from_size = rules.earth_current
    current = standing(loading.loads_below(rig, run_id))
    heavy, strong = current.value > from_size.value, size.value >= STRONG * 0.999
    verdict = Verdict.CLEAR if current.value <= from_connector.value else Verdict.TIGHT if not heavy or strong else Verdict.STOP
    words = {Verdict.CLEAR: "an ordinary connector will do", Verdict.TIGHT: "an industrial connector or a fixed one is called for",
             Verdict.STOP: f"a protective conductor of 10 mm², a doubled one or a monitored one is called for, and this one has {as_entered(size)}"}
    limit = from_size if heavy else from_connector
    return Finding(question=CONDUCTOR, title=CONDUCTOR_TITLE, place=at, verdict=verdict, says=f"{current.quantity} stands in its earth conductor: {words[verdict]}", demand=current,
                   limit=Limit("<=", limit), cautions=(BREAKS,) if verdict is not Verdict.CLEAR else ())


BREAKS = "If this earth conductor breaks, everything metal below it stands at mains voltage through the lamps' own filters."


def _by_device(rig: Rig, run_id: str, size: Term) -> Finding:
    run, at, rules, guard = rig.runs[run_id], f"runs/{run_id}", device_rules(rig), overcurrent(rig, run_id)
    least = rules.earth_size(rating_of(guard))
    if least is None:
        raise refuse("no-rule", "This rule set has no size of protective conductor", "Take the rule of your local code", at)
    line = stated(run, "size", at)
    needed = least if least.value <= line.value else line
    smaller = size.value < line.value * 0.999
    verdict = Verdict.STOP if size.value < needed.value * 0.999 else Verdict.TIGHT if smaller else Verdict.CLEAR
    says = f"{gauge_or_size(size)} of {gauge_or_size(needed)} that the {name_of(rig, guard)} asks for"
    if verdict is Verdict.TIGHT:
        says += "; where lines were made larger for voltage drop, it grows with them"
    return Finding(question=CONDUCTOR, title=CONDUCTOR_TITLE, place=at, verdict=verdict, says=says, demand=size, limit=Limit(">=", needed))


def standing(loads: list[Load]) -> Term:
    """Standing current in the protective conductor of lamps together. Raises `Refused` where one is unknown."""
    parts = [need(x, "earth_leakage", f"loads/{x.id}") for x in loads]
    cite = Cite("en-60598", "the most that class I may have up to 7 A") if any(t.origin is Origin.TYPICAL for t in parts) else None
    return term(sum(t.value for t in parts), "mA", "standing earth current", rests_on=parts, cite=cite)
