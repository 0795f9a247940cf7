"""The light of LEDs: steady on a steady current but for what the driver lets through of the mains, or pulsed."""

from pycore.base.problem import refuse
from pycore.camera.outline import Outline
from pycore.camera.waveform import Series

EDGE = 1e-6  # s; how fast pulsed light comes and goes, from memory


def rippling(*, f: float, m: float) -> Series:
    """A ripple m at twice the supply frequency f (Hz)."""
    return Series(f, {2: m})


def pulsed(*, f: float, duty: float) -> Outline:
    """Light on for `duty` (between 0 and 1) of each of f (Hz) pulses. Raises `Refused` for a duty that leaves no pulse."""
    if not 0 < duty < 1:
        raise refuse("no-pulse", "The pulses leave no light or no dark", "Check the dim")
    period, on = 1 / f, duty / f
    edge = min(EDGE, 0.2 * on, 0.2 * (period - on))
    return Outline(period, [(-(on + edge) / 2, 0.0), (-(on - edge) / 2, 1.0), ((on - edge) / 2, 1.0), ((on + edge) / 2, 0.0)])
