"""Skin effect: at the harmonics a thick conductor has more resistance. Proximity of other conductors is left out."""

from collections.abc import Sequence
from functools import lru_cache
from math import pi, sqrt
from operator import mul

from pycore.base.law import Var, law
from pycore.base.source import Cite

CLAUSE = "clause 2.1.2"
_X = {"low": Var("skin-effect argument", "", 0, 2.8), "middle": Var("skin-effect argument", "", 2.8, 3.8), "high": Var("skin-effect argument", "", 3.8, 100)}
_Y = Var("rise of resistance", "")


@law("x_s = sqrt(8*π*f*μ/r)", "Skin-effect argument", x_s=Var("skin-effect argument", ""), f=Var("frequency", "Hz", 0), μ=Var("1e-7 H/m", "H/m", 1e-7, 1e-7),
     r=Var("direct-current resistance per length", "Ω/m", 1e-6), source=Cite("iec-60287", CLAUSE))
def skin_argument(*, f: float, μ: float = 1e-7, r: float) -> float:
    """Argument of the skin-effect factor; r in Ω/m at working temperature, f in Hz."""
    return sqrt(8 * pi * f * μ / r)


@law("y_s = x_s**4/(192 + 0.8*x_s**4)", "Skin effect, thin conductor", y_s=_Y, x_s=_X["low"], source=Cite("iec-60287", CLAUSE))
def skin_thin(*, x_s: float) -> float:
    """Rise of resistance as a share, for x_s up to 2.8."""
    return x_s**4 / (192 + 0.8 * x_s**4)


@law("y_s = 0.0563*x_s**2 - 0.0177*x_s - 0.136", "Skin effect, middling conductor", y_s=_Y, x_s=_X["middle"], source=Cite("iec-60287", CLAUSE))
def skin_middling(*, x_s: float) -> float:
    """Rise of resistance as a share, for x_s from 2.8 to 3.8."""
    return 0.0563 * x_s**2 - 0.0177 * x_s - 0.136


@law("y_s = 0.354*x_s - 0.733", "Skin effect, thick conductor", y_s=_Y, x_s=_X["high"], source=Cite("iec-60287", CLAUSE))
def skin_thick(*, x_s: float) -> float:
    """Rise of resistance as a share, for x_s above 3.8."""
    return 0.354 * x_s - 0.733


def resistance_factor(r: float, frequency: float) -> float:
    """Alternating over direct-current resistance; r in Ω/m (0: unknown, no skin effect), frequency in Hz."""
    if not r > 0:
        return 1.0
    x = skin_argument(f=frequency, r=r)
    return 1 + (skin_thin if x <= 2.8 else skin_middling if x <= 3.8 else skin_thick)(x_s=x)


@lru_cache(maxsize=4096)
def _rises(r: float, orders: tuple[int, ...], frequency: float) -> tuple[float, ...]:
    at_first = resistance_factor(r, frequency)
    return tuple(resistance_factor(r, order * frequency) / at_first for order in orders)


def rises(r: float, orders: tuple[int, ...], frequency: float) -> tuple[float, ...]:
    """Resistance at each order over that at `frequency` (Hz); r in Ω/m, of which two digits do: half a per cent."""
    return _rises(float(f"{r:.2g}"), orders, frequency)


def mean_rise(r: float, parts: Sequence[tuple[int, float, float]], frequency: float) -> float:
    """The same over a spectrum of (order, share, angle), weighted by the heat of each order; 1 without harmonics."""
    heats = [share**2 for _, share, _ in parts]
    whole = sum(heats)
    return sum(map(mul, heats, rises(r, tuple(order for order, _, _ in parts), frequency))) / whole if whole > 0 else 1.0
