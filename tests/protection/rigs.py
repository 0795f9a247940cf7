"""Rigs for tests: one corrected 4 kW head, fully described under each rule set, changed by address."""

from typing import Any

from pycore.base.result import Finding
from pycore.findings.chain import settled
from pycore.findings.protection import run_findings, supply_findings
from pycore.findings.solved import Solved, solve
from pycore.findings.whole_rig import solve_rig
from pycore.rig import edit
from pycore.rig.read import read

IEC: dict[str, Any] = {
    "format": "feed to frame rig", "schema": 1, "name": "Test", "rules": "iec",
    "supply": {
        "kind": "mains", "system": "single-phase", "voltage": "230 V", "frequency": "50 Hz", "rating": "32 A", "voltage_measured": "230 V", "impedance": "0.25 Ω",
        "earth": {"arrangement": "TN-S", "loop": "0.35 Ω"},
        "device": {"kind": "C", "breaking_capacity": "6 kA", "residual": "none"},
        "site": {"ground": "dry", "overhead": "none"},
    },
    "runs": {
        "K1": {
            "fed_by": "supply", "length": "30 m", "size": "6 mm²", "insulation": "60 °C", "ambient": "30 °C", "cores": "multicore",
            "device": {"kind": "B", "rating": "25 A", "breaking_capacity": "6 kA", "residual": "A", "residual_rating": "30 mA"},
            "laid": {"how": "out", "grouped": "1", "earth_size": "6 mm²"},
        }
    },
    "boxes": {},
    "loads": {
        "A1": {
            "kind": "arc lamp", "fed_by": "K1", "connection": "L1-N", "dim": "100 %", "earth_leakage": "2 mA", "inrush": "60 A", "inrush_time": "1 ms", "run_up": "100 %",
            "lamp": {"rated_power": "4 kW", "arc_voltage": "200 V", "power_factor": "0.833"},
            "ballast": {"kind": "electronic corrected", "efficiency": "92 %", "power_factor": "0.98", "displacement": "0.99", "low_cut_out": "180 V", "high_cut_out": "265 V",
                        "makes_up": "yes", "ceiling": "108 %", "floor": "50 %", "output": "square", "output_frequency": "75 Hz"},
            "head_cable": {"length": "15 m", "size": "4 mm²"},
        }
    },
    "shots": {"S1": {"frame_rate": "25 fps", "shutter": "180°"}},
}
NA: dict[str, Any] = edit.put(IEC, {
    "rules": "na", "supply/system": "three-phase wye", "supply/voltage": "120 V", "supply/voltage_measured": "120 V", "supply/frequency": "60 Hz", "supply/rating": "100 A",
    "supply/impedance": "0.05 Ω", "supply/earth/loop": "0.08 Ω", "supply/device/kind": "other", "supply/device/trips_from": "1000 A", "supply/device/holds_to": "500 A",
    "supply/device/breaking_capacity": "22 kA", "runs/K1/size": "6 AWG", "runs/K1/length": "80 ft", "runs/K1/laid/earth_size": "8 AWG", "runs/K1/device/kind": "other",
    "runs/K1/device/rating": "50 A", "runs/K1/device/trips_from": "400 A", "runs/K1/device/holds_to": "250 A", "runs/K1/device/breaking_capacity": "10 kA",
    "runs/K1/device/residual": "none", "runs/K1/device/residual_rating": "", "loads/A1/lamp/rated_power": "2.5 kW", "loads/A1/lamp/arc_voltage": "115 V",
    "loads/A1/ballast/low_cut_out": "95 V", "loads/A1/ballast/high_cut_out": "140 V", "loads/A1/head_cable/size": "10 AWG",
}.items())
BASES = {"iec": IEC, "na": NA}


def changed(base: dict[str, Any], *sets: dict[str, str]) -> dict[str, Any]:
    """A rig with entries changed by address; an empty text takes an entry out."""
    return edit.put(base, {a: t for s in sets for a, t in s.items()}.items())


def solved(document: dict[str, Any], load: str = "A1") -> Solved:
    """One lamp of a solved rig."""
    whole = solve_rig(settled(read(document)))
    return solve(whole, whole.rig.loads[load], next(iter(whole.rig.shots.values())))


def findings(document: dict[str, Any], run: str = "K1", load: str = "A1") -> dict[str, Finding]:
    """The protection findings of one run and of the supply, by question; what only waits for entries stands under "protection"."""
    s = solved(document, load)
    assert s.feed is not None, s.problems
    cable = next(c for c in s.feed.cables if c.run.id == run)
    found = (*supply_findings(s.rig), *run_findings(s.whole, s.feed, cable))

    return {(f"{f.question}/{f.place}" if f.question == "protection" else f.question): f for f in found}
