"""Which lights share a clock. Lamps that pulse with the mains keep step, and on different phases they partly cancel; every
ballast and every driver keeps time of its own, so that its pulses meet the others' at their worst sooner or later."""

from cmath import exp, pi
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from pycore.camera.waveform import Series, Wave

SUPPLY = "supply"
SLOWEST_ROLL = 0.01  # Hz; a beat that takes longer than a take, and less than what clocks drift
_DEGREES = {"L1-N": 0, "L2-N": -120, "L3-N": 120, "L1-L2": 30, "L2-L3": -90, "L3-L1": 150}


@dataclass(frozen=True, slots=True)
class Part:
    """A periodic part of a lamp's light and the clock that drives it; `turn` is how far the voltage at the lamp is ahead of L1's, rad."""

    clock: str
    wave: Wave
    turn: float = 0.0


@dataclass(frozen=True, slots=True)
class Group:
    """Light on one clock: its share of all the light, its form, and the lamps that give it."""

    clock: str
    share: float
    wave: Wave
    lamps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Mix:
    """All the light on a subject, clock by clock."""

    groups: tuple[Group, ...]

    def extremes(self, T: float) -> tuple[float, float]:
        """Darkest and brightest window of T (s) as shares of the mean, when the clocks meet at their worst."""
        low = high = 1.0
        for g in self.groups:
            ends = g.wave.extremes(T)
            low, high = low + g.share * (ends.low - 1), high + g.share * (ends.high - 1)
        return low, high

    def spread(self, T: float) -> float:
        """Peak to peak difference between windows of T (s), as a share of the mean."""
        low, high = self.extremes(T)
        return high - low

    @property
    def mixes(self) -> tuple["Mix", ...]:
        """Itself, as the only one."""
        return (self,)

    @property
    def swing(self) -> float:
        """Peak to peak of the light itself, as a share of the mean."""
        return sum(g.share * g.wave.extremes(0.0).spread for g in self.groups)

    def unlocked(self, T: float, rate: float) -> float:
        """The difference that remains when every clock holds: that of the groups whose pulses do not fit the frame rate (1/s)."""
        return sum(g.share * g.wave.extremes(T).spread for g in self.groups if not fits(g.wave.frequency, rate))


@dataclass(frozen=True, slots=True)
class Apart:
    """Lights of which nobody said how they are shared: as bad as the worst of them. No mix is worse, for a frame gets from a mix
    no less than its lamps' darkest frames by their shares, and no more than their brightest."""

    mixes: tuple[Mix, ...]

    @property
    def groups(self) -> tuple[Group, ...]:
        """The light on every clock of every lamp, each lamp being all the light."""
        return tuple(g for m in self.mixes for g in m.groups)

    def extremes(self, T: float) -> tuple[float, float]:
        """Those of the worst."""
        return max((m.extremes(T) for m in self.mixes), key=lambda ends: ends[1] - ends[0])

    def spread(self, T: float) -> float:
        """That of the worst."""
        return max(m.spread(T) for m in self.mixes)

    @property
    def swing(self) -> float:
        """That of the worst."""
        return max(m.swing for m in self.mixes)

    def unlocked(self, T: float, rate: float) -> float:
        """That of the worst."""
        return max(m.unlocked(T, rate) for m in self.mixes)


Light = Mix | Apart


def fits(frequency: float, rate: float) -> bool:
    """Whether frames at a rate (1/s) meet the same place of pulses (Hz): a whole number of pulses in each, but for a roll slower than a take."""
    count = round(frequency / rate)
    return count >= 1 and abs(frequency - count * rate) <= min(SLOWEST_ROLL, 0.01 * rate)


def turn(connection: str, system: str) -> float:
    """How far the voltage of a connection is ahead of L1 to neutral, in rad."""
    if system == "split-phase":
        return pi if connection == "L2-N" else 0.0
    return _DEGREES.get(connection, 0) * pi / 180 if system == "three-phase wye" else 0.0


def mix(lights: Iterable[tuple[str, float, Sequence[Part]]], supply_frequency: float) -> Mix:
    """The mix of lights given as (lamp, share, parts). What pulses with the supply (Hz) is summed as phasors; an unequal half-cycle may
    belong to either half, so that where more than one lamp has it, each counts on a clock of its own."""
    listed = list(lights)
    apart: list[Group] = []
    together: dict[str, list[tuple[str, float, dict[int, complex]]]] = defaultdict(list)
    for lamp, share, parts in listed:
        for p in parts:
            if p.clock == SUPPLY and isinstance(p.wave, Series):
                _sort(together, lamp, share, _orders(p, supply_frequency))
            else:
                apart.append(Group(p.clock, share, p.wave, (lamp,)))
    if len(together["odd"]) == 1:
        together["even"] += together.pop("odd")
    summed = [_sum(together["even"], supply_frequency)] if together["even"] else []
    return Mix((*summed, *(_sum([odd], supply_frequency) for odd in together["odd"]), *apart))


def _orders(part: Part, supply_frequency: float) -> dict[int, complex]:
    """Amplitudes by order of the supply's frequency, turned to the phase that feeds the lamp."""
    assert isinstance(part.wave, Series)
    base = round(part.wave.frequency / supply_frequency)
    return {base * k: c * exp(1j * base * k * part.turn) for k, c in part.wave.amplitudes.items()}


def _sort(together: dict[str, list[tuple[str, float, dict[int, complex]]]], lamp: str, share: float, orders: dict[int, complex]) -> None:
    for name, kept in (("even", {k: c for k, c in orders.items() if k % 2 == 0}), ("odd", {k: c for k, c in orders.items() if k % 2})):
        if kept:
            together[name].append((lamp, share, kept))


def _sum(lights: list[tuple[str, float, dict[int, complex]]], frequency: float) -> Group:
    """The lights as one, whose share is that of all its lamps."""
    share = sum({lamp: s for lamp, s, _ in lights}.values())
    total: dict[int, complex] = defaultdict(complex)
    for _, s, orders in lights:
        for k, c in orders.items():
            total[k] += c * s / share if share else 0
    lamps = tuple(dict.fromkeys(lamp for lamp, _, _ in lights))
    return Group(SUPPLY, share, Series(frequency, {k: c for k, c in total.items() if abs(c) > 1e-12}), lamps)
