"""Newton's method on the tree, by elimination from the ends to the source.

At its present voltage each load is a straight line I = c + J·V. A node's loads and all that it feeds are one such line;
seen through its branch (V = V_a - Z·I) the line becomes

    (1 + J·Z)·I = c + J·V_a

so one small system a branch, in the voltages and currents of its loops, carries the line up to the source, and the currents
come back down. Voltages are complex and loads bend with the size of theirs, hence J is real, two rows a loop.

With no load the determinant of 1 + J·Z is 1. It falls as load is raised and is 0 where the two solutions meet; past that
it is below 0. So is that of a part: conductor by conductor, branch by branch, as if the rest held its voltage. A point where
none is below 0 lies on the side that is reached from no load, any other is not where the rig works. (The determinant of the
whole alone would not do: two phases on the wrong side make it positive again.)
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from operator import mul

from pycore.powerflow.demand import Demand
from pycore.powerflow.linear import solve, upright
from pycore.powerflow.tree import Signs, Tree, Vectors

MOST = 20
Real = list[list[float]]


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
        change = max(abs(a - b) for x, y in zip(new, volts, strict=True) for a, b in zip(x, y, strict=True))
        volts = new
        if change <= tolerance:
            return Trial(volts, currents, count, lines[1] and all(d.held(abs(volts[d.node][d.a] - volts[d.node][d.b])) for d in demands))
        if not change < last and count > 2:
            break
        last = change
    return Trial(volts, currents, count, False)


def _inwards(tree: Tree, volts: Vectors, demands: Sequence[Demand], share: float, stiffness: float) -> tuple[list[Real | None], bool] | None:
    """For each branch the line of its current against the voltage above it, rows of [J | c]; and are all determinants above 0."""
    rows: list[Real | None] = [None] * len(tree.nodes)
    for d in demands:
        row = rows[d.node] = rows[d.node] or _blank(len(tree.loops[d.node]))
        _add_load(row, d, volts[d.node], share, stiffness)
    upper = True
    for k in range(len(rows) - 1, -1, -1):
        own = rows[k]
        if own is None:
            continue
        z = tree.loop_impedance(k, tree.z[k])
        seen, sound = _loop(z[0][0], own) if len(z) == 1 else _through(z, own)
        if seen is None:
            return None
        rows[k], upper = seen, upper and sound
        if k:
            p = tree.parent[k]
            feeding = rows[p] = rows[p] or _blank(len(tree.loops[p]))
            _add_rows(feeding, seen, tree.inward[k])
    return rows, upper


def _blank(loops: int) -> Real:
    return [[0.0] * (2 * loops + 1) for _ in range(2 * loops)]


def _add_load(rows: Real, d: Demand, v: list[complex], share: float, stiffness: float) -> None:
    u = v[d.a] - v[d.b]
    i, (rr, ri, ir, ii) = d.tangent(u, share, stiffness)
    slope = ((rr, ri, i.real - rr * u.real - ri * u.imag), (ir, ii, i.imag - ir * u.real - ii * u.imag))
    for t, out in d.loops:
        for half, (to_re, to_im, constant) in enumerate(slope):
            row = rows[2 * t + half]
            for s, sign in d.loops:
                row[2 * s] += out * sign * to_re
                row[2 * s + 1] += out * sign * to_im
            row[-1] += out * constant


def _through(z: list[list[complex]], rows: Real) -> tuple[Real | None, bool]:
    """The line seen from above a branch with the loop impedances `z`, and whether its determinants are above 0."""
    n = len(rows)
    matrix = []
    for i, row in enumerate(rows):
        out = [0.0] * n
        for j, zs in enumerate(z):
            re, im = row[2 * j], row[2 * j + 1]
            if re or im:
                for m, zm in enumerate(zs):
                    out[2 * m] += re * zm.real + im * zm.imag
                    out[2 * m + 1] += im * zm.real - re * zm.imag
        out[i] += 1.0
        matrix.append(out)
    return solve(matrix, rows)[0], upright(matrix)


def _loop(z: complex, rows: Real) -> tuple[Real | None, bool]:
    """The same for a single loop, written out."""
    (a, b, e), (c, d, f) = rows
    r, x = z.real, z.imag
    m, n, p, q = 1 + a * r + b * x, b * r - a * x, c * r + d * x, 1 + d * r - c * x
    determinant = m * q - n * p
    if not abs(determinant) > 0:
        return None, False
    m, n, p, q = q / determinant, -n / determinant, -p / determinant, m / determinant
    return [[m * a + n * c, m * b + n * d, m * e + n * f], [p * a + q * c, p * b + q * d, p * e + q * f]], determinant > 0


def _add_rows(rows: Real, extra: Real, inward: tuple[Signs, ...]) -> None:
    for j, outs in enumerate(inward):
        for t, out in outs:
            for half in (0, 1):
                row, add = rows[2 * t + half], extra[2 * j + half]
                for i, ins in enumerate(inward):
                    for s, sign in ins:
                        row[2 * s] += out * sign * add[2 * i]
                        row[2 * s + 1] += out * sign * add[2 * i + 1]
                row[-1] += out * add[-1]


def _outwards(tree: Tree, lines: list[Real | None]) -> tuple[Vectors, Vectors]:
    volts: Vectors = []
    currents: Vectors = []
    for k, rows in enumerate(lines):
        above = tree.above(k, volts)
        i = [0j] * len(above)
        if rows is not None:
            back = above[tree.back[k]]
            flat = [part for j in tree.loops[k] for u in [above[j] - back] for part in (u.real, u.imag)]
            parts = [sum(map(mul, row, flat)) + row[-1] for row in rows]
            i = tree.wire_currents(k, [complex(re, im) for re, im in zip(parts[::2], parts[1::2], strict=True)])
        volts.append(tree.below(k, above, i))
        currents.append(i)
    return volts, currents
