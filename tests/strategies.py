"""Random rigs, sound and unsound, for the properties."""

import json
from typing import Any

from hypothesis import strategies as st

from pycore.base.table import table
from tests.rigs import BALLAST, HEAD, LAMP, LOAD, RUN, SHOT, SUPPLY, rig

METRIC, GAUGES = (table(t).keys() for t in ("copper-class-5", "copper-awg-75"))
SIZES = st.sampled_from([f"{s} mm²" for s in METRIC] + GAUGES)


def amounts(low: float, high: float, unit: str) -> st.SearchStrategy[str]:
    """A quantity as people write it, three figures."""
    return st.floats(low, high).map(lambda x: f"{float(f'{x:.3g}'):g} {unit}".strip())


ENTRIES: dict[str, st.SearchStrategy[str]] = {
    f"{SUPPLY}/voltage": st.sampled_from(["230 V", "120 V", "240 V", "100 V", "277 V"]), f"{SUPPLY}/impedance": amounts(0, 2, "Ω"), f"{SUPPLY}/rating": amounts(5, 200, "A"),
    f"{SUPPLY}/frequency": st.sampled_from(["50 Hz", "60 Hz"]), f"{SUPPLY}/voltage_measured": amounts(90, 280, "V"), f"{SUPPLY}/kind": st.sampled_from(["mains", "generator"]),
    f"{SUPPLY}/fault_current": amounts(50, 9000, "A"), f"{RUN}/length": amounts(1, 400, "m"), f"{RUN}/size": SIZES, f"{RUN}/insulation": st.sampled_from(["60 °C", "90 °C"]),
    f"{RUN}/cores": st.sampled_from(["multicore", "single cores"]), f"{RUN}/ambient": st.sampled_from(["30 °C", "20 °C", "40 °C"]), "rules": st.sampled_from(["iec", "na"]),
    f"{LAMP}/rated_power": amounts(200, 18000, "W"), f"{LAMP}/arc_voltage": amounts(60, 230, "V"), f"{LAMP}/ripple": amounts(0, 100, "%"), f"{LAMP}/asymmetry": amounts(0, 50, "%"),
    f"{LAMP}/exponent": amounts(0.6, 2.5, ""), f"{BALLAST}/kind": st.sampled_from(["electronic corrected", "electronic", "magnetic", "magnetic corrected"]),
    f"{BALLAST}/efficiency": amounts(70, 98, "%"), f"{BALLAST}/power_factor": amounts(0.3, 1, ""), f"{BALLAST}/displacement": amounts(0.3, 1, ""),
    f"{BALLAST}/low_cut_out": amounts(60, 220, "V"), f"{BALLAST}/high_cut_out": amounts(120, 300, "V"), f"{BALLAST}/makes_up": st.sampled_from(["yes", "no"]),
    f"{BALLAST}/output": st.sampled_from(["sine", "square"]), f"{BALLAST}/output_frequency": amounts(30, 100000, "Hz"), f"{BALLAST}/ceiling": amounts(100, 130, "%"),
    f"{BALLAST}/commutation_time": amounts(1, 2000, "µs"), f"{BALLAST}/dip_depth": amounts(0, 100, "%"), f"{HEAD}/length": amounts(1, 100, "m"), f"{HEAD}/size": SIZES,
    f"{LOAD}/dim": amounts(5, 100, "%"), f"{LOAD}/connection": st.sampled_from(["L1-N", "L2-N", "L1-L2"]), f"{SUPPLY}/system": st.sampled_from(["single-phase", "split-phase", "three-phase wye"]),
    f"{SHOT}/frame_rate": amounts(0.5, 5000, "fps"), f"{SHOT}/shutter": amounts(1, 360, "°"), f"{SHOT}/exposure_time": amounts(0.1, 50, "ms"),
}  # fmt: skip
ADDRESSES = sorted({*ENTRIES, f"{LAMP}/power_factor", f"{LAMP}/colour_temperature", f"{BALLAST}/floor", f"{RUN}/fed_by", f"{LOAD}/fed_by", f"{LOAD}/kind"})

# Texts that no entry of a rig can be.
GARBAGE = st.sampled_from(["x", "12 furlongs", "1e999 V", "--5", "NaN", "∞ A", "1.2.3", "5 5", "−", "V", "12 V or so", "?", "L4-N", "none of these"])
JSON = st.recursive(st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(max_size=8),
                    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3), max_leaves=8)  # fmt: skip


def some(entries: dict[str, st.SearchStrategy[str]]) -> st.SearchStrategy[dict[str, str]]:
    """Some of the entries, each with a value."""
    return st.lists(st.sampled_from(sorted(entries)), unique=True, max_size=len(entries)).flatmap(lambda keys: st.fixed_dictionaries({k: entries[k] for k in keys}))


SECOND = {
    "loads/A2/kind": st.sampled_from(["arc lamp", "tungsten", "LED"]), "loads/A2/fed_by": st.sampled_from(["K1", "B1", "supply"]), "boxes/B1/fed_by": st.just("K1"),
    "loads/A2/connection": st.sampled_from(["L1-N", "L2-N"]), "loads/A2/lamp/rated_power": amounts(100, 6000, "W"), "loads/A2/dim": amounts(10, 100, "%"),
    f"{SHOT}/lit_by/A1": amounts(0, 100, "%"), f"{SHOT}/lit_by/A2": amounts(0, 100, "%"),
}  # fmt: skip


def rigs() -> st.SearchStrategy[dict[str, Any]]:
    """Rigs of one or two lamps whose entries can all be read; some are missing."""
    gone = st.lists(st.sampled_from(ADDRESSES), max_size=6, unique=True).map(lambda keys: dict.fromkeys((k for k in keys if not k.endswith("fed_by")), ""))
    return st.tuples(some(ENTRIES), gone, st.just({}) | st.fixed_dictionaries(SECOND)).map(lambda x: rig(*x))


def unsound_rigs() -> st.SearchStrategy[dict[str, Any]]:
    """Rigs with anything at all in some places: other kinds of JSON, garbage, parts that are no parts."""
    places = ["supply", "runs", "loads", "shots", "boxes", "name", "schema_note", "readings", *ADDRESSES, "runs/K1", "loads/A1", "loads/A1/lamp", "loads/A1/ballast", "shots/S1", "shots/S1/lit_by"]
    changes = st.dictionaries(st.sampled_from(places), JSON | GARBAGE | st.text(max_size=12), max_size=5)
    return st.tuples(rigs(), changes).map(lambda x: _put(*x))


def _put(document: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    made = json.loads(json.dumps(document))
    for address, value in changes.items():
        *way, last = address.split("/")
        place = made
        for key in way:
            place = place.get(key) if isinstance(place, dict) else None
        if isinstance(place, dict):
            place[last] = value
    return made


def clear_rig() -> dict[str, str]:
    """Changes of the plain rig that leave nothing to object to."""
    return {f"{RUN}/length": "20 m", f"{RUN}/size": "10 mm²", f"{SUPPLY}/rating": "63 A"}

