"""Overcurrent devices: what they must be rated for, what they hold, and from what current they open."""

from math import floor, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite

RULE = Cite("circuit-theory", "the rule is in the factor")
_I_N = Var("rated current of the device", "A", 0)


@law("I_d = k*I", "Least rating of a device for this load", I_d=Var("least rating", "A"), k=Var("factor for long burns", "", 1, 2), I=Var("load current", "A", 0), source=RULE)
def least_rating(*, k: float, I: float) -> float:  # noqa: E741
    """Rating in A that a device needs for a load of I (A)."""
    return k * I


@law("I_m = f*I_z", "Largest device that protects the cable", I_m=Var("largest device", "A"), f=Var("factor for the kind of device", "", 0, 1),
     I_z=Var("current the cable may carry", "A", 0), source=RULE)
def largest_rating(*, f: float, I_z: float) -> float:
    """Rating in A up to which a device protects a cable that may carry I_z (A)."""
    return f * I_z


@law("I_h = h*I_n", "Surge that the device holds", I_h=Var("holds a surge up to", "A"), h=Var("lower edge of the band", "", 0), I_n=_I_N, source=RULE)
def held(*, h: float, I_n: float) -> float:
    """Current in A up to which a device of rating I_n (A) does not open at once."""
    return h * I_n


@law("I_a = m*I_n", "Current that opens the device at once", I_a=Var("opens from", "A"), m=Var("upper edge of the band", "", 0), I_n=_I_N, source=RULE)
def opening(*, m: float, I_n: float) -> float:
    """Current in A from which a device of rating I_n (A) opens at once."""
    return m * I_n


@law("I_s = N*i/sqrt(2)", "Inrush of lamps struck together, as the device sees it", I_s=Var("inrush as rms", "A"), N=Var("lamps struck together", "", 0), i=Var("inrush of one, peak", "A", 0),
     source=Cite("circuit-theory", "rms of a sine of this peak"))
def inrush(*, N: float, i: float) -> float:
    """Current in A, rms, of N equal peaks of i (A)."""
    return N * i / sqrt(2)


def together(*, holds: float, peak: float) -> int:
    """How many lamps with an inrush of `peak` (A) may strike at once under a device that holds `holds` (A rms)."""
    return floor(holds * sqrt(2) / peak * (1 + 1e-12)) if peak > 0 else 0
