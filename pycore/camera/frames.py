"""Frame after frame: how fast the picture pulses, whether the clocks hold it, and the bands of a sensor read row by row."""

from dataclasses import dataclass
from math import pi, sin

from pycore.base.formula import sinc
from pycore.base.law import Var, law
from pycore.base.source import Cite
from pycore.camera.clocks import fits
from pycore.camera.waveform import Series, Wave, whole

THEORY = Cite("camera-theory")
_PULSES = Var("light pulses", "Hz", 0)
_RATE = Var("frame rate", "fps", 1e-6)
_BANDS = Var("bands in the picture", "", 1e-9)


@law("f_b = abs(f_L - k*f_c)", "Beat between light and frames", f_b=Var("beat", "Hz", 0), f_L=_PULSES, k=Var("nearest whole number of pulses per frame", "", 0),
     f_c=_RATE, source=THEORY)
def beat(*, f_L: float, k: float, f_c: float) -> float:
    """Rate in Hz at which the picture pulses."""
    return abs(f_L - k * f_c)


@law("t_b = 1/f_b", "Time from bright to bright", t_b=Var("time from bright to bright", "s"), f_b=Var("beat", "Hz", 1e-9), source=THEORY)
def beat_period(*, f_b: float) -> float:
    """Period in s of the picture's pulsing."""
    return 1 / f_b


@law("Δ = f_L*δ_s + k*f_c*δ_c", "How far the beat can drift", Δ=Var("drift of the beat", "Hz"), f_L=_PULSES, δ_s=Var("tolerance of the lamp's clock", "%", 0, 100),
     k=Var("nearest whole number of pulses per frame", "", 0), f_c=_RATE, δ_c=Var("tolerance of the camera's clock", "%", 0, 100), source=THEORY)
def drift(*, f_L: float, δ_s: float, k: float, f_c: float, δ_c: float) -> float:
    """Most in Hz by which the beat differs from its nominal value."""
    return f_L * δ_s + k * f_c * δ_c


@law("N = f_L*t_r", "Bands in the picture", N=Var("bands in the picture", ""), f_L=_PULSES, t_r=Var("read-out time", "ms", 0), source=THEORY)
def bands(*, f_L: float, t_r: float) -> float:
    """Pulses of the light while the sensor is read from its first row to its last."""
    return f_L * t_r


@law("u = f_b/N", "How fast the bands roll", u=Var("picture heights a second", "1/s"), f_b=Var("beat", "Hz", 0), N=_BANDS, source=THEORY)
def roll(*, f_b: float, N: float) -> float:
    """Picture heights a second: one beat moves every band to the next one's place."""
    return f_b / N


@dataclass(frozen=True, slots=True)
class Pulsing:
    """The component of the light that troubles frames most: its rate (Hz), the whole pulses nearest to a frame, and whether its clock fits."""

    rate: float
    count: int
    fits: bool


def pulsing(wave: Wave, T: float, rate: float) -> Pulsing:
    """The component that is strongest after a window of T (s), at a frame rate (1/s)."""
    orders = list(wave.amplitudes) if isinstance(wave, Series) else range(1, 9)
    strongest = max(orders, key=lambda k: abs(wave.component(k) * sinc(whole(k * wave.frequency * T))), default=1)
    frequency = strongest * wave.frequency
    return Pulsing(frequency, round(frequency / rate), fits(wave.frequency, rate))


def next_frame(wave: Wave, T: float, rate: float, samples: int = 64) -> float:
    """Most by which a frame differs from the one before it, as a share of the mean."""
    step, period = 1 / rate, 1 / wave.frequency
    ends = wave.extremes(T)
    starts = [i * period / samples for i in range(samples)] + [ends.opens_low, ends.opens_high]
    return max(abs(wave.average(t + step, T) - wave.average(t, T)) for t in starts)


def contrast(wave: Wave, T: float, t_r: float, samples: int = 96) -> float:
    """Difference within one picture whose rows are read one after the other during t_r (s), as a share of the mean, at worst."""
    across = t_r * wave.frequency
    whole_swing = wave.extremes(T).spread
    if across >= 1 or not whole_swing:
        return whole_swing
    if isinstance(wave, Series) and len(wave.amplitudes) == 1:
        return whole_swing * sin(pi * min(across, 0.5))
    averages = [wave.average(i / samples / wave.frequency, T) for i in range(samples)] * 2
    rows = max(1, round(across * samples)) + 1
    return max(max(seen) - min(seen) for seen in (averages[i:i + rows] for i in range(samples)))


