"""The largest current of a fault, at the head of a run: what a device must be able to break."""

from functools import lru_cache

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Term, term
from pycore.findings.circuit import stated, to_earth, upstream
from pycore.findings.fault_loop import EARTH, Fault, cables, known
from pycore.findings.supply_side import between_lines
from pycore.powerflow import source
from pycore.protection import earth_fault
from pycore.protection.rule_sets import SETS
from pycore.rig import graph
from pycore.rig.model import Rig, Run, Supply


def largest(rig: Rig, place: str) -> Fault:
    """Fault between all conductors at the head of a run (of the outlet for "supply"), cold. Raises `Refused` for missing entries."""
    return _largest(rig.supply, rig.rules, tuple(upstream(rig, place)) if place != graph.SUPPLY else ())


@lru_cache(maxsize=1024)
def _largest(supply: Supply, rules: str, runs: tuple[Run, ...]) -> Fault:
    """Kept, since many devices stand at the same place and most edits change another one."""
    way = cables(supply, runs, cold=True, earth=False)
    voltage, high = to_earth(supply), SETS[rules].highest
    if supply.kind == "generator":
        machine = work(source.machine_reactance, x=known(supply, "subtransient", "supply"), V=between_lines(supply, voltage),
                       S=known(supply, "rated_power", "supply"))
        amps = work(earth_fault.from_generator, c=high, U_0=voltage, R=way.line, X=_half(way.reactance), X_t=machine.result)
        most = work(earth_fault.to_neutral, I_3=amps.result)
        return Fault(most.result, None, (*way.steps, machine, amps, most))
    outlet, at_once = _outlet(supply, voltage, high)
    if not runs and at_once is not None:
        return Fault(at_once, None, ())
    ring = work(earth_fault.loop, Z_e=outlet, R_1=way.line, R_2=way.back, X=way.reactance)
    amps = work(earth_fault.fault_current, c=high, U_0=voltage, Z_s=ring.result)
    if supply.system == "single-phase":
        return Fault(amps.result, ring.result, (*way.steps, ring, amps))
    all_lines = work(earth_fault.between_lines, I_1=amps.result)
    return Fault(all_lines.result, ring.result, (*way.steps, ring, amps, all_lines))


def _half(x: Term) -> Term:
    return term(x.value / 2, "Ω", "reactance one way", rests_on=(x,))


def _outlet(supply: Supply, voltage: Term, high: Term) -> tuple[Term, Term | None]:
    """Line to neutral loop at the outlet, and the largest current there where it was given itself."""
    given = supply.earth.fault_current_max
    if given is not None:
        phases = 1.0 if supply.system == "single-phase" else 2.0
        return term(phases * high.value * voltage.value / given.value, "Ω", "loop at the outlet", rests_on=(given, voltage), note="from the largest fault current"), given
    if supply.kind == "battery":
        raise refuse("entry-missing", "Largest prospective fault current is not entered", "Enter largest prospective fault current", f"{EARTH}/fault_current_max")
    return stated(supply, "impedance", "supply"), None
