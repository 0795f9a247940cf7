"""A lamp's own law from light-meter readings.

Readings of power: log light against log power is a straight line, whose slope is the lamp's exponent. Readings of a knob or a
control level say nothing of power; there the readings themselves are the law, and between two of them the stops run straight.
Beyond the readings nothing is known.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, log, log2, sqrt

from pycore.base.problem import Problem, Refused, refuse

MORE = "Meter at two settings at least, further apart"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A setting (share of power, knob or level: 0..1) and the light metered there, in any unit."""

    setting: float
    light: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerLaw:
    """light = full·setting^exponent; `worst` and `typical` are how far readings stand off, in stops. `exact` with two readings."""

    exponent: float
    full: float
    worst: float
    typical: float
    exact: bool

    def light(self, setting: float) -> float:
        """Light at a setting, in the readings' unit."""
        return self.full * float(setting**self.exponent)


def admit(readings: Sequence[Reading]) -> list[Reading]:
    """The readings in rising order. Raises `Refused` with every problem: too few, not positive, the same setting twice."""
    problems = [Problem("reading-unusable", f"Reading {k + 1} must have a setting above 0 and light above 0", "Meter it again or leave it out", f"readings/{k}")
                for k, r in enumerate(readings) if not (0 < r.setting <= 1 + 1e-9 and 0 < r.light < 1e12)]
    if problems:
        raise Refused(*problems)
    rising = sorted(readings, key=lambda r: r.setting)
    if any(b.setting - a.setting < 0.005 for a, b in zip(rising, rising[1:], strict=False)):
        raise refuse("readings-alike", "Two readings are of the same setting", "Take their mean as one reading", "readings")
    if len(rising) < 2:
        raise refuse("readings-few", "One reading gives no law", MORE, "readings")
    return rising


def power_law(readings: Sequence[Reading]) -> PowerLaw:
    """Least squares of log light against log setting. Raises `Refused` for unusable readings and for light that does not rise."""
    rising = admit(readings)
    xs, ys = [log(r.setting) for r in rising], [log(r.light) for r in rising]
    x, y = fsum(xs) / len(xs), fsum(ys) / len(ys)
    slope = fsum((a - x) * (b - y) for a, b in zip(xs, ys, strict=True)) / fsum((a - x) ** 2 for a in xs)
    if not slope > 0:
        raise refuse("light-falls", "The light does not rise with the setting", "Check the readings: meter and lamp still, lamp warm", "readings")
    off = [(b - y - slope * (a - x)) / log(2) for a, b in zip(xs, ys, strict=True)]
    return PowerLaw(exponent=slope, full=2 ** ((y - slope * x) / log(2)), worst=max(map(abs, off)), typical=sqrt(fsum(o * o for o in off) / len(off)), exact=len(rising) == 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnLaw:
    """The readings themselves, rising; between two of them the stops run straight with the setting."""

    readings: tuple[Reading, ...]

    def stops(self, setting: float) -> float:
        """Stops against the highest reading. Raises `Refused` outside the readings."""
        for a, b in zip(self.readings, self.readings[1:], strict=False):
            if a.setting <= setting <= b.setting:
                along = (setting - a.setting) / (b.setting - a.setting)
                return self._of(a) + along * (self._of(b) - self._of(a))
        raise refuse("outside-readings", "This setting lies outside the readings", "Meter there too", "readings")

    def setting(self, stops: float) -> float:
        """The setting that gives these stops. Raises `Refused` outside the readings."""
        for a, b in zip(self.readings, self.readings[1:], strict=False):
            low, high = self._of(a), self._of(b)
            if low <= stops <= high:
                return a.setting + (b.setting - a.setting) * (stops - low) / (high - low)
        raise refuse("outside-readings", "These stops lie outside the readings", "Meter further down", "readings")

    def _of(self, reading: Reading) -> float:
        return log2(reading.light / self.readings[-1].light)


def own_law(readings: Sequence[Reading]) -> OwnLaw:
    """The law of a knob or level. Raises `Refused` for unusable readings and where the light does not rise with the setting."""
    rising = admit(readings)
    if any(not b.light > a.light for a, b in zip(rising, rising[1:], strict=False)):
        raise refuse("light-falls", "The light does not rise with every reading", "Check the readings: meter and lamp still, lamp warm", "readings")
    return OwnLaw(readings=tuple(rising))
