"""Sweeps: currents summed towards the source, voltages dropped outwards, until nothing moves.

Fast while the loads are small against what the wires can carry; slow with a poor neutral, useless with an open one.
"""

from collections.abc import Sequence
from math import inf

from pycore.powerflow.demand import Demand
from pycore.powerflow.tree import Tree, Vectors

MOST = 40
GAIN = 0.7  # a sweep that leaves more than this of the last change is too slow to go on with


def sweep(tree: Tree, volts: Vectors, demands: Sequence[Demand], tolerance: float) -> tuple[Vectors | None, int]:
    """Voltages after sweeping from `volts` until no voltage moves by more than `tolerance` (V), and sweeps spent.

    None where the sweeps do not settle quickly.
    """
    last = inf
    for count in range(1, MOST + 1):
        new = tree.outwards(inwards(tree, volts, demands))
        change = max([abs(a - b) for x, y in zip(new, volts, strict=True) for a, b in zip(x, y, strict=True)])
        if change <= tolerance:
            return new, count
        if count > 2 and not change <= GAIN * last:
            return None, count
        volts, last = new, change
    return None, MOST


def inwards(tree: Tree, volts: Vectors, demands: Sequence[Demand]) -> Vectors:
    """Current of every wire (A), away from the source, from what the loads draw at `volts`."""
    currents = tree.zeros()
    for d in demands:
        v, own = volts[d.node], currents[d.node]
        drawn = d.current(v[d.a] - v[d.b])
        own[d.a] += drawn
        own[d.b] -= drawn
    for p, top, own in zip(tree.parent[:0:-1], tree.top[:0:-1], currents[:0:-1], strict=True):
        feeding = currents[p]
        for t, i in zip(top, own, strict=True):
            feeding[t] += i
    return currents
