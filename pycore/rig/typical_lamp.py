"""What is usual for how lamps come up, are controlled, and may shake a generator."""

from collections.abc import Collection
from dataclasses import replace

from pycore.base.result import Origin
from pycore.rig.fill import Filler, listed
from pycore.rig.model import ControlLine, Load, Steps


def lamp(load: Load, bad: Collection[str]) -> Load:
    """Run-up and control filled in."""
    at, usual = f"loads/{load.id}", listed()["warm"].get(load.kind, {})
    warm = Filler(load.warm, f"{at}/warm", bad)
    for key in ("full_light", "full_colour", "cooling", "arc_start"):
        warm.text(key, usual.get(key))
    warm.choose("strikes_hot", usual.get("strikes_hot", ""))
    control = Filler(load.control, f"{at}/control", bad)
    control.text("unit_load", listed()["control"]["unit_load"], note="as one receiver counts, from memory")
    control.text("slots", listed()["control"]["slots"].get(load.kind))
    for key in ("curve", "resolution"):
        control.choose(key, listed()["control"][key])
    return replace(load, warm=warm.done(), control=control.done())


def steps(limits: Steps, bad: Collection[str]) -> Steps:
    """What a generator may dip."""
    fill = Filler(limits, "supply/steps", bad)
    for key, written in listed()["steps"].items():
        fill.text(key, written, Origin.TYPICAL if key == "engine" else Origin.ASSUMED, "from memory" if key == "engine" else "our own limit")
    return fill.done()


def line(given: ControlLine, bad: Collection[str]) -> ControlLine:
    """A control line's timing as senders usually have it; whether it is terminated stays open."""
    fill, usual = Filler(given, f"control_lines/{given.id}", bad), listed()["line"]
    fill.choose("universe", usual["universe"])
    for key, value in (("shape", "chain"), ("cable", "data"), ("earths", "one")):
        fill.choose(key, value)
    fill.text("slots_sent", usual["slots_sent"], Origin.ASSUMED, "a full universe")
    for key in ("break_time", "mark_time"):
        fill.text(key, usual[key], note="the least that the standard allows")
    for key in ("fade_from", "fade_to", "fade_time"):
        fill.text(key, usual[key], Origin.ASSUMED, "not entered yet")
    return fill.done()
