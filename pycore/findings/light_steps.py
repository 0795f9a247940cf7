"""The working from a lamp's light to the difference between frames: a law where there is one, the exact extremes where not."""

from collections.abc import Iterable, Mapping

from pycore.base.law import work
from pycore.base.result import Evidence, Step, Term, term
from pycore.camera import exposure_window as window
from pycore.camera import frames, quadrature
from pycore.camera.clocks import SUPPLY, Group, Mix
from pycore.camera.lamp_light import LampLight
from pycore.camera.outline import Outline
from pycore.camera.waveform import Series, Wave
from pycore.rig.model import Load

SPREAD = "difference between frames, peak to peak"


def group_steps(group: Group, lights: Mapping[str, LampLight], loads: Mapping[str, Load], time: Term) -> tuple[tuple[Step, ...], Term]:
    """Working for the light on one clock, and its difference between frames as a share of its own mean."""
    exact = group.wave.extremes(time.value).spread
    steps = _steps(group, lights, loads, time)
    if steps and abs(steps[-1].result.value - exact) <= 1e-9 * max(exact, 1e-9):
        return steps, steps[-1].result
    rests_on = [t for lamp in group.lamps for t in lights[lamp].rests_on]
    return steps, term(exact, "%", f"{SPREAD}, exact", rests_on=(*rests_on, time))


def _steps(group: Group, lights: Mapping[str, LampLight], loads: Mapping[str, Load], time: Term) -> tuple[Step, ...]:
    alone = lights[group.lamps[0]]
    before = alone.steps if len(group.lamps) == 1 else tuple(s for lamp in group.lamps for s in lights[lamp].steps)
    if isinstance(group.wave, Series):
        return (*before, *(_ripple(group, order, lights, time) for order in sorted(group.wave.amplitudes)))
    load = loads[alone.load]
    symmetric = alone.form == "dips" and not (load.pulse.sag and load.pulse.sag.value) and not (load.lamp.asymmetry and load.lamp.asymmetry.value)
    return (*before, *_dips(load, group.wave, time)) if symmetric else before


def _ripple(group: Group, order: int, lights: Mapping[str, LampLight], time: Term) -> Step:
    assert isinstance(group.wave, Series)
    size, rests_on = abs(group.wave.amplitudes[order]), [t for lamp in group.lamps for t in lights[lamp].rests_on]
    entered = next((t for t in (*rests_on, *(s.result for lamp in group.lamps for s in lights[lamp].steps))
                    if len(group.lamps) == 1 and "ipple" in t.name and abs(t.value - size) < 1e-12), None)
    name = "ripple of the lamps together, phase by phase" if len(group.lamps) > 1 else "ripple of the light"
    m = entered or term(size, "%", name, rests_on=rests_on)
    pulses = term(order * group.wave.frequency, "Hz", "light pulses", rests_on=[t for lamp in group.lamps for t in _clock(lights[lamp])])
    return work(window.ripple_spread, m=m, f_L=pulses, T=time)


def _clock(light: LampLight) -> tuple[Term, ...]:
    return (light.frequency,) if light.frequency else ()


def _dips(load: Load, wave: Wave, time: Term) -> tuple[Step, ...]:
    f, τ, d = load.ballast.output_frequency, load.ballast.commutation_time, load.ballast.dip_depth
    edge = load.pulse.edge
    assert f and τ and d and edge
    dips = term(2 * f.value, "Hz", "dips, two for each cycle of the current", rests_on=(f,))
    ε = term(edge.value * τ.value, "µs", "edge of a dip", rests_on=(edge, τ))
    beyond = work(window.beyond_whole_dips, T=time, f_d=dips)
    rest = work(window.rest_of_period, f_d=dips, r=beyond.result)
    held = work(window.dip_held, r=beyond.result, τ=τ, ε=ε)
    rest_held = work(window.dip_held, r=rest.result, τ=τ, ε=ε)
    return beyond, rest, held, rest_held, work(window.dip_spread, d=d, A_r=held.result, A_g=rest_held.result, τ=τ, T=time, f_d=dips)


def mixed(mix: Mix, lights: Mapping[str, LampLight], loads: Mapping[str, Load], time: Term) -> tuple[tuple[Step, ...], Term]:
    """Working for a mix, clock by clock, and its difference between frames."""
    total = term(0.0, "%", "difference so far")
    steps: tuple[Step, ...] = ()
    for g in mix.groups:
        own, spread = group_steps(g, lights, loads, time)
        if len(mix.groups) == 1 and abs(g.share - 1) < 1e-9:
            return own, spread
        name = "share of the light on the supply's clock" if g.clock == SUPPLY else "share of the light on this clock"
        added = work(window.with_share, v_a=total, w=term(min(g.share, 1.0), "%", name), v_b=spread)
        steps, total = (*steps, *own, added), added.result
    return steps, total


def beat_steps(mix: Mix, lights: Mapping[str, LampLight], time: Term, rate: Term, tolerance: Term | None, camera: Term | None) -> tuple[Step, ...]:
    """Beat of the strongest group with the frames, its period, and how far the clocks let it drift."""
    group = strongest(mix, time.value)
    if group is None:
        return ()
    pulse = frames.pulsing(group.wave, time.value, rate.value)
    pulses = term(pulse.rate, "Hz", "light pulses", rests_on=[t for lamp in group.lamps for t in _clock(lights[lamp])])
    beat = work(frames.beat, f_L=pulses, k=float(pulse.count), f_c=rate)
    steps = [beat]
    if beat.result.value > 1e-6 * pulse.rate:
        steps.append(work(frames.beat_period, f_b=beat.result))
    if camera is not None and tolerance is not None and group.clock == SUPPLY:  # nobody knows how well a ballast keeps time
        steps.append(work(frames.drift, f_L=pulses, δ_s=tolerance, k=float(pulse.count), f_c=rate, δ_c=camera))
    return tuple(steps)


def band_steps(mix: Mix, time: Term, readout: Term, beat: Term | None) -> tuple[Step, ...]:
    """Bands of a sensor read row by row, and how fast they roll."""
    group = strongest(mix, time.value)
    if group is None:
        return ()
    bands = work(frames.bands, f_L=term(group.wave.frequency, "Hz", "light pulses"), t_r=readout)
    return (bands, work(frames.roll, f_b=beat, N=bands.result)) if beat is not None and bands.result.value > 1e-6 else (bands,)


def within_a_picture(mix: Mix, T: float, readout: float) -> float:
    """Difference between rows of one picture, at worst."""
    return sum(g.share * frames.contrast(g.wave, T, readout) for g in mix.groups)


def from_frame_to_frame(mix: Mix, T: float, rate: float) -> float:
    """Most by which a frame differs from the one before it."""
    return sum(g.share * frames.next_frame(g.wave, T, rate) for g in mix.groups)


def strongest(mix: Mix, T: float) -> Group | None:
    """The group that moves the exposure most."""
    return max(mix.groups, key=lambda g: g.share * g.wave.extremes(T).spread, default=None)


def proof(mix: Mix, T: float) -> Evidence:
    """The closed form held against quadrature at the darkest and the brightest window of each group."""
    residuals = []
    for g in mix.groups:
        ends = g.wave.extremes(T)
        worst = max(abs(g.wave.average(t, T) - by_force(g.wave, t, T)) for t in (ends.opens_low, ends.opens_high))
        residuals.append(term(worst, "", f"closed form against quadrature, {', '.join(g.lamps)}"))
    return Evidence(method="Integral of the light over the shutter window, in closed form; its darkest and brightest window over all phases",
                    equations=("v = E_2 - E_1",), iterations=0, residuals=tuple(residuals))


def by_force(wave: Wave, t: float, T: float) -> float:
    """The average over a window by quadrature: between the corners of an outline, in narrow panels of smooth light."""
    if isinstance(wave, Outline):
        return quadrature.between(wave, t, T, [wave.first + knot for knot in wave.times[:-1]])
    return quadrature.window(wave, t, T, finest(wave))


def finest(wave: Wave) -> float:
    """Width in s that quadrature must not step over."""
    if isinstance(wave, Outline):
        steps: Iterable[float] = (b - a for a, b in zip(wave.times, wave.times[1:], strict=False))
        return max(min(s for s in steps if s > 0), wave.period / 4000)
    assert isinstance(wave, Series)
    return 0.1 / wave.frequency / max(wave.amplitudes, default=1)
