"""The rig at work: fundamental and harmonics with every conductor as warm as its own current makes it.

Harmonics cost watts: what they heat the wires with, a load takes at the fundamental and gives back at its harmonics. So a load
that needs P draws P and that loss, and the voltage falls for both. Resistance and reactance on the way also widen a rectifier's
pulses, and reactance makes them late: it takes at the fundamental the reactive power that its harmonics give back, each by its
order. Loss, pulses and temperatures are corrected in turns.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import hypot, inf, sqrt
from typing import NamedTuple

from pycore.powerflow.admit import admit
from pycore.powerflow.flow import Flow, LoadPoint, State
from pycore.powerflow.fundamental import solve_on
from pycore.powerflow.harmonics import Distortion, distort
from pycore.powerflow.mixing import Mixing
from pycore.powerflow.network import Branch, Load, Network, Wire
from pycore.powerflow.pulse import steepness, widened
from pycore.powerflow.spectrum import Parts
from pycore.powerflow.tree import Tree

MOST = 40  # turns
REST = 5e-4  # change of a resistance, as a share, that counts as rest: a tenth of a kelvin
BENT = 0.01  # of a load's power: reactive power of its late pulses from which turns are mixed
STEADY = 1e-4  # change of a load's power at the fundamental, or of its distortion, as a share, that counts as rest: each turn leaves a tenth
CLOSELY, EARLY = 1e-5, 5  # the same where turns are mixed, which leave more than a tenth, for the first few of them

Warm = Callable[[Branch, dict[str, float]], dict[str, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """Flow and harmonics at the temperatures that they cause; `distortion` is None without a solution.

    `turns` counts how often temperatures and harmonic losses were corrected, `unrest` is the last change of any resistance
    or power as a share.
    """

    flow: Flow
    distortion: Distortion | None
    turns: int
    unrest: float


class Burdened(NamedTuple):
    """What a load draws at the fundamental (W, var) with its harmonics, and their spectrum."""

    power: float
    reactive: float
    spectrum: Parts

    def of(self, load: Load) -> Load:
        """The load that draws this."""
        return replace(load, power=self.power, reactive=self.reactive, spectrum=self.spectrum)


def operate(network: Network, warm: Warm | None = None) -> Operation:
    """Steady state of a network given with its cold resistances; each load's power counts with its harmonics.

    `warm(branch, rms currents in A by conductor)` returns resistances in Ω by conductor (as named at the branch's end); it
    is asked again until they rest. Raises `Refused` for what is no network.
    """
    admit(network)
    tree = Tree(network)
    flow, mixing = solve_on(tree), Mixing()
    for turn in range(MOST + 1):
        if not flow.solved:
            return Operation(flow=flow, distortion=None, turns=turn, unrest=inf)
        distortion = distort(flow)
        ohms, warmer = _warmed(network, flow, distortion, warm) if warm else ({}, 0.0)
        heavier, busier = _burdened(network, flow, distortion)
        mixed = _leaning(network, heavier)
        if warmer <= REST and busier <= (CLOSELY if mixed and turn < EARLY else STEADY):
            return Operation(flow=flow, distortion=distortion, turns=turn, unrest=max(warmer, busier))
        if not max(warmer, busier) < inf:
            break
        branches = tuple([_with_resistances(b, ohms[b.id]) for b in network.branches]) if warm else network.branches
        loads = tuple([heavier[load.id].of(load) if load.id in heavier else load for load in network.loads])
        if mixed:
            loads = mixing.mixed(flow.network.loads, loads)
        flow = solve_on(tree.corrected(replace(network, branches=branches, loads=loads)), flow)
    return Operation(flow=replace(flow, state=State.UNSETTLED), distortion=None, turns=turn, unrest=max(warmer, busier))


def _burdened(network: Network, flow: Flow, distortion: Distortion) -> tuple[dict[str, Burdened], float]:
    """By load what it draws with its harmonics and the pulses that its path leaves it; the largest change as a share."""
    found, unrest, coils = {}, 0.0, _has_reactance(network)
    for own, now in zip(network.loads, flow.network.loads, strict=True):
        if own.id in distortion.returned and flow.loads[own.id].power.real > 0:
            lagging = distortion.lagging.get(own.id, 0.0) if coils else 0.0
            found[own.id], change = _with_harmonics(own, now, flow.loads[own.id], distortion.returned[own.id], lagging)
            unrest = max(unrest, change) if change >= 0 else inf
    return found, unrest


def _has_reactance(network: Network) -> bool:
    """Whether harmonics meet any reactance; where not, what other phases return through a shared neutral is none either."""
    at_source = network.source.z_harmonic or network.source.z
    return (any(complex(z).imag for z in at_source.values()) or any(b.mutual or any(w.x for w in b.wires) for b in network.branches)
            or any(load.passive and load.reactive for load in network.loads))


def _leaning(network: Network, heavier: dict[str, Burdened]) -> bool:
    """Whether reactance bends any load's pulses by much: then they bend those of others, and plain turns are slow to rest."""
    return any(abs(heavier[own.id].reactive - own.reactive) > BENT * own.power for own in network.loads if own.id in heavier)


def _with_harmonics(own: Load, now: Load, point: LoadPoint, returned: float, lagging: float) -> tuple[Burdened, float]:
    """A load as its harmonics make it, and how far that is from what it was `now`: in power or in distortion, as a share.

    `returned` (W) is what it gives back at its harmonics, `lagging` (var) the same of reactive power, each order as often as it counts.
    """
    amps, drawn = abs(point.current), point.power.real
    before = hypot(*[share for _, share, _ in now.spectrum])
    felt = returned / (amps * before) ** 2 if amps * before > 1e-9 else 0.0  # the resistance in Ω that its harmonics meet, those of others included
    spectrum, after, late = now.spectrum, before, 0.0
    if own.pulse:
        steep = steepness(now.spectrum)
        coil = lagging / (amps * steep) ** 2 if amps * steep > 1e-9 else 0.0  # the reactance likewise
        way = complex(max(0.0, felt), max(0.0, coil))  # others' harmonics may feed this load
        pulse = widened(θ=own.pulse, V_n=own.voltage, P=own.power, R=way.real, X=way.imag, E=abs(point.voltage + way * point.current))
        spectrum, after, late = pulse.spectrum(own.lead), pulse.distortion, pulse.late
    power = with_returned(P=own.power, κ=felt * (amps * after / drawn) ** 2)
    reactive = own.reactive + late * power
    return Burdened(power, reactive, spectrum), max(abs(power / drawn - 1), abs(after - before), abs(reactive - now.reactive) / drawn)


def with_returned(*, P: float, κ: float) -> float:
    """Power in W at the fundamental of a load that needs P (W) and gives κ·P_1² back; twice P where there is no such power."""
    return 2 * P / (1 + sqrt(max(0.0, 1 - 4 * κ * P)))


def _warmed(network: Network, flow: Flow, distortion: Distortion, warm: Warm) -> tuple[dict[str, dict[str, float]], float]:
    """Resistances (Ω) by branch and conductor at the temperatures that the currents cause, and the largest change of one as a share."""
    found, unrest = {}, 0.0
    for cold, now in zip(network.branches, flow.network.branches, strict=True):
        found[cold.id] = ohms = warm(cold, distortion.rms_currents(cold.id))
        for w in now.wires:
            change = abs(ohms[w.bottom] - w.r) / max(w.r, 1e-12)
            unrest = max(unrest, change) if change >= 0 else inf
    return found, unrest


def _with_resistances(b: Branch, ohms: dict[str, float]) -> Branch:
    """The branch with other resistances (Ω) of its conductors."""
    wires = tuple([Wire(top=w.top, bottom=w.bottom, r=r, x=w.x, joint=w.joint, r_metre=w.r_metre * r / w.r if w.r else w.r_metre)
                   for w in b.wires for r in (ohms[w.bottom],)])
    return Branch(id=b.id, start=b.start, end=b.end, wires=wires, mutual=b.mutual)
