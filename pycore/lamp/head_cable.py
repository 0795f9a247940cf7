"""From the ballast's output to the arc.

The arc holds its voltage nearly constant, so current is power over voltage. A ballast that makes up the loss raises its
output until the lamp has what was set, up to its ceiling; one that does not gives its own output, and the cable takes its share.

    ballast ── R ── arc      V_a = V_0 + r·(I - I_0), in step with the current by λ (1 on a square wave)
    V_t, P_o        V_a, P_a
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


_SLOPE = Var("slope of the arc voltage", "Ω", 0)
_STEADY = Var("power per current of the arc at no current", "V")


@law("b = λ_a*(V_0 - r_a*I_0)", "Arc voltage without its slope", b=_STEADY, λ_a=_ARC["λ_a"], V_0=Var("arc voltage at rated power", "V", 1), r_a=_SLOPE,
     I_0=Var("arc current at rated power", "A", 0), source=THEORY)
def steady_part(*, λ_a: float, V_0: float, r_a: float, I_0: float) -> float:
    """The part of the arc's power per current that does not grow with the current, in V."""
    return λ_a * (V_0 - r_a * I_0)


@law("I = 2*P_o/(b + sqrt(b**2 + 4*(λ_a*r_a + R)*P_o))", "Current from the power that arc and cable share", I=Var("arc current", "A"),
     P_o=Var("power at the ballast's output", "W", 0), b=_STEADY, λ_a=_ARC["λ_a"], r_a=_SLOPE, R=Var("head-cable resistance", "Ω", 0), source=THEORY)
def current_of_power(*, P_o: float, b: float, λ_a: float, r_a: float, R: float) -> float:
    """Current in A; with R = 0 the power P_o (W) is the lamp's own."""
    return 2 * P_o / (b + sqrt(b**2 + 4 * (λ_a * r_a + R) * P_o))


@law("V_a = V_0 + r_a*(I - I_0)", "Arc voltage at this current", V_a=Var("arc voltage", "V"), V_0=Var("arc voltage at rated power", "V", 1), r_a=_SLOPE,
     I=Var("arc current", "A", 0), I_0=Var("arc current at rated power", "A", 0), source=THEORY)
def arc_voltage(*, V_0: float, r_a: float, I: float, I_0: float) -> float:  # noqa: E741
    """Arc voltage in V."""
    return V_0 + r_a * (I - I_0)


@law("V_t = sqrt(V_a**2 + 2*λ_a*V_a*I*R + (I*R)**2)", "Voltage at the ballast's output", V_t=Var("output voltage", "V"), V_a=Var("arc voltage", "V", 0), λ_a=_ARC["λ_a"],
     I=Var("arc current", "A", 0), R=Var("head-cable resistance", "Ω", 0), source=THEORY)
def terminal_voltage(*, V_a: float, λ_a: float, I: float, R: float) -> float:  # noqa: E741
    """Output voltage in V: the cable's drop is in step with the current, the arc's voltage only by λ_a."""
    return sqrt(V_a**2 + 2 * λ_a * V_a * I * R + (I * R) ** 2)


@law("R = (P_o - P_a)/I**2", "Resistance that the output still serves", R=Var("head-cable resistance", "Ω"), P_o=Var("most power at the ballast's output", "W", 0),
     P_a=Var("lamp power wanted", "W", 0), I=Var("arc current", "A", 1e-9), source=THEORY)
def resistance_for_output(*, P_o: float, P_a: float, I: float) -> float:  # noqa: E741
    """Largest head-cable resistance in Ω that leaves P_a of P_o."""
    return (P_o - P_a) / I**2


@law("R = (sqrt(max(0, V_t**2 - (1 - λ_a**2)*V_a**2)) - λ_a*V_a)/I", "Resistance that the output voltage still serves", R=Var("head-cable resistance", "Ω"),
     V_t=Var("most output voltage", "V", 0), λ_a=_ARC["λ_a"], V_a=Var("arc voltage", "V", 0), I=Var("arc current", "A", 1e-9), source=THEORY)
def resistance_for_voltage(*, V_t: float, λ_a: float, V_a: float, I: float) -> float:  # noqa: E741
    """Largest head-cable resistance in Ω at which V_t still drives I through arc and cable."""
    return (sqrt(max(0.0, V_t**2 - (1 - λ_a**2) * V_a**2)) - λ_a * V_a) / I


@law("l = R/(2*r)", "Length of this resistance, out and back", l=Var("longest head cable", "m"), R=Var("head-cable resistance", "Ω", 0), r=Var("resistance per length", "Ω/km", 1e-6),
     source=THEORY)
def length_of(*, R: float, r: float) -> float:
    """Length in m of a cable with loop resistance R; r in Ω/m."""
    return R / (2 * r)


@law("ΔI = P_v/(η*λ*V)", "Supply current for the head-cable loss", ΔI=Var("extra current from the supply", "A"), P_v=Var("loss in the head cable", "W", 0),
     η=Var("efficiency", "%", 1, 100), λ=Var("power factor", "", 0.05, 1), V=Var("voltage at the ballast", "V", 1), source=THEORY)
def extra_current(*, P_v: float, η: float, λ: float, V: float) -> float:
    """Current in A that the supply gives only to make up the loss."""
    return P_v / (η * λ * V)
