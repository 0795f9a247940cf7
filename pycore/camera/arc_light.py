"""The light of an arc: on a sine of the mains it follows the power of each half-cycle; on a square wave it is steady but
for a short dip where the current turns round."""

from math import pi, sqrt

from pycore.base.law import Var, law
from pycore.base.problem import refuse
from pycore.base.source import Cite
from pycore.camera.outline import Outline
from pycore.camera.waveform import Series

THEORY = Cite("arc-light")


@law("m = 2/(3*sqrt(1 + (4*π*f*τ_p)**2))", "Ripple that the arc's persistence leaves", m=Var("ripple of the light", "%"), f=Var("frequency of the current", "Hz", 0),
     τ_p=Var("persistence", "ms", 0), source=THEORY)
def ripple_left(*, f: float, τ_p: float) -> float:
    """Amplitude at twice the frequency f (Hz) of light that follows |sin| of the current with a time constant τ_p (s).

    The arc's voltage is flat-topped, so its power goes as the size of the current, whose component at 2f is 2/3 of the mean.
    """
    return 2 / (3 * sqrt(1 + (4 * pi * f * τ_p) ** 2))


def on_sine(*, f: float, m: float, a: float = 0.0, h: float = 0.0) -> Series:
    """Ripple m at 2f, a at f where half-cycles are unequal, h at 4f where the troughs are narrower than the tops.

    Raises `Refused` where that would make light less than none.
    """
    return _possible(Series(f, {1: a, 2: m, 4: -h}))


def following(*, f: float, τ_p: float, m: float | None = None, a: float = 0.0, orders: int = 6) -> Series:
    """Light that follows |cos| of the current at f (Hz) with a time constant τ_p (s); scaled to a ripple m at 2f when given."""
    raw = {2 * k: 2 * (-1) ** (k + 1) / (4 * k * k - 1) / (1 + 4j * pi * k * f * τ_p) for k in range(1, orders + 1)}
    scale = 1.0 if m is None else m / abs(raw[2])
    return _possible(Series(f, {1: a, **{k: c * scale for k, c in raw.items()}}))


def on_square(*, f: float, τ: float, d: float, e: float, s: float = 0.0, a: float = 0.0) -> Outline:
    """Light on a square wave of f (Hz): at each commutation a dip of depth d, τ (s) wide at half its depth, with edges of
    e·τ (0 < e ≤ 1); between them it sags by s; one half-cycle is brighter by a, the other darker.

    Raises `Refused` where a dip is longer than a half-cycle.
    """
    half = 1 / (2 * f)
    if (1 + e) * τ >= half:
        raise refuse("dips-merge", "The commutation takes longer than a half-cycle", "Check commutation time and output frequency")
    if not a:
        return Outline(half, _dip(half / 2, half, τ, d, e, s, 1.0, 1.0))
    return Outline(2 * half, _dip(half / 2, half, τ, d, e, s, 1 - a, 1 + a) + _dip(1.5 * half, half, τ, d, e, s, 1 + a, 1 - a))


def _dip(centre: float, half: float, τ: float, d: float, e: float, s: float, before: float, after: float) -> list[tuple[float, float]]:
    """The four corners of a dip between two half-cycles of levels `before` and `after`."""
    foot, floor = τ * (1 + e) / 2, τ * (1 - e) / 2
    lean, bottom = s * (1 - 2 * foot / half) / 2, (1 - d) * (before + after) / 2
    return [(centre - foot, before * (1 - lean)), (centre - floor, bottom), (centre + floor, bottom), (centre + foot, after * (1 + lean))]


def _possible(light: Series) -> Series:
    if light.extremes(0.0).low < -1e-9:
        raise refuse("light-negative", "Ripple, unequal half-cycles and harmonics together would make light less than none", "Lower one of them")
    return light
