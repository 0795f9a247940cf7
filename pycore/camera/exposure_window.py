"""The light that a shutter window collects, frame after frame.

Pulsating light leaves frames unequal unless the window spans whole pulses, or the frame rate meets every frame at the
same place of the pulse and both clocks hold.
"""

from math import floor, log2, pi

from pycore.base.formula import sinc
from pycore.base.law import Var, law
from pycore.base.source import Cite

THEORY = Cite("camera-theory")
_TIME = Var("exposure time", "ms", 0)
_PULSES = Var("light pulses", "Hz", 0)
_RATE = Var("frame rate", "fps", 1e-6)
_DIPS = Var("dips of the light", "Hz", 1e-6)
_SPREAD = Var("difference between frames, peak to peak", "%", 0)


@law("T = θ/(2*π*f_c)", "Exposure time of a shutter angle", T=_TIME, θ=Var("shutter angle", "°", 0, 360), f_c=_RATE, source=THEORY)
def exposure_time(*, θ: float, f_c: float) -> float:
    """Exposure time in s of a shutter open for θ (rad of a full turn) at f_c frames per second."""
    return θ / (2 * pi * f_c)


@law("v = 2*m*abs(sinc(f_L*T))", "Difference between frames under rippling light", v=_SPREAD, m=Var("ripple of the light", "%", 0, 100), f_L=_PULSES, T=_TIME, source=THEORY)
def ripple_spread(*, m: float, f_L: float, T: float) -> float:
    """Peak-to-peak exposure difference, as a share of the mean, under 1 + m·cos(2π·f_L·t)."""
    return 2 * m * abs(sinc(_whole(f_L * T)))


@law("r = T - floor(f_d*T)/f_d", "Exposure beyond whole dips", r=Var("exposure beyond whole dips", "ms", 0), T=_TIME, f_d=_DIPS, source=THEORY)
def beyond_whole_dips(*, T: float, f_d: float) -> float:
    """What of the window T (s) is left after whole dip periods."""
    count = _whole(f_d * T)
    return T - floor(count) / f_d if count != round(count) else 0.0


@law("A = min(r, τ - min(ε, max(0, (τ + ε - r)/2))**2/ε)", "Most of a dip that a window can hold", A=Var("most of a dip in the window", "µs", 0), r=Var("window", "ms", 0),
     τ=Var("width of a dip", "µs", 0), ε=Var("edge of a dip", "µs", 1e-6), source=THEORY)
def dip_held(*, r: float, τ: float, ε: float) -> float:
    """Time in s at full depth that a window of r (s) can lose to one dip, τ (s) wide at half depth with edges of ε (s), ε ≤ τ."""
    return min(r, τ - min(ε, max(0.0, (τ + ε - r) / 2)) ** 2 / ε)


@law("g = 1/f_d - r", "Rest of a dip period", g=Var("rest of a dip period", "ms"), f_d=_DIPS, r=Var("exposure beyond whole dips", "ms", 0), source=THEORY)
def rest_of_period(*, f_d: float, r: float) -> float:
    """What is missing in s from whole dip periods."""
    return 1 / f_d - r


@law("v = d*max(0, A_r + A_g - τ)/(T*(1 - d*τ*f_d))", "Difference between frames under dipping light", v=_SPREAD, d=Var("depth of a dip", "%", 0, 100),
     A_r=Var("most of a dip in what is beyond whole periods", "µs", 0), A_g=Var("most of a dip in the rest of a period", "µs", 0), τ=Var("width of a dip", "µs", 0),
     T=Var("exposure time", "ms", 1e-9), f_d=_DIPS, source=THEORY)
def dip_spread(*, d: float, A_r: float, A_g: float, τ: float, T: float, f_d: float) -> float:
    """Peak-to-peak exposure difference as a share of the mean: a window holds one dip more, or more of one, than another."""
    return d * max(0.0, A_r + A_g - τ) / (T * (1 - d * τ * f_d))


@law("v = v_a + w*v_b", "Difference of a mix, clock by clock", v=_SPREAD, v_a=_SPREAD, w=Var("share of the light", "%", 0, 100), v_b=_SPREAD, source=THEORY)
def with_share(*, v_a: float, w: float, v_b: float) -> float:
    """Peak-to-peak difference of a mix, light on one more clock added with its share w: clocks that run free meet at their worst."""
    return v_a + w * v_b


@law("s = log2(E_2/E_1)", "The difference in stops", s=Var("difference between frames", "stop"), E_2=Var("brightest frame", "%", 1e-6),
     E_1=Var("darkest frame", "%", 1e-6), source=THEORY)
def stops_between(*, E_2: float, E_1: float) -> float:
    """Stops between the brightest and the darkest frame, both as shares of the mean."""
    return log2(E_2 / E_1)


@law("f_m = v_m*(1 - d*τ*f_d)*θ/(2*π*d*τ)", "Highest frame rate that stays within the difference allowed", f_m=Var("highest frame rate", "fps"), v_m=Var("difference allowed", "%", 1e-6),
     d=Var("depth of a dip", "%", 1e-6, 100), τ=Var("width of a dip", "µs", 1e-6), f_d=_DIPS, θ=Var("shutter angle", "°", 0, 360), source=THEORY)
def highest_rate(*, v_m: float, d: float, τ: float, f_d: float, θ: float) -> float:
    """Frames per second at which one dip more or less in the window makes the difference v_m."""
    return v_m * (1 - d * τ * f_d) * θ / (2 * pi * d * τ)


def _whole(x: float) -> float:
    """x, or the whole number (1 or more) that it misses only by the rounding of floats."""
    return float(round(x)) if round(x) and abs(x - round(x)) < 1e-9 * abs(x) else x
