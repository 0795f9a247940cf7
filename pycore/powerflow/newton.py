"""Newton's method on the tree, by elimination from the ends to the source.

At its present voltage each load is a straight line I = c + A·V + B·V̄: loads bend with the size of their voltage, hence the
conjugate V̄. A node's loads and all that it feeds are one such line, in the voltages and currents of its loops. The impedances
of its branch are put in series one after another: that of each wire in its own loop, that of the return in all of them. With
each (V = V_a - z·I) the line becomes

    (1 + A·z)·I + B·z̄·Ī = c + A·V_a + B·V̄_a

and so it is carried up to the source, and the currents come back down.

With no load the determinant of 1 + J·Z, where J holds the slopes and Z the impedances, is 1. It falls as load is raised and is
0 where the two solutions meet; past that it is below 0. So is that of a part: conductor by conductor, branch by branch, as if
the rest held its voltage. A point where none is below 0 lies on the side that is reached from no load, any other is not where
the rig works. (The determinant of the whole alone, which is the product of all, would not do: two phases on the wrong side make
it positive again.)
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from operator import mul

from pycore.powerflow.demand import Demand, Join
from pycore.powerflow.tree import Tree, Vectors

MOST = 20
Rows = list[list[complex]]  # of [A | B | c], a row a loop


@dataclass(slots=True)
class Trial:
    """What Newton's method came to. `holds` is True for an operating point that is found and is on the upper side."""

    volts: Vectors
    currents: Vectors
    iterations: int
    holds: bool


def newton(tree: Tree, volts: Vectors, demands: Sequence[Demand], share: float = 1.0, stiffness: float = 1.0, tolerance: float = 1e-6) -> Trial:
    """Operating point near `volts`; `share` and `stiffness` as in `Demand`. The last step is at most `tolerance` (V)."""
    currents: Vectors = []
    last = inf
    for count in range(1, MOST + 1):
        lines = _inwards(tree, volts, demands, share, stiffness)
        if lines is None:
            return Trial(volts, currents, count, False)
        new, currents = _outwards(tree, lines[0])
        change = max([abs(a - b) for x, y in zip(new, volts, strict=True) for a, b in zip(x, y, strict=True)])
        volts = new
        if change <= tolerance:
            return Trial(volts, currents, count, lines[1] and all(d.held(abs(volts[d.node][d.a] - volts[d.node][d.b])) for d in demands))
        if not change < last and count > 2:
            break
        last = change
    return Trial(volts, currents, count, False)


def _inwards(tree: Tree, volts: Vectors, demands: Sequence[Demand], share: float, stiffness: float) -> tuple[list[Rows | None], bool] | None:
    """For each branch the line of its current against the voltage above it; and are all determinants above 0."""
    lines: list[Rows | None] = [None] * len(tree.nodes)
    for d in demands:
        v = volts[d.node]
        lines[d.node] = line = lines[d.node] or _blank(len(tree.loops[d.node]))
        _add(line, [[*d.tangent(v[d.a] - v[d.b], share, stiffness)]], d.join)
    upper = True
    for k in range(len(lines) - 1, -1, -1):
        rows = lines[k]
        if rows is None:
            continue
        for raised, by, wires, x in tree.series[k]:
            rows, determinant = behind(rows, raised, by, sum([tree.z[k][j] for j in wires], 1j * x))
            if not abs(determinant) > 0:
                return None
            upper = upper and determinant > 0
        lines[k] = rows
        if k:
            p = tree.parent[k]
            lines[p] = line = lines[p] or _blank(len(tree.loops[p]))
            _add(line, rows, tree.inward[k])
    return lines, upper


def _blank(loops: int) -> Rows:
    return [[0j] * (2 * loops + 1) for _ in range(loops)]


def _add(rows: Rows, extra: Rows, join: Join) -> None:
    """Add another line to a node's."""
    n, m = len(rows), len(extra)
    for t, j, sign in join.currents:
        rows[t][-1] += sign * extra[j][-1]
    for t, s, j, i, sign in join.slopes:
        row, more = rows[t], extra[j]
        row[s] += sign * more[i]
        row[n + s] += sign * more[m + i]


def behind(rows: Rows, raised: tuple[int, ...], by: tuple[int, ...], z: complex) -> tuple[Rows, float]:
    """The line seen through `z` (Ω), by which the currents of the loops `by` together lower the voltage of the loops `raised`; and its determinant.

    Their sum is S with α·S + β·S̄ = S_0, α = 1 + z·A_S, β = z̄·B_S, and each loop's current becomes I = I_0 - z·A·S - z̄·B·S̄.
    """
    n, z_ = len(rows), z.conjugate()
    if n == 1:
        return _one_behind(rows[0], z)
    s = rows[by[0]] if len(by) == 1 else [sum(column) for column in zip(*[rows[t] for t in by], strict=True)]
    α, β = 1 + z * sum([s[m] for m in raised]), z_ * sum([s[n + m] for m in raised])
    determinant = abs(α) ** 2 - abs(β) ** 2
    if not abs(determinant) > 0:
        return rows, determinant
    α, β = α.conjugate() / determinant, β / determinant
    s = [α * v - β * w for v, w in zip(s, _conjugate(s, n), strict=True)]
    s_ = _conjugate(s, n)
    found = []
    for t, row in enumerate(rows):
        if (t,) == by:  # the sum itself: exact behind a break as well
            found.append(s)
            continue
        f, g = z * sum([row[m] for m in raised]), z_ * sum([row[n + m] for m in raised])
        found.append([v - f * p - g * q for v, p, q in zip(row, s, s_, strict=True)])
    return found, determinant


def _one_behind(row: list[complex], z: complex) -> tuple[Rows, float]:
    """The same for a single loop, written out."""
    a, b, c = row
    α, β = 1 + z * a, z.conjugate() * b
    determinant = abs(α) ** 2 - abs(β) ** 2
    if not abs(determinant) > 0:
        return [row], determinant
    α, β = α.conjugate() / determinant, β / determinant
    return [[α * a - β * b.conjugate(), α * b - β * a.conjugate(), α * c - β * c.conjugate()]], determinant


def _conjugate(row: list[complex], n: int) -> list[complex]:
    """The row of Ī, where that of I is given, for n loops: A and B change places."""
    flat = [v.conjugate() for v in row]
    return flat[n:-1] + flat[:n] + flat[-1:]


def _outwards(tree: Tree, lines: list[Rows | None]) -> tuple[Vectors, Vectors]:
    volts: Vectors = []
    currents: Vectors = []
    for k, rows in enumerate(lines):
        above = tree.above(k, volts)
        i = [0j] * len(above)
        if rows is not None:
            back = above[tree.back[k]]
            v = [above[j] - back for j in tree.loops[k]]
            flat = [*v, *[u.conjugate() for u in v], 1.0]
            i = [sum(map(mul, row, flat)) for row in rows]
            i.insert(tree.back[k], -sum(i))
        volts.append(tree.below(k, above, i))
        currents.append(i)
    return volts, currents
