"""Light over time: periodic, about a mean of 1, in two forms that a shutter window integrates in closed form.

    Series    Fourier components: smooth light
    Outline   straight lines between knots (outline.py): light with dips, edges and pulses, and light that was recorded

A window's average less the mean depends only on what the window has beyond whole periods, divided by its length.
"""

from cmath import exp, phase, pi
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import cos, gcd, sin, tau
from typing import Protocol

from pycore.base.formula import sinc

NEARLY = 1e-9  # of a period: what floats lose in counting periods


@dataclass(frozen=True, slots=True)
class Extremes:
    """The darkest and the brightest window, as shares of the mean light, and when (s) each opens."""

    low: float
    high: float
    opens_low: float
    opens_high: float

    @property
    def spread(self) -> float:
        """Peak to peak."""
        return self.high - self.low


class Wave(Protocol):
    """Periodic light about a mean of 1."""

    @property
    def frequency(self) -> float:
        """Periods a second, Hz."""

    def level(self, t: float) -> float:
        """Light at the time t (s)."""

    def average(self, t: float, T: float) -> float:
        """Average over the window of T (s) that opens at t (s)."""

    def extremes(self, T: float) -> Extremes:
        """The darkest and the brightest of all windows of T (s); T = 0 for the light itself."""

    def component(self, order: int) -> complex:
        """Complex amplitude of cos(2π·order·frequency·t)."""


def whole(x: float) -> float:
    """x, or the whole number that it misses only by the rounding of floats."""
    return float(round(x)) if abs(x - round(x)) < NEARLY * max(1.0, abs(x)) else x


class Kept:
    """Extremes of windows, each found once: plots, searches and lists ask for the same ones over and over."""

    def __init__(self) -> None:
        self._known: dict[float, Extremes] = {}

    def extremes(self, T: float) -> Extremes:
        """Darkest and brightest window of T (s); T = 0 for the light itself."""
        found = self._known.get(T)
        if found is None:
            found = self._known[T] = self._extremes(T)
        return found

    def _extremes(self, T: float) -> Extremes:
        raise NotImplementedError


class Series(Kept):
    """A sum of cosines: 1 + Σ |c|·cos(2π·k·f·t + arg c) for each order k with complex amplitude c."""

    def __init__(self, frequency: float, amplitudes: Mapping[int, complex]):
        super().__init__()
        kept = {k: complex(c) for k, c in amplitudes.items() if c}
        common = gcd(*kept) or 1
        self.frequency = frequency * common
        self.amplitudes = {k // common: c for k, c in kept.items()}

    def level(self, t: float) -> float:
        """Light at t (s)."""
        return 1 + sum((c * exp(2j * pi * k * self.frequency * t)).real for k, c in self.amplitudes.items())

    def component(self, order: int) -> complex:
        """Complex amplitude of an order."""
        return self.amplitudes.get(order, 0j)

    def average(self, t: float, T: float) -> float:
        """Average over T (s) from t (s): each component shrinks by sinc(k·f·T)."""
        middle = t + T / 2
        return 1 + sum((c * exp(2j * pi * k * self.frequency * middle)).real for k, c in self._after(T).items())

    def _after(self, T: float) -> dict[int, complex]:
        """What a window of T leaves of each component."""
        return {k: c * sinc(whole(k * self.frequency * T)) for k, c in self.amplitudes.items()}

    def _extremes(self, T: float) -> Extremes:
        left = {k: c for k, c in self._after(T).items() if abs(c) > 1e-15}
        if not left:
            return Extremes(1.0, 1.0, 0.0, 0.0)
        (dark, low), (bright, high) = _ends(left)
        period = 1 / self.frequency
        return Extremes(1 + low, 1 + high, (dark * period - T / 2) % period, (bright * period - T / 2) % period)

    def shifted(self, turn: float) -> "Series":
        """The same light, its fundamental ahead by `turn` (rad)."""
        return Series(self.frequency, {k: c * exp(1j * k * turn) for k, c in self.amplitudes.items()})


def _ends(amplitudes: dict[int, complex]) -> tuple[tuple[float, float], tuple[float, float]]:
    """(phase in turns, value) of the least and of the greatest of Σ Re(c·e^(2πikφ))."""
    if len(amplitudes) == 1:
        (k, c), = amplitudes.items()
        top = -phase(c) / tau / k
        return ((top + 0.5 / k) % 1, -abs(c)), (top % 1, abs(c))
    parts = [(k, c.real, -c.imag) for k, c in amplitudes.items()]
    count = 12 * max(amplitudes)
    values = [0.0] * count
    for k, even, odd in parts:
        values = [v + even * x + odd * y for v, (x, y) in zip(values, _turn(count, k), strict=True)]
    high = max((_climb(parts, j / count, 1 / count) for j in _tops(values)), key=lambda top: top[1])
    down = [(k, -even, -odd) for k, even, odd in parts]
    low = max((_climb(down, j / count, 1 / count) for j in _tops([-v for v in values])), key=lambda top: top[1])
    return (low[0], -low[1]), high


def _tops(values: list[float]) -> list[int]:
    """Where the samples peak near their greatest."""
    enough = max(values) - 0.05 * (max(values) - min(values))
    return [j for j, v in enumerate(values) if v >= enough and v >= values[j - 1] and v >= values[(j + 1) % len(values)]]


def _climb(parts: list[tuple[int, float, float]], start: float, reach: float) -> tuple[float, float]:
    """(phase, value) of the peak within `reach` of a phase, by Newton's method on the slope."""
    at = start
    for _ in range(5):
        slope = curve = 0.0
        for k, even, odd in parts:
            x, y = cos(tau * k * at), sin(tau * k * at)
            slope += k * (odd * x - even * y)
            curve -= k * k * (even * x + odd * y)
        if not curve < 0:
            break
        step = slope / curve / tau
        at = min(max(at - step, start - reach), start + reach)
        if abs(step) < 1e-6:  # of a turn: the value is then good to its square
            break
    return at % 1, sum(even * cos(tau * k * at) + odd * sin(tau * k * at) for k, even, odd in parts)


@lru_cache(maxsize=256)
def _turn(count: int, order: int) -> tuple[tuple[float, float], ...]:
    """Cosine and sine of an order all round, in `count` steps."""
    return tuple((cos(tau * order * j / count), sin(tau * order * j / count)) for j in range(count))
