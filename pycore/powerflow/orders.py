"""The orders of the harmonics: linear systems, solved like the fundamental, all of them in one walk over the tree.

An end of the tree is a line I = c + Y·V, in loops. Where nothing below takes harmonic current by its voltage, Y is 0 and
currents just add. Else the impedances of a branch are put in series one after another: that of each wire in its own loop, that
of the return in all of them, mutual reactances from loop to loop.
"""

from cmath import phase, rect
from collections.abc import Mapping, Sequence
from operator import add, mul, neg, sub, truediv

from pycore.powerflow.demand import Demand
from pycore.powerflow.flow import Flow, LoadPoint
from pycore.powerflow.network import Load, Wire
from pycore.powerflow.skin import rises
from pycore.powerflow.tree import Signs, Tree

Orders = list[complex]  # a value for each order; never changed in place
Waves = list[list[Orders]]  # by node, then by conductor
Line = tuple[list[Orders], list[list[Orders]] | None]  # c and Y, by loop


def injected(load: Load, point: LoadPoint, orders: Sequence[int]) -> Orders:
    """Currents (A) that a load draws: its shares, at their angles against the load's own voltage."""
    own, turn = abs(point.current), phase(point.voltage)
    found = dict.fromkeys(orders, 0j)
    for h, share, angle in load.spectrum:
        found[h] += rect(own * share, h * turn + angle)
    return list(found.values())


def admittances(d: Demand, u: float, orders: Sequence[int]) -> Orders:
    """Admittances (S) of a plain impedance at u (V): coil and resistor in series when lagging, capacitor beside a resistor when leading."""
    y = d.admittance * d.strength(u)[0]
    if y.imag > 0:
        return [complex(y.real, y.imag * h) for h in orders]
    z = 1 / y
    return [1 / complex(z.real, z.imag * h) for h in orders]


def impedances(tree: Tree, orders: Sequence[int]) -> Waves:
    """Impedance (Ω) of each wire of each branch, in the order of the tree: resistance with skin effect, reactance times the order."""
    source, f, orders = tree.network.source, tree.network.frequency, tuple(orders)
    at_source = source.z_harmonic or source.z
    found = [[[complex(z.real, z.imag * h) for h in orders] for z in (complex(at_source[c]) for c in source.emf)]]
    alike: dict[tuple[float, ...], Orders] = {}
    for b in tree.branches:
        row = []
        for w in b.wires:
            key = w.r, w.joint, w.x, w.r_metre
            if key not in alike:
                alike[key] = _of_wire(w, orders, f)
            row.append(alike[key])
        found.append(row)
    return found


def _of_wire(w: Wire, orders: tuple[int, ...], f: float) -> Orders:
    return [complex(w.r * rise + w.joint, h * w.x) for h, rise in zip(orders, rises(w.r_metre, orders, f), strict=True)]


def solve_orders(flow: Flow, running: Sequence[Demand], drawn: Mapping[str, Orders], orders: Sequence[int]) -> tuple[Waves, Waves]:
    """Voltages (V) and currents (A) of all orders; `drawn` are the currents (A) of the loads with a spectrum."""
    tree, z, none = flow.tree, impedances(flow.tree, orders), [0j] * len(orders)
    lines: list[Line] = [([none] * len(loops), None) for loops in tree.loops]
    for d in running:
        if d.load.passive:
            own = admittances(d, abs(flow.loads[d.load.id].voltage), orders)
            lines[d.node] = _joined(lines[d.node], ([none], [[own]]), (d.loops,))
        elif d.load.id in drawn:
            lines[d.node] = _joined(lines[d.node], ([drawn[d.load.id]], None), (d.loops,))
    for k in range(len(lines) - 1, 0, -1):
        lines[k] = line = _through(tree, k, lines[k], z[k], orders)
        lines[tree.parent[k]] = _joined(lines[tree.parent[k]], line, tree.inward[k])
    lines[0] = _through(tree, 0, lines[0], z[0], orders)
    return _outwards(tree, lines, z, orders)


def _joined(line: Line, extra: Line, inward: tuple[Signs, ...]) -> Line:
    """A node's line with another one added, whose loops are `inward` as sums of the node's."""
    (c, y), (more, more_y) = line, extra
    c = list(c)
    for outs, i in zip(inward, more, strict=True):
        for t, sign in outs:
            c[t] = _plus(c[t], i, sign)
    if more_y is None:
        return c, y
    y = [list(row) for row in y] if y else [[[0j] * len(c[0])] * len(c) for _ in c]
    for outs, more_row in zip(inward, more_y, strict=True):
        for t, out in outs:
            for ins, own in zip(inward, more_row, strict=True):
                for s, sign in ins:
                    y[t][s] = _plus(y[t][s], own, out * sign)
    return c, y


def _plus(a: Orders, b: Orders, sign: float) -> Orders:
    return list(map(add if sign > 0 else sub, a, b))


def _through(tree: Tree, k: int, line: Line, z: list[Orders], orders: Sequence[int]) -> Line:
    """The line seen from above branch k."""
    c, y = line
    if y is None:
        return line
    rows = [[*row, own] for row, own in zip(y, c, strict=True)]
    for raised, by, wires, x in tree.series[k]:
        own = [z[j] for j in wires]
        rows = behind(rows, raised, by, _sum([*own, [1j * h * x for h in orders]] if x else own))
    return [row[-1] for row in rows], [row[:-1] for row in rows]


def behind(rows: list[list[Orders]], raised: tuple[int, ...], by: tuple[int, ...], z: Orders) -> list[list[Orders]]:
    """Rows of [Y | c] seen through `z` (Ω), by which the currents of the loops `by` together lower the voltage of the loops `raised`.

    That sum is S = S_0/(1 + z·Y_S), and each loop's current becomes I = I_0 - z·Y·S.
    """
    together = [_sum(column) for column in zip(*[rows[t] for t in by], strict=True)]
    bent = [1 + ohms * y for ohms, y in zip(z, _sum([together[t] for t in raised]), strict=True)]
    together = [list(map(truediv, entry, bent)) for entry in together]
    found = []
    for t, row in enumerate(rows):
        if (t,) == by:  # the sum itself: exact behind a break as well
            found.append(together)
            continue
        pull = list(map(mul, z, _sum([row[t] for t in raised])))
        found.append([list(map(sub, entry, map(mul, pull, s))) for entry, s in zip(row, together, strict=True)])
    return found


def _sum(parts: Sequence[Orders]) -> Orders:
    total, *others = parts
    for more in others:
        total = list(map(add, total, more))
    return total


def _outwards(tree: Tree, lines: list[Line], z: Waves, orders: Sequence[int]) -> tuple[Waves, Waves]:
    volts: Waves = []
    amps: Waves = []
    for k, (c, y) in enumerate(lines):
        above = [volts[tree.parent[k]][t] for t in tree.top[k]] if k else [[0j] * len(orders)] * len(tree.top[k])
        if y is not None:
            across_loops = [list(map(sub, above[j], above[tree.back[k]])) for j in tree.loops[k]]
            c = [_sum([own, *(list(map(mul, a, v)) for a, v in zip(row, across_loops, strict=True))]) for own, row in zip(c, y, strict=True)]
        currents = list(c)
        currents.insert(tree.back[k], list(map(neg, _sum(c))))
        below = [list(map(sub, v, map(mul, own, i))) for v, own, i in zip(above, z[k], currents, strict=True)]
        for j, row in enumerate(tree.mutual[k]):
            below[j] = [v - 1j * h * sum(map(mul, row, by_wire)) for v, h, by_wire in zip(below[j], orders, zip(*currents, strict=True), strict=True)]
        amps.append(currents)
        volts.append(below)
    return volts, amps
