"""Harmonics: each load's spectrum as a current, each plain impedance as one, order by order through the same wires.

A spectrum is measured on a fairly clean voltage. Where the harmonics leave more of the voltage than `STIFF`, the load
would no longer draw that spectrum and the answer says so.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from pycore.powerflow.flow import Flow
from pycore.powerflow.network import NEUTRAL
from pycore.powerflow.one_order import admittance, injected, solve_order
from pycore.powerflow.phasor import rms
from pycore.powerflow.tree import Vectors, across

STIFF = 0.20  # of the fundamental voltage at a load


@dataclass(frozen=True, slots=True, kw_only=True)
class Distortion:
    """Voltages and currents of all orders above 1, beside the flow they belong to.

    `beyond` names the loads whose voltage is too distorted for their spectrum to hold. `drawn` are the currents (A) by order of
    the loads with a spectrum. `returned` is the power (W) that such a load, where it holds its power, takes at the fundamental
    and gives back as harmonics, which heat the wires; of the others, what they take at the fundamental is all that is known.
    """

    flow: Flow
    volts: Mapping[int, Vectors] = field(repr=False)
    amps: Mapping[int, Vectors] = field(repr=False)
    beyond: tuple[str, ...]
    drawn: Mapping[str, dict[int, complex]] = field(repr=False, default_factory=dict)
    returned: Mapping[str, float] = field(repr=False, default_factory=dict)

    def current(self, branch: str, conductor: str) -> dict[int, complex]:
        """Rms phasors (A) of a wire by order, the fundamental too; branch "" is the source."""
        k, j = self._wire(branch, conductor)
        return {1: self.flow.amps[k][j]} | {h: a[k][j] for h, a in self.amps.items()}

    def rms_currents(self, branch: str) -> dict[str, float]:
        """Rms of all orders (A) in each wire of a branch."""
        k, _ = self._wire(branch, None)
        return {c: rms([self.flow.amps[k][j], *(a[k][j] for a in self.amps.values())]) for j, c in enumerate(self.flow.tree.conductors[k])}

    def harmonic_rms(self, branch: str) -> dict[str, float]:
        """Rms of the orders above 1 (A) in each wire of a branch."""
        k, _ = self._wire(branch, None)
        return {c: rms([a[k][j] for a in self.amps.values()]) for j, c in enumerate(self.flow.tree.conductors[k])}

    def voltage(self, node: str, a: str, b: str = NEUTRAL) -> dict[int, complex]:
        """Rms phasors (V) between two conductors of a node by order."""
        k = self.flow.tree.number[node]
        i, j = self.flow.tree.conductors[k].index(a), self.flow.tree.conductors[k].index(b)
        return {1: self.flow.volts[k][i] - self.flow.volts[k][j]} | {h: v[k][i] - v[k][j] for h, v in self.volts.items()}

    def harmonic_power(self, load_id: str, node: str, a: str, b: str = NEUTRAL) -> float:
        """Power (W) that a load's own harmonics carry past a node on its way, where `a` and `b` are its conductors; below 0: towards the source."""
        k = self.flow.tree.number[node]
        i, j = self.flow.tree.conductors[k].index(a), self.flow.tree.conductors[k].index(b)
        return sum(((self.volts[h][k][i] - self.volts[h][k][j]) * z.conjugate()).real for h, z in self.drawn.get(load_id, {}).items() if h in self.volts)

    def load_current(self, load_id: str) -> dict[int, complex]:
        """Rms phasors (A) of a load by order."""
        d = self.flow.tree.demand_of[load_id]
        point = self.flow.loads[load_id]
        if point.out or not d.admittance:
            return dict.fromkeys((1, *self.amps), 0j)
        if d.load.passive:
            return {1: point.current} | {h: admittance(d, abs(point.voltage), h) * across(d, v) for h, v in self.volts.items()}
        own = injected(d.load, point)
        return {1: point.current} | {h: own.get(h, 0j) for h in self.amps}

    def _wire(self, branch: str, conductor: str | None) -> tuple[int, int]:
        tree = self.flow.tree
        k = tree.fed_by[branch]
        return k, tree.conductors[k].index(conductor) if conductor else 0


def distort(flow: Flow, orders: Iterable[int] | None = None) -> Distortion:
    """Harmonics of a solved flow; `orders` above 1, all that any load draws where not given. Raises ValueError without a solution."""
    if not flow.solved:
        raise ValueError("no harmonics without a solved flow")
    running = [d for d in flow.tree.demands if not flow.loads[d.load.id].out and d.admittance]
    drawn = {d.load.id: injected(d.load, flow.loads[d.load.id]) for d in running}
    wanted = sorted(orders) if orders is not None else sorted({h for parts in drawn.values() for h in parts})
    volts, amps = {}, {}
    for h in wanted:
        volts[h], amps[h] = solve_order(flow, running, drawn, h)
    spoilt = tuple(d.load.id for d in running if d.load.spectrum
                   and not rms([across(d, v) for v in volts.values()]) <= STIFF * abs(across(d, flow.volts)))
    returned = {d.load.id: -sum((across(d, volts[h]) * i.conjugate()).real for h, i in drawn[d.load.id].items() if h in volts)
                for d in running if d.load.spectrum and not d.load.exponent}
    return Distortion(flow=flow, volts=volts, amps=amps, beyond=spoilt, drawn=drawn, returned=returned)
