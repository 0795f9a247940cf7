"""One load at the end of one path: solved exactly, the upper of the two voltages.

A load that draws constant power has two voltages at which the numbers agree. The lamp runs at the upper one, which is
where it arrives when the load is raised from nothing; beyond the most that the path can carry there is none.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import hypot, inf, isfinite, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite

THEORY = Cite("circuit-theory")
_SOURCE = Var("voltage at the start", "V", 0)
_LOOP = {"R": Var("resistance of the path", "Ω", 0), "X": Var("reactance of the path", "Ω")}
_LOAD = {"P": Var("power drawn", "W", 0), "Q": Var("reactive power drawn", "var")}


@law("V = sqrt(V_s**2/2 - (R*P + X*Q) + sqrt((V_s**2/2 - (R*P + X*Q))**2 - (R**2 + X**2)*(P**2 + Q**2)))",
     "Voltage at the end of a path that carries constant power", V=Var("voltage that arrives", "V"), V_s=_SOURCE, **_LOOP, **_LOAD, source=THEORY)
def upper_voltage(*, V_s: float, R: float, X: float, P: float, Q: float) -> float:
    """Upper solution in V; raises ValueError where the path cannot carry the power."""
    a = V_s**2 / 2 - (R * P + X * Q)
    return sqrt(a + sqrt(a**2 - (R**2 + X**2) * (P**2 + Q**2)))


@law("V_s = sqrt((V + (R*P + X*Q)/V)**2 + ((X*P - R*Q)/V)**2)", "Voltage further up the path",
     V_s=Var("voltage further up", "V"), V=Var("voltage at the load", "V", 1e-6), R=_LOOP["R"], X=_LOOP["X"], **_LOAD, source=THEORY)
def sending_voltage(*, V: float, R: float, X: float, P: float, Q: float) -> float:
    """Voltage in V needed at the start of R + jX so that V stands at a load of P + jQ."""
    return hypot(V + (R * P + X * Q) / V, (X * P - R * Q) / V)


@law("P_max = V_s**2/(2*(R + X*t + sqrt((R**2 + X**2)*(1 + t**2))))", "Most power that the path can carry",
     P_max=Var("most power", "W"), V_s=_SOURCE, R=_LOOP["R"], X=_LOOP["X"], t=Var("reactive per active power", "", 0), source=THEORY)
def most_power(*, V_s: float, R: float, X: float, t: float) -> float:
    """Active power in W at which the two solutions meet; t = Q/P."""
    return V_s**2 / (2 * (R + X * t + sqrt((R**2 + X**2) * (1 + t**2))))


@law("I = S/V", "Current of the fundamental", I=Var("fundamental current", "A"), S=Var("apparent power of the fundamental", "VA", 0), V=Var("voltage", "V", 1e-6), source=THEORY)
def current(*, S: float, V: float) -> float:
    """Current in A."""
    return S / V


@law("P_v = I**2*R", "Loss on the way", P_v=Var("loss", "W"), I=Var("current", "A", 0), R=Var("resistance", "Ω", 0), source=THEORY)
def loss(*, I: float, R: float) -> float:  # noqa: E741
    """Loss in W."""
    return I**2 * R


@law("d = (V_a - V_b)/V_n", "Voltage drop", d=Var("voltage drop", "%"), V_a=Var("voltage at the start", "V", 0), V_b=Var("voltage that arrives", "V", 0), V_n=Var("nominal voltage", "V", 1e-6), source=THEORY)
def drop(*, V_a: float, V_b: float, V_n: float) -> float:
    """Drop as a share of the nominal voltage; negative for a rise."""
    return (V_a - V_b) / V_n


@law("R = R_a + R_b", "Resistances in series", R=Var("resistance of the path", "Ω"), R_a=Var("resistance", "Ω", 0), R_b=Var("resistance", "Ω", 0), source=THEORY)
def in_series(*, R_a: float, R_b: float) -> float:
    """Sum in Ω."""
    return R_a + R_b


@law("l = l_a + l_b", "Lengths one after the other", l=Var("length of the way", "m"), l_a=Var("length", "m", 0), l_b=Var("length", "m", 0), source=THEORY)
def lengths(*, l_a: float, l_b: float) -> float:
    """Sum in m."""
    return l_a + l_b


@law("X = X_a + X_b", "Reactances in series", X=Var("reactance of the path", "Ω"), X_a=Var("reactance", "Ω"), X_b=Var("reactance", "Ω"), source=THEORY)
def reactances_in_series(*, X_a: float, X_b: float) -> float:
    """Sum in Ω."""
    return X_a + X_b


@dataclass(frozen=True, slots=True)
class Point:
    """An operating point: voltage at the load, iterations spent, and how far the source voltage is missed."""

    voltage: float
    iterations: int
    residual: float


def operating_point(*, V_s: float, R: float, X: float, power: Callable[[float], float], t: float) -> Point | None:
    """The highest voltage at which a load of power(V) and Q = t·P fits the path, or None.

    The voltage that the source would need is followed down from no load to the first crossing with what it has,
    then halved in. Good for loads whose power depends on their voltage.
    """

    def excess(v: float) -> float:
        p = power(v)
        return sending_voltage(V=v, R=R, X=X, P=p, Q=t * p) - V_s

    high = V_s * 1.5
    if not excess(high) >= 0:
        return None
    steps = 400
    for k in range(1, steps):
        low = V_s * 1.5 * (1 - k / steps)
        if excess(low) < 0:
            return _halve(excess, low, high)
        high = low
    return None


def constant_power_point(*, V_s: float, R: float, X: float, P: float, Q: float) -> Point | None:
    """The closed form for a load of constant power, or None beyond the most that the path can carry."""
    try:
        v = upper_voltage(V_s=V_s, R=R, X=X, P=P, Q=Q)
    except ValueError:
        return None
    residual = sending_voltage(V=v, R=R, X=X, P=P, Q=Q) - V_s if v > 0 else inf
    return Point(v, 0, residual) if abs(residual) <= 1e-6 * V_s else None


def _halve(excess: Callable[[float], float], low: float, high: float) -> Point:
    gap, count = inf, 0
    while count < 200 and not abs(gap) < 1e-11:
        middle = (low + high) / 2
        gap = excess(middle) if middle not in (low, high) else 0.0
        low, high = (middle, high) if gap < 0 else (low, middle)
        count += 1
    residual = excess(high)
    return Point(high, count, residual if isfinite(residual) else inf)
