"""Newton's method on the tree, by elimination from the ends to the source.

At its present voltage each load is a straight line I = c + J·V. A node's loads and all that it feeds are one such line;
seen through its branch (V = V_a - Z·I) the line becomes

    (1 + J·Z)·I = c + J·V_a

so one small system a branch carries the line up to the source, and the currents come back down. Conductors are complex
and loads bend with the size of their voltage, hence J is real, two rows a conductor.

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
from pycore.powerflow.tree import Matrix, Tree, Vectors

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
        row = rows[d.node] = rows[d.node] or _blank(len(tree.conductors[d.node]))
        _add_load(row, d, volts[d.node], share, stiffness)
    upper = True
    for k in range(len(rows) - 1, -1, -1):
        if rows[k] is None:
            continue
        seen, sound = _through(tree, k, rows[k])  # type: ignore[arg-type]
        if seen is None:
            return None
        rows[k], upper = seen, upper and sound
        if k:
            p = tree.parent[k]
            rows[p] = rows[p] or _blank(len(tree.conductors[p]))
            _add_rows(rows[p], seen, tree.top[k])  # type: ignore[arg-type]
    return rows, upper


def _blank(conductors: int) -> Real:
    return [[0.0] * (2 * conductors + 1) for _ in range(2 * conductors)]


def _add_load(rows: Real, d: Demand, v: list[complex], share: float, stiffness: float) -> None:
    u = v[d.a] - v[d.b]
    i, (rr, ri, ir, ii) = d.tangent(u, share, stiffness)
    constant = (i.real - rr * u.real - ri * u.imag, i.imag - ir * u.real - ii * u.imag)
    for at, sign in ((2 * d.a, 1.0), (2 * d.b, -1.0)):
        for row, (to_re, to_im), c in ((rows[at], (rr, ri), constant[0]), (rows[at + 1], (ir, ii), constant[1])):
            row[2 * d.a] += sign * to_re
            row[2 * d.a + 1] += sign * to_im
            row[2 * d.b] -= sign * to_re
            row[2 * d.b + 1] -= sign * to_im
            row[-1] += sign * c


def _through(tree: Tree, k: int, rows: Real) -> tuple[Real | None, bool]:
    """The line seen from above branch k, and whether its determinants are above 0."""
    z, n = tree.z[k], len(rows)
    if n == 4:
        return _loop(z, rows)
    matrix = [[0.0] * n for _ in range(n)]
    for i, row in enumerate(rows):
        out = matrix[i]
        for j, zs in enumerate(z):
            re, im = row[2 * j], row[2 * j + 1]
            if re or im:
                for m, zm in enumerate(zs):
                    if zm:
                        out[2 * m] += re * zm.real + im * zm.imag
                        out[2 * m + 1] += im * zm.real - re * zm.imag
        out[i] += 1.0
    return solve(matrix, rows)[0], upright(matrix)


def _loop(z: Matrix, rows: Real) -> tuple[Real | None, bool]:
    """The same for two wires: what goes out comes back, so one loop current and one loop impedance say it all."""
    (a, b, *_, e), (c, d, *_, f) = rows[0], rows[1]
    loop = z[0][0] - z[0][1] - z[1][0] + z[1][1]
    r, x = loop.real, loop.imag
    m, n, p, q = 1 + a * r + b * x, b * r - a * x, c * r + d * x, 1 + d * r - c * x
    determinant = m * q - n * p
    if not abs(determinant) > 0:
        return None, False
    m, n, p, q = q / determinant, -n / determinant, -p / determinant, m / determinant
    first = [m * a + n * c, m * b + n * d, -m * a - n * c, -m * b - n * d, m * e + n * f]
    second = [p * a + q * c, p * b + q * d, -p * a - q * c, -p * b - q * d, p * e + q * f]
    return [first, second, [-v for v in first], [-v for v in second]], determinant > 0


def _add_rows(rows: Real, extra: Real, top: tuple[int, ...]) -> None:
    for j, t in enumerate(top):
        for half in (0, 1):
            row, add = rows[2 * t + half], extra[2 * j + half]
            for i, s in enumerate(top):
                row[2 * s] += add[2 * i]
                row[2 * s + 1] += add[2 * i + 1]
            row[-1] += add[-1]


def _outwards(tree: Tree, lines: list[Real | None]) -> tuple[Vectors, Vectors]:
    volts: Vectors = []
    currents: Vectors = []
    for k, rows in enumerate(lines):
        above = tree.above(k, volts)
        if rows is None:
            i = [0j] * len(above)
        else:
            flat = [part for v in above for part in (v.real, v.imag)]
            parts = [sum(map(mul, row, flat)) + row[-1] for row in rows]
            i = [complex(re, im) for re, im in zip(parts[::2], parts[1::2], strict=True)]
        volts.append(tree.below(k, above, i))
        currents.append(i)
    return volts, currents
