"""Is there light enough for the shot?"""

from dataclasses import dataclass, replace

from pycore.base.law import work
from pycore.base.problem import Problem, Refused
from pycore.base.quantity import Quantity
from pycore.base.result import Finding, Limit, Remedy, Step, Term, Verdict, unknown
from pycore.camera import light_level, take
from pycore.camera.exposure_window import exposure_time
from pycore.findings.colour_apart import colours
from pycore.findings.common import attempt, rule
from pycore.findings.light_now import light_now
from pycore.findings.whole_rig import WholeRig
from pycore.rig.model import Load, Rig, Shot
from pycore.rig.typical import need

METER = "Meter it at the subject: reflectors, windows and the inverse square close to a large head make their own rules."
ENOUGH, TIGHT = -0.1, -0.34  # stops short that do not show, and that a grade hides; our own


@dataclass(frozen=True, slots=True)
class Lit:
    """The light of one lamp at the subject, with the working; its share of the whole is known once all are."""

    load: str
    lux: Term
    steps: tuple[Step, ...]
    share: float = 0.0


@dataclass(frozen=True, slots=True)
class Budget:
    """The answer for one shot."""

    finding: Finding
    lit: tuple[Lit, ...]
    missing: tuple[Problem, ...]
    shares: Remedy | None
    colours: tuple[Finding, ...]


def budget(whole: WholeRig, shot: Shot) -> Budget:
    """Light at the subject against what the shot needs, for the lamps that light it, or for all where nobody said which."""
    chosen = [i for i in (shot.lit_by or whole.rig.loads) if i in whole.rig.loads]
    lit: list[Lit] = []
    missing: list[Problem] = []
    for i in chosen:
        found, problems = attempt(lambda i=i: lit_by(whole, whole.rig.loads[i], shot))  # type: ignore[misc]
        lit += [found] if found else []
        missing += [_named(p, whole.rig.loads[i]) for p in problems]
    total = sum(x.lux.value for x in lit)
    lit = [replace(x, share=x.lux.value / total) for x in lit] if total else lit
    finding = _finding(whole, shot, lit, tuple(missing))
    return Budget(finding, tuple(lit), tuple(missing), _shares(shot, lit) if not missing and len(lit) > 1 else None, colours(whole, chosen, shot))


def _named(problem: Problem, load: Load) -> Problem:
    """The problem with the lamp that it is about; light may be entered in either of two ways."""
    message = f"{load.name or load.id}: {problem.message[:1].lower()}{problem.message[1:]}"
    way_out = "Enter it, or light read at a distance" if problem.address.endswith("/intensity") else problem.way_out
    return replace(problem, message=message, way_out=way_out)


def _not_entered(rig: Rig, missing: tuple[Problem, ...]) -> str:
    """Whose light is not known."""
    names = [rig.loads[i].name or i for i in dict.fromkeys(p.address.split("/")[1] for p in missing if p.address.startswith("loads/"))] or ["the lamps"]
    return f"No light is entered for {' and '.join(names) if len(names) < 3 else f'{names[0]} and {len(names) - 1} more lamps'}"


def lit_by(whole: WholeRig, load: Load, shot: Shot) -> Lit:
    """Illuminance from one lamp. Raises `Refused` for missing entries."""
    at, beam = f"loads/{load.id}/beam", load.beam
    steps: list[Step] = []
    if beam.intensity is None and beam.reading is not None:
        steps.append(work(light_level.intensity, E_0=beam.reading, D_0=need(beam, "reading_distance", at)))
    intensity = beam.intensity or (steps[0].result if steps else need(beam, "intensity", at))
    light, working = light_now(whole, load, shot)
    lux = work(light_level.from_intensity, I=intensity, Φ=light, s=need(beam, "diffusion", at), D=need(beam, "distance", at))
    return Lit(load.id, lux.result, (*steps, *working, lux))


def _finding(whole: WholeRig, shot: Shot, lit: list[Lit], missing: tuple[Problem, ...]) -> Finding:
    at, question, title = f"shots/{shot.id}", "exposure", "Is there light enough?"
    if not lit:
        if not missing:
            return unknown(question, title, at, Problem("no-lamp", "No lamp lights this shot", "Add a lamp", at))
        return replace(unknown(question, title, at, *missing), says=_not_entered(whole.rig, missing))
    try:
        return _judged(whole, shot, lit, missing)
    except Refused as refused:
        return unknown(question, title, at, *refused.problems)


def _judged(whole: WholeRig, shot: Shot, lit: list[Lit], missing: tuple[Problem, ...]) -> Finding:
    at = f"shots/{shot.id}"
    steps = [s for x in lit for s in x.steps]
    total = lit[0].lux
    for x in lit[1:]:
        steps.append(work(light_level.together, E_a=total, E_b=x.lux))
        total = steps[-1].result
    time, before = _exposure(shot)
    speed, constant = need(shot, "speed", at), need(whole.rig.picture, "calibration", "picture")
    gives = work(light_level.aperture, E=total, S=speed, t=time, C=constant)
    steps += [*before, gives]
    stop = f"f/{gives.result.value:.2g}"
    if shot.aperture is None:
        return Finding(question="exposure", title="Is there light enough?", place=at, verdict=Verdict.UNKNOWN, note="No stop entered", demand=total, steps=tuple(steps), cautions=(METER,),
                       says=f"{total.quantity} at the subject gives {stop} at ISO {speed.value:.0f} and {time.quantity}", problems=missing)
    over = work(light_level.over, N=gives.result, N_w=shot.aperture)
    steps += [work(light_level.needed, C=constant, N=shot.aperture, S=speed, t=time), over, *_rate(shot, total, speed, constant)]
    return Finding(question="exposure", title="Is there light enough?", place=at, verdict=_verdict(over.result.value, missing), demand=over.result,
                   limit=Limit(">=", rule(ENOUGH, "stop", "short by so little does not show", "our own threshold")), steps=tuple(steps), says=_says(whole.rig, shot, over.result, stop, steps, missing),
                   cautions=(METER,), remedies=_remedies(whole, shot, lit, over.result.value) if over.result.value < ENOUGH else (), problems=missing)


def _verdict(over: float, missing: tuple[Problem, ...]) -> Verdict:
    if over >= ENOUGH:
        return Verdict.CLEAR
    if missing:
        return Verdict.UNKNOWN
    return Verdict.TIGHT if over >= TIGHT else Verdict.STOP


def _exposure(shot: Shot) -> tuple[Term, tuple[Step, ...]]:
    """The shortest exposure of the shot: that of the fastest rate of a ramp."""
    what, at = take.take_of(shot), f"shots/{shot.id}"
    if shot.exposure_time is not None:
        return shot.exposure_time, ()
    rate = need(shot, "frame_rate", at)
    if what.ramps and shot.ramp_to is not None and shot.ramp_to.value > rate.value:
        rate = shot.ramp_to
    step = work(exposure_time, θ=need(shot, "shutter", at), f_c=rate)
    return step.result, (step,)


def _rate(shot: Shot, total: Term, speed: Term, constant: Term) -> tuple[Step, ...]:
    if shot.shutter is None or shot.exposure_time is not None or shot.kind == "still" or shot.aperture is None:
        return ()
    return (work(light_level.rate_allowed, θ=shot.shutter, E=total, S=speed, C=constant, N_w=shot.aperture),)


def _says(rig: Rig, shot: Shot, over: Term, stop: str, steps: list[Step], missing: tuple[Problem, ...]) -> str:
    size = Quantity(abs(over.value), "stop")
    where = f" at {shot.ramp_to.quantity}" if shot.kind == "ramp" and shot.ramp_to and shot.frame_rate and shot.ramp_to.value > shot.frame_rate.value else ""
    judged = f"Over by {size}" if over.value > 0.05 else f"Short by {size}" if over.value < -0.05 else "Just enough"
    allowed = next((s.result for s in steps if s.law.endswith("rate_allowed")), None)
    rate = f"; the light allows {Quantity(float(f'{allowed.value:.3g}'), 'fps')} at this shutter" if allowed else ""
    less = f"; {_not_entered(rig, missing).replace('No light', 'no light')}: not counted" if missing else ""
    return f"{judged}{where}: the light gives {stop}, wanted f/{shot.aperture.value:g}{rate}{less}"  # type: ignore[union-attr]


def _remedies(whole: WholeRig, shot: Shot, lit: list[Lit], over: float) -> tuple[Remedy, ...]:
    """More speed, a wider stop, nearer lamps, less in front of them."""
    at, need_more = f"shots/{shot.id}", 2 ** -over
    assert shot.speed and shot.aperture
    found = [Remedy(f"ISO {shot.speed.value * need_more:.0f}", ((f"{at}/speed", f"{shot.speed.value * need_more:.0f}"),)),
             Remedy(f"Open to f/{shot.aperture.value * 2 ** (over / 2):.2g}", ((f"{at}/aperture", f"{shot.aperture.value * 2 ** (over / 2):.2g}"),))]
    main = max(lit, key=lambda x: x.lux.value)
    load = whole.rig.loads[main.load]
    if load.beam.distance is not None:
        gain = (need_more - 1) / main.share + 1
        nearer = Quantity(load.beam.distance.value / gain**0.5, "m")
        found.append(Remedy(f"Bring {load.name or load.id} to {nearer} of the subject", ((f"loads/{load.id}/beam/distance", f"{nearer.value:.2f} m"),)))
    if load.beam.diffusion is not None and load.beam.diffusion.value > 0:
        found.append(Remedy(f"Take {Quantity(min(load.beam.diffusion.value, -over), 'stop')} of scrim or diffusion out of {load.name or load.id}"))
    return tuple(found)


def _shares(shot: Shot, lit: list[Lit]) -> Remedy:
    """Shares of the light as they follow from the lamps' distances and settings."""
    rounded = [round(100 * x.share, 1) for x in lit]
    rounded[0] = round(100 - sum(rounded[1:]), 1)
    text = ", ".join(f"{x.load} {r:g} %" for x, r in zip(lit, rounded, strict=True))
    return Remedy(f"Take the shares from the light at the subject: {text}", tuple((f"shots/{shot.id}/lit_by/{x.load}", f"{r:g} %") for x, r in zip(lit, rounded, strict=True)))
