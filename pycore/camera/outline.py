"""Light drawn in straight lines: dips, edges, pulses, and light that was recorded."""

from bisect import bisect_right
from cmath import exp
from collections.abc import Iterable
from itertools import accumulate
from math import tau

from pycore.camera.waveform import Extremes, Kept, whole


class Outline(Kept):
    """Straight lines between knots (time in s, level), repeated every `period` (s); scaled to a mean of 1."""

    def __init__(self, period: float, knots: Iterable[tuple[float, float]]):
        super().__init__()
        placed = sorted(((t % period, level) for t, level in knots), key=lambda knot: knot[0])
        first = placed[0][0]
        times = [t - first for t, _ in placed] + [period]
        levels = [level for _, level in placed] + [placed[0][1]]
        steps = [b - a for a, b in zip(times, times[1:], strict=False)]
        mean = sum(w * (a + b) / 2 for w, a, b in zip(steps, levels, levels[1:], strict=False)) / period
        self.period, self.first, self.times = period, first, times
        self.levels = [level / mean for level in levels]
        self.slopes = [(b - a) / w if w else 0.0 for w, a, b in zip(steps, self.levels, self.levels[1:], strict=False)]
        excess = (w * ((a + b) / 2 - 1) for w, a, b in zip(steps, self.levels, self.levels[1:], strict=False))
        self.areas = list(accumulate(excess, initial=0.0))

    @property
    def frequency(self) -> float:
        """Periods a second, Hz."""
        return 1 / self.period

    def level(self, t: float) -> float:
        """Light at t (s)."""
        return self._level((t - self.first) % self.period)

    def _level(self, t: float) -> float:
        """Light at t (s) after the first knot, within a period."""
        i = bisect_right(self.times, t, 1, len(self.slopes)) - 1
        return self.levels[i] + self.slopes[i] * (t - self.times[i])

    def _area(self, t: float) -> float:
        """Integral of light less mean from the first knot to t, within a period."""
        i = bisect_right(self.times, t, 1, len(self.slopes)) - 1
        past = t - self.times[i]
        return self.areas[i] + past * (self.levels[i] - 1 + self.slopes[i] * past / 2)

    def _beyond(self, T: float) -> float:
        """What a window has beyond whole periods."""
        count = whole(T / self.period)
        return (count - int(count)) * self.period

    def average(self, t: float, T: float) -> float:
        """Average over T (s) from t (s), exact."""
        start = (t - self.first) % self.period
        end = (start + self._beyond(T)) % self.period
        return 1 + (self._area(end) - self._area(start)) / T

    def _extremes(self, T: float) -> Extremes:
        """They open or close at a knot, or where the light is alike at both ends."""
        if T <= 0:
            low, high = min(self.levels), max(self.levels)
            return Extremes(low, high, *(self.first + self.times[self.levels.index(end)] for end in (low, high)))
        beyond = self._beyond(T)
        if not beyond:
            return Extremes(1.0, 1.0, 0.0, 0.0)
        (low_area, low_at), (high_area, high_at) = self._openings(beyond)
        return Extremes(1 + low_area / T, 1 + high_area / T, (self.first + low_at) % self.period, (self.first + high_at) % self.period)

    def _openings(self, beyond: float) -> tuple[tuple[float, float], tuple[float, float]]:
        """(excess area, opening time) of the darkest and the brightest window, along all openings in a period."""
        opens = self._slopes(beyond)
        start, slope = opens[0]
        area = self._area((start + beyond) % self.period) - self._area(start)
        low, low_at, high, high_at = area, start, area, start
        for after, next_slope in opens[1:]:
            step = after - start
            if slope * next_slope < 0:
                turn = step * slope / (slope - next_slope)
                top = area + slope * turn / 2
                if top > high:
                    high, high_at = top, start + turn
                elif top < low:
                    low, low_at = top, start + turn
            area += step * (slope + next_slope) / 2
            start, slope = after, next_slope
            if area > high:
                high, high_at = area, start
            elif area < low:
                low, low_at = area, start
        return (low, low_at), (high, high_at)

    def _slopes(self, beyond: float) -> list[tuple[float, float]]:
        """(opening time, slope of the excess area) wherever a window opens or closes at a knot, in order, the first once more at the end."""
        period, times, levels, slopes, last = self.period, self.times, self.levels, self.slopes, len(self.slopes)
        opens = []
        for t, here in zip(times[:-1], levels, strict=False):
            end = (t + beyond) % period
            i = bisect_right(times, end, 1, last) - 1
            opens.append((t, levels[i] + slopes[i] * (end - times[i]) - here))
            start = (t - beyond) % period
            i = bisect_right(times, start, 1, last) - 1
            opens.append((start, here - levels[i] - slopes[i] * (start - times[i])))
        opens.sort()
        opens.append((period, opens[0][1]))
        return opens

    def component(self, order: int) -> complex:
        """Complex amplitude of an order, from the slopes."""
        w = tau * order / self.period
        turned = [exp(-1j * w * (t + self.first)) for t in self.times]
        return 2 / self.period / w**2 * sum(s * (b - a) for s, a, b in zip(self.slopes, turned, turned[1:], strict=False))
