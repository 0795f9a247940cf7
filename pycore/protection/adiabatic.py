"""Does a conductor stand a fault until it is cut off: all heat stays in the copper."""

from math import log, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite

HEAT = Cite("iec-60364-5-54", "543.1.3")
_K = Var("heating factor", "A√s/mm²", 1)


@law("S_m = sqrt(I**2*t)/k", "Least size against a fault", S_m=Var("least size", "mm²"), I=Var("fault current", "A", 0), t=Var("time until it is cut off", "s", 0, 5), k=_K, source=HEAT)
def least_size(*, I: float, t: float, k: float) -> float:  # noqa: E741
    """Conductor size in m² that stands I (A) for t (s), five seconds at the most."""
    return sqrt(I**2 * t) / k


@law("E = k**2*S**2", "Energy that the conductor stands", E=Var("energy it stands", "A²s"), k=_K, S=Var("conductor size", "mm²", 0), source=HEAT)
def withstand(*, k: float, S: float) -> float:
    """I²t in A²s that a conductor of S (m²) stands."""
    return k**2 * S**2


@law("E_f = I**2*t", "Energy of the fault", E_f=Var("energy of the fault", "A²s"), I=Var("fault current", "A", 0), t=Var("time until it is cut off", "s", 0, 5), source=HEAT)
def energy(*, I: float, t: float) -> float:  # noqa: E741
    """I²t in A²s of a current I (A) for t (s)."""
    return I**2 * t


@law("k = K*sqrt(log(1 + (θ_f - θ_i)/(θ_i - θ_0)))", "Heating factor from the temperatures", k=_K, K=Var("constant of copper", "A√s/mm²", 1), θ_f=Var("temperature at the end", "°C", 0, 500),
     θ_i=Var("temperature before the fault", "°C", -50, 200), θ_0=Var("temperature at which copper would lose its resistance", "°C", -240, -230), source=Cite("iec-60364-5-54", "annex A"))
def heating_factor(*, K: float, θ_f: float, θ_i: float, θ_0: float) -> float:
    """k in A·√s/m²; K is 226 A·√s/mm² and θ_0 −234.5 °C for copper. Raises ValueError where θ_f lies below θ_i."""
    return K * sqrt(log(1 + (θ_f - θ_i) / (θ_i - θ_0)))


@law("E_f = E_t", "Energy that the device lets through", E_f=Var("energy of the fault", "A²s"), E_t=Var("energy it lets through", "A²s", 0), source=HEAT)
def let_through(*, E_t: float) -> float:
    """I²t in A²s, as the device's maker gives it."""
    return E_t
