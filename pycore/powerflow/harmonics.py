"""Harmonics: each load's spectrum as a current, each plain impedance as one, through the same wires.

A spectrum is measured on a fairly clean voltage. Where the harmonics leave more of the voltage than `STIFF`, the load
would no longer draw that spectrum and the answer says so.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import hypot
from operator import sub

from pycore.powerflow.demand import Demand
from pycore.powerflow.flow import Flow
from pycore.powerflow.network import NEUTRAL
from pycore.powerflow.orders import Orders, Waves, admittances, injected, solve_orders
from pycore.powerflow.phasor import rms
from pycore.powerflow.tree import across

STIFF = 0.20  # of the fundamental voltage at a load


@dataclass(frozen=True, slots=True, kw_only=True)
class Distortion:
    """Voltages and currents of all orders above 1, beside the flow they belong to.

    `orders` are those that any load draws; `volts` and `amps` have a value for each. `beyond` names the loads whose voltage is too
    distorted for their spectrum to hold. `drawn` are the currents (A) by order of the loads with a spectrum. `returned` is the
    power (W) that such a load, where it holds its power, takes at the fundamental and gives back as harmonics, which heat the
    wires; of the others, what they take at the fundamental is all that is known. `lagging` is the reactive power (var) that a
    rectifier gives back likewise, each order as often as it counts: reactance grows with it.
    """

    flow: Flow
    orders: tuple[int, ...]
    volts: Waves = field(repr=False)
    amps: Waves = field(repr=False)
    beyond: tuple[str, ...]
    drawn: Mapping[str, Orders] = field(repr=False, default_factory=dict)
    returned: Mapping[str, float] = field(repr=False, default_factory=dict)
    lagging: Mapping[str, float] = field(repr=False, default_factory=dict)

    def current(self, branch: str, conductor: str) -> dict[int, complex]:
        """Rms phasors (A) of a wire by order, the fundamental too; branch "" is the source."""
        k = self.flow.tree.fed_by[branch]
        j = self.flow.tree.conductors[k].index(conductor)
        return self._with_fundamental(self.flow.amps[k][j], self.amps[k][j])

    def rms_currents(self, branch: str) -> dict[str, float]:
        """Rms of all orders (A) in each wire of a branch."""
        k = self.flow.tree.fed_by[branch]
        return {c: hypot(abs(i), *map(abs, more)) for c, i, more in zip(self.flow.tree.conductors[k], self.flow.amps[k], self.amps[k], strict=True)}

    def harmonic_rms(self, branch: str) -> dict[str, float]:
        """Rms of the orders above 1 (A) in each wire of a branch."""
        k = self.flow.tree.fed_by[branch]
        return {c: rms(parts) for c, parts in zip(self.flow.tree.conductors[k], self.amps[k], strict=True)}

    def voltage(self, node: str, a: str, b: str = NEUTRAL) -> dict[int, complex]:
        """Rms phasors (V) between two conductors of a node by order."""
        return self._with_fundamental(self.flow.voltage(node, a, b), self._between(node, a, b))

    def harmonic_power(self, load_id: str, node: str, a: str, b: str = NEUTRAL) -> float:
        """Power (W) that a load's own harmonics carry past a node on its way, where `a` and `b` are its conductors; below 0: towards the source."""
        return power(self._between(node, a, b), self.drawn.get(load_id, []))

    def load_current(self, load_id: str) -> dict[int, complex]:
        """Rms phasors (A) of a load by order."""
        d, point = self.flow.tree.demand_of[load_id], self.flow.loads[load_id]
        if point.out or not d.admittance:
            return dict.fromkeys((1, *self.orders), 0j)
        if d.load.passive:
            own = [y * u for y, u in zip(admittances(d, abs(point.voltage), self.orders), across_orders(d, self.volts), strict=True)]
        else:
            own = self.drawn.get(load_id, [0j] * len(self.orders))
        return self._with_fundamental(point.current, own)

    def _between(self, node: str, a: str, b: str) -> Orders:
        k = self.flow.tree.number[node]
        names, v = self.flow.tree.conductors[k], self.volts[k]
        return list(map(sub, v[names.index(a)], v[names.index(b)]))

    def _with_fundamental(self, first: complex, more: Orders) -> dict[int, complex]:
        return {1: first} | dict(zip(self.orders, more, strict=True))


def across_orders(d: Demand, volts: Waves) -> Orders:
    """The voltage across a load (V) by order."""
    v = volts[d.node]
    return list(map(sub, v[d.a], v[d.b]))


def power(volts: Orders, amps: Orders) -> float:
    """Power (W) of all orders; 0 without current."""
    return sum([(u * i.conjugate()).real for u, i in zip(volts, amps, strict=False)], 0.0)


def distort(flow: Flow) -> Distortion:
    """Harmonics of a solved flow. Raises ValueError without a solution, ArithmeticError at an exact resonance."""
    if not flow.solved:
        raise ValueError("no harmonics without a solved flow")
    running = [d for d in flow.tree.demands if not flow.loads[d.load.id].out and d.admittance]
    distorting = [d for d in running if d.load.spectrum]
    orders = tuple(sorted({h for d in distorting for h, _, _ in d.load.spectrum}))
    drawn = {d.load.id: injected(d.load, flow.loads[d.load.id], orders) for d in distorting}
    volts, amps = solve_orders(flow, running, drawn, orders)
    beyond, returned, lagging = [], {}, {}
    for d in distorting:
        i, u = d.load.id, across_orders(d, volts)
        if not rms(u) <= STIFF * abs(across(d, flow.volts)):
            beyond.append(i)
        if not d.load.exponent:
            returned[i] = -power(u, drawn[i])
        if d.load.pulse:
            lagging[i] = -sum([h * (v * own.conjugate()).imag for h, v, own in zip(orders, u, drawn[i], strict=True)])
    return Distortion(flow=flow, orders=orders, volts=volts, amps=amps, beyond=tuple(beyond), drawn=drawn, returned=returned, lagging=lagging)
