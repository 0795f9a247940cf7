"""The exposure integral by brute force: Gauss-Legendre panels, halved where they disagree. It knows nothing of the
closed forms and is what they are checked against."""

from collections.abc import Callable, Sequence
from math import floor

from pycore.camera.waveform import Wave

_MIDDLE = 128 / 225
_NODES = ((0.5384693101056831, 0.47862867049936647), (0.906179845938664, 0.23692688505618908))


def average(level: Callable[[float], float], *, start: float, length: float, panels: int = 64, close: float = 1e-11) -> float:
    """Average of `level` over `length` (s) from `start` (s).

    Each of the panels is halved until two halves agree with the whole to `close` of the total, at most 40 times.
    """
    width = length / panels
    return sum(_panel(level, start + i * width, width, close * length / panels) for i in range(panels)) / length


def _panel(level: Callable[[float], float], start: float, width: float, close: float) -> float:
    waiting, total = [(start, width, _gauss(level, start, width), 0)], 0.0
    while waiting:
        at, wide, coarse, depth = waiting.pop()
        half = wide / 2
        left, right = _gauss(level, at, half), _gauss(level, at + half, half)
        if abs(left + right - coarse) <= close or depth == 40:
            total += left + right
        else:
            waiting += [(at, half, left, depth + 1), (at + half, half, right, depth + 1)]
    return total


def _gauss(level: Callable[[float], float], start: float, width: float) -> float:
    middle, half = start + width / 2, width / 2
    return half * (_MIDDLE * level(middle) + sum(w * (level(middle + x * half) + level(middle - x * half)) for x, w in _NODES))


def between(wave: Wave, t: float, T: float, bends: Sequence[float]) -> float:
    """Average over T (s) from t (s) of a wave that is smooth between its bends (s, within a period): one whole period and what is left over,
    cut where the wave bends, so that no panel is halved for a corner."""
    period = 1 / wave.frequency
    periods = int(T / period)

    def area(end: float) -> float:
        first, last = floor(t / period) - 1, floor(end / period) + 1
        inside = (b + n * period for n in range(first, last + 1) for b in bends)
        cuts = [t, *sorted(c for c in inside if t < c < end), end]
        return sum(average(wave.level, start=a, length=b - a, panels=2) * (b - a) for a, b in zip(cuts, cuts[1:], strict=False) if b > a)

    return ((periods * area(t + period) if periods else 0.0) + area(t + T - periods * period)) / T


def window(wave: Wave, t: float, T: float, finest: float) -> float:
    """Average of a wave over T (s) from t (s): one whole period and what is left over, each in panels no wider than `finest` (s)."""
    period = 1 / wave.frequency
    periods = int(T / period)
    rest = T - periods * period

    def area(length: float) -> float:
        return average(wave.level, start=t, length=length, panels=min(20_000, int(length / finest) + 8)) * length if length > 0 else 0.0

    return ((periods * area(period) if periods else 0.0) + area(rest)) / T
