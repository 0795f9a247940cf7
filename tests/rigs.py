"""Rigs for tests: one corrected 4 kW head on one run, changed by address, and shortcuts into its answer."""

from typing import Any

from pycore.base.result import Finding, Step, Term
from pycore.findings.chain import Chain, Link, chain
from pycore.rig import edit
from pycore.rig.read import read

PLAIN: dict[str, Any] = {
    "format": "feed to frame rig",
    "schema": 1,
    "name": "Test",
    "rules": "iec",
    "supply": {"kind": "mains", "system": "single-phase", "voltage": "230 V", "frequency": "50 Hz", "rating": "32 A", "voltage_measured": "230 V", "impedance": "0.25 Ω",
               "device": {"kind": "B", "rating": "32 A", "residual": "A", "residual_rating": "30 mA", "breaking_capacity": "6 kA"}, "earth": {"arrangement": "TN-S", "loop": "0.35 Ω"}},
    "runs": {"K1": {"fed_by": "supply", "length": "60 m", "size": "4 mm²", "insulation": "60 °C", "ambient": "30 °C", "cores": "multicore",
                    "device": {"kind": "none", "residual": "none"}}},
    "boxes": {},
    "loads": {
        "A1": {
            "kind": "arc lamp", "fed_by": "K1", "connection": "L1-N", "dim": "100 %",
            "lamp": {"rated_power": "4 kW", "arc_voltage": "200 V", "power_factor": "0.833", "ripple": "80 %", "asymmetry": "0 %", "colour_temperature": "5600 K", "exponent": "1.32", "arc_slope": "0 Ω"},
            "ballast": {"kind": "electronic corrected", "efficiency": "92 %", "power_factor": "0.98", "displacement": "0.99", "low_cut_out": "180 V", "high_cut_out": "265 V",
                        "makes_up": "yes", "ceiling": "108 %", "floor": "50 %", "output": "square", "output_frequency": "75 Hz", "commutation_time": "100 µs", "dip_depth": "50 %"},
            "head_cable": {"length": "15 m", "size": "4 mm²"},
        }
    },
    "shots": {"S1": {"frame_rate": "25 fps", "shutter": "180°", "sensor": "global"}},
}
SUPPLY, RUN, LOAD, LAMP, BALLAST, HEAD, SHOT = "supply", "runs/K1", "loads/A1", "loads/A1/lamp", "loads/A1/ballast", "loads/A1/head_cable", "shots/S1"

# Entries that turn the ballast into an uncorrected electronic one, and into a magnetic one with its sine output.
UNCORRECTED = {f"{BALLAST}/kind": "electronic", f"{BALLAST}/power_factor": "0.63", f"{BALLAST}/displacement": "0.97", f"{BALLAST}/low_cut_out": "195 V"}
MAGNETIC = {f"{BALLAST}/kind": "magnetic", f"{BALLAST}/efficiency": "88 %", f"{BALLAST}/power_factor": "0.48", f"{BALLAST}/displacement": "0.50",
            f"{BALLAST}/makes_up": "no", f"{BALLAST}/output": "sine", f"{BALLAST}/output_frequency": "", f"{BALLAST}/floor": "100 %"}


def rig(*sets: dict[str, str], **more: str) -> dict[str, Any]:
    """The plain rig with entries changed by address; an empty text takes an entry out."""
    changes = {a: t for s in (*sets, more) for a, t in s.items()}
    return edit.put(PLAIN, changes.items())


def answer(*sets: dict[str, str], load: str = "A1", shot: str = "S1") -> Chain:
    """The chain of the plain rig with these changes."""
    return chain(read(rig(*sets)), load, shot)


def link(made: Chain, link_id: str) -> Link:
    """One link of a chain."""
    return next(x for x in made.links if x.id == link_id)


def finding(made: Chain, question: str) -> Finding:
    """One finding of a chain."""
    return next(f for x in made.links for f in x.findings if f.question == question)


def steps(made: Chain) -> list[Step]:
    """All lines of working of a chain."""
    return [s for x in made.links for f in x.findings for s in f.steps]


def value(found: Finding) -> float:
    """The SI float of a finding's demand."""
    assert found.demand is not None

    return found.demand.value


def result(made: Chain, law: str) -> Term:
    """The result of the first line of working made by a law."""
    return next(s.result for s in steps(made) if s.law.endswith(f".{law}"))
