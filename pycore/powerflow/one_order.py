"""One order of the harmonics: a linear system, solved like the fundamental.

An end of the tree is a line I = c + Y·V; seen through a branch (1 + Y·Z)·I = c + Y·V_a, in loops. Where nothing below takes
harmonic current by its voltage, Y is 0 and currents just add.
"""

from cmath import phase, rect

from pycore.powerflow.demand import Demand
from pycore.powerflow.flow import Flow, LoadPoint
from pycore.powerflow.linear import solve as solve_linear
from pycore.powerflow.network import Load, diagonal
from pycore.powerflow.skin import rise
from pycore.powerflow.tree import Matrix, Signs, Tree, Vectors

Line = tuple[list[complex], list[list[complex]] | None]


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


def impedances(tree: Tree, h: int) -> list[Matrix]:
    """Series impedances (Ω) at order h, in the order of the tree: resistance with skin effect, reactance times h."""
    source, f = tree.network.source, tree.network.frequency
    at_source = source.z_harmonic or source.z
    found = [diagonal([complex(complex(at_source[c]).real, complex(at_source[c]).imag * h) for c in source.emf])]
    for b in tree.branches:
        found.append(b.impedance(h, [rise(w.r_metre, h, f) for w in b.wires]))
    return found


def solve_order(flow: Flow, running: list[Demand], drawn: dict[str, dict[int, complex]], h: int) -> tuple[Vectors, Vectors]:
    """Voltages (V) and currents (A) of order h, by node; `drawn` as `injected` gives it, by load."""
    tree, z = flow.tree, impedances(flow.tree, h)
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
