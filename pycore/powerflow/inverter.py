"""Battery and inverter: how long it lasts, and whether it starts the load."""

from pycore.base.law import Var, law
from pycore.base.source import Cite

THEORY = Cite("circuit-theory")


@law("t = E*u*η/(P + P_0)", "Time on the battery", t=Var("time", "h"), E=Var("energy of the battery", "Wh", 0), u=Var("share that may be used", "%", 0, 100),
     η=Var("efficiency of the inverter", "%", 1, 100), P=Var("power of the loads", "W", 0), P_0=Var("the inverter's own use", "W", 1e-3), source=THEORY)
def battery_time(*, E: float, u: float, η: float, P: float, P_0: float) -> float:
    """Time in s that E (J) lasts; P and P_0 in W, P_0 counted on the output side."""
    return E * u * η / (P + P_0)


@law("k = S/S_p", "Peak against what the inverter stands", k=Var("share of the peak rating", "%"), S=Var("apparent power in the first moment", "VA", 0),
     S_p=Var("peak rating", "VA", 1), source=THEORY)
def peak_share(*, S: float, S_p: float) -> float:
    """Share of the inverter's peak rating, 1 at the limit."""
    return S / S_p


@law("k = I_p/(sqrt(2)*I)", "Crest of the current against a sine", k=Var("crest over that of a sine", ""), I_p=Var("peak current", "A", 0), I=Var("rms current", "A", 1e-9), source=THEORY)
def crest_share(*, I_p: float, I: float) -> float:  # noqa: E741
    """1 for a sine; an inverter that clips at its peak current gives correspondingly less of a peaky load."""
    return I_p / (2**0.5 * I)
