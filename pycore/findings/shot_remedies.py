"""What would make a shot steady: computed, tried, and offered only where it works."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import product
from math import log, pi

from pycore.base.problem import Refused
from pycore.base.quantity import Quantity
from pycore.base.result import Remedy, Verdict
from pycore.base.units import from_si, to_si
from pycore.camera import safe_rates
from pycore.camera.clocks import SUPPLY, turn
from pycore.camera.lamp_light import LampLight, light_of, on_square_of
from pycore.camera.steady import Search, nearest
from pycore.camera.take import Seen
from pycore.findings.common import percent
from pycore.findings.scene import Scene
from pycore.rig.model import Load

NARROWEST = 8.0  # degrees; narrower shutters are not offered
USUAL = (75.0, 150.0, 300.0, 1000.0)  # Hz; settings that square-wave ballasts usually have
MOST_OTHERS = 2
MOST_LAMPS = 6  # whose phases are tried in every way


def remedies(s: Scene) -> tuple[Remedy, ...]:
    """The nearest ways out, nearest first of each kind."""
    ways = (angle, rate, locked_rate, part_of_ramp, phases, frequency, square_wave, other_lamp, share)
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
        yield Remedy(f"Expose for {text}: {_left(s.at(shortest=T, longest=T))}", ((f"{at}/exposure_time", text),))
        return
    whole = _whole_pulses(s, T)
    if whole:
        text, T = _plain(from_si(2 * pi * whole * s.take.fastest, "°"), 2), whole
    else:
        text, T = _rounded(s, T, lambda T: from_si(2 * pi * T * s.take.fastest, "°"), lambda x: to_si(x, "°") / (2 * pi * s.take.fastest))
    why = "spans whole pulses: steady even if the clocks drift" if whole else f"leaves {_left(s.at(shortest=T, longest=T))}, whatever the clocks do"
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
    T = _nearest(s, s.seen.T / 4, s.seen.T * 4)
    if T is None:
        return
    turn_of = s.take.angle / (2 * pi)
    text, T = _rounded(s, _whole_pulses(s, T) or T, lambda T: turn_of / T, lambda x: turn_of / x)
    yield Remedy(f"{text} fps with this shutter: {_left(s.at(shortest=T, longest=T))}, whatever the clocks do", ((f"shots/{s.shot.id}/frame_rate", f"{text} fps"),))


def locked_rate(s: Scene) -> Iterator[Remedy]:
    """The nearest rate that meets every pulse alike, for a global shutter and light on one clock."""
    swinging = [g for g in s.mix.groups if g.share * g.wave.extremes(s.seen.T).spread > s.limits.steady]
    if s.take.kind != "moving" or s.take.ramps or s.take.readout or len(swinging) != 1 or s.seen.locked:
        return
    pulses = swinging[0].wave.frequency
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


def phases(s: Scene) -> Iterator[Remedy]:
    """Another split of the lamps that pulse with the supply over its phases, with the fewest moves."""
    movable = [i for i, light in s.lights.items() if s.rig.loads[i].connection.endswith("-N")
               and any(p.clock == SUPPLY and s.shares[i] * p.wave.extremes(s.seen.T).spread > s.limits.steady / 4 for p in light.parts)]
    if s.rig.supply.system != "three-phase wye" or not 2 <= len(movable) <= MOST_LAMPS:
        return
    now = {i: s.rig.loads[i].connection for i in movable}
    ways = [dict(zip(movable, way, strict=True)) for way in product(("L1-N", "L2-N", "L3-N"), repeat=len(movable))]
    ways.sort(key=lambda way: sum(way[i] != now[i] for i in movable))
    for way in ways[1:]:
        seen = s.under({i: _moved(s, light, way.get(i, "")) for i, light in s.lights.items()})
        if seen.verdict is Verdict.CLEAR:
            moves = [(i, to) for i, to in way.items() if to != now[i]]
            named = ", ".join(f"{_name(s, i)} to {to.partition('-')[0]}" for i, to in moves)
            yield Remedy(f"Plug {named}: the phases then cancel and leave {_left(seen)}", tuple((f"loads/{i}/connection", to) for i, to in moves))
            return


def _moved(s: Scene, light: LampLight, to: str) -> LampLight:
    """The light of a lamp on another phase."""
    if not to:
        return light
    by = turn(to, s.rig.supply.system) - turn(s.rig.loads[light.load].connection, s.rig.supply.system)
    return replace(light, parts=tuple(replace(p, turn=p.turn + by) if p.clock == SUPPLY else p for p in light.parts))


def frequency(s: Scene) -> Iterator[Remedy]:
    """The nearest output frequency of a square-wave ballast that cleans the shot."""
    for i, light in s.lights.items():
        load = s.rig.loads[i]
        if light.form != "dips" or light.frequency is None:
            continue
        for f in candidates(load, light.frequency.value, (s.take.shortest,)):
            seen = _with(s, i, load, f)
            if seen is not None and seen.verdict is Verdict.CLEAR:
                sure = "" if load.pulse.highest_frequency or load.pulse.lowest_frequency else " if it can"
                yield Remedy(f"Set the ballast of {_name(s, i)} to {Quantity(f, 'Hz')}{sure}: {_left(seen)}", ((f"loads/{i}/ballast/output_frequency", f"{_plain(f, 1)} Hz"),))
                break


def candidates(load: Load, now: float, windows: tuple[float, ...]) -> list[float]:
    """Output frequencies (Hz) worth trying, nearest first: the usual settings, or over the ballast's range in steps and where windows (s) hold whole dips."""
    low, high = load.pulse.lowest_frequency, load.pulse.highest_frequency
    if low is None and high is None:
        tried = [f for f in USUAL if abs(f - now) > 0.01 * now]
    else:
        a, b = low.value if low else now, high.value if high else now
        tried = [a + (b - a) * k / 20 for k in range(21)]
        tried += [round(n / (2 * T), 1) for T in windows for n in range(max(1, round(2 * a * T)), min(round(2 * b * T), round(2 * a * T) + 40) + 1)]
        tried = [f for f in tried if a <= f <= b]
    return sorted(set(tried), key=lambda f: abs(log(f / now)))


def square_wave(s: Scene) -> Iterator[Remedy]:
    """A square-wave ballast for an arc lamp that has none."""
    for i, light in s.lights.items():
        load = s.rig.loads[i]
        if load.kind != "arc lamp" or load.ballast.output != "sine" or light.form == "recorded":
            continue
        for f in (USUAL[0], USUAL[-1]):
            seen = _with(s, i, load, f)
            if seen is not None and seen.verdict is Verdict.CLEAR:
                yield Remedy(f"Run {_name(s, i)} on a square-wave ballast at {Quantity(f, 'Hz')}: {_left(seen)}, with dips as they usually are")
                break


def other_lamp(s: Scene) -> Iterator[Remedy]:
    """Other lamps of the rig that are steady on this shot."""
    if len(s.lights) > 1:
        return
    good: list[str] = []
    for i in s.rig.loads:
        if i not in s.lights and len(good) < MOST_OTHERS and _good(s, i):
            good.append(_name(s, i))
    if good:
        yield Remedy(f"{' and '.join(good)} {'are' if len(good) > 1 else 'is'} steady on this shot")


def _good(s: Scene, load_id: str) -> bool:
    try:
        return s.under({load_id: light_of(s.rig, s.rig.loads[load_id])}, {load_id: 1.0}).verdict is Verdict.CLEAR
    except Refused:
        return False


def share(s: Scene) -> Iterator[Remedy]:
    """Less of the lamp that troubles most."""
    lit = {i: light for i, light in s.lights.items() if s.shares[i] > 0}
    if len(lit) > 1:
        worst = max(lit, key=lambda i: s.shares[i] * _alone(s, {i: lit[i]}).spread)
        rest = {i: light for i, light in lit.items() if i != worst}
        without = _alone(s, rest)
        if without.verdict is Verdict.CLEAR:
            most = _most_share(s, worst, rest)
            yield Remedy(f"Let {_name(s, worst)} give no more than {percent(most)} of the light" if most > 0.005 else f"Leave {_name(s, worst)} out of this shot")


def _most_share(s: Scene, worst: str, rest: Mapping[str, LampLight]) -> float:
    """The share of one lamp up to which the mix stays steady, the others keeping their proportions."""
    low, high, others = 0.0, s.shares[worst], sum(s.shares[i] for i in rest)
    for _ in range(10):
        middle = (low + high) / 2
        shares = {worst: middle, **{i: s.shares[i] / others * (1 - middle) for i in rest}}
        low, high = (middle, high) if s.under(s.lights, shares).verdict is Verdict.CLEAR else (low, middle)
    return int(100 * low) / 100


def _alone(s: Scene, lights: Mapping[str, LampLight]) -> Seen:
    total = sum(s.shares[i] for i in lights)
    return s.under(lights, {i: s.shares[i] / total for i in lights})


def _with(s: Scene, load_id: str, load: Load, f: float) -> Seen | None:
    """The shot with one lamp on a square wave of f (Hz), or None where that cannot be."""
    try:
        return s.under({**s.lights, load_id: on_square_of(load, f)})
    except Refused:
        return None


def _nearest(s: Scene, shortest: float, longest: float) -> float | None:
    """The steady window (s) nearest to the present one, either way; the second way is not followed beyond the first's distance."""
    search, T = Search(s.mix, s.limits.steady), s.seen.T
    below = nearest(search, T, min(shortest, T))
    above = nearest(search, T, max(T, min(longest, T * T / below if below else longest)))
    return min((x for x in (below, above) if x is not None), key=lambda x: abs(log(x / T)), default=None)


def _rounded(s: Scene, T: float, read, back) -> tuple[str, float]:  # type: ignore[no-untyped-def]
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


def _left(seen: Seen) -> str:
    return f"{percent(seen.spread)} between frames"


def _name(s: Scene, load_id: str) -> str:
    return s.rig.loads[load_id].name or load_id
