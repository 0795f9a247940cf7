"""The steady state of the whole rig at the fundamental.

Sweeps first, Newton's method to finish and to prove that the point is the one reached from no load; where that fails, the
load is raised step by step. No operating point is an answer (`State.COLLAPSED`), not an exception.
"""

from typing import Any

from pycore.powerflow.admit import admit
from pycore.powerflow.course import Course
from pycore.powerflow.demand import Demand
from pycore.powerflow.flow import RULE, RULE_BREAK, Failing, Flow, LoadPoint, State, residuals
from pycore.powerflow.network import Network
from pycore.powerflow.tree import Tree, across


def solve(network: Network) -> Flow:
    """The operating point of a network. Raises `Refused` only for what is no network."""
    admit(network)
    return solve_on(Tree(network))


def solve_on(tree: Tree, near: Flow | None = None) -> Flow:
    """The same of a network that has been admitted and made into a tree: for many loads on the same conductors.

    `near` is the solution of the same network with slightly other resistances: it saves the way there, and what dropped out
    in it stays out.
    """
    course = Course(tree, near)
    while course.reach_full():
        outside = course.furthest_outside()
        if outside is None:
            return _answer(course)
        course.drop(outside)
    return Flow(state=State.COLLAPSED, fails=_fails(course), **_told(course))


def _answer(course: Course) -> Flow:
    sides = {d.load: d.side for d in course.dropped}
    drawn = {d.load.id: d.current(across(d, course.volts)) for d in course.on}
    loads = {d.load.id: LoadPoint(across(d, course.volts), drawn.get(d.load.id, 0j), sides.get(d.load.id, "")) for d in course.tree.demands}
    missed = residuals(course.tree, course.volts, course.amps, drawn)
    if not missed.small:
        return Flow(state=State.UNSETTLED, residuals=missed, **_told(course))
    return Flow(state=State.SOLVED, volts=course.volts, amps=course.amps, loads=loads, residuals=missed, **_told(course))


def _told(course: Course) -> dict[str, Any]:
    return {"network": course.tree.network, "tree": course.tree, "dropped": tuple(course.dropped), "highest": course.highest,
            "iterations": course.iterations, "method": ", ".join(course.methods), "rule": RULE_BREAK if course.behind_break else RULE}


def _fails(course: Course) -> Failing:
    """The load whose voltage fell furthest, and the branch on its way that takes most of it."""

    first = min([d for d in course.on if d in course.tree.demands], key=lambda d: (course.left(d), -d.load.power))
    return Failing(first.load.id, _heaviest_branch(course, first), course.at, abs(across(first, course.volts)))


def _heaviest_branch(course: Course, d: Demand) -> str:
    tree, volts, k, a, b = course.tree, course.volts, d.node, d.a, d.b
    drops: list[tuple[float, str]] = []
    while k >= 0:
        above = tree.above(k, volts)
        drops.append((abs((above[a] - above[b]) - (volts[k][a] - volts[k][b])), tree.branches[k - 1].id if k else ""))
        k, a, b = tree.parent[k], tree.top[k][a], tree.top[k][b]
    return max(drops)[1]
