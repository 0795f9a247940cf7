"""The answer of the power flow: what stands where, how well the equations are met, and what dropped out on the way."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from pycore.base.result import Evidence, term
from pycore.powerflow.network import NEUTRAL, Network
from pycore.powerflow.tree import Tree, Vectors, across

RULE = ("All loads are raised together from nothing. At full load the load furthest outside its input window drops out, one at a "
        "time. Where full load finds no steady point, loads drop out on the way as they fall below their window, and where the rise "
        "ends, the one whose voltage fell furthest. What is out stays out until someone restarts it.")
RULE_BREAK = ("Behind a break every load first acts as a plain impedance; those outside their input window drop out at once. Then the "
              "electronic loads take up their power; where they find no steady point, the one nearest to the end of its window drops out.")
EQUATIONS = ("V_b = V_a - Z*I", "I_a = I_l + I_b", "S_l = P_l + j*Q_l")


class State(StrEnum):
    """How the calculation ended; only `solved` has voltages."""

    SOLVED = "solved"
    COLLAPSED = "collapsed"  # no voltages at which the network carries these loads
    UNSETTLED = "unsettled"  # conductor temperatures do not come to rest, or the equations are not met


@dataclass(frozen=True, slots=True)
class LoadPoint:
    """What a load gets: rms phasors across it (V) and through it (A). `out` is "" or why it draws nothing."""

    voltage: complex
    current: complex
    out: str = ""

    @property
    def power(self) -> complex:
        """P + jQ in W and var."""
        return self.voltage * self.current.conjugate()


@dataclass(frozen=True, slots=True)
class Dropped:
    """A load that went out: "low" or "high", the voltage (V) it had then, and its limit (V).

    `forced` where it was still inside its window but no steady point was left with it.
    """

    load: str
    side: str
    voltage: float
    limit: float
    forced: bool = False


@dataclass(frozen=True, slots=True)
class Failing:
    """Where a collapse starts: the load whose voltage fell furthest, the branch that takes most of it.

    `share` of all load is still carried; `voltage` (V) stands at the load then.
    """

    load: str
    branch: str
    share: float
    voltage: float


@dataclass(frozen=True, slots=True)
class Residuals:
    """How far the equations are missed: current (A) at the worst node, voltage (V) along the worst wire, power (W) over all."""

    current: float
    voltage: float
    power: float
    supplied: float

    @property
    def small(self) -> bool:
        """True where all are negligible; a NaN is not."""
        return self.current <= 1e-5 and self.voltage <= 1e-5 and self.power <= 1e-7 * max(abs(self.supplied), 1e3)


@dataclass(frozen=True, slots=True, kw_only=True)
class Flow:
    """Steady state of a network at the fundamental. Without `solved`, voltages and currents are empty."""

    state: State
    network: Network
    tree: Tree = field(repr=False, compare=False)
    volts: Vectors = field(repr=False, default_factory=list)
    amps: Vectors = field(repr=False, default_factory=list)
    loads: Mapping[str, LoadPoint] = field(default_factory=dict)
    dropped: tuple[Dropped, ...] = ()
    highest: Mapping[str, float] = field(default_factory=dict)  # the most that each load saw on the way, V
    fails: Failing | None = None
    residuals: Residuals | None = None
    iterations: int = 0
    method: str = ""
    rule: str = RULE

    @property
    def solved(self) -> bool:
        """True when there are voltages to show."""
        return self.state is State.SOLVED

    def voltage(self, node: str, a: str, b: str = NEUTRAL) -> complex:
        """Phasor (V) between two conductors of a node. Raises KeyError or ValueError for what is not there."""
        k = self.tree.number[node]
        return self.volts[k][self.tree.conductors[k].index(a)] - self.volts[k][self.tree.conductors[k].index(b)]

    def current(self, branch: str, conductor: str) -> complex:
        """Phasor (A) in a wire of a branch, named as at its end, away from the source; "" is the source itself."""
        k = self.tree.fed_by[branch]
        return self.amps[k][self.tree.conductors[k].index(conductor)]

    def currents(self, branch: str) -> dict[str, complex]:
        """All wires of a branch; "" is the source itself."""
        k = self.tree.fed_by[branch]
        return dict(zip(self.tree.conductors[k], self.amps[k], strict=True))

    def loss(self, branch: str) -> float:
        """Heat in a branch, W."""
        k = self.tree.fed_by[branch]
        return sum(z.real * abs(i) ** 2 for z, i in zip(self.tree.z[k], self.amps[k], strict=True))

    def supplied(self) -> dict[str, complex]:
        """P + jQ (W, var) that each line gives at the source's terminals."""
        n = self.tree.conductors[0].index(NEUTRAL)
        return {c: (v - self.volts[0][n]) * i.conjugate() for c, v, i in zip(self.tree.conductors[0], self.volts[0], self.amps[0], strict=True) if c.startswith("L")}

    def evidence(self) -> Evidence:
        """What a finding shows in place of a formula."""
        r = self.residuals
        shown = (term(r.current, "A", "current missed at the worst node"), term(r.voltage, "V", "voltage missed along the worst wire"),
                 term(r.power, "W", "power missed over all")) if r else ()
        return Evidence(method=f"Power flow of all wires: {self.method}", equations=EQUATIONS, iterations=self.iterations, residuals=shown)


def residuals(tree: Tree, volts: Vectors, amps: Vectors, drawn: Mapping[str, complex]) -> Residuals:
    """Both laws of Kirchhoff and the power balance, from voltages, wire currents and load currents alone."""
    left = [list(i) for i in amps]
    for k in range(1, len(amps)):
        for t, i in zip(tree.top[k], amps[k], strict=True):
            left[tree.parent[k]][t] -= i
    taken = 0.0
    for d in tree.demands:
        i = drawn.get(d.load.id, 0j)
        left[d.node][d.a] -= i
        left[d.node][d.b] += i
        taken += (across(d, volts) * i.conjugate()).real
    missed = [abs(a - b) for k in range(len(amps)) for a, b in zip(tree.below(k, tree.above(k, volts), amps[k]), volts[k], strict=True)]
    lost = sum([z.real * abs(i) ** 2 for own, row in zip(tree.z, amps, strict=True) for z, i in zip(own, row, strict=True)])
    given = sum((e * i.conjugate()).real for e, i in zip(tree.emf, amps[0], strict=True))
    return Residuals(max(abs(i) for row in left for i in row), max(missed), abs(given - lost - taken), given)
