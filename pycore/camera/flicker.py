"""Figures of merit of light that pulses. They are about people and say nothing of a camera."""

from collections.abc import Iterable, Sequence
from math import exp, inf, pi

from pycore.base.law import Var, law
from pycore.base.source import Cite

DEFINITIONS = Cite("flicker-measures")
PEOPLE = Cite("ieee-1789", "8.1.1")
STROBOSCOPIC = Cite("cie-tn-006")
_DEPTH = Var("percent flicker", "%", 0, 100)
_FREQUENCY = Var("frequency", "Hz", 0)


@law("p_f = (Φ_2 - Φ_1)/(Φ_2 + Φ_1)", "Percent flicker", p_f=_DEPTH, Φ_2=Var("most light", "", 0), Φ_1=Var("least light", "", 0), source=DEFINITIONS)
def percent_flicker(*, Φ_2: float, Φ_1: float) -> float:
    """Half of peak to peak over the middle."""
    return (Φ_2 - Φ_1) / (Φ_2 + Φ_1)


def flicker_index(levels: Sequence[float]) -> float:
    """Area above the mean over the whole area, of one period in equal steps."""
    mean = sum(levels) / len(levels)
    return sum(x - mean for x in levels if x > mean) / sum(levels)


@law("FI = m/π", "Flicker index of a pure ripple", FI=Var("flicker index", ""), m=Var("ripple of the light", "%", 0, 100), source=DEFINITIONS)
def flicker_index_of_ripple(*, m: float) -> float:
    """Flicker index of 1 + m·cos."""
    return m / pi


def low_risk(frequency: float) -> float:
    """Percent flicker below which risk is low, as a share: 0.025 %/Hz up to 90 Hz, 0.08 %/Hz up to 1250 Hz, none above."""
    return inf if frequency > 1250 else (0.025 if frequency < 90 else 0.08) * frequency / 100


def no_effect(frequency: float) -> float:
    """Percent flicker below which no effect is observable, as a share: 0.01 %/Hz up to 90 Hz, 0.0333 %/Hz up to 3000 Hz, none above."""
    return inf if frequency > 3000 else (0.01 if frequency < 90 else 0.0333) * frequency / 100


@law("T_s = 1/(1 + exp(-0.00518*(f/f_1 - 306.6))) + 20*exp(-f/f_1/10)", "Threshold of the stroboscopic effect", T_s=Var("threshold", ""), f=_FREQUENCY,
     f_1=Var("one hertz", "Hz", 1, 1), source=STROBOSCOPIC)
def stroboscopic_threshold(*, f: float, f_1: float) -> float:
    """Amplitude over mean of a pure ripple of f (Hz) that is just seen on moving things."""
    return 1 / (1 + exp(-0.00518 * (f / f_1 - 306.6))) + 20 * exp(-f / f_1 / 10)


def stroboscopic(components: Iterable[tuple[float, float]]) -> float:
    """Stroboscopic visibility of components (frequency Hz, amplitude over mean) from 80 Hz to 2 kHz; 1 is just visible."""
    powers = ((c / stroboscopic_threshold(f=f, f_1=1.0)) ** 3.7 for f, c in components if 80 <= f <= 2000)
    return float(sum(powers) ** (1 / 3.7))
