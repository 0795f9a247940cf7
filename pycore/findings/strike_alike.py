"""Which lamps may change places in a strike plan: those that draw alike through alike conductors behind alike devices.

A run that feeds one lamp alone counts by what it is, any other by its name: lamps that share it meet there.
"""

from collections.abc import Iterable, Mapping
from dataclasses import astuple, replace

from pycore.findings.strike_draws import Striking
from pycore.findings.strike_supply import Breaker
from pycore.powerflow.network import Branch, Load, Network
from pycore.rig import graph
from pycore.rig.model import Rig


def alike(rig: Rig, network: Network, lamps: Mapping[str, Striking], breakers: Iterable[Breaker]) -> dict[str, str]:
    """A text for each lamp, the same for those that may change places."""
    branches, loads, devices = {b.id: b for b in network.branches}, {x.id: x for x in network.loads}, {b.place: b for b in breakers}
    return {i: repr((_itself(s), _draws(loads[i]), [_run(rig, i, run.id, branches, devices) for run in graph.path(rig, i)])) for i, s in lamps.items()}


def _itself(s: Striking) -> tuple[object, ...]:
    return s.run_up, s.nominal, s.lines, s.distortion, s.inrush, s.inrush_time, s.low


def _draws(load: Load) -> Load:
    return replace(load, id="", node="")


def _run(rig: Rig, lamp: str, run: str, branches: Mapping[str, Branch], devices: Mapping[str, Breaker]) -> object:
    """A run that serves this lamp alone, as numbers; they are rounded, since they were solved for."""
    if len(graph.below(rig, run)) > 1:
        return run
    wires = [(w.bottom, f"{w.r:.6g}", f"{w.x:.6g}", f"{w.joint:.6g}") for w in branches[run].wires]
    device = devices.get(run)
    return wires, branches[run].mutual, astuple(replace(device, place="")) if device else None
