"""Rigs of any size for the benchmarks: boxes of six lamps in chains of four behind one source, a cable of its own for each lamp."""

import random

from pycore.powerflow.kinds import choke, constant_power, tungsten
from pycore.powerflow.network import Branch, Network, wire
from pycore.powerflow.source import supply
from pycore.powerflow.spectrum import typical

FOUR = ("L1", "L2", "L3", "N")


def rig(lamps: int, size: float = 1.0) -> Network:
    """A 230/400 V rig of `lamps` loads of three kinds; `size` scales their power."""
    rnd = random.Random(lamps)
    boxes = max(1, lamps // 6)
    feeders = [Branch(id=f"F{b}", start=f"box {b - 1}" if b % 4 else "tie-in", end=f"box {b}", wires=tuple(wire(c, 0.012, 0.004, 3e-4) for c in FOUR))
               for b in range(boxes)]
    runs, loads = [], []
    for n in range(lamps):
        line, ohms = FOUR[n % 3], rnd.uniform(0.1, 0.2)
        runs.append(Branch(id=f"K{n}", start=f"box {n % boxes}", end=f"lamp {n}", wires=(wire(line, ohms, 0.002, 8e-3), wire("N", ohms, 0.002, 8e-3))))
        loads.append(_load(n, line, size * rnd.choice([300.0, 600.0, 1200.0])))
    return Network(source=supply(node="tie-in", system="three-phase wye", voltage=230, line=0.01 + 0.01j, neutral=0.01 + 0.01j),
                   branches=(*feeders, *runs), loads=tuple(loads))


def _load(n, line, power):
    place = {"id": f"A{n}", "node": f"lamp {n}", "a": line, "b": "N", "voltage": 230.0}
    if n % 4 == 0:
        return tungsten(power, **place)
    if n % 4 == 1:
        return choke(power, 0.5, spectrum=typical()["magnetic"].parts, **place)
    return constant_power(power, -0.97, low=150.0, high=270.0, spectrum=typical()["electronic"].parts, **place)


def warm(branch, amps):
    """Copper that gains 20 K at 30 A."""
    return {w.bottom: w.r * (1 + 0.00393 * 20 * (amps[w.bottom] / 30) ** 2) for w in branch.wires}
