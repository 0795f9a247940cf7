"""What the harmonics of one load cost on its path, in closed form.

Its harmonic currents keep their shares of the fundamental I, so they heat the path with I²·R_h, R_h = R·D² raised by the
skin effect. The load takes that power at the fundamental and gives it back: to the path it is a load of P behind R_h. Late pulses
take reactive power with all power at the fundamental: with P, and with what heats R_h, which makes X_h of that.
"""

from dataclasses import dataclass
from math import sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite
from pycore.powerflow.single_path import Point, constant_power_point, upper_voltage

THEORY = Cite("circuit-theory")
_BURDEN = Var("resistance that its harmonics feel", "Ω", 0)
_LATE = Var("reactance that its harmonics feel", "Ω")
_LATENESS = Var("reactive per active power of late pulses", "", -1, 1)


@law("R_h = R*D**2*s", "Resistance that counts for its harmonics", R_h=_BURDEN, R=Var("resistance", "Ω", 0),
     D=Var("distortion of the current", "%", 0), s=Var("rise by the skin effect", "", 1), source=THEORY)
def burden(*, R: float, D: float, s: float) -> float:
    """Resistance in Ω which, at the fundamental current, would be heated as R is by the harmonics."""
    return R * D**2 * s


@law("t = t_0 + t_h", "Reactive per active power, late pulses included", t=Var("reactive per active power", ""), t_0=Var("reactive per active power on a stiff supply", "", -20, 20),
     t_h=_LATENESS, source=THEORY)
def late_ratio(*, t_0: float, t_h: float) -> float:
    """Sum, a number."""
    return t_0 + t_h


@law("X_h = t_h*R_h", "Reactance that counts for its harmonics", X_h=_LATE, t_h=_LATENESS, R_h=_BURDEN, source=THEORY)
def late_burden(*, t_h: float, R_h: float) -> float:
    """Reactance in Ω in which the fundamental current takes what late pulses take with the power that heats R_h (Ω)."""
    return t_h * R_h


@law("V_h = sqrt(V_s**2/2 - (R*P + X*Q) + sqrt((V_s**2/2 - (R*P + X*Q))**2 - (R**2 + X**2)*(P**2 + Q**2)))",
     "Voltage behind the path and what its harmonics feel", V_h=Var("voltage behind what its harmonics feel", "V"), V_s=Var("voltage at the start", "V", 0),
     R=Var("resistance of the path and for its harmonics", "Ω", 0), X=Var("reactance of the path", "Ω"), P=Var("power drawn", "W", 0), Q=Var("reactive power drawn", "var"), source=THEORY)
def voltage_behind(*, V_s: float, R: float, X: float, P: float, Q: float) -> float:
    """Voltage in V, met nowhere, at which P + jQ would be drawn behind all of R; raises ValueError where the path cannot carry the power."""
    return upper_voltage(V_s=V_s, R=R, X=X, P=P, Q=Q)


@law("P_1 = P + I**2*R_h", "Power drawn at the fundamental", P_1=Var("power drawn at the fundamental", "W"), P=Var("power drawn", "W", 0),
     I=Var("fundamental current", "A", 0), R_h=_BURDEN, source=THEORY)
def fundamental_power(*, P: float, I: float, R_h: float) -> float:  # noqa: E741
    """Power in W at the fundamental of a load that needs P (W) and heats R_h (Ω) with its harmonics."""
    return P + I**2 * R_h


@law("Q_1 = Q + I**2*X_h", "Reactive power drawn at the fundamental", Q_1=Var("reactive power drawn at the fundamental", "var"), Q=Var("reactive power drawn", "var"),
     I=Var("fundamental current", "A", 0), X_h=_LATE, source=THEORY)
def fundamental_reactive(*, Q: float, I: float, X_h: float) -> float:  # noqa: E741
    """Reactive power in var at the fundamental of a load that takes Q (var) behind X_h (Ω)."""
    return Q + I**2 * X_h


@law("D = sqrt(max(0, 1/(λ**2*(1 + t**2)) - 1))", "Distortion that a power factor tells", D=Var("distortion of the current", "%"),
     λ=Var("power factor", "", 0.05, 1), t=Var("reactive per active power", "", -20, 20), source=THEORY)
def stiff_distortion(*, λ: float, t: float) -> float:
    """Distortion of the current, a share, from its true power factor and its reactive part."""
    return sqrt(max(0.0, 1 / (λ**2 * (1 + t**2)) - 1))


@law("I = I_1*sqrt(1 + D**2)", "Current, harmonics included", I=Var("current", "A"), I_1=Var("fundamental current", "A", 0),
     D=Var("distortion of the current", "%", 0), source=THEORY)
def rms_current(*, I_1: float, D: float) -> float:
    """Rms current in A."""
    return I_1 * sqrt(1 + D**2)


@dataclass(frozen=True, slots=True)
class Burdened:
    """An operating point with power (W), current (A) and reactive power (var) of the fundamental."""

    point: Point
    power: float
    current: float
    reactive: float


def burdened_point(*, V_s: float, R: float, X: float, R_h: float, X_h: float = 0.0, P: float, Q: float) -> Burdened | None:
    """The upper operating point of a load of P + jQ that burdens its path R + jX with R_h + jX_h for its harmonics, or None."""
    behind = constant_power_point(V_s=V_s, R=R + R_h, X=X + X_h, P=P, Q=Q)
    if behind is None:
        return None
    current = sqrt(P**2 + Q**2) / behind.voltage
    power, reactive = fundamental_power(P=P, I=current, R_h=R_h), fundamental_reactive(Q=Q, I=current, X_h=X_h)
    point = constant_power_point(V_s=V_s, R=R, X=X, P=power, Q=reactive)
    return Burdened(point, power, current, reactive) if point else None
