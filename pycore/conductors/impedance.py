"""Resistance and reactance of a cable: from the published table of its size, at the temperature it runs at."""

from dataclasses import dataclass
from functools import lru_cache

from pycore.base import units
from pycore.base.law import Var, law, work
from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Step, Term, leaning, term
from pycore.base.source import Cite
from pycore.base.table import table
from pycore.powerflow.spacing import MU_0, mean_radius, spaced_reactance
from pycore.rig.model import Run
from pycore.rig.typical import listed

THEORY = Cite("circuit-theory")

# Copper: the coefficient belongs to the reference temperature of its table.
COPPER_20 = (
    term(units.to_si(20, "°C"), "°C", "reference temperature", origin=Origin.PUBLISHED, cite=Cite("iec-60228", "Table 3")),
    term(0.00393, "1/K", "temperature coefficient of copper at 20 °C", origin=Origin.PUBLISHED, cite=Cite("iec-60287", "Table 1")),
)
COPPER_75 = (
    term(units.to_si(75, "°C"), "°C", "reference temperature", origin=Origin.PUBLISHED, cite=Cite("nec", "Chapter 9, Table 8")),
    term(0.00323, "1/K", "temperature coefficient of copper at 75 °C", origin=Origin.PUBLISHED, cite=Cite("nec", "Chapter 9, Table 8, note")),
)


@law("r = r_0*(1 + α*(θ - θ_0))", "Resistance of the conductor at its temperature",
     r=Var("resistance per length", "Ω/km", 0), r_0=Var("tabled resistance", "Ω/km", 0), α=Var("temperature coefficient", "1/K", 0, 0.01),
     θ=Var("conductor temperature", "°C", -60, 250), θ_0=Var("temperature of the table", "°C", -60, 250),
     source=Cite("iec-60287", "Table 1"))
def resistance_at(*, r_0: float, α: float, θ: float, θ_0: float) -> float:
    """Resistance per length in Ω/m at θ (K) from its value r_0 at θ_0 (K)."""
    return r_0 * (1 + α * (θ - θ_0))


@law("R = 2*r*l", "Resistance out and back",
     R=Var("loop resistance", "Ω", 0), r=Var("resistance per length", "Ω/km", 0), l=Var("length", "m", 0), source=THEORY)
def loop_resistance(*, r: float, l: float) -> float:  # noqa: E741
    """Loop resistance in Ω of two equal conductors of length l (m), r in Ω/m."""
    return 2 * r * l


@law("X = 2*x*l*f/f_0", "Reactance out and back",
     X=Var("loop reactance", "Ω", 0), x=Var("reactance per length at the reference frequency", "mΩ/m", 0), l=Var("length", "m", 0),
     f=Var("frequency", "Hz", 0), f_0=Var("reference frequency", "Hz", 1), source=THEORY)
def loop_reactance(*, x: float, l: float, f: float, f_0: float) -> float:  # noqa: E741
    """Loop reactance in Ω of two equal conductors of length l (m); x in Ω/m holds at f_0 (Hz)."""
    return 2 * x * l * f / f_0


@law("R_n = R/n", "Equal sets in parallel", R_n=Var("resistance of all sets", "Ω"), R=Var("resistance of one set", "Ω", 0), n=Var("equal sets", "", 1), source=THEORY)
def sets_resistance(*, R: float, n: float) -> float:
    """Resistance in Ω of n equal sets."""
    return R / n


@law("X_n = X/n", "Equal sets in parallel", X_n=Var("reactance of all sets", "Ω"), X=Var("reactance of one set", "Ω", 0), n=Var("equal sets", "", 1), source=THEORY)
def sets_reactance(*, X: float, n: float) -> float:
    """Reactance in Ω of n equal sets far enough apart."""
    return X / n


def resistance_per_length(*, size: Term, temperature: Term) -> Step:
    """Resistance per length of copper of a listed size at a temperature.

    Raises `Refused` for a size that no table here has.
    """
    tabled, (reference, coefficient) = tabled_resistance(size)
    return work(resistance_at, r_0=tabled, α=coefficient, θ=temperature, θ_0=reference)


@lru_cache(maxsize=256)
def tabled_resistance(size: Term) -> tuple[Term, tuple[Term, Term]]:
    """The table's own resistance of a size, with the table's temperature and coefficient."""
    for name, column, copper in (("copper-class-5", "plain", COPPER_20), ("copper-awg-75", "resistance", COPPER_75)):
        if any(abs(k - size.value) <= 1e-3 * size.value for k, _ in table(name).pairs(column)):
            tabled = table(name).cell(size.value, column, "tabled resistance")
            return (Term(quantity=tabled.quantity, name=tabled.name, origin=tabled.origin, cite=tabled.cite,
                         rests_on=leaning((size,))), copper)
    raise refuse("size-not-listed", f"No table here has a conductor of {size.quantity}", f"Choose one of {', '.join(sizes('mm²'))} mm², or an American gauge", size.address)


def sizes(style: str) -> list[str]:
    """The listed sizes as printed, metric ("mm²") or American ("AWG"), rising."""
    return table("copper-class-5" if style == "mm²" else "copper-awg-75").keys()


@dataclass(frozen=True, slots=True)
class Reactance:
    """Reactance per length of one core, the frequency where it holds, and how it came about."""

    per_length: Term
    at: Term
    steps: tuple[Step, ...] = ()


def reactance_per_length(run: Run) -> Reactance:
    """From the distance of single cores where it was measured, else the typical one of a run's kind of cable."""
    reference = term(50.0, "Hz", "reference frequency", origin=Origin.STATED)
    if run.cores == "single cores" and run.laid.spacing is not None and run.size is not None:
        inner = term(mean_radius(run.size.value), "mm", "geometric mean radius", rests_on=(run.size,), note="of a solid conductor of this size")
        apart = work(spaced_reactance, μ_0=term(MU_0, "H/m", "4π·1e-7 H/m", origin=Origin.STATED), f=reference, d=run.laid.spacing, g=inner)
        return Reactance(apart.result, reference, (apart,))
    written = listed()["run"]["reactance"]["single" if run.cores == "single cores" else "multicore"]
    cite = Cite("iec-60364-5-52", "Annex G") if run.cores != "single cores" else Cite("bs-7671", "Table 4F2B")
    typical = Term(quantity=Quantity.read(written, "mΩ/m"), name="reactance per length", origin=Origin.TYPICAL, cite=cite, note="from memory",
                   firm_up="Hardly matters for thin cables; lay single cores close together")
    return Reactance(typical, reference)
