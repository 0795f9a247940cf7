"""From the ballast's output to the arc.

The arc holds its voltage nearly constant, so current is power over voltage. A ballast that makes up the loss raises its
output until the lamp has what was set, up to its ceiling; one that does not gives its own output, and the cable takes its share.
"""

from math import sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite

THEORY = Cite("circuit-theory")
_ARC = {"V_a": Var("arc voltage", "V", 1), "λ_a": Var("arc power factor", "", 0.3, 1)}


@law("I = P_a/(V_a*λ_a)", "Arc current", I=Var("arc current", "A"), P_a=Var("lamp power", "W", 0), **_ARC, source=THEORY)
def arc_current(*, P_a: float, V_a: float, λ_a: float) -> float:
    """Arc current in A; λ_a is 1 on a square wave."""
    return P_a / (V_a * λ_a)


@law("P_o = P_a + I**2*R", "Output with the head-cable loss made up", P_o=Var("power at the ballast's output", "W"), P_a=Var("lamp power", "W", 0), I=Var("arc current", "A", 0), R=Var("head-cable resistance", "Ω", 0), source=THEORY)
def output_made_up(*, P_a: float, I: float, R: float) -> float:  # noqa: E741
    """Ballast output in W that leaves P_a for the lamp."""
    return P_a + I**2 * R


@law("I = (sqrt((V_a*λ_a)**2 + 4*R*P_o) - V_a*λ_a)/(2*R)", "Arc current from the ballast's output", I=Var("arc current", "A"), P_o=Var("power at the ballast's output", "W", 0),
     R=Var("head-cable resistance", "Ω", 1e-9), **_ARC, source=THEORY)
def arc_current_from_output(*, P_o: float, R: float, V_a: float, λ_a: float) -> float:
    """Arc current in A when P_o is shared by arc and cable."""
    v = V_a * λ_a
    return 2 * P_o / (sqrt(v**2 + 4 * R * P_o) + v)


@law("P_a = V_a*λ_a*I", "Lamp power", P_a=Var("lamp power", "W"), I=Var("arc current", "A", 0), **_ARC, source=THEORY)
def lamp_power(*, I: float, V_a: float, λ_a: float) -> float:  # noqa: E741
    """Lamp power in W."""
    return V_a * λ_a * I
