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
_SPREAD = Var("difference between frames, peak to peak", "%", 0)


@law("T = θ/(2*π*f_c)", "Exposure time of a shutter angle", T=_TIME, θ=Var("shutter angle", "°", 0, 360), f_c=_RATE, source=THEORY)
def exposure_time(*, θ: float, f_c: float) -> float:
    """Exposure time in s of a shutter open for θ (rad of a full turn) at f_c frames per second."""
    return θ / (2 * pi * f_c)


@law("v = 2*m*abs(sinc(f_L*T))", "Difference between frames under rippling light", v=_SPREAD, m=Var("ripple of the light", "%", 0, 100), f_L=_PULSES, T=_TIME, source=THEORY)
def ripple_spread(*, m: float, f_L: float, T: float) -> float:
    """Peak-to-peak exposure difference, as a share of the mean, under 1 + m·cos(2π·f_L·t)."""
    return 2 * m * abs(sinc(_whole(f_L * T)))


@law("r = T - floor(f_d*T)/f_d", "Exposure beyond whole dips", r=Var("exposure beyond whole dips", "ms", 0), T=_TIME, f_d=Var("dips of the light", "Hz", 1e-6), source=THEORY)
def beyond_whole_dips(*, T: float, f_d: float) -> float:
    """What of the window T (s) is left after whole dip periods."""
    count = _whole(f_d * T)
    return T - floor(count) / f_d if count != round(count) else 0.0


@law("v = d*(min(r, τ) - max(0, r + τ - 1/f_d))/T", "Difference between frames under dipping light", v=_SPREAD, d=Var("depth of a dip", "%", 0, 100), r=Var("exposure beyond whole dips", "ms", 0),
     τ=Var("width of a dip", "µs", 0), f_d=Var("dips of the light", "Hz", 1e-6), T=Var("exposure time", "ms", 1e-9), source=THEORY)
def dip_spread(*, d: float, r: float, τ: float, f_d: float, T: float) -> float:
    """Peak-to-peak exposure difference as a share of undipped light: a window holds one dip more or less than another."""
    return d * (min(r, τ) - max(0.0, r + τ - 1 / f_d)) / T


@law("v = v_a + v_b", "Differences of two ripples at worst", v=_SPREAD, v_a=_SPREAD, v_b=_SPREAD, source=THEORY)
def both_spreads(*, v_a: float, v_b: float) -> float:
    """Peak-to-peak difference when both ripples meet at their worst."""
    return v_a + v_b


@law("v = v_a + w*v_b", "Difference of a mix, at worst", v=_SPREAD, v_a=_SPREAD, w=Var("share of the light", "%", 0, 100), v_b=_SPREAD, source=THEORY)
def with_share(*, v_a: float, w: float, v_b: float) -> float:
    """Peak-to-peak difference of a mix, one lamp with share w added, when all meet at their worst."""
    return v_a + w * v_b


@law("s = log2((1 + v/2)/(1 - v/2))", "The difference in stops", s=Var("difference between frames", "stop"), v=Var("difference between frames, peak to peak", "%", 0, 199), source=THEORY)
def spread_in_stops(*, v: float) -> float:
    """Stops between the brightest and the darkest frame."""
    return log2((1 + v / 2) / (1 - v / 2))


@law("f_b = abs(f_L - k*f_c)", "Beat between light and frames", f_b=Var("beat", "Hz", 0), f_L=_PULSES, k=Var("nearest whole number of pulses per frame", "", 0), f_c=_RATE, source=THEORY)
def beat(*, f_L: float, k: float, f_c: float) -> float:
    """Rate in Hz at which the picture pulses."""
    return abs(f_L - k * f_c)


@law("f_m = v_m*θ/(2*π*d*τ)", "Highest frame rate that stays within the difference allowed", f_m=Var("highest frame rate", "fps"), v_m=Var("difference allowed", "%", 1e-6), θ=Var("shutter angle", "°", 0, 360),
     d=Var("depth of a dip", "%", 1e-6, 100), τ=Var("width of a dip", "µs", 1e-6), source=THEORY)
def highest_rate(*, v_m: float, θ: float, d: float, τ: float) -> float:
    """Frames per second at which one dip more or less in the window makes the difference v_m."""
    return v_m * θ / (2 * pi * d * τ)


def _whole(x: float) -> float:
    """x, or the whole number (1 or more) that it misses only by the rounding of floats."""
    return float(round(x)) if round(x) and abs(x - round(x)) < 1e-9 * abs(x) else x
