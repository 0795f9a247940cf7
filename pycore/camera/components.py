"""Recorded light kept in a rig: its components as text, percent of the mean and degrees for each order, "80 at -12; 5 at 30".

A component of order k is |c|·cos(2π·k·f·t + angle).
"""

from cmath import phase, rect
from collections.abc import Sequence
from math import degrees, radians

from pycore.base.problem import Problem, Refused
from pycore.base.units import number
from pycore.camera.outline import Outline
from pycore.camera.waveform import Series

MOST = 64  # orders that are kept
FEWEST_KNOTS, MOST_KNOTS = 64, 192


def written(amplitudes: Sequence[complex]) -> str:
    """The text of components of order 1, 2, ..."""
    return "; ".join(f"{100 * abs(c):.4g} at {degrees(phase(c)):.1f}" for c in amplitudes[:MOST])


def read(text: str, address: str) -> list[complex]:
    """The components of order 1, 2, ... Raises `Refused` with every entry that is no component."""
    found, problems = [], []
    for order, entry in enumerate(text.split(";"), 1):
        size, _, angle = entry.partition(" at ")
        try:
            found.append(rect(number(size) / 100, radians(number(angle))))
        except Refused:
            problems.append(Problem("component-unreadable", f"Component {order}, “{entry.strip()}”, is not “percent at degrees”",
                                    "Import the recording again", address))
    if problems:
        raise Refused(*problems)
    return found


def outline(frequency: float, amplitudes: Sequence[complex]) -> Outline:
    """The light that the components describe, no less than none anywhere."""
    sums = Series(frequency, dict(enumerate(amplitudes, 1)))
    count = max(FEWEST_KNOTS, min(MOST_KNOTS, 6 * len(amplitudes)))
    return Outline(1 / frequency, [(i / count / frequency, max(0.0, sums.level(i / count / frequency))) for i in range(count)])
