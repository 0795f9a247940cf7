"""What current a cable may carry the way it is laid, and how warm it gets below that."""

from dataclasses import dataclass, replace
from functools import lru_cache

from pycore.base.law import Var, law, work
from pycore.base.result import Step, Term, term
from pycore.base.source import Cite
from pycore.conductors.rule_sets import SETS
from pycore.conductors.rules import CableRules, Laying, laid, resting
from pycore.rig.model import Laid, Run

FREE = Laid(how="out", arrangement="bunched", singles="touching", listing="ordinary", grouped=term(1.0, "", "cables"), parallel=term(1.0, "", "sets"),
            terminals=term(363.15, "°C", "connectors"))
FACTORS = {"f_a": "the warm air", "f_g": "its neighbours", "f_c": "its loaded cores", "f_r": "the reel"}


@law("θ = θ_a + (θ_m - θ_a)*(I/I_z)**2", "Conductor temperature at this current",
     θ=Var("conductor temperature", "°C"), θ_a=Var("air around the cable", "°C", -60, 100), θ_m=Var("conductor temperature limit", "°C", 0, 250),
     I=Var("current", "A", 0), I_z=Var("current it may carry", "A", 0.1), source=Cite("circuit-theory", "heat grows with the square of the current; that resistance grows with it is left out"))
def conductor_temperature(*, θ_a: float, θ_m: float, I: float, I_z: float) -> float:  # noqa: E741
    """Steady conductor temperature in K: the rise above air grows with the square of the current (A)."""
    return θ_a + (θ_m - θ_a) * (I / I_z) ** 2


_F = {"f_a": Var("factor for the air", "", 0, 2), "f_g": Var("factor for neighbours", "", 0, 1), "f_c": Var("factor for loaded cores", "", 0, 1), "f_r": Var("factor for the reel", "", 0, 1)}


@law("I_z = n*I_t*f_a*f_g*f_c*f_r", "Current that the cable may carry as it is laid", I_z=Var("current it may carry", "A"), n=Var("equal sets in parallel", "", 1),
     I_t=Var("tabled current", "A", 0), **_F, source=Cite("circuit-theory", "product of the rule set's factors"))
def laid_current(*, n: float, I_t: float, f_a: float, f_g: float, f_c: float, f_r: float) -> float:
    """Current in A of n equal sets, each tabled at I_t (A)."""
    return n * I_t * f_a * f_g * f_c * f_r


@law("I_z = n*I_c", "Most that the connectors allow", I_z=Var("current it may carry", "A"), n=Var("equal sets in parallel", "", 1), I_c=Var("most that the connectors allow", "A", 0),
     source=Cite("circuit-theory", "sets share the current"))
def connector_current(*, n: float, I_c: float) -> float:
    """Current in A of n equal sets whose connectors allow I_c (A) each."""
    return n * I_c


@dataclass(frozen=True, slots=True)
class Rating:
    """What a run may carry: `thermal` warms the conductor to its own limit, `allowed` is what counts; `limited_by` says why."""

    thermal: Term
    allowed: Term
    limited_by: str
    steps: tuple[Step, ...]


def rating(laying: Laying, rules: CableRules) -> Rating:
    """Rate a run by one rule set. Raises `Refused` where it has no figure for this cable or this laying."""
    base = rules.base(laying)
    sets = laid(laying, "parallel", "Equal sets in parallel")
    factors = {"f_a": rules.air(laying, base.limit), "f_g": rules.neighbours(laying), "f_c": rules.cores(laying), "f_r": rules.reel(laying)}
    cable = work(laid_current, n=sets, I_t=base.current, **factors)
    least = min(factors, key=lambda symbol: factors[symbol].value)
    why = FACTORS[least] if factors[least].value < 1 else "the cable itself"
    most = rules.terminals(laying, base)
    if most is None:
        return Rating(cable.result, cable.result, why, (cable,))
    ends = work(connector_current, n=sets, I_c=most)
    if ends.result.value < cable.result.value:
        return Rating(cable.result, ends.result, "its connectors", (cable, ends))
    return Rating(cable.result, resting(cable.result, most), why, (cable, ends))


@lru_cache(maxsize=512)
def current_rating(run: Run, *, american: bool, loaded: int = 2) -> Term:
    """The current (A) that takes the conductors of a run to their temperature limit as the run is laid; a bare `Run` lies in free air.

    Raises `Refused` where no table here covers the cable or its laying.
    """
    if run.laid == Laid():
        run = replace(run, laid=FREE)
    return rating(Laying(run, loaded), SETS["na" if american else "iec"]).thermal
