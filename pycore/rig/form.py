"""The entries of one part as a form: label, what the user wrote, what counts where nothing is written."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from pycore.base.problem import Problem
from pycore.base.result import Origin, Term
from pycore.rig.edit import entered
from pycore.rig.model import RULES, Spec, specs


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One field of a form. `text` is what the rig file holds; `usual` counts where it holds nothing."""

    address: str
    label: str
    kind: str
    text: str
    usual: Term | None
    usual_text: str
    unit: str
    units: tuple[str, ...]
    options: tuple[tuple[str, str], ...]
    hint: str
    problem: Problem | None
    more: bool
    section: str = ""  # a part of the form with a heading of its own


def entries(part: Any, address: str, document: dict[str, Any], problems: Iterable[Problem], only: Iterable[str] = (), without: Iterable[str] = (), section: str = "") -> list[Entry]:
    """The form of a settled part; `only` or `without` choose among its keys. What has a `section` is asked for less often."""
    listed = {p.address: p for p in problems}
    keep = tuple(only)
    return [_entry(key, spec, part, f"{address}/{key}", document, listed, section) for key, spec in specs(type(part)).items()
            if spec.kind != "series" and key not in tuple(without) and (not keep or key in keep)]


def _entry(key: str, spec: Spec, part: Any, address: str, document: dict[str, Any], problems: dict[str, Problem], section: str) -> Entry:
    text, settled = entered(document, address), getattr(part, key)
    usual = settled if isinstance(settled, Term) and not text else None
    words = dict(spec.options).get(settled, "") if spec.kind == "choice" and not text else ""
    return Entry(address=address, label=spec.label, kind=spec.kind, text=text, usual=usual, usual_text=str(usual.quantity) if usual else words,
                 unit=spec.unit, units=spec.units, options=spec.options, hint=spec.hint, problem=problems.get(address), more=spec.more or bool(section), section=section)


STRIKE = ("inrush", "inrush_time", "run_up", "earth_leakage")
DRIVER = ("power_factor", "power_factor_dimmed", "displacement", "low_cut_out", "high_cut_out", "floor", "standby", "drive", "pulse_frequency")
LED_ONLY = ("standby", "drive", "pulse_frequency")
LAMP_KEYS = {"arc lamp": ("rated_power", "arc_voltage", "arc_slope", "power_factor", "exponent", "colour_temperature", "colour_dimmed", "bluer_at_half", "ripple", "asymmetry"),
             "tungsten": ("rated_power", "rated_voltage", "colour_temperature", "colour_dimmed", "ripple", "asymmetry"),
             "LED": ("rated_power", "colour_temperature", "colour_dimmed", "ripple")}

_CAMERA = ("sensor", "readout", "clock_tolerance", "speed", "aperture")
SHOT_KEYS = {"moving": ("name", "kind", "frame_rate", "shutter", "exposure_time", *_CAMERA),
             "ramp": ("name", "kind", "frame_rate", "ramp_to", "ramp_time", "shutter", "exposure_time", *_CAMERA),
             "time-lapse": ("name", "kind", "interval", "exposure_time", *_CAMERA),
             "still": ("name", "kind", "exposure_time", *_CAMERA)}


def shot_keys(kind: str) -> tuple[str, ...]:
    """The entries that a kind of shot has."""
    return SHOT_KEYS.get(kind, SHOT_KEYS["moving"])


def rig_entries(document: dict[str, Any], problems: Iterable[Problem]) -> list[Entry]:
    """Name and rule set of the rig."""
    listed = {p.address: p for p in problems}
    common: dict[str, Any] = {"usual": None, "unit": "", "units": (), "more": False}
    return [
        Entry(address="name", label="Name of the rig", kind="text", text=entered(document, "name"), usual_text="", options=(), hint="", problem=listed.get("name"), **common),
        Entry(address="rules", label="Rules", kind="choice", text=entered(document, "rules"), usual_text=RULES["iec"], options=tuple(RULES.items()),
              hint="Never mixed in one rig", problem=listed.get("rules"), **common),
    ]


def origin_of(entry: Entry) -> str:
    """How the value that counts is to be marked when nothing is entered."""
    if entry.usual is not None:
        return str(entry.usual.origin)
    return str(Origin.TYPICAL) if entry.usual_text else ""
