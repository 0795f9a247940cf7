"""The band in which a supply's voltage is expected."""

from pycore.base.law import Var, law
from pycore.base.source import Cite


@law("V_b = k*V_n", "Edge of the band that the supply keeps to", V_b=Var("edge of the band", "V"), k=Var("share of nominal", "%", 0, 200), V_n=Var("nominal voltage", "V", 0),
     source=Cite("circuit-theory", "the rule is in the share"))
def edge(*, k: float, V_n: float) -> float:
    """Voltage in V at a share k of the nominal V_n (V)."""
    return k * V_n
