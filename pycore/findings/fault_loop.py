"""The smallest current of a fault at the end of a run, to earth or between live conductors; and the cables on the way of any fault."""

from dataclasses import dataclass
from functools import lru_cache

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Step, Term, term
from pycore.base.units import to_si
from pycore.conductors import impedance
from pycore.findings.circuit import stated, to_earth, upstream
from pycore.findings.supply_side import between_lines
from pycore.powerflow import single_path, source
from pycore.protection import earth_fault
from pycore.protection.rule_sets import device_rules
from pycore.rig.model import CONNECTIONS, Rig, Run, Supply
from pycore.rig.typical import line_voltage, listed, need

EARTH = "supply/earth"
INVERTER = "An inverter limits its own fault current: no loop impedance tells whether a device opens"
COLD = term(to_si(20, "°C"), "°C", "conductor temperature", origin=Origin.STATED, note="cold, for the largest current")


@dataclass(frozen=True, slots=True)
class Cables:
    """Conductors of a way: line, protective (or neutral) and reactance out and back, with their working."""

    line: Term
    back: Term
    reactance: Term
    steps: tuple[Step, ...]


def known(part: object, key: str, address: str) -> Term:
    """A quantity that somebody read off this very machine. Raises `Refused` for a typical one: sets differ too much."""
    found = stated(part, key, address)
    if found.origin is Origin.TYPICAL:
        raise refuse("entry-missing", f"{found.name} is only typical", f"Enter {found.name[0].lower()}{found.name[1:]}", f"{address}/{key}")
    return found


def cables(supply: Supply, runs: tuple[Run, ...], *, cold: bool, earth: bool) -> Cables:
    """The runs of a way in series: warm for the smallest current, cold for the largest; back through the earth conductor or the neutral."""
    return _way(runs, need(supply, "frequency", "supply"), cold, earth)


@lru_cache(maxsize=2048)
def _way(runs: tuple[Run, ...], frequency: Term, cold: bool, earth: bool) -> Cables:
    """Kept, since most edits change another way."""
    line, back, x = (term(0.0, "Ω", name) for name in ("line conductors", "protective conductors" if earth else "neutral", "reactance out and back"))
    steps: list[Step] = []
    for run in runs:
        own = _run(run, frequency, cold, earth)
        line, back, x = (_plus(a, b) for a, b in ((line, own.line), (back, own.back), (x, own.reactance)))
        steps += own.steps
    return Cables(line, back, x, tuple(steps))


def _plus(a: Term, b: Term) -> Term:
    return term(a.value + b.value, "Ω", a.name, rests_on=(a, b))


@lru_cache(maxsize=2048)
def _run(run: Run, frequency: Term, cold: bool, earth: bool) -> Cables:
    """One run; kept, since most edits change another one."""
    at = f"runs/{run.id}"
    size, length = stated(run, "size", at), stated(run, "length", at)
    temperature = COLD if cold else need(run, "insulation", at)
    sets = need(run.laid, "parallel", f"{at}/laid")
    other = need(run.laid, "earth_size", f"{at}/laid") if earth else size
    out, back = (impedance.resistance_per_length(size=s, temperature=temperature) for s in (size, other))
    ways = [work(earth_fault.one_way, r=p.result, l=length, n=sets) for p in (out, back)]
    x = impedance.reactance_per_length(run)
    reactive = work(impedance.loop_reactance, x=x.per_length, l=length, f=frequency, f_0=x.at)
    return Cables(ways[0].result, ways[1].result, _share(reactive.result, sets), (out, ways[0], back, ways[1], *x.steps, reactive))


def _share(x: Term, sets: Term) -> Term:
    return x if sets.value <= 1 else work(impedance.sets_reactance, X=x, n=sets).result


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault current with its working; `loop` is None behind a generator, whose share changes with time."""

    current: Term
    loop: Term | None
    steps: tuple[Step, ...]


def smallest(rig: Rig, run_id: str, *, after: float, sure: bool = True) -> Fault:
    """Line to earth at the end of a run, warm, `after` s into the fault.

    `sure` asks for the generator's own data; without it typical ones do. Raises `Refused` for missing entries.
    """
    if rig.supply.kind == "battery" and not sure:
        way, voltage = cables(rig.supply, (*upstream(rig, run_id), rig.runs[run_id]), cold=False, earth=True), to_earth(rig.supply)
        rated = known(rig.supply, "rated_power", "supply")
        return Fault(term(rated.value / voltage.value, "A", "rated current of the inverter", rests_on=(rated, voltage), note="it gives hardly more in a fault"), None, way.steps)
    return _at_the_end(rig, run_id, to_earth(rig.supply), after, sure, earth=True)


def smallest_between(rig: Rig, run_id: str, used: frozenset[str], *, after: float) -> Fault:
    """Between live conductors at the end of a run, warm: line to neutral, or between two lines where the run has no neutral. Raises `Refused` for missing entries."""
    voltage = to_earth(rig.supply)
    lines = sorted(c for c in used if c != "N")
    if "N" not in used and len(lines) > 1:
        volts = line_voltage(rig.supply, next(c for c in CONNECTIONS if set(c.split("-")) == set(lines[:2])), voltage.value)
        voltage = term(volts, "V", "voltage between lines", rests_on=(voltage,))
    return _at_the_end(rig, run_id, voltage, after, True, earth=False)


def _at_the_end(rig: Rig, run_id: str, voltage: Term, after: float, sure: bool, *, earth: bool) -> Fault:
    way = cables(rig.supply, (*upstream(rig, run_id), rig.runs[run_id]), cold=False, earth=earth)
    low = device_rules(rig).lowest
    if rig.supply.kind == "generator":
        resistance = work(single_path.in_series, R_a=way.line, R_b=way.back)
        machine = _generator(rig.supply, after, sure)
        amps = work(earth_fault.from_generator, c=low, U_0=voltage, R=resistance.result, X=way.reactance, X_t=machine[-1].result)
        return Fault(amps.result, None, (*way.steps, resistance, *machine, amps))
    ring = work(earth_fault.loop, Z_e=outlet_loop(rig) if earth else live_loop(rig), R_1=way.line, R_2=way.back, X=way.reactance)
    amps = work(earth_fault.fault_current, c=low, U_0=voltage, Z_s=ring.result)
    return Fault(amps.result, ring.result, (*way.steps, ring, amps))


def live_loop(rig: Rig) -> Term:
    """Line to neutral loop at the outlet, as measured or from its fault current. Raises `Refused` where nobody measured it, and behind an inverter."""
    if rig.supply.kind == "battery":
        raise refuse("inverter-limits", INVERTER, "Ask the inverter's maker how it opens a short circuit", "supply/impedance")
    return stated(rig.supply, "impedance", "supply")


def outlet_loop(rig: Rig) -> Term:
    """Line to earth loop at the outlet as measured; in TT the electrode stands in where nothing else was measured."""
    earth = rig.supply.earth
    if rig.supply.kind == "battery":
        raise refuse("inverter-limits", INVERTER, "Rely on a residual device, and ask the inverter's maker", EARTH)
    if earth.loop is None and earth.arrangement == "TT" and earth.electrode is not None:
        return earth.electrode
    return stated(earth, "loop", EARTH)


def _generator(supply: Supply, after: float, sure: bool) -> tuple[Step, ...]:
    """What the set gives at a time after the short circuit, as a reactance; it falls away fast."""
    get = known if sure else need
    rated, voltage = get(supply, "rated_power", "supply"), to_earth(supply)
    reactances = [work(source.machine_reactance, x=get(supply, key, "supply"), V=between_lines(supply, voltage), S=rated) for key in ("subtransient", "transient")]
    first, second = (term(voltage.value / r.result.value, "A", name, rests_on=(r.result,)) for r, name in zip(reactances, ("sub-transient current", "transient current"), strict=True))
    held = get(supply.earth, "sustained", EARTH) if sure else supply.earth.sustained or term(0.0, "A", "sustained current", origin=Origin.ASSUMED, note="taken as none", address=f"{EARTH}/sustained")
    at = term(after, "s", "time since the fault", origin=Origin.STATED)
    decay = work(earth_fault.decayed, I_s2=first, I_s1=second, I_st=_at_most(held, second), T_s2=_time("subtransient_time"), T_s1=_time("transient_time"), t=at)
    return (*reactances, decay, work(earth_fault.reactance_at, U_0=voltage, I_k=decay.result))


def _at_most(held: Term, first: Term) -> Term:
    """A set sustains no more than it gives at first."""
    return held if held.value <= first.value else term(first.value, "A", held.name, rests_on=(held, first))


def _time(key: str) -> Term:
    return Term(quantity=Quantity.read(listed()["short_circuit"][key], "s"), name=key.replace("_", " "), origin=Origin.TYPICAL, note="of small sets, from memory", firm_up="Ask for the alternator's data sheet",
                address="supply/subtransient")
