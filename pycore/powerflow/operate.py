"""The rig at work: fundamental and harmonics with every conductor as warm as its own current makes it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import hypot, inf

from pycore.powerflow.flow import Flow, State
from pycore.powerflow.fundamental import solve
from pycore.powerflow.harmonics import Distortion, distort
from pycore.powerflow.network import Branch, Network, Wire

MOST = 25  # turns
REST = 5e-4  # change of a resistance, as a share, that counts as rest: a tenth of a kelvin

Warm = Callable[[Branch, dict[str, float]], dict[str, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """Flow and harmonics at the temperatures that they cause; `distortion` is None without a solution.

    `turns` counts how often the temperatures were corrected, `unrest` is the last change of any resistance as a share.
    """

    flow: Flow
    distortion: Distortion | None
    turns: int
    unrest: float


def operate(network: Network, warm: Warm | None = None) -> Operation:
    """Steady state of a network given with its cold resistances.

    `warm(branch, rms currents in A by conductor)` returns resistances in Ω by conductor (as named at the branch's end); it
    is asked again until they rest. Raises `Refused` for what is no network.
    """
    flow = solve(network)
    if not flow.solved or warm is None:
        return Operation(flow=flow, distortion=distort(flow) if flow.solved else None, turns=0, unrest=0.0)
    distortion = distort(flow)
    harmonic = {b.id: distortion.harmonic_rms(b.id) for b in network.branches}  # hardly depend on temperature
    for turn in range(1, MOST + 1):
        following, unrest = _warmed(network, flow, harmonic, warm)
        if unrest <= REST:
            return Operation(flow=flow, distortion=distort(flow), turns=turn, unrest=unrest)
        if not unrest < inf:
            break
        flow = solve(following, flow)
        if not flow.solved:
            return Operation(flow=flow, distortion=None, turns=turn, unrest=unrest)
    return Operation(flow=replace(flow, state=State.UNSETTLED), distortion=None, turns=turn, unrest=unrest)


def _warmed(network: Network, flow: Flow, harmonic: dict[str, dict[str, float]], warm: Warm) -> tuple[Network, float]:
    """The network at the temperatures that its currents cause, and the largest change of a resistance as a share."""
    branches, unrest = [], 0.0
    before = {b.id: b for b in flow.network.branches}
    for cold in network.branches:
        more = harmonic[cold.id]
        ohms = warm(cold, {c: hypot(abs(i), more[c]) for c, i in flow.currents(cold.id).items()})
        wires = tuple([_at(w, ohms[w.bottom]) for w in cold.wires])
        for new, old in zip(wires, before[cold.id].wires, strict=True):
            change = abs(new.r - old.r) / max(old.r, 1e-12)
            unrest = max(unrest, change) if change >= 0 else inf
        branches.append(Branch(id=cold.id, start=cold.start, end=cold.end, wires=wires, mutual=cold.mutual))
    return replace(network, branches=tuple(branches)), unrest


def _at(w: Wire, r: float) -> Wire:
    """The wire with another resistance (Ω)."""
    return Wire(top=w.top, bottom=w.bottom, r=r, x=w.x, joint=w.joint, r_metre=w.r_metre * r / w.r if w.r else w.r_metre)
