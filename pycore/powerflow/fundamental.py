"""The steady state of the whole rig at the fundamental.

Sweeps first, Newton's method to finish and to prove that the point is the one reached from no load; where that fails, the
load is raised step by step. No operating point is an answer (`State.COLLAPSED`), not an exception.
"""

from pycore.powerflow.admit import admit
from pycore.powerflow.demand import Demand
from pycore.powerflow.flow import RULE, RULE_BREAK, Dropped, Failing, Flow, LoadPoint, State, residuals
from pycore.powerflow.network import Load, Network
from pycore.powerflow.newton import Trial, newton
from pycore.powerflow.sweep import sweep
from pycore.powerflow.tree import Tree, Vectors, across

FILTER = 1e5  # Ω: input filter of a ballast that is out; assumed
FIRST, SMALLEST = 0.25, 2e-3  # steps of the rise, as a share of full load


def solve(network: Network, near: Flow | None = None) -> Flow:
    """The operating point of a network. Raises `Refused` only for what is no network.

    `near` is the solution of the same network with slightly other resistances: it saves the way there, and what dropped out
    in it stays out.
    """
    if near is None:
        admit(network)
    course = Course(Tree(network), near)
    while course.reach_full():
        outside = course.furthest_outside()
        if outside is None:
            return course.answer()
        course.drop(outside)
    return course.collapse()


class Course:
    """The way from no load to full load, with the loads that are still on."""

    def __init__(self, tree: Tree, near: Flow | None = None):
        self.tree = tree
        self.dropped: list[Dropped] = list(near.dropped) if near else []
        gone = {d.load for d in self.dropped}
        self.iterations, self.methods = 0, []  # type: ignore[var-annotated]
        self.no_load = self.volts = tree.no_load()
        self.highest = dict(near.highest) if near else {d.load.id: 0.0 for d in tree.demands}
        self.at = 0.0
        cut = tree.adrift()
        self.behind_break = [d for d in tree.demands if d.admittance and (cut[d.node][d.a] or cut[d.node][d.b])]
        self.on = [on for d in tree.demands if d.admittance for on in (self._left_of(d) if d.load.id in gone else [d])]
        if near:
            self.volts = near.volts
        elif self.behind_break:
            self._first_moment()

    def reach_full(self) -> bool:
        """Find full load, from where we are or by rising from nothing. False where it does not exist."""
        swept, count = (None, 0) if self.behind_break else sweep(self.tree, self.volts, self.on, 1e-6)
        trial = newton(self.tree, swept or self.volts, self.on)
        self._count("Newton's method" if swept is None else "sweeps, finished by Newton's method", count + trial.iterations)
        if trial.holds:
            self._take(trial, 1.0)
            return True
        self._count("load raised in steps", 0)
        self._take(newton(self.tree, self.no_load, self.on, *self._stage(0.0)), 0.0)
        return self._rise()

    def _rise(self) -> bool:
        step = FIRST
        while self.at < 1:
            to = min(1.0, self.at + step)
            trial = newton(self.tree, self.volts, self.on, *self._stage(to))
            self._count("", trial.iterations)
            if trial.holds:
                self._take(trial, to)
                self._drop_on_the_way()
            elif step > SMALLEST:
                step /= 2
            elif (last := self._nearest_to_limit()) is not None:
                self.drop(last)
                step = FIRST
            else:
                return False
        return True

    def _drop_on_the_way(self) -> None:
        outside = self.furthest_outside()
        while outside is not None and (self.behind_break or abs(across(outside, self.volts)) < outside.load.low):
            self.drop(outside)
            trial = newton(self.tree, self.volts, self.on, *self._stage(self.at))
            self._count("", trial.iterations)
            if not trial.holds:
                return
            self._take(trial, self.at)
            outside = self.furthest_outside()

    def _stage(self, t: float) -> tuple[float, float]:
        """Share of load and stiffness of the loads, `t` of the way: power is raised, or behind a break, impedances become ballasts."""
        return (1.0, t) if self.behind_break else (t, 1.0)

    def _take(self, trial: Trial, at: float) -> None:
        self.volts, self.amps, self.at = trial.volts, trial.currents, at
        if at == 1 or self.behind_break:
            self._note_highest()

    def _note_highest(self) -> None:
        for d in self.tree.demands:
            self.highest[d.load.id] = max(self.highest[d.load.id], abs(across(d, self.volts)))

    def _count(self, method: str, iterations: int) -> None:
        self.iterations += iterations
        if method and method not in self.methods:
            self.methods.append(method)

    def _first_moment(self) -> None:
        trial = newton(self.tree, self.no_load, self.on, *self._stage(0.0))
        self._count("", trial.iterations)
        self._take(trial, 0.0)
        for d in [d for d in self.behind_break if _margin(d, self.volts) < 1]:
            self.drop(d)
        self.volts = newton(self.tree, self.volts, self.on, *self._stage(0.0)).volts

    def furthest_outside(self) -> Demand | None:
        """The load that is furthest outside its input window, if any is."""
        outside = [d for d in self.on if _margin(d, self.volts) < 1]
        return min(outside, key=lambda d: _margin(d, self.volts), default=None)

    def _nearest_to_limit(self) -> Demand | None:
        able = [d for d in (self.behind_break or self.on) if d in self.on and d.load.low > 0]
        return min(able, key=lambda d: _margin(d, self.volts), default=None)

    def drop(self, d: Demand) -> None:
        """Take a load out."""
        u = abs(across(d, self.volts))
        side, limit = ("low", d.load.low) if u * u <= d.load.low * d.load.high else ("high", d.load.high)
        self.dropped.append(Dropped(d.load.id, side, u, limit, d.load.low <= u <= d.load.high))
        self.on = [on for other in self.on for on in (self._left_of(d) if other is d else [other])]

    def _left_of(self, d: Demand) -> list[Demand]:
        """What a load that is out still draws: nothing, but behind a break its input filter decides where the voltage goes."""
        if d not in self.behind_break:
            return []
        u = d.load.voltage
        return [Demand(Load(id=d.load.id, node=d.load.node, a=d.load.a, b=d.load.b, power=u**2 / FILTER, voltage=u, exponent=2.0), d.node, d.a, d.b)]

    def answer(self) -> Flow:
        """The flow at full load."""
        sides = {d.load: d.side for d in self.dropped}
        drawn = {d.load.id: d.current(across(d, self.volts)) for d in self.on}
        loads = {d.load.id: LoadPoint(across(d, self.volts), drawn.get(d.load.id, 0j), sides.get(d.load.id, "")) for d in self.tree.demands}
        missed = residuals(self.tree, self.volts, self.amps, drawn)
        if not missed.small:
            return Flow(state=State.UNSETTLED, network=self.tree.network, tree=self.tree, residuals=missed, **self._told())
        return Flow(state=State.SOLVED, network=self.tree.network, tree=self.tree, volts=self.volts, amps=self.amps, loads=loads,
                    residuals=missed, **self._told())

    def collapse(self) -> Flow:
        """The flow that does not exist, with the place that fails first."""
        return Flow(state=State.COLLAPSED, network=self.tree.network, tree=self.tree, fails=self._fails(), **self._told())

    def _told(self) -> dict:  # type: ignore[type-arg]
        return {"dropped": tuple(self.dropped), "highest": self.highest, "iterations": self.iterations, "method": ", ".join(self.methods),
                "rule": RULE_BREAK if self.behind_break else RULE}

    def _fails(self) -> Failing:
        def left(d: Demand) -> tuple[float, float]:
            return abs(across(d, self.volts)) / max(abs(across(d, self.no_load)), 1e-9), -d.load.power

        first = min([d for d in self.on if d in self.tree.demands], key=left)
        return Failing(first.load.id, self._heaviest_branch(first), self.at, abs(across(first, self.volts)))

    def _heaviest_branch(self, d: Demand) -> str:
        tree, k, a, b = self.tree, d.node, d.a, d.b
        drops: list[tuple[float, str]] = []
        while k > 0:
            above = tree.above(k, self.volts)
            drops.append((abs((above[a] - above[b]) - (self.volts[k][a] - self.volts[k][b])), tree.branches[k - 1].id))
            k, a, b = tree.parent[k], tree.top[k][a], tree.top[k][b]
        drops.append((abs((tree.emf[a] - tree.emf[b]) - (self.volts[0][a] - self.volts[0][b])), ""))
        return max(drops)[1]


def _margin(d: Demand, volts: Vectors) -> float:
    """1 at the end of the input window, more inside, less outside."""
    u = abs(across(d, volts))
    return min(u / d.load.low if d.load.low else float("inf"), d.load.high / u if u else float("inf"))
