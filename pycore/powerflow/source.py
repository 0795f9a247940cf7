"""The supply as EMFs behind impedances."""

from math import sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite
from pycore.powerflow.network import Source
from pycore.powerflow.phasor import SYSTEMS

THEORY = Cite("circuit-theory")
_Z = Var("impedance", "Ω", 0)
_RATIO = Var("reactance over resistance", "", 0)


@law("Z = V/I_k", "Loop impedance from the prospective fault current", Z=Var("loop impedance", "Ω"), V=Var("voltage, line to neutral", "V", 0),
     I_k=Var("prospective fault current", "A", 1e-3), source=THEORY)
def loop_from_fault_current(*, V: float, I_k: float) -> float:
    """Impedance in Ω of line and neutral together, when I_k flows from line to neutral."""
    return V / I_k


@law("R = Z/sqrt(1 + n**2)", "Resistive part", R=Var("resistance", "Ω"), Z=_Z, n=_RATIO, source=THEORY)
def resistive_part(*, Z: float, n: float) -> float:
    """Resistance in Ω of an impedance Z (Ω) whose reactance is n times its resistance."""
    return Z / sqrt(1 + n**2)


@law("X = Z*n/sqrt(1 + n**2)", "Reactive part", X=Var("reactance", "Ω"), Z=_Z, n=_RATIO, source=THEORY)
def reactive_part(*, Z: float, n: float) -> float:
    """Reactance in Ω of an impedance Z (Ω) whose reactance is n times its resistance."""
    return Z * n / sqrt(1 + n**2)


@law("X = x*V**2/S", "Reactance of a machine in ohms", X=Var("reactance", "Ω"), x=Var("reactance per unit", "%", 0, 300),
     V=Var("voltage, line to line", "V", 0), S=Var("rated apparent power", "VA", 1), source=Cite("circuit-theory", "per-unit system"))
def machine_reactance(*, x: float, V: float, S: float) -> float:
    """Reactance in Ω per phase; V is the voltage between lines (of a single-phase machine, between its two ends)."""
    return x * V**2 / S


def supply(*, node: str, system: str, voltage: float, line: complex, neutral: complex, harmonic_line: complex | None = None,
           earth: complex | None = None) -> Source:
    """A source of `system` ("three-phase wye", "split-phase", "single-phase").

    `voltage` (V) line to neutral with no load; `line` and `neutral` impedances (Ω) of one conductor each; `harmonic_line` (Ω at
    the supply's frequency) where the harmonics see another line impedance, as a generator's sub-transient one; `earth` (Ω) adds
    PE, bonded to the star point. Raises KeyError for an unknown system.
    """
    emf = SYSTEMS[system](voltage)
    z = {c: complex(neutral if c == "N" else line) for c in emf}
    if earth is not None:
        emf, z = emf | {"PE": 0j}, z | {"PE": complex(earth)}
    harmonic = None if harmonic_line is None else {c: complex(harmonic_line) if c.startswith("L") else z[c] for c in z}
    return Source(node=node, emf=emf, z=z, z_harmonic=harmonic)


