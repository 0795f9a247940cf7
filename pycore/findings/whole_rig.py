"""All lamps at once: the rig as a network of four wires, solved warm and with harmonics, and each lamp's path read off it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from math import sqrt

from pycore.base.problem import Problem, Refused, refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Evidence, Finding, Term, leaning, term
from pycore.findings.lamp_side import Draw, LampSide, draw, lamp_side
from pycore.findings.supply_side import (
    Cable,
    Feed,
    Warming,
    between_lines,
    cable_at,
    shows_subtransient,
    supply_reactance,
    voltages,
    warming,
)
from pycore.powerflow import network, source
from pycore.powerflow.flow import Flow
from pycore.powerflow.harmonic_loss import stiff_distortion
from pycore.powerflow.operate import Operation, operate
from pycore.powerflow.phasor import SYSTEMS
from pycore.rig import graph
from pycore.rig.harmonics import distortion as total
from pycore.rig.model import Load, Rig, Run, Supply
from pycore.rig.typical import need, need_choice


@dataclass(frozen=True, slots=True)
class Counted:
    """A lamp that is part of the answer, with what it draws."""

    load: Load
    side: LampSide
    draw: Draw


@dataclass(frozen=True)  # no slots: the supply's current is kept once found
class WholeRig:
    """The solved rig. `left_out` are the lamps that could not be counted, with the reasons; `problems` what stopped the rest.

    What is not given is made when it is first asked for, and anew in a rig that replaces this one.
    """

    rig: Rig
    counted: dict[str, Counted]
    left_out: dict[str, tuple[Problem, ...]]
    operation: Operation | None
    problems: tuple[Problem, ...]
    warmths: dict[str, float] = field(default_factory=dict)  # conductor temperature of each run, K
    cables: dict[str, Cable] = field(default_factory=dict, compare=False, init=False)
    protection: dict[str, tuple[Finding, ...]] = field(default_factory=dict, compare=False, init=False)  # of each run, and of the outlet
    leans: dict[str, tuple[Term, ...]] = field(default_factory=dict, compare=False, init=False)  # what the currents of a run, or of the supply, rest on
    mixes: dict[tuple[str, bool], Finding] = field(default_factory=dict, compare=False, init=False)  # of each shot with all its lamps

    @property
    def solved(self) -> bool:
        """True where there are voltages."""
        return self.operation is not None and self.operation.flow.solved

    @property
    def flow(self) -> Flow:
        """The fundamental. Raises `Refused` where the rig could not be computed."""
        if self.operation is None:
            raise Refused(*self.problems)
        return self.operation.flow

    @cached_property
    def evidence(self) -> Evidence:
        """What a finding shows in place of a formula. Raises `Refused` where the rig could not be computed."""
        return self.flow.evidence()

    @cached_property
    def supply_current(self) -> Term | None:
        """Rms current of the fullest line of the supply, None without an answer."""
        if self.operation is None or self.operation.distortion is None:
            return None
        lines = {c: i for c, i in self.operation.distortion.rms_currents("").items() if c.startswith("L")}
        most = fullest(lines)
        return term(lines[most], "A", f"current of {most}, all lamps", rests_on=resting(self))


def count(rig: Rig) -> tuple[dict[str, Counted], dict[str, tuple[Problem, ...]]]:
    """Every lamp with what it draws, and those that cannot be counted."""
    counted: dict[str, Counted] = {}
    left_out: dict[str, tuple[Problem, ...]] = {}
    for i, load in rig.loads.items():
        try:
            graph.check_way(rig, i)
            _check_lines(rig, load)
            counted[i] = count_lamp(load)
        except Refused as refused:
            left_out[i] = refused.problems
    return counted, left_out


def _check_lines(rig: Rig, load: Load) -> None:
    """Raise `Refused` for a lamp on a line that the supply does not have."""
    lines = SYSTEMS[rig.supply.system](1.0)
    missing = [c for c in load.connection.split("-") if c not in lines]
    if missing:
        raise refuse("no-such-line", f"The supply has no {missing[0]}", "Choose a line that it has", f"loads/{load.id}/connection")


@lru_cache(maxsize=1024)
def count_lamp(load: Load) -> Counted:
    """One lamp with what it draws; kept, since most edits change another one. Raises `Refused` for missing entries."""
    side = lamp_side(load)
    return Counted(load, side, draw(load, side))


def solve_rig(rig: Rig, counted: dict[str, Counted] | None = None, left_out: dict[str, tuple[Problem, ...]] | None = None) -> WholeRig:
    """Solve a settled rig. Lamps already counted may be handed over where only cables have changed."""
    if counted is None or left_out is None:
        counted, left_out = count(rig)
    try:
        warmings = {i: warming(rig, run) for i, run in rig.runs.items() if _feeds_a_lamp(rig, i)}
        net = network_of(rig, counted, warmings)
        warmths: dict[str, float] = {}
        operation = operate(net, lambda branch, amps: _warm(warmings[branch.id], amps, branch.id, warmths))
    except Refused as refused:
        return WholeRig(rig, counted, left_out, None, refused.problems)
    return WholeRig(rig, counted, left_out, operation, (), warmths)


def _feeds_a_lamp(rig: Rig, run_id: str) -> bool:
    return bool(graph.below(rig, run_id))


def _warm(w: Warming, amps: dict[str, float], run_id: str, warmths: dict[str, float]) -> dict[str, float]:
    """Resistance of every conductor of a run at the temperature of its fullest one."""
    warmths[run_id] = w.temperature(max(amps.values()))
    return dict.fromkeys(amps, w.resistance(warmths[run_id]) / 2)


def network_of(rig: Rig, counted: dict[str, Counted], warmings: dict[str, Warming]) -> network.Network:
    """The network of a rig, conductors cold."""
    supply = rig.supply
    system = need_choice(supply, "system", "supply")
    no_load = voltages(supply, "L1-N")[1].value
    half = complex(need(supply, "impedance", "supply").value, supply_reactance(supply).value) / 2
    wires = _wires(rig)
    branches = [network.Branch(id=i, start=node_of(rig, rig.runs[i].fed_by or graph.SUPPLY), end=i,
                               wires=tuple(network.wire(c, w.resistance(w.air) / 2, w.reactance / 2, w.per_metre(w.air)) for c in wires[i])) for i, w in warmings.items()]
    loads = [_load(rig, c) for c in counted.values()]
    return network.Network(source=source.supply(node=graph.SUPPLY, system=system, voltage=no_load, line=half, neutral=half, harmonic_line=_to_harmonics(supply)), branches=tuple(branches),
                           loads=tuple(loads), frequency=need(supply, "frequency", "supply").value)


def _to_harmonics(supply: Supply) -> complex | None:
    """A generator holds its voltage at the fundamental and shows its sub-transient reactance to harmonics; None for mains."""
    if not shows_subtransient(supply):
        return None
    assert supply.rated_power is not None and supply.subtransient is not None and supply.voltage is not None
    return complex(0.0, source.machine_reactance(x=supply.subtransient.value, V=between_lines(supply, supply.voltage).value, S=supply.rated_power.value))


def _wires(rig: Rig) -> dict[str, list[str]]:
    """The conductors that each run needs for what hangs on it, neutral included."""
    used: dict[str, set[str]] = {i: {"N"} for i in rig.runs}
    for i, load in rig.loads.items():
        for run in graph.path(rig, i):
            used[run.id] |= set(load.connection.split("-")) - {""}
    return {i: sorted(c, key=("L1", "L2", "L3", "N").index) for i, c in used.items()}


def node_of(rig: Rig, place: str) -> str:
    """The electrical node of a place: boxes are where their run ends."""
    seen: set[str] = set()
    while place in rig.boxes and place not in seen:
        seen.add(place)
        place = rig.boxes[place].fed_by or graph.SUPPLY
    return place


def _load(rig: Rig, c: Counted) -> network.Load:
    a, b = c.load.connection.split("-")
    nominal = voltages(rig.supply, c.load.connection)[0].value
    arc = c.load.kind != "tungsten"
    low, high = (c.load.ballast.low_cut_out, c.load.ballast.high_cut_out) if arc else (None, None)
    return network.Load(id=c.load.id, node=node_of(rig, c.load.fed_by or graph.SUPPLY), a=a, b=b, power=c.draw.power.value, voltage=nominal,
                        reactive=c.draw.power.value * c.draw.ratio.value, exponent=c.draw.exponent.value, low=low.value if low else 0.0,
                        **({"high": high.value, "stands": high.value} if high else {}), spectrum=c.draw.harmonics.parts,
                        pulse=c.draw.harmonics.pulse, lead=c.draw.harmonics.lead)


def cable(whole: WholeRig, run: Run) -> Cable:
    """A run with its working at the temperature that it settled at."""
    if run.id not in whole.cables:
        warmth = whole.warmths.get(run.id, need(run, "ambient", f"runs/{run.id}").value)
        whole.cables[run.id] = _with_current(whole, cable_at(whole.rig, run, warmth))
    return whole.cables[run.id]


def _with_current(whole: WholeRig, made: Cable) -> Cable:
    """The cable with the current of its fullest conductor."""
    if not whole.solved or whole.operation is None or whole.operation.distortion is None:
        return made
    amps = whole.operation.distortion.rms_currents(made.run.id)
    most = fullest(amps)
    name = "neutral" if most == "N" else most
    return replace(made, current=term(amps[most], "A", f"current of its fullest conductor, {name}", rests_on=resting(whole, made.run.id)))


def resting(whole: WholeRig, run_id: str = "") -> tuple[Term, ...]:
    """What the currents of a run (of the supply without one) rest on, as far as that leans on estimates."""
    if run_id not in whole.leans:
        below = [whole.counted[i] for i in graph.below(whole.rig, run_id or graph.SUPPLY) if i in whole.counted]
        whole.leans[run_id] = leaning(t for c in below for t in c.draw.leans_on)
    return whole.leans[run_id]


def feed_of(whole: WholeRig, load_id: str) -> Feed:
    """The path of one lamp, read off the solved rig. Raises `Refused` where there is no answer for it."""
    if load_id in whole.left_out:
        raise Refused(*whole.left_out[load_id])
    flow, c = whole.flow, whole.counted[load_id]
    nominal, no_load = voltages(whole.rig.supply, c.load.connection)
    cables = tuple(cable(whole, run) for run in graph.path(whole.rig, load_id))
    base = Feed(state="collapse", nominal=nominal, no_load=no_load, impedance=need(whole.rig.supply, "impedance", "supply"), cables=cables, voltage=None, socket=None,
                power=c.draw.power, current=None, most=None, steps=c.draw.steps, socket_steps=(), evidence=whole.evidence, others=len(whole.counted) - 1)
    if not flow.solved:
        return replace(base, fails=_fails(whole))
    return _read_off(whole, c, base)


def _fails(whole: WholeRig) -> str:
    """Where a collapse starts, in words."""
    fails = whole.flow.fails
    if fails is None:
        return "The rig does not come to rest: its cables are far too thin for these lamps"
    name = whole.rig.loads[fails.load].name or fails.load
    place = whole.rig.runs[fails.branch].name or fails.branch if fails.branch else "the supply itself"
    return (f"No operating point for all lamps together: at {fails.share:.0%} of the load the voltage gives way first at {name}, most of it lost in {place}"
            ).replace("%", "\u00a0%")


def _read_off(whole: WholeRig, c: Counted, base: Feed) -> Feed:
    flow, a, b = whole.flow, *c.load.connection.split("-")
    point = flow.loads[c.load.id]
    rests = leaning((base.no_load, base.impedance, c.draw.power, *[t for k in base.cables for t in (k.resistance, k.reactance)]))

    def solved(value: float, unit: str, name: str, *more: Term) -> Term:
        return Term(quantity=Quantity(value, unit), name=name, note="solved for the whole rig", rests_on=rests + leaning(more))

    socket = solved(abs(flow.voltage(graph.SUPPLY, a, b)), "V", "voltage at the outlet")
    passing = [_flowing(whole, c, node, a, b) for node in (graph.SUPPLY, *[k.run.id for k in base.cables])]
    cables = tuple([k.seen(solved(abs(flow.voltage(k.run.id, a, b)), "V", "voltage that arrives"), term(before - after, "W", "loss on the way of this lamp's power"))
                    for k, before, after in zip(base.cables, passing, passing[1:], strict=False)])
    dropped = next((d for d in flow.dropped if d.load == c.load.id), None)
    if dropped is not None:
        return replace(base, state="under" if dropped.side == "low" else "over", cables=cables, voltage=solved(dropped.voltage, "V", "voltage when it went out"), socket=socket, forced=dropped.forced)
    return replace(base, state="runs", cables=cables, voltage=solved(abs(point.voltage), "V", "voltage that arrives"), socket=socket,
                   current=solved(lamp_current(whole, c.load.id), "A", "current, harmonics included", *c.draw.leans_on), power=_power(whole, c),
                   drawn=term(passing[0], "W", "this lamp's power at the outlet", rests_on=rests), total=whole.supply_current)


def _power(whole: WholeRig, c: Counted) -> Term:
    """What a lamp draws: a ballast that holds its power just that, any other what its voltage makes of it."""
    if c.draw.holds:
        return c.draw.power
    return term(whole.flow.loads[c.load.id].power.real, "W", "power drawn", rests_on=(c.draw.power,), note="solved for the whole rig")


def _distortion(flow: Flow, c: Counted) -> float:
    """Distortion (a share) of a lamp's current as it came out; from its power factor where its spectrum is not known."""
    load = flow.tree.demand_of[c.load.id].load
    return total(load.spectrum) if load.spectrum else stiff_distortion(λ=c.draw.factor.value, t=c.draw.ratio.value)


def _flowing(whole: WholeRig, c: Counted, node: str, a: str, b: str) -> float:
    """Power (W) on its way to one lamp at a node: what its current takes there, harmonics too where they are paid for by a load that holds its power."""
    own = (whole.flow.voltage(node, a, b) * whole.flow.loads[c.load.id].current.conjugate()).real
    if not c.draw.burdens or whole.operation is None or whole.operation.distortion is None:
        return own
    return own + whole.operation.distortion.harmonic_power(c.load.id, node, a, b)


def fullest(amps: Mapping[str, float]) -> str:
    """The conductor with the largest current (A); of equal ones, which differ in their last digits only, the first."""
    return max(amps, key=lambda c: float(f"{amps[c]:.6g}"))


def lamp_current(whole: WholeRig, load_id: str) -> float:
    """Rms current (A) of a lamp of a solved rig."""
    return abs(whole.flow.loads[load_id].current) * sqrt(1 + _distortion(whole.flow, whole.counted[load_id]) ** 2)
