"""An LED lamp: its driver's window, its light and its colour."""

from dataclasses import replace

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Step, Verdict
from pycore.findings.common import percent
from pycore.findings.lamp_side import Delivered
from pycore.lamp import dimming, led
from pycore.rig.model import Load
from pycore.rig.typical import need, need_choice

EYES = "Do not look into bright LEDs from close by."


def light_steps(load: Load, got: Delivered) -> tuple[Step, Step, Step]:
    """Share of rated power, light, stops. Raises `Refused` where the setting is no more than the power at black."""
    at = f"loads/{load.id}"
    share = work(dimming.power_share, P=got.power, P_n=need(load.lamp, "rated_power", f"{at}/lamp"))
    standby = need(load.ballast, "standby", f"{at}/ballast")
    if not share.result.value > standby.value:
        raise refuse("below-black", f"{percent(share.result.value)} of its power is what the driver draws in the dark", "Enter a higher dim", f"{at}/dim")
    light = work(led.light, p=share.result, s=standby)
    return share, light, work(dimming.stops, Φ=light.result)


def light(load: Load, steps: tuple[Step, Step, Step]) -> Finding:
    """Light at this setting: a driver holds it whatever the supply's voltage, inside its window."""
    says = f"{percent(steps[1].result.value)} of full light: the driver holds it whatever the supply does inside its window"
    return Finding(question="lamp-light", title="What light does it give?", place=f"loads/{load.id}", verdict=Verdict.CLEAR, says=says, demand=steps[1].result,
                   steps=steps, cautions=(EYES,))


def colour(load: Load, share: Step) -> Finding:
    """Colour while dimmed to a `share` of its light: steady when pulsed, a little less so when the current itself is dimmed."""
    at = f"loads/{load.id}"
    full, drive = need(load.lamp, "colour_temperature", f"{at}/lamp"), need_choice(load.ballast, "drive", f"{at}/ballast")
    says = f"{full.quantity}"
    if share.result.value < 0.97:
        says += ", steady: pulsed light keeps its colour" if drive == "PWM" else "; it may shift a little as the current is dimmed. Meter it where it must match"
    unsure = drive != "PWM" and share.result.value < 0.97 and load.lamp.colour_dimmed is None
    shown = full if load.lamp.colour_dimmed is None else replace(load.lamp.colour_dimmed, name="colour temperature")
    return Finding(question="lamp-colour", title="What is its colour?", place=at, verdict=Verdict.UNKNOWN if unsure else Verdict.CLEAR, says=says, demand=shown, steps=(share,),
                   note="Colour unknown" if unsure else "")
