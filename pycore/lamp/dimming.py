"""Electrical power to light of an arc lamp, and back."""

from math import log, log2

from pycore.base.law import Var, law
from pycore.base.source import Cite

_SHARE = Var("share of rated power", "%", 0.01, 200)
_LIGHT = Var("share of full light", "%", 0.001, 500)
_EXPONENT = Var("dimming exponent", "", 0.2, 5)


@law("p = P/P_n", "Share of rated power", p=_SHARE, P=Var("lamp power", "W", 0), P_n=Var("rated power", "W", 1e-6), source=Cite("circuit-theory"))
def power_share(*, P: float, P_n: float) -> float:
    """Share of rated power."""
    return P / P_n


@law("Φ = p**n", "Light at this power", Φ=_LIGHT, p=_SHARE, n=_EXPONENT, source=Cite("arc-dimming"))
def light(*, p: float, n: float) -> float:
    """Share of full light at a share p of rated power."""
    return p**n


@law("s = log2(Φ)", "Stops", s=Var("stops", "stop"), Φ=_LIGHT, source=Cite("photometry"))
def stops(*, Φ: float) -> float:
    """Stops against full light."""
    return log2(Φ)


@law("n = log(Φ)/log(p)", "Dimming exponent from one reading", n=_EXPONENT, Φ=Var("share of full light", "%", 0.001, 99.99), p=Var("share of rated power", "%", 0.01, 99.99), source=Cite("arc-dimming"))
def exponent(*, Φ: float, p: float) -> float:
    """Exponent of a lamp that gives Φ of its light at p of its power."""
    return log(Φ) / log(p)


@law("p = 2**(s/n)", "Setting for wanted stops", p=_SHARE, s=Var("stops", "stop", -20, 0), n=_EXPONENT, source=Cite("arc-dimming"))
def setting_for_stops(*, s: float, n: float) -> float:
    """Share of rated power that changes the light by s stops."""
    return 2 ** (s / n)


@law("p = Φ**(1/n)", "Power for this light", p=_SHARE, Φ=_LIGHT, n=_EXPONENT, source=Cite("arc-dimming"))
def power_for_light(*, Φ: float, n: float) -> float:
    """Share of rated power that gives a share Φ of full light."""
    return Φ ** (1 / n)


@law("Φ = 2**s", "Light for these stops", Φ=_LIGHT, s=Var("stops", "stop", -20, 2), source=Cite("photometry"))
def light_of_stops(*, s: float) -> float:
    """Share of light that is s stops away."""
    return 2**s


@law("p = p_f + (1 - p_f)*c", "Power at this control output", p=_SHARE, p_f=Var("lowest power", "%", 0, 100), c=Var("what the curve makes of the level", "%", 0, 100),
     source=Cite("dimmer-curves", "arc ballasts: level 0 is the lowest dim"))
def power_of_output(*, p_f: float, c: float) -> float:
    """Share of rated power when the curve's output runs from the ballast's floor to full power."""
    return p_f + (1 - p_f) * c


@law("c = (p - p_f)/(1 - p_f)", "Control output for this power", c=Var("what the curve must give", "%"), p=_SHARE, p_f=Var("lowest power", "%", 0, 99.9),
     source=Cite("dimmer-curves", "arc ballasts: level 0 is the lowest dim"))
def output_of_power(*, p: float, p_f: float) -> float:
    """Curve output that sets a share p of rated power; negative below the floor."""
    return (p - p_f) / (1 - p_f)


@law("s_r = s - s_f", "Stops that are left to lose", s_r=Var("stops left to lose", "stop"), s=Var("stops wanted", "stop", -20, 0), s_f=Var("stops at the lowest dim", "stop", -20, 0),
     source=Cite("photometry"))
def stops_left(*, s: float, s_f: float) -> float:
    """Stops that the dim cannot give: negative, to be lost by scrim, diffusion or distance."""
    return s - s_f


@law("τ = 2**s_r", "Transmission that loses these stops", τ=Var("transmission", "%"), s_r=Var("stops to lose", "stop", -20, 0), source=Cite("photometry"))
def transmission(*, s_r: float) -> float:
    """Share of light that a scrim or diffusion must pass."""
    return 2**s_r


@law("d_2 = d_1*2**(-s_r/2)", "Distance that loses these stops", d_2=Var("distance", "m"), d_1=Var("distance now", "m", 0.1), s_r=Var("stops to lose", "stop", -20, 0),
     source=Cite("photometry", "inverse-square law, from the lamp's virtual source"))
def distance(*, d_1: float, s_r: float) -> float:
    """Distance in m at which the light is s_r stops less than at d_1; good beyond five times the size of the source."""
    return d_1 * 2 ** (-s_r / 2)


# A double scrim takes a stop, a single half a stop: common practice, no source.


def scrims(stops: float) -> tuple[int, int, float]:
    """Doubles and singles that come nearest to losing `stops` (positive), and the stops then left over."""
    halves = max(0, round(2 * stops))
    return halves // 2, halves % 2, stops - halves / 2
