"""The network as numbered lists, from the source outwards: what the inner loops run over.

"Branch" k is what feeds node k; branch 0 is the source's own impedance, fed by its EMFs.

What goes out through a branch comes back through it, so one of its currents follows from the others. The wire with the least
impedance is left out for that ("return"), the others are its loops: one voltage against the return and one current each.
"""

from collections.abc import Iterable
from copy import copy
from dataclasses import replace

from pycore.powerflow.demand import Demand
from pycore.powerflow.network import OPEN, Load, Network, diagonal

Vectors = list[list[complex]]  # by node, then by conductor
Matrix = tuple[tuple[complex, ...], ...]
Signs = tuple[tuple[int, float], ...]


class Tree:
    """Nodes numbered so that each comes after the one that feeds it."""

    def __init__(self, network: Network):
        source, branches = network.source, network.from_source()
        self.network = network
        self.branches = branches  # branches[k - 1] feeds node k
        self.nodes = [source.node, *(b.end for b in branches)]
        self.number = {name: k for k, name in enumerate(self.nodes)}
        self.fed_by = {"": 0} | {b.id: k for k, b in enumerate(branches, 1)}
        self.conductors = [tuple(source.emf), *(tuple(w.bottom for w in b.wires) for b in branches)]
        self.emf = [complex(e) for e in source.emf.values()]
        self.parent = [-1, *(self.number[b.start] for b in branches)]
        self.top = [tuple(range(len(self.emf))), *(tuple(self.conductors[self.number[b.start]].index(w.top) for w in b.wires) for b in branches)]
        self.z: list[Matrix] = [diagonal([complex(source.z[c]) for c in source.emf]), *(b.impedance() for b in branches)]
        self.plain = [True, *(not b.mutual for b in branches)]
        self.back = [min(range(len(z)), key=lambda j: (abs(z[j][j]), -j)) for z in self.z]  # noqa: B023
        self.loops = [tuple(j for j in range(len(z)) if j != back) for z, back in zip(self.z, self.back, strict=True)]
        self.inward = [(), *(tuple(self.against(p, t, top[back]) for j, t in enumerate(top) if j != back)
                             for p, top, back in zip(self.parent[1:], self.top[1:], self.back[1:], strict=True))]
        self._hang()

    def _hang(self) -> None:
        """Make the network's loads ready for solving."""
        self.demands = [self._demand(load) for load in self.network.loads]
        self.demand_of = {d.load.id: d for d in self.demands}

    def with_loads(self, loads: Iterable[Load]) -> "Tree":
        """The same conductors with other loads on the same nodes."""
        other = copy(self)
        other.network = replace(self.network, loads=tuple(loads))
        other._hang()
        return other

    def start(self, branch: str) -> str:
        """The node that feeds a branch. Raises KeyError."""
        return self.nodes[self.parent[self.fed_by[branch]]]

    def against(self, k: int, a: int, b: int) -> Signs:
        """The voltage between two conductors of node k as a sum of its loops'."""
        loops = self.loops[k]
        return tuple((loops.index(c), sign) for c, sign in ((a, 1.0), (b, -1.0)) if c != self.back[k])

    def _demand(self, load: Load) -> Demand:
        node = self.number[load.node]
        a, b = self.conductors[node].index(load.a), self.conductors[node].index(load.b)
        return Demand(load, node, a, b, self.against(node, a, b))

    def loop_impedance(self, k: int, z: Matrix) -> list[list[complex]]:
        """Impedances (Ω) of branch k loop against loop, from its wires' impedances `z`."""
        b = self.back[k]
        return [[z[i][j] - z[i][b] - z[b][j] + z[b][b] for j in self.loops[k]] for i in self.loops[k]]

    def wire_currents(self, k: int, loops: list[complex]) -> list[complex]:
        """Currents (A) of all wires of branch k from those of its loops."""
        found = list(loops)
        found.insert(self.back[k], -sum(loops))
        return found

    def zeros(self) -> Vectors:
        """A zero for every conductor of every node."""
        return [[0j] * len(c) for c in self.conductors]

    def above(self, k: int, volts: Vectors) -> list[complex]:
        """The voltages that feed branch k, wire by wire."""
        return self.emf if k == 0 else [volts[self.parent[k]][t] for t in self.top[k]]

    def below(self, k: int, above: list[complex], currents: list[complex], z: Matrix | None = None) -> list[complex]:
        """The voltages at the end of branch k when it carries `currents`; `z` (Ω) in place of its own impedance."""
        z = z or self.z[k]
        if self.plain[k] and len(above) == 2:
            return [above[0] - z[0][0] * currents[0], above[1] - z[1][1] * currents[1]]
        if self.plain[k]:
            return [v - row[j] * i for j, (v, row, i) in enumerate(zip(above, z, currents, strict=True))]
        return [v - sum([a * i for a, i in zip(row, currents, strict=True)]) for v, row in zip(above, z, strict=True)]

    def no_load(self) -> Vectors:
        """Voltages with every load off: the source's, all the way."""
        volts: Vectors = []
        for k in range(len(self.nodes)):
            volts.append(list(self.above(k, volts)))
        return volts

    def adrift(self) -> list[tuple[bool, ...]]:
        """By node and conductor: does a break lie between it and the source?"""
        found: list[tuple[bool, ...]] = []
        for k in range(len(self.nodes)):
            up = (False,) * len(self.emf) if k == 0 else tuple(found[self.parent[k]][t] for t in self.top[k])
            found.append(tuple(cut or self.z[k][j][j].real >= OPEN / 10 for j, cut in enumerate(up)))
        return found


def across(demand: Demand, volts: Vectors) -> complex:
    """The voltage across a load, V."""
    v = volts[demand.node]
    return v[demand.a] - v[demand.b]
