"""What a plot shows, as numbers in the units of its axes and as one sentence; the page draws it and lists it as a table."""

from collections.abc import Sequence
from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Axis:
    """Label, unit and scale ("linear" or "log")."""

    label: str
    unit: str
    scale: str = "linear"


@dataclass(frozen=True, slots=True)
class Line:
    """Points to join; `labels`, where given, say more of each."""

    name: str
    points: Sequence[Point]
    labels: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class Mark:
    """A point that matters by itself."""

    label: str
    x: float
    y: float
    verdict: str = ""


@dataclass(frozen=True, slots=True)
class Band:
    """A stretch of the x axis: an open shutter, a steady part of a ramp, a quiet window."""

    label: str
    start: float
    end: float
    verdict: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plot:
    """A plot; `levels` are horizontal lines (label, y)."""

    id: str
    title: str
    says: str
    x: Axis
    y: Axis
    lines: Sequence[Line] = ()
    marks: Sequence[Mark] = ()
    bands: Sequence[Band] = ()
    levels: Sequence[tuple[str, float]] = ()
