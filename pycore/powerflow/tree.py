"""The network as numbered lists, from the source outwards: what the inner loops run over.

"Branch" k is what feeds node k; branch 0 is the source's own impedance, fed by its EMFs.

What goes out through a branch comes back through it, so one of its currents follows from the others. The wire with the least
impedance is left out for that ("return"), the others are its loops: one voltage against the return and one current each.
"""

from collections.abc import Iterable
from copy import copy
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from pycore.powerflow.demand import NOWHERE, Demand, Join
from pycore.powerflow.network import OPEN, Load, Network

Vectors = list[list[complex]]  # by node, then by conductor
Reactances = tuple[tuple[float, ...], ...]  # by wire, then by wire


class Series(NamedTuple):
    """An impedance in series with a branch: the currents of the loops `by` together lower the voltage of each of the loops `raised`.

    It is that of `wires` and the mutual reactance `x` (Ω at the network's frequency).
    """

    raised: tuple[int, ...]
    by: tuple[int, ...]
    wires: tuple[int, ...]
    x: float


class Tree:
    """Nodes numbered so that each comes after the one that feeds it."""

    def __init__(self, network: Network):
        source, branches = network.source, network.from_source()
        self.network = network
        self.branches = branches  # branches[k - 1] feeds node k
        self.nodes = [source.node, *(b.end for b in branches)]
        self.number = {name: k for k, name in enumerate(self.nodes)}
        self.fed_by = {"": 0} | {b.id: k for k, b in enumerate(branches, 1)}
        self.conductors = [tuple(source.emf), *(tuple([w.bottom for w in b.wires]) for b in branches)]
        self.emf = [complex(e) for e in source.emf.values()]
        self.parent = [-1, *(self.number[b.start] for b in branches)]
        self.top = [tuple(range(len(self.emf))), *(tuple([self.conductors[p].index(w.top) for w in b.wires]) for p, b in zip(self.parent[1:], branches, strict=True))]
        self.mutual = [(), *(_apart(b.mutual) for b in branches)]
        self.z = self._impedances()
        self.back = [min(range(len(z)), key=lambda j: (abs(z[j]), -j)) for z in self.z]  # noqa: B023
        self.loops = [tuple([j for j in range(len(z)) if j != back]) for z, back in zip(self.z, self.back, strict=True)]
        self.series = [_series(loops, back, x) for loops, back, x in zip(self.loops, self.back, self.mutual, strict=True)]
        self.inward = [NOWHERE, *(join(tuple([(t, top[back]) for j, t in enumerate(top) if j != back]), self.loops[p], self.back[p])
                                  for p, top, back in zip(self.parent[1:], self.top[1:], self.back[1:], strict=True))]
        self._hang([self._demand(load) for load in network.loads])

    def _impedances(self) -> Vectors:
        """Own impedance (Ω) of every wire."""
        source = self.network.source
        return [[complex(source.z[c]) for c in source.emf], *([complex(w.r + w.joint, w.x) for w in b.wires] for b in self.branches)]

    def _hang(self, demands: list[Demand]) -> None:
        self.demands = demands
        self.demand_of = {d.load.id: d for d in demands}

    def with_loads(self, loads: Iterable[Load]) -> "Tree":
        """The same conductors with other loads on the same nodes."""
        other = copy(self)
        other.network = replace(self.network, loads=tuple(loads))
        other._hang([self._demand(load) for load in other.network.loads])
        return other

    def corrected(self, network: Network) -> "Tree":
        """The tree of a network that differs in resistances and in what its loads draw, and in nothing else."""
        other, branches = copy(self), {b.id: b for b in network.branches}
        other.network = network
        other.branches = [branches[b.id] for b in self.branches]
        other.z = other._impedances()
        other._hang([d if load is d.load else Demand(load, d.node, d.a, d.b, d.join) for d, load in zip(self.demands, network.loads, strict=True)])
        return other

    def start(self, branch: str) -> str:
        """The node that feeds a branch. Raises KeyError."""
        return self.nodes[self.parent[self.fed_by[branch]]]

    def _demand(self, load: Load) -> Demand:
        node = self.number[load.node]
        a, b = self.conductors[node].index(load.a), self.conductors[node].index(load.b)
        return Demand(load, node, a, b, join(((a, b),), self.loops[node], self.back[node]))

    def zeros(self) -> Vectors:
        """A zero for every conductor of every node."""
        return [[0j] * len(c) for c in self.conductors]

    def above(self, k: int, volts: Vectors) -> list[complex]:
        """The voltages that feed branch k, wire by wire."""
        return self.emf if k == 0 else [volts[self.parent[k]][t] for t in self.top[k]]

    def below(self, k: int, above: list[complex], currents: list[complex]) -> list[complex]:
        """The voltages at the end of branch k when it carries `currents`."""
        own = [v - z * i for v, z, i in zip(above, self.z[k], currents, strict=True)]
        return coupled(own, self.mutual[k], currents) if self.mutual[k] else own

    def outwards(self, currents: Vectors) -> Vectors:
        """The voltages at all nodes when the branches carry `currents`."""
        volts: Vectors = []
        for p, top, z, mutual, i in zip(self.parent, self.top, self.z, self.mutual, currents, strict=True):
            v = volts[p] if volts else self.emf
            own = [v[t] - ohms * amps for t, ohms, amps in zip(top, z, i, strict=True)]
            volts.append(coupled(own, mutual, i) if mutual else own)
        return volts

    def no_load(self) -> Vectors:
        """Voltages with every load off: the source's, all the way."""
        volts: Vectors = []
        for k in range(len(self.nodes)):
            volts.append(list(self.above(k, volts)))
        return volts

    def adrift(self) -> list[list[bool]]:
        """By node and conductor: does a break lie between it and the source?"""
        found: list[list[bool]] = []
        for k, z in enumerate(self.z):
            cut = [own.real >= OPEN / 10 for own in z]
            found.append([own or found[self.parent[k]][t] for own, t in zip(cut, self.top[k], strict=True)] if k else cut)
        return found


def coupled(volts: list[complex], mutual: Reactances, currents: list[complex]) -> list[complex]:
    """Voltages less what the currents of the other wires induce."""
    return [v - 1j * sum([x * i for x, i in zip(row, currents, strict=True)]) for v, row in zip(volts, mutual, strict=True)]


@lru_cache(maxsize=1024)
def join(pairs: tuple[tuple[int, int], ...], loops: tuple[int, ...], back: int) -> Join:
    """For loops between `pairs` of a node's conductors: the voltage between two of them is a sum of the node's loops'."""
    currents = tuple([(loops.index(c), j, sign) for j, (a, b) in enumerate(pairs) for c, sign in ((a, 1.0), (b, -1.0)) if c != back])
    return Join(currents, tuple([(t, s, j, i, out * sign) for t, j, out in currents for s, i, sign in currents]))


def _apart(mutual: Reactances) -> Reactances:
    """Reactances between wires, nothing on the diagonal."""
    return tuple([tuple([0.0 if i == j else x for j, x in enumerate(row)]) for i, row in enumerate(mutual)])


@lru_cache(maxsize=1024)
def _series(loops: tuple[int, ...], back: int, mutual: Reactances) -> list[Series]:
    """The impedances of a branch, in series one after another: each wire's in its own loop, the return's in all, then mutual reactances."""
    every = tuple(range(len(loops)))
    found = [Series(every, every, (*loops, back), 0.0)] if len(every) == 1 else [*(Series((t,), (t,), (j,), 0.0) for t, j in enumerate(loops)), Series(every, every, (back,), 0.0)]
    if mutual:
        found += [Series((t,), (s,), (), mutual[i][j] - mutual[i][back] - mutual[back][j]) for t, i in enumerate(loops) for s, j in enumerate(loops)]
    return found


def across(demand: Demand, volts: Vectors) -> complex:
    """The voltage across a load, V."""
    v = volts[demand.node]
    return v[demand.a] - v[demand.b]
