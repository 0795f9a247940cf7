"""The orders of the harmonics: linear systems, solved like the fundamental, all of them in one walk over the tree.

An end of the tree is a line I = c + Y·V, in loops. Where nothing below takes harmonic current by its voltage, Y is 0 and
currents just add. Else the impedances of a branch are put in series one after another: that of each wire in its own loop, that
of the return in all of them, mutual reactances from loop to loop.
"""

from cmath import phase, rect
from collections.abc import Mapping, Sequence
from operator import add, mul, neg, sub, truediv

from pycore.powerflow.demand import Demand, Join
from pycore.powerflow.flow import Flow, LoadPoint
from pycore.powerflow.network import Load, Wire
from pycore.powerflow.skin import rises
from pycore.powerflow.tree import Series, Tree

Orders = list[complex]  # a value for each order
Waves = list[list[Orders]]  # by node, then by conductor
Rows = list[Orders]  # a row of Y for each loop: its first loop's values for each order, its second's …


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
    c: Waves = [[none] * len(loops) for loops in tree.loops]
    y: list[Rows | None] = [None] * len(c)
    for d in running if orders else ():
        if d.load.passive:
            own = admittances(d, abs(flow.loads[d.load.id].voltage), orders)
            y[d.node] = _with_admittances(y[d.node] or _blank(c[d.node]), [own], d.join)
        elif d.load.id in drawn:
            _add_currents(c[d.node], [drawn[d.load.id]], d.join)
    for k in range(len(c) - 1, -1, -1):
        below, p = y[k], tree.parent[k]
        if below:
            c[k], below = _through(tree.series[k], c[k], below, z[k], orders)
            y[k] = below
        if k:
            _add_currents(c[p], c[k], tree.inward[k])
            if below:
                y[p] = _with_admittances(y[p] or _blank(c[p]), below, tree.inward[k])
    return _outwards(tree, c, y, z, orders)


def _blank(c: list[Orders]) -> Rows:
    return [[0j] * (len(c) * len(c[0])) for _ in c]


def _add_currents(c: list[Orders], extra: list[Orders], join: Join) -> None:
    """Add currents to a node's."""
    for t, j, sign in join.currents:
        c[t] = list(map(add if sign > 0 else sub, c[t], extra[j]))


def _with_admittances(y: Rows, extra: Rows, join: Join) -> Rows:
    """A node's rows with those of other loops added."""
    n = len(extra[0]) // len(extra)
    for t, s, j, i, sign in join.slopes:
        y[t][s * n:s * n + n] = map(add if sign > 0 else sub, y[t][s * n:s * n + n], extra[j][i * n:i * n + n])
    return y


def _through(series: Sequence[Series], c: list[Orders], y: Rows, z: list[Orders], orders: Sequence[int]) -> tuple[list[Orders], Rows]:
    """The line seen from above a branch with these impedances."""
    rows = [row + own for row, own in zip(y, c, strict=True)]
    for raised, by, wires, x in series:
        own = [z[j] for j in wires]
        rows = behind(rows, raised, by, _sum([*own, [1j * h * x for h in orders]] if x else own))
    n = len(orders)
    return [row[-n:] for row in rows], [row[:-n] for row in rows]


def behind(rows: Rows, raised: tuple[int, ...], by: tuple[int, ...], z: Orders) -> Rows:
    """Rows of [Y | c] seen through `z` (Ω), by which the currents of the loops `by` together lower the voltage of the loops `raised`.

    That sum is S = S_0/(1 + z·Y_S), and each loop's current becomes I = I_0 - z·Y·S.
    """
    n, columns = len(z), len(rows) + 1
    together = _sum([rows[t] for t in by])
    bent = [1 + v for v in map(mul, z, _sum([together[t * n:t * n + n] for t in raised]))]
    together = list(map(truediv, together, bent * columns))
    found = []
    for t, row in enumerate(rows):
        if (t,) == by:  # the sum itself: exact behind a break as well
            found.append(together)
            continue
        pull = list(map(mul, z, _sum([row[t * n:t * n + n] for t in raised])))
        found.append(list(map(sub, row, map(mul, pull * columns, together))))
    return found


def _sum(parts: Sequence[Orders]) -> Orders:
    total = parts[0]
    for more in parts[1:]:
        total = list(map(add, total, more))
    return total


def _outwards(tree: Tree, c: Waves, y: Sequence[Rows | None], z: Waves, orders: Sequence[int]) -> tuple[Waves, Waves]:
    volts: Waves = []
    n = len(orders)
    for k, (currents, rows) in enumerate(zip(c, y, strict=True)):
        above = [volts[tree.parent[k]][t] for t in tree.top[k]] if k else [[0j] * n] * len(tree.top[k])
        if rows:
            across_loops = [v for j in tree.loops[k] for v in map(sub, above[j], above[tree.back[k]])]
            for t, row in enumerate(rows):
                taken = list(map(mul, row, across_loops))
                currents[t] = _sum([currents[t], *(taken[s:s + n] for s in range(0, len(taken), n))])
        currents.insert(tree.back[k], list(map(neg, _sum(currents))) if currents else [0j] * n)
        below = [list(map(sub, v, map(mul, own, i))) for v, own, i in zip(above, z[k], currents, strict=True)]
        for j, reactances in enumerate(tree.mutual[k]):
            below[j] = [v - 1j * h * sum(map(mul, reactances, by_wire)) for v, h, by_wire in zip(below[j], orders, zip(*currents, strict=True), strict=True)]
        volts.append(below)
    return volts, c
