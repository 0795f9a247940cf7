"""What the camera does on a shot, as plain numbers, and the verdict on a mix of light under it."""

from dataclasses import dataclass
from math import pi

from pycore.base.problem import refuse
from pycore.base.result import Verdict
from pycore.camera.clocks import Light, fits
from pycore.camera.frames import contrast
from pycore.camera.steady import Search, Stretch, stretches
from pycore.rig.model import Picture, Shot
from pycore.rig.typical import need, need_choice


@dataclass(frozen=True, slots=True)
class Take:
    """Windows from `shortest` to `longest` (s) at rates from `slowest` to `fastest` (1/s); alike where nothing ramps, rates 0 for stills."""

    kind: str
    shortest: float
    longest: float
    slowest: float = 0.0
    fastest: float = 0.0
    readout: float = 0.0  # s; 0 for a global shutter

    @property
    def ramps(self) -> bool:
        """Whether the window changes while the camera runs."""
        return self.shortest < self.longest

    @property
    def angle(self) -> float:
        """Shutter angle in rad at the faster end."""
        return 2 * pi * self.shortest * self.fastest


@dataclass(frozen=True, slots=True)
class Limits:
    """Differences between frames: up to `steady` does not show, above `spoiled` spoils the shot."""

    steady: float
    spoiled: float

    def verdict(self, spread: float) -> Verdict:
        """Clear, tight or stop."""
        return Verdict.CLEAR if spread <= self.steady else Verdict.TIGHT if spread <= self.spoiled else Verdict.STOP


@dataclass(frozen=True, slots=True)
class Seen:
    """How a mix looks on a take: the greatest difference, the window (s) where it comes, and whether only held clocks keep it steady."""

    verdict: Verdict
    spread: float
    T: float
    locked: bool = False
    stretches: tuple[Stretch, ...] = ()


def limits_of(picture: Picture) -> Limits:
    """The thresholds of a rig. Raises `Refused` for unreadable ones and for a spoiled shot that would not show."""
    steady, spoiled = need(picture, "steady", "picture").value, need(picture, "spoiled", "picture").value
    if spoiled < steady:
        raise refuse("limits-crossed", "What spoils the shot is less than what does not show", "Raise the one or lower the other", "picture/spoiled")
    return Limits(steady, spoiled)


def take_of(shot: Shot) -> Take:
    """The take of a settled shot. Raises `Refused` for missing entries and for exposures longer than a frame."""
    at = f"shots/{shot.id}"
    need_choice(shot, "kind", at)
    readout = need(shot, "readout", at).value if need_choice(shot, "sensor", at) == "rolling" else 0.0
    if shot.kind in ("still", "time-lapse") and shot.exposure_time:
        time = shot.exposure_time.value
        return Take(shot.kind, time, time, readout=readout) if shot.kind == "still" else _fitting(Take(shot.kind, time, time, *2 * (need(shot, "frame_rate", at).value,), readout), at)
    rates = [need(shot, "frame_rate", at).value]
    if shot.kind == "ramp":
        rates.append(need(shot, "ramp_to", at).value)
    slow, fast = min(rates), max(rates)
    if shot.exposure_time:
        return _fitting(Take(shot.kind, shot.exposure_time.value, shot.exposure_time.value, slow, fast, readout), at)
    angle = need(shot, "shutter", at).value
    return Take(shot.kind, angle / (2 * pi * fast), angle / (2 * pi * slow), slow, fast, readout)


def _fitting(take: Take, at: str) -> Take:
    if take.longest * take.fastest > 1 + 1e-9:
        raise refuse("exposure-too-long", "The exposure is longer than a frame lasts", "Enter a shorter exposure or a lower frame rate", f"{at}/exposure_time")
    return take


def see(mix: Light, take: Take, limits: Limits, brief: bool = False) -> Seen:
    """The verdict on a mix under a take; `brief` leaves out where a ramp is steady."""
    return _ramp(mix, take, limits, brief) if take.ramps else _held(mix, take, limits)


def _held(mix: Light, take: Take, limits: Limits) -> Seen:
    T = take.shortest
    spread = mix.spread(T)
    may_lock = spread > limits.steady and take.kind != "still" and take.fastest == take.slowest and any(fits(g.wave.frequency, take.fastest) for g in mix.groups)
    if not may_lock or mix.unlocked(T, take.fastest) > limits.steady:
        return Seen(limits.verdict(spread), spread, T)
    banded = take.readout > 0 and spread > limits.spoiled and _between_rows(mix, T, take.readout) > limits.spoiled
    return Seen(Verdict.STOP if banded else Verdict.TIGHT, spread, T, locked=True)


def _between_rows(mix: Light, T: float, readout: float) -> float:
    """Difference between rows of one picture, at worst."""
    return max(sum(g.share * contrast(g.wave, T, readout) for g in m.groups) for m in mix.mixes)


def _ramp(mix: Light, take: Take, limits: Limits, brief: bool) -> Seen:
    search = Search(mix, limits.steady)
    T = worst_window(search, take.shortest, take.longest, samples=14 if brief else 32)
    spread = mix.spread(T)
    if brief and spread > limits.steady:
        return Seen(limits.verdict(spread), spread, T)
    cut = stretches(search, take.shortest, take.longest)
    missed = [x for x in cut if not x.steady] if spread <= limits.steady else []  # between the samples
    if missed:
        T = worst_window(search, missed[0].short, missed[0].long)
        spread = max(mix.spread(T), limits.steady * (1 + 1e-6))
    return Seen(limits.verdict(spread), spread, T, stretches=tuple(cut))


def worst_window(search: Search, shortest: float, longest: float, samples: int = 32) -> float:
    """The window (s) with the greatest difference: looked for at even ratios, then finely over the first pulses above the shortest,
    where short exposures leave most, and around the best."""
    spread = search.mix.spread
    ratio = (longest / shortest) ** (1 / samples)
    fastest = min((1 / g.wave.frequency for g in search.mix.groups), default=0.0)
    near = [min(longest, shortest + 2 * fastest * i / samples) for i in range(1, samples)]
    T = max([*(shortest * ratio**i for i in range(samples + 1)), *near], key=spread)
    low, high = max(shortest, T - fastest / 8, T / ratio), min(longest, T + fastest / 8, T * ratio)
    return max([T, *(low + (high - low) * i / 8 for i in range(9))], key=spread)
