"""Harmonics: each load's spectrum as a current, each plain impedance as one, order by order through the same wires.

One linear system an order, solved like the fundamental: an end of the tree is a line I = c + Y·V; seen through a branch
(1 + Y·Z)·I = c + Y·V_a, in loops. Where nothing below takes harmonic current by its voltage, Y is 0 and currents just add.

A spectrum is measured on a fairly clean voltage. Where the harmonics leave more of the voltage than `STIFF`, the load
would no longer draw that spectrum and the answer says so.
"""

from cmath import phase, rect
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache

from pycore.powerflow.demand import Demand
from pycore.powerflow.flow import Flow, LoadPoint
from pycore.powerflow.linear import solve as solve_linear
from pycore.powerflow.network import NEUTRAL, Load, Network, diagonal
from pycore.powerflow.phasor import rms
from pycore.powerflow.skin import resistance_factor
from pycore.powerflow.tree import Matrix, Signs, Tree, Vectors, across

STIFF = 0.20  # of the fundamental voltage at a load
Line = tuple[list[complex], list[list[complex]] | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Distortion:
    """Voltages and currents of all orders above 1, beside the flow they belong to.

    `beyond` names the loads whose voltage is too distorted for their spectrum to hold.
    """

    flow: Flow
    volts: Mapping[int, Vectors] = field(repr=False)
    amps: Mapping[int, Vectors] = field(repr=False)
    beyond: tuple[str, ...]

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

    def load_current(self, load_id: str) -> dict[int, complex]:
        """Rms phasors (A) of a load by order."""
        d = next(d for d in self.flow.tree.demands if d.load.id == load_id)
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
        volts[h], amps[h] = _order(flow, running, drawn, h)
    spoilt = tuple(d.load.id for d in running if d.load.spectrum
                   and not rms([across(d, v) for v in volts.values()]) <= STIFF * abs(across(d, flow.volts)))
    return Distortion(flow=flow, volts=volts, amps=amps, beyond=spoilt)


def injected(load: Load, point: LoadPoint) -> dict[int, complex]:
    """Currents (A) by order that a load draws: its shares, at their angles against the load's own voltage."""
    if load.passive:
        return {}
    own, turn = abs(point.current), phase(point.voltage)
    found: dict[int, complex] = {}
    for h, share, angle in load.spectrum:
        found[h] = found.get(h, 0j) + rect(own * share, h * turn + angle)
    return found


def admittance(d: Demand, u: float, h: int) -> complex:
    """Admittance (S) of a plain impedance at order h: coil and resistor in series when lagging, capacitor beside a resistor when leading."""
    y = d.admittance * d.strength(u)[0]
    if y.imag > 0:
        return complex(y.real, y.imag * h)
    z = 1 / y
    return 1 / complex(z.real, z.imag * h)


def impedances(network: Network, h: int) -> list[Matrix]:
    """Series impedances (Ω) at order h, in the order of the tree: resistance with skin effect, reactance times h."""
    source, f = network.source, network.frequency
    at_source = source.z_harmonic or source.z
    factor = cache(lambda r: resistance_factor(r, h * f) / resistance_factor(r, f))
    found = [diagonal([complex(complex(at_source[c]).real, complex(at_source[c]).imag * h) for c in source.emf])]
    for b in network.from_source():
        found.append(b.impedance(h, [factor(float(f"{w.r_metre:.2g}")) for w in b.wires]))  # two digits do: half a per cent
    return found


def _order(flow: Flow, running: list[Demand], drawn: dict[str, dict[int, complex]], h: int) -> tuple[Vectors, Vectors]:
    tree, z = flow.tree, impedances(flow.network, h)
    lines: list[Line] = [([0j] * len(loops), None) for loops in tree.loops]
    for d in running:
        if d.load.passive:
            lines[d.node] = _with_admittance(lines[d.node], d, admittance(d, abs(flow.loads[d.load.id].voltage), h))
        elif h in (own := drawn[d.load.id]):
            for t, sign in d.loops:
                lines[d.node][0][t] += sign * own[h]
    for k in range(len(lines) - 1, -1, -1):
        if lines[k][1] is not None:
            lines[k] = _through(lines[k], tree.loop_impedance(k, z[k]))
        if k:
            lines[tree.parent[k]] = _joined(lines[tree.parent[k]], lines[k], tree.inward[k])
    return _outwards(tree, lines, z)


def _with_admittance(line: Line, d: Demand, own: complex) -> Line:
    c, y = line
    y = y or [[0j] * len(c) for _ in c]
    for t, out in d.loops:
        for s, sign in d.loops:
            y[t][s] += out * sign * own
    return c, y


def _through(line: Line, z: list[list[complex]]) -> Line:
    c, y = line
    assert y is not None
    if len(c) == 1:
        bent = 1 + y[0][0] * z[0][0]
        return [c[0] / bent], [[y[0][0] / bent]]
    n = range(len(c))
    matrix = [[sum([y[i][k] * z[k][j] for k in n]) + (i == j) for j in n] for i in n]
    solved, _ = solve_linear(matrix, [[*row, i] for row, i in zip(y, c, strict=True)])
    if solved is None:
        raise ArithmeticError("a harmonic has no solution: exact resonance")
    return [row[-1] for row in solved], [row[:-1] for row in solved]


def _joined(line: Line, extra: Line, inward: tuple[Signs, ...]) -> Line:
    (c, y), (more, more_y) = line, extra
    for j, outs in enumerate(inward):
        for t, out in outs:
            c[t] += out * more[j]
    if more_y is None:
        return c, y
    y = y or [[0j] * len(c) for _ in c]
    for j, outs in enumerate(inward):
        for t, out in outs:
            for i, ins in enumerate(inward):
                for s, sign in ins:
                    y[t][s] += out * sign * more_y[j][i]
    return c, y


def _outwards(tree: Tree, lines: list[Line], z: list[Matrix]) -> tuple[Vectors, Vectors]:
    volts: Vectors = []
    amps: Vectors = []
    for k, (c, y) in enumerate(lines):
        above = [0j] * len(tree.conductors[k]) if k == 0 else tree.above(k, volts)
        if y is not None:
            back = above[tree.back[k]]
            across_loops = [above[j] - back for j in tree.loops[k]]
            c = [own + sum([a * v for a, v in zip(row, across_loops, strict=True)]) for own, row in zip(c, y, strict=True)]
        amps.append(tree.wire_currents(k, c))
        volts.append(tree.below(k, above, amps[k], z[k]))
    return volts, amps
