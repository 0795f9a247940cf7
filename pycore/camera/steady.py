"""Where a mix of lights is steady: window lengths, and from them frame rates and shutter angles.

The area that a window gains or loses against the mean changes with its length no faster than the light itself swings. So
from any length that is off by some area, no change of answer can lie nearer than that area over the swing: the search
strides as far as that and misses nothing wider than its finest step.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import takewhile

from pycore.camera.clocks import Light

FINEST = 2e-4  # share of the present length below which the search does not split
CLOSE = 1e-6  # of a length: how closely the ends of a steady stretch are found
MARGIN = 0.1  # how far into a steady stretch an advice goes, as a share of the length


@dataclass(frozen=True, slots=True)
class Search:
    """A mix, the peak-to-peak difference allowed, and how fast the excess over it can change with the window's length."""

    mix: Light
    allowed: float

    @property
    def pace(self) -> float:
        """Most that the excess area changes with the length."""
        return self.allowed + self.mix.swing

    def excess(self, T: float) -> float:
        """Area (s) by which windows of T (s) differ more than allowed; negative where they are steady."""
        return (self.mix.spread(T) - self.allowed) * T


@dataclass(frozen=True, slots=True)
class Stretch:
    """Window lengths from `short` to `long` (s) that are all steady, or all not."""

    short: float
    long: float
    steady: bool


def stretches(search: Search, shortest: float, longest: float) -> list[Stretch]:
    """The lengths from shortest to longest (s), cut where steady begins or ends."""
    marks, walk = [shortest], list(strides(search, shortest, longest))
    steady = [walk[0][1] <= 0]
    for (a, before), (b, after) in zip(walk, walk[1:], strict=False):
        if (before <= 0) != (after <= 0):
            marks.append(crossing(search, a, b))
            steady.append(after <= 0)
    return [Stretch(a, b, s) for a, b, s in zip(marks, [*marks[1:], longest], steady, strict=True)]


def strides(search: Search, start: float, end: float) -> Iterator[tuple[float, float]]:
    """(length, excess) from start to end (s), either way, at strides that skip no change of answer."""
    T, pace, way = start, search.pace, 1 if end >= start else -1
    while True:
        excess = search.excess(T)
        yield T, excess
        if T == end:
            return
        T += way * max(abs(excess) / pace, FINEST * T)
        if way * (T - end) > 0:
            T = end


def crossing(search: Search, a: float, b: float) -> float:
    """The length between a and b (s) where the answer changes, on its steady side."""
    good, bad = (a, b) if search.excess(a) <= 0 else (b, a)
    while abs(good - bad) > CLOSE * good:
        middle = (good + bad) / 2
        good, bad = (middle, bad) if search.excess(middle) <= 0 else (good, middle)
    return good


def nearest(search: Search, T: float, end: float) -> float | None:
    """The steady length nearest to T (s) on the way to `end`, a little inside where it can be, or None."""
    before = T
    for at, excess in strides(search, T, end):
        if excess <= 0:
            return _inside(search, crossing(search, before, at) if before != at else at, end)
        before = at
    return None


def _inside(search: Search, edge: float, end: float) -> float:
    """The steadiest length of the stretch that begins at `edge`, no further in than the margin."""
    reach = (1 if end >= edge else -1) * min(MARGIN * edge, abs(end - edge))
    for _ in range(10):
        lengths = [edge + reach * i / 8 for i in range(9)]
        steady = list(takewhile(lambda T: search.excess(T) <= 0, lengths[1:]))
        if len(steady) >= 3:
            break
        reach /= 2
    best = min((edge, *steady), key=search.mix.spread)
    return _lowest(search.mix.spread, max(best - abs(reach) / 8, min(edge, end)), min(best + abs(reach) / 8, max(edge, end)), best)


def _lowest(of: Callable[[float], float], low: float, high: float, known: float) -> float:
    """The least of a function between two ends, by golden section, unless `known` is lower."""
    ratio = (5**0.5 - 1) / 2
    for _ in range(10):
        a, b = high - ratio * (high - low), low + ratio * (high - low)
        low, high = (low, b) if of(a) <= of(b) else (a, high)
    return min((known, (low + high) / 2), key=of)


def always_from(search: Search) -> float | None:
    """The length (s) from which every longer window is steady; None where all are."""
    most = sum(g.share * g.wave.extremes(0.0).spread / g.wave.frequency / 2 for g in search.mix.groups)  # half a period of the full swing
    if most / search.allowed <= 1e-12:
        return None
    before = far = most / search.allowed * (1 + 1e-9)
    for at, excess in strides(search, far, 1e-9):
        if excess > 0:
            return crossing(search, at, before)
        before = at
    return None
