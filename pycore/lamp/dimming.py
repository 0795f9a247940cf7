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
