"""What would make a shot steady: computed, tried, and offered only where it works."""

from collections.abc import Callable, Iterator
from math import log, pi

from pycore.base.result import Remedy
from pycore.base.units import from_si, to_si
from pycore.camera import safe_rates
from pycore.camera.steady import Search, nearest
from pycore.findings import lamp_remedies as lamps
from pycore.findings.lamp_remedies import left
from pycore.findings.scene import Scene

REACHES = (4.0, 32.0)  # how far from the present frame rate one is looked for, first and at most
NARROWEST = 8.0  # degrees; narrower shutters are not offered


def remedies(s: Scene) -> tuple[Remedy, ...]:
    """The nearest ways out, nearest first of each kind."""
    ways = (angle, rate, locked_rate, part_of_ramp, lamps.phases, lamps.frequency, lamps.square_wave, lamps.other_lamp, lamps.share)
    return tuple(r for way in ways for r in way(s))


def angle(s: Scene) -> Iterator[Remedy]:
    """The nearest steady shutter angle, or exposure time of stills."""
    if s.take.ramps:
        return
    longest = 1 / s.take.fastest if s.take.fastest else 60 * s.seen.T
    T = _nearest(s, max(to_si(NARROWEST, "°") / (2 * pi) * (1 / s.take.fastest if s.take.fastest else s.seen.T), 1e-7), longest)
    if T is None:
        return
    at = f"shots/{s.shot.id}"
    if not s.take.fastest or s.take.kind == "time-lapse":
        text, T = _exposure(s, T)
        yield Remedy(f"Expose for {text}: {left(s.at(shortest=T, longest=T))}", ((f"{at}/exposure_time", text),))
        return
    whole = _whole_pulses(s, T)
    if whole:
        text, T = _plain(from_si(2 * pi * whole * s.take.fastest, "°"), 2), whole
    else:
        text, T = _rounded(s, T, lambda T: from_si(2 * pi * T * s.take.fastest, "°"), lambda x: to_si(x, "°") / (2 * pi * s.take.fastest))
    why = "spans whole pulses: steady even if the clocks drift" if whole else f"leaves {left(s.at(shortest=T, longest=T))}, whatever the clocks do"
    yield Remedy(f"Shutter at {text}° {why}", ((f"{at}/exposure_time", ""), (f"{at}/shutter", f"{text}°")))


def _whole_pulses(s: Scene, T: float) -> float | None:
    """The window near T (s) that holds whole pulses of all light that would trouble, or None."""
    pulses = {g.wave.frequency for g in s.mix.groups if g.share * g.wave.extremes(s.seen.T).spread > s.limits.steady / 4}
    exact = round(T * min(pulses)) / min(pulses) if pulses else 0.0
    fits = exact > 0 and abs(T / exact - 1) < 0.02 and all(abs(exact * f - round(exact * f)) < 1e-3 for f in pulses)
    return exact if fits and s.mix.spread(exact) <= s.limits.steady else None


def rate(s: Scene) -> Iterator[Remedy]:
    """The nearest frame rate that is steady with the same shutter angle."""
    if s.take.kind != "moving" or s.take.ramps or s.shot.exposure_time:
        return
    T = next((T for reach in REACHES if (T := _nearest(s, s.seen.T / reach, s.seen.T * reach)) is not None), None)
    if T is None:
        return
    turn_of = s.take.angle / (2 * pi)
    text, T = _rounded(s, _whole_pulses(s, T) or T, lambda T: turn_of / T, lambda x: turn_of / x)
    yield Remedy(f"{text} fps with this shutter: {left(s.at(shortest=T, longest=T))}, whatever the clocks do", ((f"shots/{s.shot.id}/frame_rate", f"{text} fps"),))


def locked_rate(s: Scene) -> Iterator[Remedy]:
    """The nearest rate that meets every pulse alike, for a global shutter and light on one clock."""
    swinging = {(g.clock, g.wave.frequency) for g in s.mix.groups if g.share * g.wave.extremes(s.seen.T).spread > s.limits.steady}
    if s.take.kind != "moving" or s.take.ramps or s.take.readout or len(swinging) != 1 or s.seen.locked:
        return
    pulses = next(iter(swinging))[1]
    near = min(safe_rates.safe_rates(f_L=pulses, slowest=min(1.0, pulses)), key=lambda f: abs(log(f / s.take.fastest)))
    if s.shot.exposure_time and s.shot.exposure_time.value * near > 1:
        return
    text = _plain(near, 3)
    yield Remedy(f"{text} fps meets every pulse alike, while both clocks hold", ((f"shots/{s.shot.id}/frame_rate", f"{text} fps"),))


def part_of_ramp(s: Scene) -> Iterator[Remedy]:
    """The widest steady part of a ramp."""
    clean = [x for x in s.seen.stretches if x.steady]
    if not clean:
        return
    turn_of = s.take.angle / (2 * pi)
    widest = max(clean, key=lambda x: 1 / x.short - 1 / x.long)
    low, high = turn_of / widest.long, turn_of / widest.short
    if high < 1.05 * low:
        return
    start, end = (low, high) if s.take.slowest == s.shot.frame_rate.value else (high, low)  # type: ignore[union-attr]
    texts = [_plain(x * (1.0005 if x is low and low > s.take.slowest else 0.9995 if x is high and high < s.take.fastest else 1), 1) for x in (start, end)]
    yield Remedy(f"Ramp from {texts[0]} to {texts[1]} fps only", ((f"shots/{s.shot.id}/frame_rate", f"{texts[0]} fps"), (f"shots/{s.shot.id}/ramp_to", f"{texts[1]} fps")))


def _nearest(s: Scene, shortest: float, longest: float) -> float | None:
    """The steady window (s) nearest to the present one, either way; the second way is not followed beyond the first's distance."""
    search, T = Search(s.mix, s.limits.steady), s.seen.T
    below = nearest(search, T, min(shortest, T))
    above = nearest(search, T, max(T, min(longest, T * T / below if below else longest)))
    return min((x for x in (below, above) if x is not None), key=lambda x: abs(log(x / T)), default=None)


def _rounded(s: Scene, T: float, read: Callable[[float], float], back: Callable[[float], float]) -> tuple[str, float]:
    """A setting with as few digits as keep the shot steady, and its window."""
    for places in (0, 1, 2, 3):
        text = _plain(read(T), places)
        if float(text) > 0 and s.mix.spread(back(float(text))) <= s.limits.steady:
            return text, back(float(text))
    return _plain(read(T), 4), T


def _exposure(s: Scene, T: float) -> tuple[str, float]:
    """An exposure time as cameras show it, with as few digits as keep the shot steady."""
    if T >= 0.4:
        text, T = _rounded(s, T, lambda T: T, lambda x: x)
        return f"{text} s", T
    text, T = _rounded(s, T, lambda T: 1 / T, lambda x: 1 / x)
    return f"1/{text} s", T


def _plain(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
