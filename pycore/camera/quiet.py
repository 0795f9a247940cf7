"""A sweep of the ballast's frequency as it was seen, and the quiet windows in it.

A window reaches from its first quiet reading to its last; nothing is said of what lies beyond or in a gap that was skipped.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

SEEN = {"quiet": "Quiet", "hum": "Hums", "snaking": "Arc snakes", "flicker": "Light flickers", "out": "Arc went out"}
GAP = 2.5  # a step of so many usual steps leaves what lies between unknown
SKIP = 0.08  # and so does one of this share of the frequency, however few were taken


@dataclass(frozen=True, slots=True)
class Seen:
    """What was seen at one frequency (Hz): a key of SEEN."""

    frequency: float
    what: str

    @property
    def quiet(self) -> bool:
        """Nothing was wrong."""
        return self.what == "quiet"


@dataclass(frozen=True, slots=True)
class Window:
    """Quiet from `low` to `high` (Hz), by so many readings."""

    low: float
    high: float
    readings: int

    @property
    def width(self) -> float:
        """Hz."""
        return self.high - self.low

    @property
    def middle(self) -> float:
        """Hz."""
        return (self.low + self.high) / 2


def windows(sweep: Sequence[Seen]) -> list[Window]:
    """Quiet windows, widest first. A frequency seen quiet once and disturbed once is disturbed."""
    made: list[list[float]] = []
    last = None
    at = settled(sweep)
    gap = widest_gap([s.frequency for s in at])
    for s in at:
        if not s.quiet:
            last = None
            continue
        if last is None or s.frequency - last > gap(last):
            made.append([])
        made[-1].append(s.frequency)
        last = s.frequency
    return sorted((Window(min(m), max(m), len(m)) for m in made), key=lambda w: -w.width)


def settled(sweep: Sequence[Seen]) -> list[Seen]:
    """The sweep by frequency, each once, the worst of what was seen there."""
    worst: dict[float, Seen] = {}
    for s in sweep:
        if s.frequency not in worst or worst[s.frequency].quiet:
            worst[s.frequency] = s
    return sorted(worst.values(), key=lambda s: s.frequency)


def widest_gap(frequencies: Sequence[float]):
    """What step (Hz) at a frequency still joins two readings."""
    steps = [b - a for a, b in zip(frequencies, frequencies[1:], strict=False)]
    usual = median(steps) if steps else 0.0
    return lambda f: max(SKIP * f, GAP * usual) if usual <= SKIP * f else SKIP * f


def nearest_disturbed(sweep: Sequence[Seen], frequency: float) -> Seen | None:
    """The disturbed reading nearest to a frequency (Hz)."""
    return min((s for s in settled(sweep) if not s.quiet), key=lambda s: abs(s.frequency - frequency), default=None)
