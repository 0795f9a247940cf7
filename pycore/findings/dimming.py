"""From a control level or wanted stops to power, light, colour and supply current of a lamp, and back.

    arc lamp    level -> curve -> power between floor and full -> light
    tungsten    level -> curve -> light -> voltage -> power
    LED         level -> curve -> light -> power
"""

from dataclasses import dataclass

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Step, Term, term
from pycore.findings.common import percent
from pycore.lamp import curve, dimming, led, tungsten
from pycore.rig.model import Load
from pycore.rig.typical import need, need_choice

WARM_FIRST = "Let an arc lamp burn about 15 minutes at full power before the first dim."
LESS_STRAIGHT = "A knob's position is not the power and the power is not the light: meter yours."
COLOUR_KNOWN = {
    "arc lamp": "bluer as it dims: the direction is published, the size is from memory and differs from lamp to lamp; some jacketed lamps hold their colour to 40 %. Meter it",
    "tungsten": "warmer as it dims, by a well tried rule",
    "LED": "steady when pulsed; dimmed by its current it may shift a little",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """A lamp at one setting. `level`, `power`, `light` are shares; `kelvin` the lowest and highest colour temperature to expect."""

    level: Term | None
    power: Term
    light: Term
    stops: Term
    kelvin: tuple[Term, Term]
    steps: tuple[Step, ...]


def at_power(load: Load, power: Term) -> Setting:
    """The lamp at a share of rated electrical power. Raises `Refused` where it cannot be set so."""
    return _setting(load, power, (*_light_of(load, power),))


def at_level(load: Load, level: Term) -> Setting:
    """The lamp at a control level."""
    kind = need_choice(load.control, "curve", f"loads/{load.id}/control")
    out = work(curve.OUTPUT[kind], x=level)
    if load.kind == "arc lamp":
        power = work(dimming.power_of_output, p_f=_floor(load), c=out.result)
        made = _light_of(load, power.result)
        return _setting(load, power.result, (out, power, *made), level)
    if not out.result.value > 0:
        raise refuse("no-light", "At this level there is no light", "Enter a higher level", f"loads/{load.id}/control")
    power_steps = _power_of(load, out.result)
    return _setting(load, power_steps[-1].result, (out, *power_steps), level, out.result)


def for_stops(load: Load, stops: Term) -> Setting:
    """The setting that changes the light by `stops` (0 or less). Raises `Refused` below what the lamp can do: see `below_floor`."""
    light = work(dimming.light_of_stops, s=stops)
    steps = _power_of(load, light.result)
    power = steps[-1].result
    if load.kind != "tungsten" and power.value < _floor(load).value * (1 - 1e-9):
        raise refuse("below-floor", f"{stops.quantity} lies below its lowest dim", "Dim to the lowest and lose the rest by scrim, diffusion or distance", f"loads/{load.id}/dim")
    made = _setting(load, power, (light, *steps), None, light.result)
    return Setting(level=_level_for(load, power, light.result), power=power, light=light.result, stops=stops, kelvin=made.kelvin, steps=made.steps)


def _floor(load: Load) -> Term:
    return need(load.ballast, "floor", f"loads/{load.id}/ballast")


def _light_of(load: Load, power: Term) -> tuple[Step, ...]:
    """Power to light, as working; the last step is the light."""
    at = f"loads/{load.id}"
    if load.kind == "tungsten":
        voltage = work(tungsten.voltage_for_power, p=power)
        return voltage, work(tungsten.light, v=voltage.result)
    if load.kind == "LED":
        return (work(led.light, p=power, s=need(load.ballast, "standby", f"{at}/ballast")),)
    return (work(dimming.light, p=power, n=need(load.lamp, "exponent", f"{at}/lamp")),)


def _power_of(load: Load, light: Term) -> tuple[Step, ...]:
    """Light to power, as working; the last step is the power."""
    at = f"loads/{load.id}"
    if load.kind == "tungsten":
        voltage = work(tungsten.voltage_for_light, Φ=light)
        return voltage, work(tungsten.power, v=voltage.result)
    if load.kind == "LED":
        return (work(led.power, s=need(load.ballast, "standby", f"{at}/ballast"), Φ=light),)
    return (work(dimming.power_for_light, Φ=light, n=need(load.lamp, "exponent", f"{at}/lamp")),)


def _level_for(load: Load, power: Term, light: Term) -> Term | None:
    """The control level for a power or light, None where the lamp's ballast does not dim."""
    kind = need_choice(load.control, "curve", f"loads/{load.id}/control")
    if load.kind != "arc lamp":
        return work(curve.LEVEL[kind], c=light).result if light.value <= 1 else None
    floor = _floor(load)
    if floor.value >= 0.999:
        return None
    out = work(dimming.output_of_power, p=power, p_f=floor).result
    return work(curve.LEVEL[kind], c=out).result if -1e-9 <= out.value <= 1 + 1e-9 else None


def _setting(load: Load, power: Term, steps: tuple[Step, ...], level: Term | None = None, light: Term | None = None) -> Setting:
    light = light or steps[-1].result
    if not light.value > 0:
        raise refuse("no-light", f"At {percent(power.value)} of its power there is no light", "Enter a higher setting", f"loads/{load.id}/dim")
    stops = work(dimming.stops, Φ=light)
    return Setting(level=level or _level_for(load, power, light), power=power, light=light, stops=stops.result, kelvin=kelvin(load, power), steps=(*steps, stops))


def kelvin(load: Load, power: Term) -> tuple[Term, Term]:
    """Lowest and highest colour temperature to expect at a share of power."""
    at = f"loads/{load.id}/lamp"
    full = need(load.lamp, "colour_temperature", at)
    if load.kind == "tungsten":
        warm = work(tungsten.colour_temperature, T_r=full, v=work(tungsten.voltage_for_power, p=power).result).result
        return warm, warm
    if load.kind == "LED":
        return full, full
    rise = need(load.lamp, "bluer_at_half", at)
    most = full.value * (1 + rise.value * min(1.0, max(0.0, (1 - power.value) / 0.5)))
    edge = term(most, "K", "colour temperature", rests_on=(full, rise), origin=Origin.TYPICAL if power.value < 0.97 else Origin.COMPUTED,
                note="an estimate from memory" if power.value < 0.97 else "", firm_up="Meter it at this dim", address=f"{at}/colour_dimmed")
    return (full, edge) if edge.value >= full.value else (edge, full)


def light_at_level(load: Load, level: float) -> float:
    """Share of full light at a control level 0..1, for lists; 0 where there is none."""
    out = float(curve.OUTPUT[load.control.curve or "linear"](x=min(1.0, max(0.0, level))))
    if load.kind != "arc lamp":
        return out
    exponent = need(load.lamp, "exponent", f"loads/{load.id}/lamp").value
    return dimming.light(p=dimming.power_of_output(p_f=_floor(load).value, c=out), n=exponent)


def table(load: Load, count: int = 10) -> list[Setting]:
    """The lamp from full down to its lowest, in even steps of the control level."""
    whole = term(1.0, "%", "control level", origin=Origin.STATED)
    levels = [term(k / count, "%", "control level", origin=Origin.STATED) for k in range(count, -1, -1)]
    if load.kind != "arc lamp":
        levels = levels[:-1]
    elif _floor(load).value >= 0.999:
        levels = [whole]
    return [at_level(load, x) for x in levels]


@dataclass(frozen=True, slots=True, kw_only=True)
class Below:
    """Stops that the dim cannot give, and three ways to lose them. `scrims`: doubles, singles, stops left over."""

    floor: Setting
    left: Term
    transmission: Term
    distance: Term | None
    scrims: tuple[int, int, float]
    steps: tuple[Step, ...]


def below_floor(load: Load, stops: Term, distance: Term | None = None) -> Below:
    """What to lose by other means when `stops` lie below the lowest dim."""
    lowest = at_power(load, _floor(load))
    left = work(dimming.stops_left, s=stops, s_f=lowest.stops)
    passed = work(dimming.transmission, s_r=left.result)
    away = work(dimming.distance, d_1=distance, s_r=left.result) if distance else None
    return Below(floor=lowest, left=left.result, transmission=passed.result, distance=away.result if away else None, scrims=dimming.scrims(-left.result.value),
                 steps=(*lowest.steps, left, passed, *((away,) if away else ())))


def shown_kelvin(pair: tuple[Term, Term]) -> str:
    """One figure, or from–to."""
    low, high = (Quantity(round(t.value, -1), "K") for t in pair)
    return str(low) if abs(pair[1].value - pair[0].value) < 10 else f"{low} to {high}"
