"""What the supply bears while lamps strike: a solver for the lamps that are on, and the limits that its answer is held against.

The solver is a function from what each burning lamp draws to what then flows and stands; any power flow will do. The one
here takes the whole rig's network, conductors as warm as they get with everything on.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import hypot, inf

from pycore.base.problem import Refused
from pycore.findings.strike_draws import Striking
from pycore.findings.supply_side import warming
from pycore.findings.whole_rig import count, network_of, solve_rig
from pycore.powerflow import fundamental
from pycore.powerflow.admit import admit
from pycore.powerflow.flow import Flow
from pycore.powerflow.generator import step_dip
from pycore.powerflow.network import Network
from pycore.powerflow.tree import Tree
from pycore.rig import graph
from pycore.rig.model import Rig


@dataclass(frozen=True, slots=True, kw_only=True)
class Active:
    """A lamp that is on, with what it draws at its nominal voltage: W and var of the fundamental."""

    load: str
    power: float
    reactive: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Borne:
    """What then flows and stands. Currents are rms in A with harmonics at their worst.

    `out` are lamps outside their window: the voltage they had and the limit, below a low one or above a high one. Without a
    steady point for all that are on, `solved` is False.
    """

    solved: bool
    out: dict[str, tuple[float, float]] = field(default_factory=dict)  # lamp: the voltage it had, and its limit
    currents: dict[tuple[str, str], float] = field(default_factory=dict)  # (place, line); the place "supply" is the outlet
    voltages: dict[str, float] = field(default_factory=dict)  # at each lamp
    outlet: dict[str, float] = field(default_factory=dict)  # line to neutral at the outlet
    supplied: dict[str, complex] = field(default_factory=dict)  # P + jQ by line

    @property
    def total(self) -> complex:
        """P + jQ of all lines, W and var."""
        return sum(self.supplied.values(), 0j)

    @property
    def apparent(self) -> float:
        """Apparent power at the outlet, harmonics included, VA."""
        return sum(amps * self.outlet[line] for (place, line), amps in self.currents.items() if place == graph.SUPPLY)


Solve = Callable[[Sequence[Active]], Borne]


def network_solver(rig: Rig, network: Network, lamps: dict[str, Striking]) -> Solve:
    """A solver over a network of the rig. What is on at one time feeds through few runs: the others are left out, and each set of lamps is made into a tree once."""
    loads = {x.id: x for x in network.loads}
    ways = {i: [r.id for r in graph.path(rig, i)] for i in lamps}
    known: dict[tuple[Active, ...], Borne] = {}
    trees: dict[tuple[str, ...], Tree] = {}

    def solve(on: Sequence[Active]) -> Borne:
        key = tuple(on)
        if key not in known:
            known[key] = _borne(flow_of(key), key, lamps, ways)
        return known[key]

    def flow_of(on: tuple[Active, ...]) -> Flow:
        burning = tuple(a.load for a in on)
        if burning not in trees:
            used = {run for i in burning for run in ways[i]}
            present = replace(network, loads=tuple(loads[i] for i in burning), branches=tuple(b for b in network.branches if b.id in used))
            admit(present)
            trees[burning] = Tree(present)
        return fundamental.solve_on(trees[burning].with_loads(replace(loads[a.load], power=a.power, reactive=a.reactive) for a in on))

    return solve


def _borne(flow: Flow, on: tuple[Active, ...], lamps: Mapping[str, Striking], ways: Mapping[str, Sequence[str]]) -> Borne:
    if not flow.solved or any(d.forced for d in flow.dropped):
        return Borne(solved=False)
    lines = [c for c in flow.tree.conductors[0] if c.startswith("L")]
    harmonic: dict[tuple[str, str], float] = {}
    for a in on:
        amps = abs(flow.loads[a.load].current) * lamps[a.load].distortion
        for place in (graph.SUPPLY, *ways[a.load]):
            for line in lamps[a.load].lines:
                harmonic[place, line] = harmonic.get((place, line), 0.0) + amps
    places = {graph.SUPPLY: "", **{b.id: b.id for b in flow.network.branches}}
    currents = {(place, line): hypot(abs(i), harmonic.get((place, line), 0.0)) for place, branch in places.items() for line, i in flow.currents(branch).items() if line.startswith("L")}
    return Borne(solved=True, out={d.load: (d.voltage, d.limit) for d in flow.dropped}, currents=currents,
                 voltages={a.load: abs(flow.loads[a.load].voltage) for a in on}, outlet={c: abs(flow.voltage(graph.SUPPLY, c)) for c in lines}, supplied=flow.supplied())


def warm_network(rig: Rig) -> Network:
    """The rig's network with conductors as warm as they get; cold ones where the whole rig has no steady state. Raises `Refused` where the rig is none."""
    whole = solve_rig(rig)
    if whole.solved:
        return whole.flow.network
    if whole.operation is None:
        raise Refused(*whole.problems)
    counted, _ = count(rig)
    fed = {r.id for i in rig.loads for r in graph.path(rig, i)}
    return network_of(rig, counted, {i: warming(rig, run) for i, run in rig.runs.items() if i in fed})


@dataclass(frozen=True, slots=True, kw_only=True)
class Breaker:
    """A device on the way: `holds` (A, rms) is what it surely bears at once, `carries` (A) what it surely never opens on, `long` what it may carry for hours.

    Between `holds` and `trips`, and between `carries` and `opens`, lie the bands in which one device opens and another does not.
    """

    place: str
    holds: float
    carries: float
    long: float
    trips: float = 0.0
    opens: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Set:
    """A generator or inverter: VA and W that it may give here, A per line, and what it may dip."""

    apparent: float
    active: float
    line: float
    lines: int
    transient: float = 0.0
    engine: float = 0.0  # share of frequency lost at a full step
    voltage_dip: float = inf
    frequency_dip: float = inf
    steps: bool = True  # whether dips are to be judged
    peak: float = inf  # A; crest that an inverter gives on one line for a moment


def dip(machine: Set, step: complex, lines: int) -> float:
    """Share of voltage lost on the lines that take a step of P + jQ (VA), before the regulator acts."""
    size = abs(step)
    if size == 0:
        return 0.0
    return step_dip(x=machine.transient, s=size / (machine.apparent * lines / machine.lines), q=max(0.0, step.imag) / size)
