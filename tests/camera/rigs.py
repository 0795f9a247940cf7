"""A rig with a lamp of every kind on three phases, for light on camera."""

from copy import deepcopy
from typing import Any

from pycore.rig import edit
from pycore.rig.model import Rig
from pycore.rig.read import read
from pycore.rig.typical import settle

LAMPS: dict[str, Any] = {
    "A1": {"name": "Old arc", "kind": "arc lamp", "fed_by": "supply", "connection": "L1-N", "lamp": {"rated_power": "2500 W", "ripple": "80 %"}, "ballast": {"kind": "magnetic"}},
    "A2": {"name": "Key", "kind": "arc lamp", "fed_by": "supply", "connection": "L2-N", "lamp": {"rated_power": "4000 W"},
           "ballast": {"kind": "electronic corrected", "output_frequency": "75 Hz", "commutation_time": "100 µs", "dip_depth": "50 %"}, "pulse": {"edge": "50 %"}},
    "A3": {"name": "Fast", "kind": "arc lamp", "fed_by": "supply", "connection": "L3-N", "lamp": {"rated_power": "4000 W"},
           "ballast": {"kind": "electronic corrected", "output_frequency": "1 kHz", "commutation_time": "16 µs", "dip_depth": "20 %"}, "pulse": {"edge": "50 %"}},
    "A4": {"name": "Panel", "kind": "LED", "fed_by": "supply", "connection": "L1-N", "lamp": {"rated_power": "400 W", "ripple": "2 %"}, "dim": "50 %",
           "ballast": {"drive": "PWM", "pulse_frequency": "25 kHz", "standby": "5 %"}},
    "A5": {"name": "Tungsten", "kind": "tungsten", "fed_by": "supply", "connection": "L3-N", "lamp": {"rated_power": "2000 W", "colour_temperature": "3200 K"}},
}  # fmt: skip
MIXED: dict[str, Any] = {
    "format": "feed to frame rig", "schema": 1, "name": "Mixed", "rules": "iec",
    "supply": {"kind": "mains", "system": "three-phase wye", "voltage": "230 V", "frequency": "50 Hz", "rating": "63 A", "impedance": "0.05 Ω"},
    "runs": {}, "boxes": {}, "loads": LAMPS,
    "shots": {"S1": {"name": "Wide", "frame_rate": "24 fps", "shutter": "180°"}},
}  # fmt: skip


def document(*sets: dict[str, str], shots: dict[str, Any] | None = None) -> dict[str, Any]:
    """The mixed rig with other shots and with entries changed by address."""
    made = {**deepcopy(MIXED), **({"shots": shots} if shots is not None else {})}
    return edit.put(made, [(a, t) for s in sets for a, t in s.items()])


def rig(*sets: dict[str, str], shots: dict[str, Any] | None = None) -> Rig:
    """The same, read and settled."""
    reading = read(document(*sets, shots=shots))
    return settle(reading.rig, {p.address for p in reading.problems})
