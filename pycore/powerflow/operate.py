"""The rig at work: fundamental and harmonics with every conductor as warm as its own current makes it."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from pycore.powerflow.flow import Flow, State
from pycore.powerflow.fundamental import solve
from pycore.powerflow.harmonics import Distortion, distort
from pycore.powerflow.network import Branch, Network

MOST, REST = 25, 1e-6  # turns, and the change of resistance (as a share) that counts as rest

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
    present, unrest = network, 0.0
    for turn in range(MOST):
        flow = solve(present)
        if not flow.solved:
            return Operation(flow=flow, distortion=None, turns=turn, unrest=unrest)
        distortion = distort(flow)
        if warm is None:
            return Operation(flow=flow, distortion=distortion, turns=turn, unrest=0.0)
        following, unrest = _warmed(network, present, distortion, warm)
        if unrest <= REST:
            return Operation(flow=flow, distortion=distortion, turns=turn, unrest=unrest)
        present = following
    return Operation(flow=replace(flow, state=State.UNSETTLED), distortion=None, turns=MOST, unrest=unrest)


def _warmed(network: Network, present: Network, distortion: Distortion, warm: Warm) -> tuple[Network, float]:
    branches, unrest = [], 0.0
    before = {b.id: b for b in present.branches}
    for cold in network.branches:
        ohms = warm(cold, distortion.rms_currents(cold.id))
        wires = tuple(replace(w, r=ohms[w.bottom], r_metre=w.r_metre * (ohms[w.bottom] / w.r if w.r else 1.0)) for w in cold.wires)
        changes = [abs(new.r - old.r) / max(old.r, 1e-12) for new, old in zip(wires, before[cold.id].wires, strict=True)]
        unrest = max(unrest, *(c if c >= 0 else float("inf") for c in changes))
        branches.append(replace(cold, wires=wires))
    return replace(network, branches=tuple(branches)), unrest
