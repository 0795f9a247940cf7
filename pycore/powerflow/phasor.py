"""Phasors: rms values as complex numbers, angles in radians."""

from cmath import rect
from collections.abc import Iterable
from math import hypot, pi

THIRD = 2 * pi / 3


def rms(parts: Iterable[complex]) -> float:
    """Rms of a sum of orders, each an rms phasor."""
    return hypot(*map(abs, parts))


def wye(voltage: float) -> dict[str, complex]:
    """EMFs of three phases, L2 a third of a turn behind L1; `voltage` in V line to neutral."""
    return {"L1": complex(voltage), "L2": rect(voltage, -THIRD), "L3": rect(voltage, THIRD), "N": 0j}


def split(voltage: float) -> dict[str, complex]:
    """EMFs of two legs half a turn apart; `voltage` in V leg to neutral."""
    return {"L1": complex(voltage), "L2": complex(-voltage), "N": 0j}


def single(voltage: float) -> dict[str, complex]:
    """EMF of one phase; `voltage` in V line to neutral."""
    return {"L1": complex(voltage), "N": 0j}


SYSTEMS = {"three-phase wye": wye, "split-phase": split, "single-phase": single}
