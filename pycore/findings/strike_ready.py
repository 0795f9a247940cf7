"""A rig made ready for striking: what its lamps draw, what its supply bears, and everything that is judged against."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil

from pycore.base.problem import Problem, Refused, refuse
from pycore.base.result import Term
from pycore.findings.strike_alike import alike
from pycore.findings.strike_draws import at_full, striking
from pycore.findings.strike_guards import breakers, machine
from pycore.findings.strike_limits import Bench
from pycore.findings.strike_supply import network_solver, warm_network
from pycore.lamp.strike import Starter
from pycore.rig import graph
from pycore.rig.model import Rig
from pycore.rig.typical import need


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A rig made ready: its bench, and the estimates that its limits lean on."""

    rig: Rig
    bench: Bench
    left_out: dict[str, tuple[Problem, ...]]
    leans_on: tuple[Term, ...]

    def settled(self, load: str) -> float:
        """Age (s) from which a lamp no longer changes; past its strike in any case."""
        return max(self.bench.gap, self.bench.lamps[load].run_up.settles)

    def end(self, at: Mapping[str, float]) -> float:
        """When the last lamp of a plan has settled, s."""
        return max(t + self.settled(i) for i, t in at.items())

    def name(self, load: str) -> str:
        """A lamp's name, with its id where another lamp has the same."""
        name = self.rig.loads[load].name
        return f"{name} ({load})" if sum(x.name == name for x in self.rig.loads.values()) > 1 and name else name or load


def make_ready(rig: Rig) -> Made:
    """Bench of a settled rig. Raises `Refused` where there is nothing to judge."""
    if not rig.loads:
        raise refuse("no-lamps", "The rig has no lamps", "Add a lamp", "loads")
    lamps, left_out = striking(rig)
    if not lamps:
        raise Refused(*(p for problems in left_out.values() for p in problems))
    rig = replace(at_full(rig), loads={i: x for i, x in at_full(rig).loads.items() if i in lamps})
    devices, device_leans = breakers(rig)
    set_, set_leans = machine(rig)
    network = warm_network(rig)
    bench = Bench(lamps=lamps, solve=network_solver(rig, network, lamps), breakers=devices, below={b.place: tuple(graph.below(rig, b.place)) for b in devices}, machine=set_,
                  alike=alike(rig, network, lamps, devices),
                  gap=need(rig.supply.steps, "gap", "supply/steps").value, frequency=need(rig.supply, "frequency", "supply").value)
    return Made(rig=rig, bench=bench, left_out=left_out, leans_on=(*device_leans, *set_leans))


def starters(bench: Bench) -> list[Starter]:
    """The lamps in slots of one gap."""
    return [Starter(id=s.id, settles=max(1, ceil(s.run_up.settles / bench.gap - 1e-9)), full=ceil(s.run_up.time_to(1.0) / bench.gap - 1e-9), alike=bench.alike.get(s.id, "")) for s in bench.lamps.values()]
