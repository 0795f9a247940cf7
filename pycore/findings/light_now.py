"""The light and the colour that a lamp gives at its present setting, as the supply feeds it."""

from dataclasses import replace

from pycore.base.law import work
from pycore.base.result import Origin, Step, Term, term
from pycore.findings import filament, lamp, led, solved
from pycore.findings.common import attempt
from pycore.findings.whole_rig import WholeRig
from pycore.lamp import dimming, tungsten
from pycore.lamp import led as led_laws
from pycore.rig.model import Load, Shot
from pycore.rig.typical import need


def light_now(whole: WholeRig, load: Load, shot: Shot) -> tuple[Term, tuple[Step, ...]]:
    """Share of full light: as the supply feeds the lamp, or by its setting alone where the supply cannot be computed."""
    one = solved.solve(whole, load, shot, advise=False)
    if one.got is not None:
        got = one.got
        kinds = {"LED": led.light_steps, "tungsten": filament.light_steps}
        steps, _ = attempt(lambda: kinds.get(load.kind, lamp.light_steps)(load, got))
        if steps is not None:
            return steps[1].result, steps[:2]
    step = _by_setting(load)
    return replace(step.result, origin=Origin.ASSUMED, note="by its setting alone: what the supply does to it is not known", firm_up="Complete supply and cables"), (step,)


def _by_setting(load: Load) -> Step:
    dim, at = need(load, "dim", f"loads/{load.id}"), f"loads/{load.id}"
    if load.kind == "LED":
        return work(led_laws.light, p=dim, s=need(load.ballast, "standby", f"{at}/ballast"))
    if load.kind == "tungsten":
        return work(tungsten.light, v=work(tungsten.voltage_for_power, p=dim).result)
    return work(dimming.light, p=dim, n=need(load.lamp, "exponent", f"{at}/lamp"))


def colour_now(whole: WholeRig, load: Load, shot: Shot) -> Term:
    """Colour temperature at the present setting: metered, by the filament's rule, or an estimate of what the dim does to an arc."""
    at = f"loads/{load.id}/lamp"
    full = need(load.lamp, "colour_temperature", at)
    if load.lamp.colour_dimmed is not None:
        return load.lamp.colour_dimmed
    if load.kind == "LED":
        return full
    light, _ = light_now(whole, load, shot)
    if load.kind == "tungsten":
        return work(tungsten.colour_temperature, T_r=full, v=work(tungsten.voltage_for_light, Φ=light).result).result
    share = light.value ** (1 / need(load.lamp, "exponent", at).value)
    rise = need(load.lamp, "bluer_at_half", at).value / 2 * min(1.0, max(0.0, (1 - share) / 0.5))
    return term(full.value * (1 + rise), "K", "colour temperature", origin=Origin.ASSUMED, rests_on=(full,), address=f"{at}/colour_dimmed", firm_up="Meter it",
                note="half of the most that its dim is said to add") if rise else full
