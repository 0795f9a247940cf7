"""Plots of light and shutter: the waveform with its windows, the difference against the frame rate, a ramp over time."""

from collections.abc import Iterable, Sequence
from math import ceil, log, pi

from pycore.base.quantity import Quantity
from pycore.base.result import term
from pycore.camera.clocks import Mix
from pycore.camera.outline import Outline
from pycore.camera.take import Limits, Take
from pycore.camera.waveform import Series, Wave
from pycore.findings.common import percent
from pycore.findings.plots import Axis, Band, Line, Mark, Plot
from pycore.findings.scene import Scene

MOST_POINTS = 900
SLICES = 140
FLOOR = 0.1  # %: nothing smaller is drawn on the logarithmic axis; it is a twentieth of what shows
SLOWEST = 1.0  # fps


def waveform(s: Scene) -> Plot:
    """Two frames or two pulses of light, whichever is longer, with the shutter open over the darkest frame first."""
    T = s.seen.T
    frame = 1 / _rate_at(s.take, T) if s.take.fastest else 2 * T
    opens = _darkest(s.together, T)
    length = min(max(2 * frame, 2 * _slowest_pulse(s.together)), 40 * frame)
    start = opens - 0.15 * frame
    windows = [opens + i * frame for i in range(ceil(length / frame))]
    averages = [1 + sum(g.share * (g.wave.average(t, T) - 1) for g in s.together.groups) for t in windows]
    bands = [Band(f"Frame {i + 1}: {percent(a)} of the mean", 1e3 * (t - start), 1e3 * (t - start + T)) for i, (t, a) in enumerate(zip(windows, averages, strict=True))]
    lines = [Line(name, [(1e3 * (t - start), 100 * y) for t, y in points]) for name, points in _drawn(s.together, start, start + length + 0.3 * frame)]
    says = f"The light of {_names(s)} over {Quantity(length, 's')}, the shutter open for {Quantity(T, 's')} a frame; frames drawn get from {percent(min(averages))} to {percent(max(averages))} of the mean"
    return Plot(id="waveform", title="Light and shutter", says=says, x=Axis("Time", "ms"), y=Axis("Light, of its mean", "%"), lines=lines, bands=bands)


def _names(s: Scene) -> str:
    return " and ".join(s.rig.loads[i].name or i for i in s.lights)


def _rate_at(take: Take, T: float) -> float:
    return take.angle / (2 * pi * T) if take.ramps else take.fastest


def _darkest(mix: Mix, T: float) -> float:
    """When the darkest window of the strongest group opens."""
    group = max(mix.groups, key=lambda g: g.share * g.wave.extremes(T).spread, default=None)
    return group.wave.extremes(T).opens_low if group else 0.0


def _slowest_pulse(mix: Mix) -> float:
    return max((1 / g.wave.frequency for g in mix.groups), default=0.0)


def _drawn(mix: Mix, start: float, end: float) -> list[tuple[str, list[tuple[float, float]]]]:
    """The light as a line; as its upper and lower edge where it pulses too fast to be drawn."""
    if not mix.groups:
        return [("Light", [(start, 1.0), (end, 1.0)])]
    times = sorted({start, end, *(start + (end - start) * i / 300 for i in range(300)), *(t for g in mix.groups for t in _corners(g.wave, start, end))})
    if len(times) <= MOST_POINTS:
        return [("Light", [(t, _level(mix, t)) for t in times])]
    width = (end - start) / SLICES
    slices = [(start + (i + 0.5) * width, [_edges(g.wave, start + i * width, width) for g in mix.groups]) for i in range(SLICES)]
    return [(name, [(t, 1 + sum(g.share * (e[k] - 1) for g, e in zip(mix.groups, edges, strict=True))) for t, edges in slices])
            for k, name in ((1, "Most light"), (0, "Least light"))]


def _level(mix: Mix, t: float) -> float:
    return 1 + sum(g.share * (g.wave.level(t) - 1) for g in mix.groups)


def _corners(wave: Wave, start: float, end: float) -> Iterable[float]:
    """Where a wave must not be sampled past: the knots of an outline, the tops of a series."""
    period = 1 / wave.frequency
    if (end - start) / period > MOST_POINTS:
        yield from (start + (end - start) * i / (2 * MOST_POINTS) for i in range(2 * MOST_POINTS))
        return
    inside = [t + wave.first for t in wave.times[:-1]] if isinstance(wave, Outline) else [i * period / _fine(wave) for i in range(_fine(wave))]
    for n in range(int(start / period) - 2, int(end / period) + 2):
        yield from (t + n * period for t in inside if start <= t + n * period <= end)


def _fine(wave: Wave) -> int:
    return 12 * max(wave.amplitudes, default=1) if isinstance(wave, Series) else 1


def _edges(wave: Wave, start: float, width: float) -> tuple[float, float]:
    """Least and most light in a slice of time."""
    if width >= 1 / wave.frequency:
        ends = wave.extremes(0.0)
        return ends.low, ends.high
    levels = [wave.level(start + width * i / 8) for i in range(9)]
    return min(levels), max(levels)


def against_rate(title: str, mixes: Sequence[tuple[str, Mix]], angle: float, limits: Limits, marks: Sequence[Mark], fastest: float) -> Plot:
    """Difference between frames against the frame rate at one shutter angle (rad)."""
    lines = [Line(name, [(r, max(FLOOR, 100 * mix.spread(angle / (2 * pi * r)))) for r in _rates(mix, angle, fastest)]) for name, mix in mixes]
    degrees = term(angle, "°").quantity
    return Plot(id="rates", title=title, says=f"Difference between frames from {SLOWEST:g} to {fastest:.0f} fps at {degrees}; up to {percent(limits.steady)} does not show",
                x=Axis("Frame rate", "fps", "log"), y=Axis("Difference between frames, peak to peak", "%", "log"), lines=lines, marks=marks,
                levels=(("does not show below", 100 * limits.steady), ("spoils the shot above", 100 * limits.spoiled)))


def _rates(mix: Mix, angle: float, fastest: float) -> list[float]:
    """Even steps on a logarithmic axis, and the rates where exposures hold whole pulses."""
    steps = {SLOWEST * (fastest / SLOWEST) ** (i / SLICES) for i in range(SLICES + 1)}
    whole = {angle / (2 * pi) * g.wave.frequency / n for g in mix.groups for n in range(1, 13)}
    return sorted(steps | {r for r in whole if SLOWEST <= r <= fastest})


def ramp(s: Scene) -> Plot:
    """Difference between frames along a ramp, with its steady parts."""
    assert s.shot.frame_rate and s.shot.ramp_to and s.shot.ramp_time
    first, last, lasts = s.shot.frame_rate.value, s.shot.ramp_to.value, s.shot.ramp_time.value
    turn = s.take.angle / (2 * pi)

    def when(T: float) -> float:
        return (turn / T - first) / (last - first) * lasts

    ratio = log(s.take.longest / s.take.shortest) / SLICES
    even = [s.take.longest - (s.take.longest - s.take.shortest) * i / 30 for i in range(31)]
    lengths = sorted({*even, *(s.take.shortest * 2.718281828459045 ** (ratio * i) for i in range(SLICES)), *(x.short for x in s.seen.stretches)}, key=when)
    line = Line("Difference between frames", [(when(T), max(FLOOR, 100 * s.mix.spread(T))) for T in lengths], [str(Quantity(turn / T, "fps")) for T in lengths])
    bands = [Band(f"{'Steady' if x.steady else 'Not steady'} {_span(turn / x.long, turn / x.short)}",
                  min(when(x.long), when(x.short)), max(when(x.long), when(x.short)), "clear" if x.steady else "stop") for x in s.seen.stretches]
    worst = Mark(f"Worst, {Quantity(turn / s.seen.T, 'fps')}", when(s.seen.T), 100 * s.seen.spread, str(s.seen.verdict))
    return Plot(id="ramp", title="Along the ramp", says=f"Difference between frames from {Quantity(first, 'fps')} to {Quantity(last, 'fps')} in {Quantity(lasts, 's')}; {percent(s.seen.spread)} where it is worst",
                x=Axis("Time", "s"), y=Axis("Difference between frames, peak to peak", "%", "log"), lines=[line], marks=[worst], bands=sorted(bands, key=lambda b: b.start),
                levels=(("does not show below", 100 * s.limits.steady), ("spoils the shot above", 100 * s.limits.spoiled)))


def _span(low: float, high: float) -> str:
    """From one rate (1/s) to another, or at the one that both are told as."""
    ends = [str(Quantity(rate, "fps")) for rate in (low, high)]
    return f"at {ends[0]}" if ends[0] == ends[1] else f"from {ends[0]} to {ends[1]}"
