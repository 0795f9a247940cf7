"""Does the camera see steady light?"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import floor, log10, pi

from pycore.base.law import work
from pycore.base.problem import Problem, Refused, refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Finding, Limit, Step, Term, Verdict, term, worst
from pycore.camera import exposure_window as window
from pycore.camera import safe_rates
from pycore.camera.clocks import Mix
from pycore.camera.lamp_light import LampLight, light_of, lights_of
from pycore.camera.take import Take
from pycore.findings import light_steps
from pycore.findings.common import percent
from pycore.findings.scene import Scene, scene, scene_apart, shares_of
from pycore.findings.shot_remedies import remedies
from pycore.rig.model import Load, Rig, Shot
from pycore.rig.typical import need

TEST = "Shoot a test on the day: a waveform of a real lamp can differ, and old lamps flicker in ways of their own."
ALONE, MIXED = "Does the camera see steady light?", "Is the mix of lamps steady?"
DARK = 1e-6  # share of the mean below which a frame counts as unlit


def steady(rig: Rig, load: Load, shot: Shot, advise: bool = True, prove: bool = False) -> Finding:
    """Frame-to-frame difference of one lamp's light on one shot."""
    return judged(alone(rig, load, shot), advise, prove)


def mix(rig: Rig, shot: Shot, advise: bool = True, prove: bool = False) -> Finding:
    """Frame-to-frame difference of all the lamps that light a shot, by their shares: lamps on one clock summed, clocks at their worst."""
    return judged(as_lit(rig, shot), advise, prove)


def alone(rig: Rig, load: Load, shot: Shot) -> Scene:
    """One lamp on one shot. Raises `Refused` for missing entries."""
    return scene(rig, shot, {load.id: light_of(rig, load)}, {load.id: 1.0})


def as_lit(rig: Rig, shot: Shot) -> Scene:
    """All lamps that light a shot, by their shares. Raises `Refused` for missing entries."""
    shares = shares_of(rig, shot)
    return scene(rig, shot, lights_of(rig, shares), shares)


@dataclass(frozen=True, slots=True)
class Apart:
    """A shot of which nobody said what lights it: every lamp by itself, the worst of them, and why others are not known."""

    every: Scene
    worst: Scene
    verdict: Verdict
    problems: tuple[Problem, ...]

    @property
    def count(self) -> int:
        """Lamps that are judged."""
        return len(self.every.lights)

    @property
    def name(self) -> str:
        """The worst lamp."""
        i = next(iter(self.worst.lights))
        return self.every.rig.loads[i].name or i


def by_itself(rig: Rig, shot: Shot, lights: Mapping[str, LampLight], problems: tuple[Problem, ...] = ()) -> Apart:
    """Every lamp of the rig whose light is known on a shot, as if it were alone. Raises `Refused` where none can be judged."""
    if not rig.loads:
        raise refuse("no-lamp", "The rig has no lamp", "Add a lamp")
    if not lights:
        raise Refused(*problems)
    every, scenes = scene_apart(rig, shot, lights), [scene(rig, shot, {i: light}, {i: 1.0}) for i, light in lights.items()]
    verdict = worst(s.seen.verdict for s in scenes)
    shown = max((s for s in scenes if s.seen.verdict is verdict), key=lambda s: s.seen.spread)
    shown = replace(shown, seen=replace(shown.seen, stretches=every.seen.stretches))
    return Apart(every, shown, worst((verdict, *[Verdict.UNKNOWN] * bool(problems))), problems)


def each(it: Apart, advise: bool = True, prove: bool = False) -> Finding:
    """Frame-to-frame difference of the worst lamp, for a shot of which nobody said what lights it; ways out are tried on every lamp."""
    found = judged(it.worst, advise=False, prove=prove)
    if it.count == 1 and not it.problems:
        return judged(it.worst, advise, prove)
    if it.count == 1:
        known = f"that is {it.name}"
    elif it.worst.seen.verdict is Verdict.CLEAR:
        known = f"so it is under each of the {it.count} lamps and any mix of them, {it.name} the least so"
    else:
        known = f"{it.name} is the worst of the {it.count} lamps, and no mix of them is worse"
    rest = "; not known: " + "; ".join(p.message for p in it.problems) if it.problems else ""
    advice = remedies(it.every) if advise and it.verdict in (Verdict.STOP, Verdict.TIGHT) else ()
    return replace(found, verdict=it.verdict, says=f"{found.says}; {known}{rest}", remedies=advice, problems=it.problems)


def exposure(s: Scene) -> tuple[Term, Term | None, tuple[Step, ...]]:
    """Exposure time and frame rate where the difference is greatest, and the working to it."""
    at, shot = f"shots/{s.shot.id}", s.shot
    if s.take.kind == "still":
        return need(shot, "exposure_time", at), None, ()
    rate = need(shot, "frame_rate", at)
    if shot.exposure_time is not None:
        return shot.exposure_time, rate, ()
    angle = need(shot, "shutter", at)
    if s.take.ramps:
        rate = term(angle.value / (2 * pi * s.seen.T), "fps", "frame rate at the worst instant", rests_on=(rate, need(shot, "ramp_to", at)))
    step = work(window.exposure_time, θ=angle, f_c=rate)
    return step.result, rate, (step,)


def judged(s: Scene, advise: bool = True, prove: bool = False) -> Finding:
    """The finding on a scene; `prove` holds the closed form against quadrature."""
    question, title = ("mix-steady", MIXED) if s.shot.lit_by and len(s.lights) == len(s.shot.lit_by) else ("shot-steady", ALONE)
    time, rate, steps = exposure(s)
    own, spread = light_steps.mixed(s.together, s.lights, s.rig.loads, time)
    stops = _stops(s.together, time.value)
    beat = light_steps.beat_steps(s.together, s.lights, time, rate, s.rig.supply.frequency_tolerance, s.shot.clock_tolerance) if rate else ()
    bands = light_steps.band_steps(s.together, time, need(s.shot, "readout", f"shots/{s.shot.id}"), beat[0].result if beat else None) if s.take.readout else ()
    advice = remedies(s) if advise and s.seen.verdict is not Verdict.CLEAR else ()
    angle = nearest_angle(s, rate)
    return Finding(question=question, title=title, place=f"shots/{s.shot.id}", verdict=s.seen.verdict, says=_says(s, stops, beat, bands), demand=spread,
                   limit=Limit("<=", need(s.rig.picture, "steady", "picture")), steps=(*steps, *own, *stops, *beat, *bands, *angle),
                   evidence=light_steps.proof(s.together, time.value) if prove and s.together.groups else None, cautions=(TEST,), remedies=advice)


def _stops(mix: Mix, T: float) -> tuple[Step, ...]:
    """The difference in stops; nothing where the darkest frame gets no light."""
    low, high = mix.extremes(T)
    if low <= DARK:
        return ()
    return (work(window.stops_between, E_2=term(high, "%", "brightest frame, of the mean"), E_1=term(low, "%", "darkest frame, of the mean")),)


def _says(s: Scene, stops: tuple[Step, ...], beat: tuple[Step, ...], bands: tuple[Step, ...]) -> str:
    pictures = "pictures" if s.take.kind in ("still", "time-lapse") else "frames"
    size = f"{percent(s.seen.spread)} between {pictures}, {stops[0].result.quantity}" if stops else f"{percent(s.seen.spread)} between {pictures}, some with no light at all"
    if s.take.ramps:
        return f"{size}, at {_rate(s.take, s.seen.T)} where it is worst; {_part_steady(s)}"
    if s.seen.verdict is Verdict.CLEAR:
        return f"{size}: steady"
    if s.seen.locked:
        return _locked(s, beat, bands)
    if not beat:
        return f"{size}, from one to the next"
    rolling = f", as {_bands(bands[0].result.value)} rolling, {_rows(s)}" if bands and bands[0].result.value >= 0.5 else ""
    return f"{size}, pulsing at {beat[0].result.quantity}, {percent(light_steps.from_frame_to_frame(s.together, s.seen.T, s.take.fastest))} from one frame to the next{rolling}"


def _rows(s: Scene) -> str:
    return f"{percent(light_steps.within_a_picture(s.together, s.seen.T, s.take.readout))} between rows of one picture"


def _locked(s: Scene, beat: tuple[Step, ...], bands: tuple[Step, ...]) -> str:
    drift = next((x.result for x in beat if x.law.endswith(".drift")), None)
    once = f": at worst once in {term(1 / drift.value, 's').quantity}" if drift and drift.value > 0 else ""
    if s.seen.verdict is Verdict.STOP:
        return (f"{_rows(s)}, as {_bands(bands[0].result.value)} standing in it: the sensor is read row by row. "
                f"Every frame is alike while supply and camera clocks hold; if they drift the bands roll{once}")
    return (f"Steady only while supply and camera clocks hold: every frame then meets the pulse at the same place. "
            f"If they drift, up to {percent(s.seen.spread)} between frames, rolling slowly{once}")


def _bands(count: float) -> str:
    return f"{count:.0f} bands" if count >= 1.5 else "one band" if count >= 0.75 else "part of a band"


def _rate(what: Take, T: float) -> str:
    return str(term(what.angle / (2 * pi * T), "fps").quantity)


def _part_steady(s: Scene) -> str:
    """How much of a ramp is steady, and where, fastest first."""
    clean = [x for x in s.seen.stretches if x.steady]
    if not clean:
        return "no part of the ramp is steady"
    if len(clean) == len(s.seen.stretches):
        return "the whole ramp is steady"
    span = [(s.take.angle / (2 * pi * x.long), s.take.angle / (2 * pi * x.short)) for x in clean]
    share = sum(b - a for a, b in span) / (s.take.fastest - s.take.slowest)
    widest = max(span, key=lambda ab: ab[1] - ab[0])
    return f"steady over {percent(share)} of the ramp, mostly from {term(widest[0], 'fps').quantity} to {term(widest[1], 'fps').quantity}"


def nearest_angle(s: Scene, rate: Term | None) -> tuple[Step, ...]:
    """The shutter angle nearest to the present one that spans whole pulses, for light on one clock; nothing where even one pulse outlasts a frame."""
    pulses = next(iter(s.lights.values())).pulses if len(s.together.groups) == 1 else None
    if rate is None or pulses is None:
        return ()
    most = safe_rates.most_pulses(f_c=rate.value, f_L=pulses.value)
    if most < 1:
        return ()
    nearest = min(most, max(1, round(pulses.value * s.seen.T)))
    return (work(safe_rates.safe_angle, f_c=rate, n=float(nearest), f_L=pulses),)


def rounded_down(rate: float) -> Quantity:
    """A highest rate (1/s) as it is told: three figures, rounded down, for a rate rounded up would not be steady."""
    size = 10 ** (floor(log10(rate)) - 2)
    return Quantity(float(f"{floor(rate / size + 1e-9) * size:.6g}"), "fps")


def highest_clean_rate(rig: Rig, load: Load, shot: Shot) -> Step | None:
    """The frame rate up to which a square-wave ballast stays within the threshold at this shutter angle, whatever its pulses."""
    ballast, allowed = load.ballast, rig.picture.steady
    if load.kind != "arc lamp" or ballast.output != "square" or load.recording.components or not (shot.shutter and allowed and ballast.output_frequency):
        return None
    if not (ballast.dip_depth and ballast.commutation_time and ballast.dip_depth.value):
        return None
    dips = term(2 * ballast.output_frequency.value, "Hz", "dips, two for each cycle of the current", rests_on=(ballast.output_frequency,))
    return work(window.highest_rate, v_m=allowed, d=ballast.dip_depth, τ=ballast.commutation_time, f_d=dips, θ=shot.shutter)


