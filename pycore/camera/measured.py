"""What a recording says of its light: its fundamental and harmonics, one period of it, and the usual figures."""

from dataclasses import dataclass, replace
from statistics import median

from pycore.base.formula import sinc
from pycore.base.problem import refuse
from pycore.camera import spectrum
from pycore.camera.components import MOST
from pycore.camera.recording import Samples

STEADY = 1e-3  # amplitude over mean below which light is called steady
DEEPEST = 8  # how far below the strongest tone the fundamental is looked for
FAINT = 3e-3  # of the strongest tone; fainter ones do not decide the fundamental
DRIFT = 0.03  # over the recording; less may be a period cut short
HIGHEST = 0.45  # of the sample rate; nothing faster is believed
WEAKEST = 0.3  # a tone that the exposure of a clip has left less of cannot be restored


@dataclass(frozen=True, slots=True)
class Measured:
    """A recording read. `frequency` (Hz) is 0 for steady light; `amplitudes` are complex, over the mean, of order 1, 2, ...;
    `folded` is one period about a mean of 1."""

    frequency: float
    amplitudes: tuple[complex, ...]
    folded: tuple[float, ...]
    main: int  # order of the strongest component
    noise: float  # rms of what does not repeat, over the mean
    mean: float
    samples: Samples
    notes: tuple[str, ...]

    def asymmetry(self, current: float | None = None) -> float:
        """Amplitude at the frequency of the lamp's current (Hz), where that is known; else at half that of the strongest component, where
        it is the lesser one: what unequal half-cycles leave."""
        if current and self.frequency:
            order = round(current / self.frequency)
            near = order >= 1 and abs(order * self.frequency / current - 1) < 0.02
            return abs(self.amplitudes[order - 1]) if near and order <= len(self.amplitudes) else 0.0
        if self.main % 2 or not self.main:
            return 0.0
        half, whole = abs(self.amplitudes[self.main // 2 - 1]), abs(self.amplitudes[self.main - 1])
        return half if half < whole / 2 else 0.0


def measure(samples: Samples, dark: float = 0.0) -> Measured:
    """Analyse a recording; `dark` is the level read without light. Raises `Refused` for levels that cannot be light."""
    levels, mean, notes = _cleaned(samples, dark)
    tones, noise, width = spectrum.peaks(levels, samples.rate, mean)
    tones = [(f, a) for f, a in tones if f > 2.5 * width]
    if not tones or tones[0][1] < STEADY:
        folded = tuple(_folded(levels, 8, mean, len(levels) / samples.rate, samples.rate))
        return Measured(0.0, (), folded, 0, _rms(levels, mean), mean, samples, (*notes, "No ripple stands out of the noise"))
    strongest = spectrum.sharpened(levels, samples.rate, tones[0][0])
    f = strongest / _order(tones, strongest, width)
    amplitudes = _amplitudes(levels, samples.rate, f, mean, noise)
    period = _folded(levels, _bins(samples.rate, f, len(levels)), mean, 1 / f, samples.rate)
    if max((abs(c) for c in amplitudes), default=0.0) < STEADY:
        return Measured(0.0, (), tuple(period), 0, _rms(levels, mean), mean, samples, (*notes, "No ripple stands out of the noise"))
    main = 1 + max(range(len(amplitudes)), key=lambda k: abs(amplitudes[k]))
    return Measured(f, tuple(amplitudes), tuple(period), main, _left_over(levels, period, f, samples.rate, mean), mean, samples, notes)


def _cleaned(samples: Samples, dark: float) -> tuple[list[float], float, tuple[str, ...]]:
    """Levels without dark level, slow drift and lone spikes."""
    levels, notes = [x - dark for x in samples.levels], list(samples.notes)
    mean = sum(levels) / len(levels)
    if not mean > 0:
        raise refuse("no-light", "The levels are not above the dark level", "Check the dark level, and which column is the light")
    levels, spikes = _without_spikes(levels)
    if spikes:
        notes.append(f"{spikes} lone spikes were taken out")
    slope = _slope(levels)
    if abs(slope) * len(levels) > DRIFT * mean:
        middle = (len(levels) - 1) / 2
        levels = [x * mean / (mean + slope * (i - middle)) for i, x in enumerate(levels)]
        notes.append(f"A slow drift of {100 * slope * len(levels) / mean:+.1f} % over the recording was taken out")
    if min(levels) < -0.02 * mean:
        notes.append("Some levels are below zero: enter the dark level, or percent flicker comes out too large")
    top = max(levels)
    if sum(x >= top - 1e-9 * abs(top) for x in levels) > 0.05 * len(levels):
        notes.append("The top is flat: either the light is, or the recording was clipped")
    return levels, sum(levels) / len(levels), tuple(notes)


def _without_spikes(levels: list[float]) -> tuple[list[float], int]:
    """Single samples far from both neighbours, drawn over; left alone where there are so many that they may be the light itself."""
    jumps = median(abs(b - a) for a, b in zip(levels, levels[1:], strict=False)) or (max(levels) - min(levels)) / 1000
    lone = [i for i in range(1, len(levels) - 1) if min(abs(levels[i] - levels[i - 1]), abs(levels[i] - levels[i + 1])) > 30 * jumps
            and (levels[i] - levels[i - 1]) * (levels[i] - levels[i + 1]) > 0 and abs(levels[i + 1] - levels[i - 1]) < 10 * jumps]
    if not lone or len(lone) > max(3, 0.002 * len(levels)):
        return levels, 0
    mended = list(levels)
    for i in lone:
        mended[i] = (levels[i - 1] + levels[i + 1]) / 2
    return mended, len(lone)


def _slope(levels: list[float]) -> float:
    """Least-squares slope, per sample."""
    count, middle = len(levels), (len(levels) - 1) / 2
    return sum((i - middle) * x for i, x in enumerate(levels)) / (count * (count**2 - 1) / 12)


def _order(tones: list[tuple[float, float]], strongest: float, width: float) -> int:
    """Which multiple of the fundamental the strongest tone (Hz) is: the least that explains nearly all that any would."""
    size = tones[0][1]
    loud = [(f, a) for f, a in tones if a >= FAINT * size]
    explained = {k: _explained(loud, strongest / k, width) for k in range(1, DEEPEST + 1) if strongest / k > 4 * width}
    enough = max(explained.values(), default=0.0) - (FAINT * size) ** 2 / 2
    return min((k for k, power in explained.items() if power >= enough), default=1)


def _explained(tones: list[tuple[float, float]], fundamental: float, width: float) -> float:
    return sum(a * a for f, a in tones if round(f / fundamental) >= 1 and abs(f - round(f / fundamental) * fundamental) < 0.4 * width)


def _amplitudes(levels: list[float], rate: float, f: float, mean: float, noise: float) -> list[complex]:
    """Components up to the highest that can be believed; those lost in the noise are 0, and none follow the last."""
    count = max(1, min(MOST, int(HIGHEST * rate / f)))
    enough = levels[: int(max(8192, 12 * rate / f))]
    kept = [c / mean if abs(c) > max(4 * noise, 2e-4) * mean else 0j for c in spectrum.tones([x - mean for x in enough], rate, f, count)]
    while kept and not kept[-1]:
        kept.pop()
    return kept


def _bins(rate: float, f: float, count: int) -> int:
    """Steps of a folded period: no more than its samples fill, ten in each."""
    return int(max(8, min(400, count / 10, 4 * rate / f)))


def _fold(levels: list[float], bins: int, turn: float) -> list[float | None]:
    """All periods laid over one another and averaged step by step; `turn` is the part of a period from sample to sample."""
    sums, counts = [0.0] * bins, [0] * bins
    for i, x in enumerate(levels):
        at = int(i * turn % 1 * bins) % bins
        sums[at] += x
        counts[at] += 1
    return [total / n if n else None for total, n in zip(sums, counts, strict=True)]


def _folded(levels: list[float], bins: int, mean: float, period: float, rate: float) -> list[float]:
    """One period about a mean of 1; an empty step takes its neighbour's level."""
    steps, last = _fold(levels, bins, 1 / rate / period), mean
    found = []
    for x in steps:
        last = x if x is not None else last
        found.append(last / mean)
    return found


def _left_over(levels: list[float], period: list[float], f: float, rate: float, mean: float) -> float:
    bins = len(period)
    return (sum((x / mean - period[int((i * f / rate) % 1 * bins) % bins]) ** 2 for i, x in enumerate(levels)) / len(levels)) ** 0.5


def _rms(levels: list[float], mean: float) -> float:
    return (sum((x / mean - 1) ** 2 for x in levels) / len(levels)) ** 0.5


def of_frames(found: Measured, exposure: float | None, expected: float | None) -> Measured:
    """A reading of the mean brightness of each frame of a clip, put right for what its exposure (s) smooths away, and for pulses faster than
    half the frame rate, which show at a false frequency: they are put at the one `expected` (Hz)."""
    if not found.frequency:
        return found
    found = _unfolded(found, expected)
    if exposure is None:
        return replace(found, notes=(*found.notes, "The clip's exposure time is not entered: ripple comes out too small"))
    left = [sinc(k * found.frequency * exposure) for k in range(1, len(found.amplitudes) + 1)]
    restored = tuple(c / s if abs(s) >= WEAKEST else 0j for c, s in zip(found.amplitudes, left, strict=True))
    lost = [k for k, (c, s) in enumerate(zip(found.amplitudes, left, strict=True), 1) if c and abs(s) < WEAKEST]
    notes = found.notes + ((f"The clip's exposure smooths away components of order {', '.join(map(str, lost))}: not restored",) if lost else ())
    return replace(found, amplitudes=restored, notes=notes)


def _unfolded(found: Measured, expected: float | None) -> Measured:
    """The reading at the frequency expected, where that shows at the one that was read."""
    rate = found.samples.rate
    seen = found.frequency * found.main
    if expected is None or abs(seen - expected) <= 0.02 * expected:
        notes = () if expected else (f"Pulses faster than {rate / 2:g} Hz would show at a false frequency",)
        return replace(found, notes=found.notes + notes)
    shows = abs(expected - rate * round(expected / rate))
    if abs(shows - seen) > max(0.02 * seen, 2 / found.samples.duration):
        return replace(found, notes=(*found.notes, f"The lamp's pulses, {expected:g} Hz, would show at {shows:.3g} Hz in this clip; {seen:.4g} Hz was seen"))
    note = f"Seen at {seen:.4g} Hz, taken as {expected:g} Hz, which a clip of {rate:g} frames a second shows there; its harmonics are not known"
    return replace(found, frequency=expected, amplitudes=(found.amplitudes[found.main - 1],), main=1, notes=(*found.notes, note))
