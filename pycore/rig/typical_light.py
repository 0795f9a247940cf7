"""What the rig does not say about light and camera, filled with what is usual, and marked so."""

from collections.abc import Collection
from dataclasses import replace
from math import sqrt

from pycore.base import units
from pycore.base.result import Origin
from pycore.base.source import Cite
from pycore.rig.fill import Filler, listed
from pycore.rig.model import Arc, Load, Picture, Rig, Shot, Supply

LONGEST_READOUT = 0.9  # of a frame: a sensor is read before the next frame


def clock(fill: Filler, supply: Supply) -> None:
    """How well the supply keeps its frequency."""
    usual = listed()["frequency_tolerance"]
    if supply.kind in usual:
        fill.text("frequency_tolerance", usual[supply.kind])
    else:
        fill.quantity("frequency_tolerance", units.parse(usual["mains"], "%"), note="within this for 99.5 % of a year on a public network", cite=Cite("en-50160"))


def light(load: Load, bad: Collection[str]) -> Load:
    """The form of its light, the size of its arc tube, and nothing between it and the subject."""
    at, usual = f"loads/{load.id}", listed()["pulse"]
    pulse = Filler(load.pulse, f"{at}/pulse", bad)
    if load.kind == "arc lamp":
        for key in ("narrow",) if load.ballast.output == "sine" else ("edge", "sag"):
            pulse.text(key, usual[key])
    beam = Filler(load.beam, f"{at}/beam", bad)
    beam.quantity("diffusion", 0.0, Origin.STATED, "none")
    return replace(load, pulse=pulse.done(), beam=beam.done(), arc=_arc_tube(load, at, bad))


def _arc_tube(load: Load, at: str, bad: Collection[str]) -> Arc:
    """An arc tube in proportion to the root of its power, so that the load on its wall stays alike."""
    tube, usual = Filler(load.arc, f"{at}/arc", bad), listed()["arc_tube"]
    if load.kind == "arc lamp" and load.lamp.rated_power:
        scale = sqrt(load.lamp.rated_power.value / units.parse(usual["power"], "W"))
        for key in ("diameter", "length"):
            tube.quantity(key, scale * units.parse(usual[key], "mm"), Origin.ASSUMED, f"scaled from a {usual['power']} lamp by the root of power; from memory")
    return tube.done()


def shot(fill: Filler, given: Shot, rig: Rig) -> None:
    """Frame rate, shutter and camera."""
    slow, usual = rig.supply.frequency is None or rig.supply.frequency.value < 55, listed()["shot"]
    kind = given.kind or ("ramp" if given.ramp_to or given.ramp_time else "time-lapse" if given.interval else "moving")
    fill.choose("kind", kind)
    if kind == "time-lapse" and given.interval:
        fill.quantity("frame_rate", 1 / given.interval.value, Origin.STATED, "from the time between pictures")
    elif kind != "still":
        fill.text("frame_rate", "25 fps" if slow else "24 fps", Origin.ASSUMED, "not entered yet")
    if given.exposure_time is None:
        if kind in ("moving", "ramp"):
            fill.text("shutter", "180 °", Origin.ASSUMED, "not entered yet")
        elif given.shutter is None:
            fill.text("exposure_time", usual["exposure_time"], Origin.ASSUMED, "not entered yet")
    if kind == "ramp":
        fill.text("ramp_time", usual["ramp_time"], Origin.ASSUMED, "not entered yet")
    _camera(fill, given)


def _camera(fill: Filler, given: Shot) -> None:
    usual = listed()["shot"]
    fill.choose("sensor", usual["sensor"])
    rates = [r.value for r in (given.frame_rate or fill.found.get("frame_rate"), given.ramp_to) if r]
    readout = units.parse(usual["readout"], "ms")
    fill.quantity("readout", min([readout, *(LONGEST_READOUT / r for r in rates)]), note="from memory; no longer than a frame")
    fill.text("clock_tolerance", usual["clock_tolerance"])
    fill.text("speed", usual["speed"], Origin.ASSUMED, "not entered yet")


def picture(given: Picture, bad: Collection[str]) -> Picture:
    """What is taken to show, and how light is metered."""
    fill, usual = Filler(given, "picture", bad), listed()["picture"]
    fill.text("steady", usual["steady"], Origin.ASSUMED, usual["why_steady"])
    fill.text("spoiled", usual["spoiled"], Origin.ASSUMED, usual["why_spoiled"])
    fill.text("calibration", usual["calibration"], Origin.TYPICAL, "a flat receptor; from memory")
    return fill.done()
