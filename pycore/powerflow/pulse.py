"""Current pulses of a bridge of diodes into a reservoir capacitor: how resistance on the way makes them wider and flatter.

The reservoir holds its voltage through a half-cycle; current flows while the supply stands above it, over a half-angle θ on
either side of the peak, and all resistance between the two shares the difference:

    i(x) = sqrt(2)·E·(cos(x) - cos(θ))/R    for |x| < θ

Power times resistance over voltage squared follows from θ alone, and so does the shape. A nameplate's power factor tells θ
on a stiff supply, and with it how much resistance there is inside; a cable adds to that. The shape was known long before the
ballast: any text on rectifiers derives it. Reactance, which also widens the pulse, is left out: with much of it there is
less distortion than this says.
"""

from collections.abc import Callable
from functools import lru_cache
from math import cos, hypot, pi, sin, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite
from pycore.powerflow.spectrum import Parts

THEORY = Cite("circuit-theory")
NARROW, WIDE = 0.02, 1.165  # rad; at 1.165 the most power passes, beyond it the reservoir's voltage is lost
ORDERS = range(3, 26, 2)
_ANGLE = Var("half-angle of the current pulse", "°", 1, 89)


@law("D = sqrt(π*(θ*(1 + 2*cos(θ)**2) - 3*sin(θ)*cos(θ))/(2*(θ - sin(θ)*cos(θ))**2) - 1)", "Distortion of a rectifier's current",
     D=Var("distortion of the current", "%"), θ=_ANGLE, source=THEORY)
def pulse_distortion(*, θ: float) -> float:
    """Total harmonic distortion against the fundamental, a share; θ in rad."""
    s, c = sin(θ), cos(θ)
    return sqrt(pi * (θ * (1 + 2 * c**2) - 3 * s * c) / (2 * (θ - s * c) ** 2) - 1)


@law("p = 4/π*cos(θ)*(sin(θ) - θ*cos(θ))", "Power of a rectifier, by the width of its pulses", p=Var("power times resistance over voltage squared", ""), θ=_ANGLE, source=THEORY)
def pulse_power(*, θ: float) -> float:
    """P·R/E², a number; θ in rad."""
    return 4 / pi * cos(θ) * (sin(θ) - θ * cos(θ))


@law("R_i = p*V_n**2/P", "Resistance inside, as its power factor tells", R_i=Var("resistance inside the ballast", "Ω"), p=Var("power times resistance over voltage squared", "", 0),
     V_n=Var("nominal voltage", "V", 1), P=Var("power drawn", "W", 1), source=THEORY)
def inner_resistance(*, p: float, V_n: float, P: float) -> float:
    """Resistance in Ω behind the terminals that makes pulses so wide on a stiff supply."""
    return p * V_n**2 / P


def widened(*, θ: float, V_n: float, P: float, R: float, E: float) -> float:
    """Half-angle (rad) behind R (Ω) at an EMF of E (V), from θ (rad) on a stiff supply at V_n (V); P in W."""
    p = pulse_power(θ=θ) * (E / V_n) ** -2 + P * R / E**2
    return _halved(pulse_power, p, rising=True)


def angle_of(distortion: float) -> float:
    """Half-angle in rad of pulses with this distortion (a share), 0 where no pulse has it."""
    if not pulse_distortion(θ=WIDE) <= distortion <= pulse_distortion(θ=NARROW):
        return 0.0
    return _angle_of(distortion)


@lru_cache(maxsize=1024)
def _angle_of(distortion: float) -> float:
    return _halved(pulse_distortion, distortion, rising=False)


def _halved(law_of: Callable[..., float], wanted: float, *, rising: bool) -> float:
    low, high = NARROW, WIDE
    for _ in range(48):
        middle = (low + high) / 2
        low, high = (middle, high) if (law_of(θ=middle) < wanted) is rising else (low, middle)
    return (low + high) / 2


def pulse_spectrum(θ: float, lead: float) -> Parts:
    """Orders, shares of the fundamental and angles (rad) of such pulses; `lead` (rad) is how far they come before the voltage's peak."""
    parts = [(h, sin((h - 1) * θ) / (h - 1) + sin((h + 1) * θ) / (h + 1) - 2 * cos(θ) * sin(h * θ) / h) for h in ORDERS]
    all_of_it = pulse_distortion(θ=θ) / hypot(*(part for _, part in parts))  # orders above the last one count in those below
    return tuple((h, abs(part) * all_of_it, h * lead + (0.0 if part >= 0 else pi)) for h, part in parts)
