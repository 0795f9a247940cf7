"""Current pulses of a bridge of diodes into a reservoir capacitor: how resistance and reactance on the way make them wider and flatter.

The reservoir holds its voltage through a half-cycle; current starts where the supply passes it, an angle θ before the peak, and
resistance and reactance between the two share the difference until the current has come back to nothing, an angle β after the peak:

    R·i + X·di/dx = sqrt(2)·E·(cos(x) - cos(θ))    for -θ < x < β

Without reactance β is θ, and power times resistance over voltage squared follows from θ alone, as does the shape. A nameplate's
power factor tells θ on a stiff supply, and with it how much resistance there is inside; a cable adds to that. With X = ξ·R the
same power asks for a wider pulse, which leans back: the fundamental lags, and by as much reactive power as the harmonics give
back, each taken by its order (over a pulse the reservoir's voltage, which stands still, does no work on the current's change).
The shape was known long before the ballast: any text on rectifiers derives it. Pulses that run into each other are not followed:
from there on the shape stays as it is there, with more distortion than there is.
"""

from cmath import phase, rect
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from math import cos, exp, expm1, hypot, log, pi, sin, sqrt, tan

from pycore.base.law import Var, law
from pycore.base.source import Cite
from pycore.powerflow.spectrum import Parts

THEORY = Cite("circuit-theory")
NARROW, WIDE = 0.02, 1.165  # rad; at 1.165 the most power passes, beyond it the reservoir's voltage is lost
ORDERS = range(3, 26, 2)
_ANGLE = Var("half-angle of the current pulse", "°", 1, 89)
_BEFORE, _AFTER = Var("start of the current pulse, before the peak", "°", 1, 89), Var("end of the current pulse, after the peak", "°", 1, 170)
_POWER = Var("power times resistance over voltage squared", "")
_RATIO = Var("reactance over resistance", "", 0, 100)
YIELDS = 0.875  # of a reactance widens pulses: the reservoir, which is taken as stiff, rises under them. Fitted to one of 1 µF a watt in the time domain
LITTLE = 1e-9  # reactance over resistance that counts as none
CLOSE = 1e-8  # rad: a step after which Newton's next one is beyond all digits
TRIES = 60
LATEST = 1.25  # rad; a pulse that starts earlier passes less power, with any reactance


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


@law("ξ = k*X/R", "Reactance that widens pulses, over resistance", ξ=_RATIO, k=Var("share of a reactance that widens pulses", "", 0, 1), X=Var("reactance that its harmonics meet", "Ω", 0),
     R=Var("resistance from source to reservoir", "Ω", 1e-3), source=THEORY)
def reactance_ratio(*, k: float, X: float, R: float) -> float:
    """A number."""
    return k * X / R


@law("p = 2/π*cos(θ)*(sin(θ) + sin(β) - (θ + β)*cos(θ))", "Power of a rectifier behind a reactance, by start and end of its pulses", p=_POWER, θ=_BEFORE, β=_AFTER, source=THEORY)
def leaning_power(*, θ: float, β: float) -> float:
    """P·R/E², a number; θ and β in rad."""
    return 2 / pi * cos(θ) * (sin(θ) + sin(β) - (θ + β) * cos(θ))


@law("a = (θ + β)/2 + (sin(2*θ) + sin(2*β))/4 - cos(θ)*(sin(θ) + sin(β))", "What drives the pulse, in step with the voltage", a=Var("driving voltage in step, of the peak over π", ""), θ=_BEFORE, β=_AFTER, source=THEORY)
def in_step(*, θ: float, β: float) -> float:
    """Integral of (cos(x) - cos(θ))·cos(x) over the pulse; θ and β in rad."""
    return (θ + β) / 2 + (sin(2 * θ) + sin(2 * β)) / 4 - cos(θ) * (sin(θ) + sin(β))


@law("b = (cos(θ) - cos(β))**2/2", "What drives the pulse, a quarter turn late", b=Var("driving voltage a quarter turn late, of the peak over π", ""), θ=_BEFORE, β=_AFTER, source=THEORY)
def out_of_step(*, θ: float, β: float) -> float:
    """The same of -(cos(x) - cos(θ))·sin(x)."""
    return (cos(θ) - cos(β)) ** 2 / 2


@law("D = sqrt(max(0, π/2*(a + ξ*b - (1 + ξ**2)*π/2*p)/(a**2 + b**2) - 1))", "Distortion of a rectifier's current behind a reactance", D=Var("distortion of the current", "%"),
     a=Var("driving voltage in step, of the peak over π", "", 1e-3, 3), b=Var("driving voltage a quarter turn late, of the peak over π", "", 0, 2), ξ=_RATIO, p=Var(_POWER.name, "", 0, 1), source=THEORY)
def leaning_distortion(*, a: float, b: float, ξ: float, p: float) -> float:
    """Total harmonic distortion against the fundamental, a share."""
    return sqrt(max(0.0, pi / 2 * (a + ξ * b - (1 + ξ**2) * pi / 2 * p) / (a**2 + b**2) - 1))


@law("t_h = (ξ*a - b - 2/π*ξ*(a**2 + b**2))/(a + ξ*b - 2/π*r*(a**2 + b**2))", "Reactive power that late pulses take", t_h=Var("reactive per active power of late pulses", ""),
     a=Var("driving voltage in step, of the peak over π", "", 1e-3, 1.5), b=Var("driving voltage a quarter turn late, of the peak over π", "", 0, 2), ξ=_RATIO,
     r=Var("share of the resistance that is outside", "", 0, 1), source=THEORY)
def lateness(*, a: float, b: float, ξ: float, r: float) -> float:
    """Reactive power at the fundamental per power, a number: what the harmonics give back, each order as often as it counts."""
    return (ξ * a - b - 2 / pi * ξ * (a**2 + b**2)) / (a + ξ * b - 2 / pi * r * (a**2 + b**2))


@dataclass(frozen=True, slots=True)
class Pulse:
    """A pulse behind a way: it starts `start` (rad) before the EMF's peak and ends `end` after it; `ratio` is ξ, 0 where both are the same.

    `ahead` (rad) is how far the load's own voltage stands before the EMF, below 0: behind it. `late` is the reactive power, per
    power at the fundamental, that the load takes because its pulses are late.
    """

    start: float
    end: float
    ratio: float = 0.0
    ahead: float = 0.0
    late: float = 0.0

    @property
    def distortion(self) -> float:
        """Total harmonic distortion against the fundamental, a share."""
        if not self.ratio:
            return pulse_distortion(θ=self.start)
        θ, β = self.start, self.end
        return leaning_distortion(a=in_step(θ=θ, β=β), b=out_of_step(θ=θ, β=β), ξ=self.ratio, p=leaning_power(θ=θ, β=β))

    def spectrum(self, lead: float) -> Parts:
        """Orders, shares of the fundamental and angles (rad) against the load's own voltage; `lead` (rad) is how far it comes early for other reasons."""
        if not self.ratio:
            return pulse_spectrum(self.start, lead)
        parts = [(h, (at_end - at_start) / complex(1, h * self.ratio))
                 for h, at_end, at_start in zip(ORDERS, _driven(self.end, cos(self.start)), _driven(-self.start, cos(self.start)), strict=True)]
        all_of_it = self.distortion / hypot(*(abs(part) for _, part in parts))  # orders above the last one count in those below
        return tuple([(h, abs(part) * all_of_it, phase(part) + h * (lead - self.ahead)) for h, part in parts])


def _driven(x: float, c: float) -> list[complex]:
    """The integral up to x of (cos(x) - c)·exp(-jhx), each order h."""
    one, turn = rect(1, -x), rect(1, -2 * x)
    found, power = [], turn  # power: exp(-j(h - 1)x)
    for h in ORDERS:
        found.append(1j * power * (0.5 / (h - 1) + turn * 0.5 / (h + 1) - one * c / h))
        power *= turn
    return found


def widened(*, θ: float, V_n: float, P: float, R: float, X: float = 0.0, E: float) -> Pulse:
    """The pulse behind R and X (Ω) at an EMF of E (V), from its half-angle θ (rad) on a stiff supply at V_n (V); P in W.

    The widest there is where so much power cannot pass, or where pulses would run into each other.
    """
    p = pulse_power(θ=θ) * (E / V_n) ** -2 + P * R / E**2
    even = _halved(pulse_power, p, rising=True)
    ratio = YIELDS * P * X / (p * E**2)
    if not ratio > LITTLE:
        return Pulse(even, even)
    start = _start(p, ratio, even)
    end = _end(start, ratio)
    a, b, outside = in_step(θ=start, β=end), out_of_step(θ=start, β=end), P * R / (p * E**2)
    behind = 1 - 2 / pi * complex(outside, ratio) * complex(a, b) / complex(1, ratio)
    return Pulse(start, end, ratio, phase(behind), lateness(a=a, b=b, ξ=ratio, r=outside))


def _start(p: float, ξ: float, even: float) -> float:
    """θ (rad) at which p passes beside ξ: by Newton's method on the logarithms, kept between bounds; `even` is θ without reactance."""
    low, high, θ = even, LATEST, even
    for _ in range(TRIES):
        β = _end(θ, ξ)
        passes = leaning_power(θ=θ, β=β)
        # of the power's logarithm by that of θ; the pulse ends later, too
        rise = θ * (2 / pi * cos(θ) * sin(θ) * (θ + β + ξ * expm1(-(θ + β) / ξ)) / passes - tan(θ)) if passes > 0 else 0.0
        if β >= pi - θ or not rise > 0:
            high, following = θ, low
        else:
            low, high = (θ, high) if passes < p else (low, θ)
            following = θ * exp(min(1.0, max(-1.0, log(p / passes) / rise)))
            if abs(following - θ) < CLOSE:
                return following
        θ = following if low < following < high else (low + high) / 2
    return low


def _end(θ: float, ξ: float) -> float:
    """β (rad) at which the current is back to nothing; π - θ, where the next pulse starts, if it is not by then."""
    c, s, square = cos(θ), sin(θ), ξ * ξ

    def current(x: float) -> float:
        """Of sqrt(2)*E/R*(1 + ξ²)."""
        gone = expm1(-(x + θ) / ξ)
        return cos(x) - c + ξ * (sin(x) + s + s * gone) + c * square * gone

    low, high = θ, pi - θ
    if not current(high) < 0:
        return high
    x = min(θ + ξ, 2.15 * θ, high)
    for _ in range(TRIES):
        now = current(x)
        low, high = (x, high) if now > 0 else (low, x)
        falls = ((1 + square) * (cos(x) - c) - now) / ξ
        following = x - now / falls if falls < 0 else low
        if abs(following - x) < CLOSE:
            return following
        x = following if low < following < high else (low + high) / 2
    return x


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


def steepness(parts: Parts) -> float:
    """Root of the sum of the squares of shares times orders: how fast the harmonics change, of the fundamental's rate."""
    return hypot(*(h * share for h, share, _ in parts))
