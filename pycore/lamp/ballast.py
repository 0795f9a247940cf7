"""What a ballast draws for what it gives."""

from math import hypot, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite

THEORY = Cite("circuit-theory")


@law("P = P_o/η", "Power drawn by the ballast", P=Var("power drawn", "W"), P_o=Var("power at the ballast's output", "W", 0), η=Var("efficiency", "%", 1, 100), source=THEORY)
def input_power(*, P_o: float, η: float) -> float:
    """Power drawn in W."""
    return P_o / η


@law("P_o = η*P", "Power that the ballast gives", P_o=Var("power at the ballast's output", "W"), η=Var("efficiency", "%", 1, 100), P=Var("power drawn", "W", 0), source=THEORY)
def output_power(*, P: float, η: float) -> float:
    """Output in W."""
    return η * P


@law("t = sqrt(1/λ_1**2 - 1)", "Reactive per active power", t=Var("reactive per active power", ""), λ_1=Var("displacement factor", "", 0.05, 1), source=THEORY)
def reactive_ratio(*, λ_1: float) -> float:
    """Q/P of the fundamental, lagging."""
    return sqrt(1 / λ_1**2 - 1)


@law("Q = P*t", "Reactive power drawn", Q=Var("reactive power drawn", "var"), P=Var("power drawn", "W", 0), t=Var("reactive per active power", ""), source=THEORY)
def reactive_power(*, P: float, t: float) -> float:
    """Reactive power of the fundamental in var."""
    return P * t


@law("S_1 = sqrt(P**2 + Q**2)", "Apparent power of the fundamental", S_1=Var("apparent power of the fundamental", "VA"), P=Var("power drawn", "W", 0), Q=Var("reactive power drawn", "var"), source=THEORY)
def apparent_power_of(*, P: float, Q: float) -> float:
    """Apparent power of the fundamental in VA."""
    return hypot(P, Q)


@law("I = P/(λ*V)", "Current drawn, harmonics included", I=Var("current", "A"), P=Var("power drawn", "W", 0), λ=Var("power factor", "", 0.05, 1), V=Var("voltage", "V", 1e-6), source=THEORY)
def rms_current(*, P: float, λ: float, V: float) -> float:
    """Rms current in A; λ is the true power factor, displacement times distortion."""
    return P / (λ * V)


@law("S = V*I", "Apparent power", S=Var("apparent power", "VA"), V=Var("voltage", "V", 0), I=Var("current", "A", 0), source=THEORY)
def apparent_power(*, V: float, I: float) -> float:  # noqa: E741
    """Apparent power in VA."""
    return V * I


@law("λ = P/S", "Power factor", λ=Var("power factor", ""), P=Var("power drawn", "W", 0), S=Var("apparent power", "VA", 1e-6), source=THEORY)
def factor_of(*, P: float, S: float) -> float:
    """True power factor of a power (W) drawn with an apparent power (VA)."""
    return P / S


@law("P = P_n*(V/V_n)**k", "Power that follows the supply voltage", P=Var("power", "W"), P_n=Var("power at nominal voltage", "W", 0), V=Var("voltage", "V", 0), V_n=Var("nominal voltage", "V", 1),
     k=Var("voltage exponent", "", 0, 4), source=Cite("arc-choke", "slope of the curve"))
def voltage_following_power(*, P_n: float, V: float, V_n: float, k: float) -> float:
    """Power in W of a choke-ballasted lamp at V."""
    return P_n * (V / V_n) ** k
