"""The light of one lamp of a rig over time, from what the rig says of it."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import acos

from pycore.base import units
from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Step, Term, term
from pycore.camera import arc_light, components, filament, led_light
from pycore.camera.clocks import SUPPLY, Part, turn
from pycore.camera.waveform import Wave
from pycore.lamp import led
from pycore.rig.fill import listed
from pycore.rig.model import Load, Rig
from pycore.rig.typical import need, need_choice

STEFAN_BOLTZMANN = 5.670374419e-8  # W/m²/K⁴, exact to these digits in the SI of 2019


@dataclass(frozen=True, slots=True)
class LampLight:
    """A lamp's light: what it is, its parts with their clocks, and the entries that it rests on.

    `form` is "ripple", "dips", "pulses", "recorded" or "steady".
    """

    load: str
    form: str
    title: str
    parts: tuple[Part, ...]
    rests_on: tuple[Term, ...]
    frequency: Term | None = None  # of the clock that pulses it
    steps: tuple[Step, ...] = ()

    @property
    def main(self) -> Wave | None:
        """The part that swings most."""
        return max((p.wave for p in self.parts), key=lambda w: w.extremes(0.0).spread, default=None)

    @property
    def pulses(self) -> Term | None:
        """Whole periods of the light a second: what an exposure must hold a whole number of."""
        if self.main is None or self.frequency is None:
            return None
        return term(self.main.frequency, "Hz", "light pulses", rests_on=(self.frequency,))


def light_of(rig: Rig, load: Load) -> LampLight:
    """The light of a lamp of a settled rig. Raises `Refused` for missing entries and for light that cannot be."""
    if load.recording.components:
        return _recorded(load)
    if load.kind == "LED":
        return _led(rig, load)
    if load.kind == "tungsten":
        return _filament(rig, load)
    return _on_sine(rig, load) if need_choice(load.ballast, "output", f"loads/{load.id}/ballast") == "sine" else _on_square(load)


def _recorded(load: Load) -> LampLight:
    at = f"loads/{load.id}/recording"
    frequency = need(load.recording, "frequency", at)
    wave = components.outline(frequency.value, components.read(load.recording.components, f"{at}/components"))
    return LampLight(load.id, "recorded", f"As recorded, {frequency.quantity}", (Part(f"loads/{load.id}", wave),), (frequency,), frequency)


def _mains(rig: Rig, load: Load, wave: Wave, behind: float = 0.0) -> Part:
    """A part that keeps step with the supply, on the phase that the lamp hangs on."""
    return Part(SUPPLY, wave, turn(load.connection, rig.supply.system) - behind)


def _on_sine(rig: Rig, load: Load) -> LampLight:
    at = f"loads/{load.id}"
    f, m, a = need(rig.supply, "frequency", "supply"), need(load.lamp, "ripple", f"{at}/lamp"), need(load.lamp, "asymmetry", f"{at}/lamp")
    slow = load.pulse.persistence
    steps = (work(arc_light.ripple_left, f=f, τ_p=slow),) if slow and m.origin is Origin.TYPICAL else ()
    m = steps[0].result if steps else m
    if slow:
        wave = arc_light.following(f=f.value, τ_p=slow.value, m=m.value, a=a.value)
    else:
        wave = arc_light.on_sine(f=f.value, m=m.value, a=a.value, h=need(load.pulse, "narrow", f"{at}/pulse").value)
    behind = acos(float(listed()["ballast"]["magnetic"]["displacement"]))  # the arc's current lags, with or without a capacitor beside it
    rests_on = _given(f, m, a, slow, load.pulse.narrow if not slow else None)
    return LampLight(load.id, "ripple", f"Arc on the supply's sine, {f.quantity}", (_mains(rig, load, wave, behind),), rests_on, f, steps)


def _on_square(load: Load) -> LampLight:
    at = f"loads/{load.id}"
    f = need(load.ballast, "output_frequency", f"{at}/ballast")
    dip = [need(load.ballast, key, f"{at}/ballast") for key in ("commutation_time", "dip_depth")]
    edge, sag, uneven = need(load.pulse, "edge", f"{at}/pulse"), need(load.pulse, "sag", f"{at}/pulse"), need(load.lamp, "asymmetry", f"{at}/lamp")
    wave = arc_light.on_square(f=f.value, τ=dip[0].value, d=dip[1].value, e=edge.value, s=sag.value, a=uneven.value)
    parts = (Part(at, wave),) if dip[1].value or sag.value or uneven.value else ()
    rests_on = (f, *dip, edge, *_given(*(t for t in (sag, uneven) if t.value)))
    return LampLight(load.id, "dips" if parts else "steady", f"Arc on a square wave, {f.quantity}", parts, rests_on, f)


def on_square_of(load: Load, frequency: float) -> LampLight:
    """The light that an arc lamp would give on a square wave of another frequency (Hz): its own dips where they were entered, usual ones where not."""
    usual = typical_dip(frequency)
    τ, d = ((t.value if t is not None and t.origin is not Origin.TYPICAL else units.parse(usual[key], unit))
            for t, key, unit in ((load.ballast.commutation_time, "time", "µs"), (load.ballast.dip_depth, "dip", "%")))
    edge = load.pulse.edge.value if load.pulse.edge else units.parse(listed()["pulse"]["edge"], "%")
    at = f"loads/{load.id}"
    wave = arc_light.on_square(f=frequency, τ=τ, d=d, e=edge, s=load.pulse.sag.value if load.pulse.sag else 0.0, a=load.lamp.asymmetry.value if load.lamp.asymmetry else 0.0)
    return LampLight(load.id, "dips", f"Arc on a square wave, {Quantity(frequency, 'Hz')}", (Part(at, wave),), (), term(frequency, "Hz", "output frequency"))


def typical_dip(frequency: float) -> dict[str, str]:
    """Time and depth of the dips that square waves of this frequency usually leave."""
    return next(c for c in listed()["commutation"] if frequency < units.parse(c["below"], "Hz"))


def _filament(rig: Rig, load: Load) -> LampLight:
    at = f"loads/{load.id}/lamp"
    f, T = need(rig.supply, "frequency", "supply"), need(load.lamp, "colour_temperature", at)
    lag, steps = _lag(load, f, T)
    given = load.lamp.ripple
    ripple = given if given and given.origin is not Origin.TYPICAL else steps[-1].result
    wave = filament.lagging(f=f.value, m=ripple.value, τ_f=lag.value)
    return LampLight(load.id, "ripple", f"Filament on the supply's sine, {f.quantity}", (_mains(rig, load, wave),), _given(f, T, ripple), f, steps)


def _lag(load: Load, f: Term, T: Term) -> tuple[Term, tuple[Step, ...]]:
    """Thermal time of the filament, and the working to its ripple, from power, voltage and hot tungsten."""
    at, wire = f"loads/{load.id}/lamp", listed()["filament_wire"]
    power, volts = need(load.lamp, "rated_power", at), need(load.lamp, "rated_voltage", at)

    def hot(key: str, unit: str, name: str) -> Term:
        return term(units.parse(wire[key], unit), unit, name, origin=Origin.TYPICAL, note="from memory", firm_up="Record the light with a fast sensor")

    current = term(power.value / volts.value, "A", "rated current", rests_on=(power, volts))
    radiated = work(filament.radiated, ε=hot("emissivity", "", "emissivity of tungsten"), σ=STEFAN_BOLTZMANN, T=T)
    heat = work(filament.heat_against_surface, ρ=hot("resistivity", "Ω·m", "resistivity of hot tungsten"), I=current, M=radiated.result, d_1=1e-3)
    thick = work(filament.thickness, d_1=1e-3, x=heat.result)
    lag = work(filament.thermal_time, γ=hot("density", "kg/m³", "density of tungsten"), c=hot("heat", "J/kg/K", "heat capacity of hot tungsten"),
               d=thick.result, T=T, M=radiated.result)
    ripple = work(filament.ripple, n=hot("light_exponent", "", "light for temperature"), q=1.0, f=f, τ_f=lag.result)
    return lag.result, (radiated, heat, thick, lag, ripple)


def _led(rig: Rig, load: Load) -> LampLight:
    at = f"loads/{load.id}"
    ripple = load.lamp.ripple
    parts: tuple[Part, ...] = ()
    supply = None
    if ripple and ripple.value:
        supply = need(rig.supply, "frequency", "supply")
        parts = (_mains(rig, load, led_light.rippling(f=supply.value, m=ripple.value)),)
    if load.ballast.drive != "PWM":
        form = "ripple" if parts else "steady"
        return LampLight(load.id, form, "LED on a steady current", parts, _given(ripple, supply), supply)
    f, dim, black = (need(part, key, f"{at}/{place}".rstrip("/")) for part, key, place in (
        (load.ballast, "pulse_frequency", "ballast"), (load, "dim", ""), (load.ballast, "standby", "ballast")))
    duty = work(led.light, p=dim, s=black)
    if not duty.result.value > 0:
        raise refuse("no-light", "The dim leaves no light", "Raise the dim", f"{at}/dim")
    if duty.result.value < 1 - 1e-6:
        parts = (Part(f"{at}/ballast", led_light.pulsed(f=f.value, duty=duty.result.value)), *parts)
    form = "pulses" if duty.result.value < 1 - 1e-6 else "ripple" if parts else "steady"
    return LampLight(load.id, form, f"LED pulsed at {f.quantity}, on for {duty.result.quantity}", parts, _given(f, dim, black, ripple), f if form == "pulses" else supply, (duty,))


def _given(*terms: Term | None) -> tuple[Term, ...]:
    return tuple(t for t in terms if t is not None)


def lights_of(rig: Rig, loads: Iterable[str]) -> dict[str, LampLight]:
    """The light of several lamps, by id. Raises `Refused` for the first that has none."""
    return {i: light_of(rig, rig.loads[i]) for i in loads}
