"""A broken neutral in the simple case: one resistance a phase, told by its power at full voltage. The working behind the warning."""

from math import sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite

THEOREM = Cite("circuit-theory", "Millman's theorem")
_V = Var("voltage, line to neutral", "V", 0)
_P = {f"P_{k}": Var(f"power on L{k} at full voltage", "W", 1e-6) for k in (1, 2, 3)}
_OHMS = {"V_LL": Var("voltage, leg to leg", "V", 0), "R_1": Var("resistance on the first leg", "Ω", 1e-9), "R_2": Var("resistance on the second leg", "Ω", 1e-9)}


@law("V_N = V*sqrt(((P_1 - P_2)**2 + (P_2 - P_3)**2 + (P_3 - P_1)**2)/2)/(P_1 + P_2 + P_3)", "How far the neutral point moves", V_N=Var("shift of the neutral point", "V"), V=_V, **_P, source=THEOREM)
def neutral_shift(*, V: float, P_1: float, P_2: float, P_3: float) -> float:
    """Voltage in V of the broken neutral against the star point; powers in W, each at full voltage."""
    return V * sqrt(((P_1 - P_2) ** 2 + (P_2 - P_3) ** 2 + (P_3 - P_1) ** 2) / 2) / (P_1 + P_2 + P_3)


@law("V_1 = V*sqrt(3*(P_2**2 + P_3**2 + P_2*P_3))/(P_1 + P_2 + P_3)", "Voltage on L1 with the neutral broken", V_1=Var("voltage on L1", "V"), V=_V, **_P, source=THEOREM)
def voltage_with_neutral_broken(*, V: float, P_1: float, P_2: float, P_3: float) -> float:
    """Voltage in V across the load of P_1; turn the three round for the others."""
    return V * sqrt(3 * (P_2**2 + P_3**2 + P_2 * P_3)) / (P_1 + P_2 + P_3)


@law("V_1 = V_LL*R_1/(R_1 + R_2)", "Voltage on the first leg with the neutral broken", V_1=Var("voltage on the first leg", "V"), **_OHMS,
     source=Cite("circuit-theory", "two resistances in series"))
def leg_voltage_with_neutral_broken(*, V_LL: float, R_1: float, R_2: float) -> float:
    """Voltage in V across R_1 when both legs hang in series."""
    return V_LL * R_1 / (R_1 + R_2)
