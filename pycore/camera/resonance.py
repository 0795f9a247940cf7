"""Where the gas of an arc tube can ring: the tones of a cylinder. The arc's power rings it at twice the current's frequency and,
where the current turns in short dips, at every multiple of that.

All of it is an estimate: the sound speed of an arc's gas, hot inside and cooler at the wall, is known only roughly.
"""

from functools import cache
from math import pi, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite

THEORY = Cite("arc-resonance")


@law("c = sqrt(γ*R_s*T)", "Sound speed of the gas", c=Var("sound speed", "m/s"), γ=Var("heat capacity ratio", "", 1, 2),
     R_s=Var("gas constant of this gas", "J/kg/K", 0), T=Var("gas temperature", "K", 0), source=THEORY)
def sound_speed(*, γ: float, R_s: float, T: float) -> float:
    """Sound speed in m/s of an ideal gas; R_s is the molar gas constant over the molar mass."""
    return sqrt(γ * R_s * T)


@law("f_n = c/(2*π)*sqrt((2*α/D)**2 + (n_z*π/l)**2)", "Tone of a cylinder", f_n=Var("tone of the arc tube", "Hz"), c=Var("sound speed", "m/s", 0), α=Var("root of the radial wave", "", 0),
     D=Var("inner diameter", "mm", 1e-3), n_z=Var("half waves along the tube", "", 0), l=Var("inner length", "mm", 1e-3), source=THEORY)
def tone(*, c: float, α: float, D: float, n_z: float, l: float) -> float:  # noqa: E741
    """Eigenfrequency in Hz of a rigid cylinder."""
    return c / (2 * pi) * sqrt((2 * α / D) ** 2 + (n_z * pi / l) ** 2)


MODES = (  # name, root (m, n) of J'_m, half waves along
    ("first along the tube", None, 1), ("second along the tube", None, 2),
    ("first across, side to side", (1, 1), 0), ("second across", (2, 1), 0), ("first radial", (0, 1), 0),
)


def root_of(mode: tuple[int, int] | None) -> float:
    """The root that belongs to a mode's waves across the tube; 0 for none."""
    return bessel_slope_root(*mode) if mode else 0.0


@cache
def bessel_slope_root(m: int, n: int) -> float:
    """n-th positive root of the slope of the Bessel function J_m."""
    x, step, found = 0.05, 0.05, 0
    while True:
        if _slope(m, x) * _slope(m, x + step) < 0:
            found += 1
            if found == n:
                return _halve(m, x, x + step)
        x += step


def _halve(m: int, low: float, high: float) -> float:
    rising = _slope(m, high) > 0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if (_slope(m, middle) > 0) == rising else (middle, high)
    return (low + high) / 2


def _slope(m: int, x: float) -> float:
    return -bessel(1, x) if m == 0 else (bessel(m - 1, x) - bessel(m + 1, x)) / 2


def bessel(m: int, x: float) -> float:
    """J_m(x) by its power series; good to ten digits for x up to 15."""
    part = total = (x / 2) ** m / _factorial(m)
    for k in range(1, 60):
        part *= -((x / 2) ** 2) / (k * (k + m))
        total += part
    return total


def _factorial(m: int) -> float:
    product = 1.0
    for i in range(2, m + 1):
        product *= i
    return product
