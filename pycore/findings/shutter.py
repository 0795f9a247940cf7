"""Does the camera see steady light on this shot?"""

from dataclasses import dataclass
from math import pi

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Origin, Remedy, Step, Term, Verdict, term
from pycore.base.units import from_si
from pycore.camera import exposure_window as window
from pycore.camera import safe_rates
from pycore.findings.common import percent, rule
from pycore.lamp import led
from pycore.rig.model import Load, Rig, Shot
from pycore.rig.typical import need, need_choice

CLEAR_SPREAD, TIGHT_SPREAD = 0.02, 0.05
TEST = "Shoot a test on the day: a waveform of a real lamp can differ, and old lamps flicker in ways of their own."


@dataclass(frozen=True, slots=True)
class Pulses:
    """How a lamp's light pulses: where the pulses come from and at what rate."""

    rate: Term
    sine: bool


def pulses(rig: Rig, load: Load) -> Pulses:
    """Pulse rate of the light: twice the frequency of the current. Raises `Refused` for missing entries."""
    at = f"loads/{load.id}/ballast"
    if load.kind == "LED" and load.ballast.drive == "PWM":
        return Pulses(need(load.ballast, "pulse_frequency", at), False)
    if load.kind == "LED":
        frequency = need(rig.supply, "frequency", "supply")
        return Pulses(term(2 * frequency.value, "Hz", "what the supply leaves on a steady current", rests_on=(frequency,)), True)
    sine = need_choice(load.ballast, "output", at) == "sine"
    frequency = need(rig.supply, "frequency", "supply") if sine else need(load.ballast, "output_frequency", at)
    return Pulses(term(2 * frequency.value, "Hz", "light pulses, two for each cycle of the current", rests_on=(frequency,)), sine)


def exposure(shot: Shot) -> tuple[Term, tuple[Step, ...]]:
    """Exposure time of a shot, given or from its angle."""
    if shot.exposure_time is not None:
        return shot.exposure_time, ()
    step = work(window.exposure_time, θ=need(shot, "shutter", f"shots/{shot.id}"), f_c=need(shot, "frame_rate", f"shots/{shot.id}"))
    return step.result, (step,)


def steady(rig: Rig, load: Load, shot: Shot) -> Finding:
    """Frame-to-frame difference of one lamp's light on one shot."""
    light, (time, steps) = pulses(rig, load), exposure(shot)
    rate = need(shot, "frame_rate", f"shots/{shot.id}")
    if time.value * rate.value > 1 + 1e-9:
        raise refuse("exposure-too-long", "The exposure is longer than a frame lasts", "Enter a shorter exposure or a lower frame rate", f"shots/{shot.id}/exposure_time")
    spread_steps = _ripple(rig, load, light, time) if light.sine else _dips(load, light, time)
    spread = spread_steps[-1].result
    in_stops = work(window.spread_in_stops, v=spread)
    beat = work(window.beat, f_L=light.rate, k=float(round(light.rate.value / rate.value)), f_c=rate)
    limit = rule(CLEAR_SPREAD, "%", "difference that does not show", f"our own threshold; up to {percent(TIGHT_SPREAD)} is called tight")
    locked = light.sine and beat.result.value <= 1e-6 * light.rate.value and rate.value <= light.rate.value * (1 + 1e-9)
    verdict, says = _judge(spread.value, locked, str(in_stops.result.quantity), str(beat.result.quantity))
    remedies = () if verdict is Verdict.CLEAR else _remedies(load, shot, light, rate)
    return Finding(question="shot-steady", title="Does the camera see steady light?", place=f"shots/{shot.id}", verdict=verdict, says=says, demand=spread, limit=Limit("<=", limit),
                   steps=(*steps, *spread_steps, in_stops, beat, *((angle,) if (angle := nearest_angle(shot, light, rate)) else ())), cautions=(TEST,), remedies=remedies)


def mix(rig: Rig, shot: Shot) -> Finding:
    """Frame-to-frame difference of all the lamps that light a shot, by their shares, when their pulses meet at their worst."""
    total = sum(t.value for t in shot.lit_by.values())
    if abs(total - 1) > 0.005:
        raise refuse("shares-wrong", f"The shares of the light add up to {percent(total)}", "Make them add up to 100 %", f"shots/{shot.id}/lit_by")
    steps: tuple[Step, ...] = ()
    sum_so_far = term(0.0, "%", "difference so far")
    for load_id, share in shot.lit_by.items():
        alone = steady(rig, rig.loads[load_id], shot)
        assert alone.demand is not None
        added = work(window.with_share, v_a=sum_so_far, w=share, v_b=alone.demand)
        steps, sum_so_far = (*steps, *alone.steps, added), added.result
    in_stops = work(window.spread_in_stops, v=sum_so_far)
    limit = rule(CLEAR_SPREAD, "%", "difference that does not show", f"our own threshold; up to {percent(TIGHT_SPREAD)} is called tight")
    verdict = Verdict.CLEAR if sum_so_far.value <= CLEAR_SPREAD else Verdict.TIGHT if sum_so_far.value <= TIGHT_SPREAD else Verdict.STOP
    says = f"{percent(sum_so_far.value)} between frames for the mix, {in_stops.result.quantity}, when all lamps meet at their worst"
    return Finding(question="mix-steady", title="Is the mix of lamps steady?", place=f"shots/{shot.id}", verdict=verdict, says=says, demand=sum_so_far,
                   limit=Limit("<=", limit), steps=(*steps, in_stops), cautions=(TEST,))


def _judge(spread: float, locked: bool, stops: str, beat: str) -> tuple[Verdict, str]:
    if spread <= CLEAR_SPREAD:
        return Verdict.CLEAR, f"{percent(spread)} between frames, {stops}: steady"
    if locked:
        return Verdict.TIGHT, (f"Steady only while supply and camera clocks hold: every frame then meets the pulse at the same place. "
                               f"If they drift, up to {percent(spread)} between frames, rolling slowly")
    verdict = Verdict.TIGHT if spread <= TIGHT_SPREAD else Verdict.STOP
    return verdict, f"{percent(spread)} between frames, {stops}, pulsing at {beat}"


def _ripple(rig: Rig, load: Load, light: Pulses, time: Term) -> tuple[Step, ...]:
    at = f"loads/{load.id}/lamp"
    ripple, uneven = need(load.lamp, "ripple", at), need(load.lamp, "asymmetry", at)
    main = work(window.ripple_spread, m=ripple, f_L=light.rate, T=time)
    if uneven.value <= 0:
        return (main,)
    slow = work(window.ripple_spread, m=uneven, f_L=need(rig.supply, "frequency", "supply"), T=time)
    return main, slow, work(window.both_spreads, v_a=main.result, v_b=slow.result)


def _dips(load: Load, light: Pulses, time: Term) -> tuple[Step, ...]:
    at = f"loads/{load.id}/ballast"
    if load.kind == "LED":
        return _dark_gaps(load, light, time)
    beyond = work(window.beyond_whole_dips, T=time, f_d=light.rate)
    return beyond, work(window.dip_spread, d=need(load.ballast, "dip_depth", at), r=beyond.result, τ=need(load.ballast, "commutation_time", at), f_d=light.rate, T=time)


def _dark_gaps(load: Load, light: Pulses, time: Term) -> tuple[Step, ...]:
    """Pulsed LED light is dark between its pulses."""
    at, dark = f"loads/{load.id}", term(1.0, "%", "depth of a dip", note="dark between pulses")
    share = work(led.light, p=need(load, "dim", at), s=need(load.ballast, "standby", f"{at}/ballast"))
    width = work(led.dark_time, Φ=share.result, f=light.rate)
    beyond = work(window.beyond_whole_dips, T=time, f_d=light.rate)
    spread = work(window.dip_spread, d=dark, r=beyond.result, τ=width.result, f_d=light.rate, T=time)
    return share, width, beyond, spread, work(led.of_mean, v=spread.result, Φ=share.result)


def nearest_angle(shot: Shot, light: Pulses, rate: Term) -> Step | None:
    """The shutter angle nearest to the present one that spans whole pulses, or None where even one pulse is longer than a frame."""
    angles = safe_rates.safe_angles(f_c=rate.value, f_L=light.rate.value)
    if not angles:
        return None
    present = shot.shutter.value if shot.shutter else (shot.exposure_time.value * 2 * pi * rate.value if shot.exposure_time else pi)
    nearest = min(angles, key=lambda a: abs(a - present))
    return work(safe_rates.safe_angle, f_c=rate, n=float(angles.index(nearest) + 1), f_L=light.rate)


def _remedies(load: Load, shot: Shot, light: Pulses, rate: Term) -> tuple[Remedy, ...]:
    """The nearest whole-pulse shutter angle, the nearest safe rate, and a faster output."""
    offers = []
    angle = nearest_angle(shot, light, rate)
    if angle is not None:
        best = f"{from_si(angle.result.value, '°'):.2f}".rstrip("0").rstrip(".")
        offers.append(Remedy(f"Shutter at {best}° spans whole pulses: steady even if the clocks drift",
                             ((f"shots/{shot.id}/exposure_time", ""), (f"shots/{shot.id}/shutter", f"{best}°"))))
    if light.sine:
        nearest = min(safe_rates.safe_rates(f_L=light.rate.value), key=lambda f: abs(f - rate.value))
        if abs(nearest - rate.value) > 1e-9:
            offers.append(Remedy(f"{nearest:.3f}".rstrip("0").rstrip(".") + " fps meets every pulse alike, while both clocks hold",
                                 ((f"shots/{shot.id}/frame_rate", f"{nearest:.3f}".rstrip("0").rstrip(".") + " fps"),)))
        if load.kind == "arc lamp":
            offers.append(Remedy("Use a ballast with square-wave output"))
    elif load.ballast.output_frequency and load.ballast.output_frequency.value < 900:
        offers.append(Remedy("Set the ballast's output to about 1 kHz if it can", ((f"loads/{load.id}/ballast/output_frequency", "1000 Hz"),)))
    return tuple(offers)


def highest_clean_rate(load: Load, shot: Shot) -> Step | None:
    """The frame rate up to which a square-wave ballast stays within the threshold at this shutter angle, whatever its pulses."""
    ballast = load.ballast
    if ballast.output != "square" or not (shot.shutter and ballast.dip_depth and ballast.commutation_time and ballast.dip_depth.value):
        return None
    allowed = term(CLEAR_SPREAD, "%", "difference that does not show", origin=Origin.ASSUMED, note="our own threshold", firm_up="Use the limit of your own practice")
    return work(window.highest_rate, v_m=allowed, θ=shot.shutter, d=ballast.dip_depth, τ=ballast.commutation_time)
