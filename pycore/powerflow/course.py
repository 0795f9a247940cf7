"""The way from no load to full load, and what goes out on it."""

from pycore.powerflow.demand import Demand
from pycore.powerflow.flow import Dropped, Flow
from pycore.powerflow.network import Load
from pycore.powerflow.newton import Trial, newton
from pycore.powerflow.sweep import sweep
from pycore.powerflow.tree import Tree, Vectors, across

FILTER = 1e5  # Ω: input filter of a ballast that is out; assumed
FIRST, COARSE, FINE = 0.25, 0.02, 2e-3  # steps of the rise, as a share of full load: the smallest while loads may drop out, and else
ON_THE_WAY = 0.01  # V: as near as points below full load need be
SWEPT, LAST = 1e-4, 1e-5  # V: the last sweep, and the step of Newton's method after it, which leaves about its square


class Course:
    """The way from no load to full load, with the loads that are still on."""

    def __init__(self, tree: Tree, near: Flow | None = None):
        self.tree = tree
        self.dropped: list[Dropped] = list(near.dropped) if near else []
        gone = {d.load for d in self.dropped}
        self.iterations = 0
        self.methods: list[str] = []
        self.amps: Vectors = []
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
        swept, count = (None, 0) if self.behind_break else sweep(self.tree, self.volts, self.on, SWEPT)
        trial = newton(self.tree, swept, self.on, tolerance=LAST) if swept else newton(self.tree, self.volts, self.on)
        self._count("Newton's method" if swept is None else "sweeps, finished by Newton's method", count + trial.iterations)
        if trial.holds:
            self._take(trial, 1.0)
            return True
        self._count("load raised in steps", 0)
        self._start_over()
        return self._rise()

    def _start_over(self) -> None:
        self._take(newton(self.tree, self.no_load, self.on, *self._stage(0.0)), 0.0)

    def _rise(self) -> bool:
        step = FIRST
        while self.at < 1:
            to = min(1.0, self.at + step)
            trial = self._newton(to)
            if trial.holds:
                self._take(trial, to)
                self._drop_on_the_way()
                continue
            last = self._gives_way()
            if step > (COARSE if last else FINE):
                step /= 2
            elif last:
                self.drop(last)
                step = FIRST
            else:
                return False
        return True

    def _newton(self, at: float) -> Trial:
        trial = newton(self.tree, self.volts, self.on, *self._stage(at), tolerance=ON_THE_WAY if at < 1 else 1e-6)
        self._count("", trial.iterations)
        return trial

    def _drop_on_the_way(self) -> None:
        outside = self.furthest_outside()
        while outside is not None and (self.behind_break or abs(across(outside, self.volts)) < outside.load.low):
            self.drop(outside)
            trial = self._newton(self.at)
            if not trial.holds:
                return self._start_over()
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
        for d in [d for d in self.behind_break if margin(d, self.volts) < 1]:
            self.drop(d)
        self.volts = newton(self.tree, self.volts, self.on, *self._stage(0.0)).volts

    def furthest_outside(self) -> Demand | None:
        """The load that is furthest outside its input window, if any is."""
        outside = [d for d in self.on if margin(d, self.volts) < 1]
        return min(outside, key=lambda d: margin(d, self.volts), default=None)

    def _gives_way(self) -> Demand | None:
        """The load that can drop out and whose voltage fell furthest; behind a break, where voltages also rise, the one nearest to its limit."""
        able = [d for d in (self.behind_break or self.on) if d in self.on and d.load.low > 0]
        return min(able, key=lambda d: margin(d, self.volts) if self.behind_break else self.left(d), default=None)

    def left(self, d: Demand) -> float:
        """The voltage across a load as a share of that with no load."""
        return abs(across(d, self.volts)) / max(abs(across(d, self.no_load)), 1e-9)

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
        return [Demand(Load(id=d.load.id, node=d.load.node, a=d.load.a, b=d.load.b, power=u**2 / FILTER, voltage=u, exponent=2.0), d.node, d.a, d.b, d.join)]


def margin(d: Demand, volts: Vectors) -> float:
    """1 at the end of the input window, more inside, less outside."""
    u = abs(across(d, volts))
    return min(u / d.load.low if d.load.low else float("inf"), d.load.high / u if u else float("inf"))
