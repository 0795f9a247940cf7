"""LED light: as much as the driver lets through, and a little power that is drawn in the dark."""

from pycore.base.law import Var, law
from pycore.base.source import Cite

DRIVER = Cite("led-dimming")
_POWER = Var("share of rated power", "%", 0, 150)
_LIGHT = Var("share of full light", "%", 0, 150)
_STANDBY = Var("power at black, as a share of rated", "%", 0, 50)


@law("p = s + (1 - s)*Φ", "Power at this light", p=_POWER, s=_STANDBY, Φ=_LIGHT, source=DRIVER)
def power(*, s: float, Φ: float) -> float:
    """Share of rated power at a share Φ of full light."""
    return s + (1 - s) * Φ


@law("Φ = (p - s)/(1 - s)", "Light at this power", Φ=Var("share of full light", "%"), p=_POWER, s=_STANDBY, source=DRIVER)
def light(*, p: float, s: float) -> float:
    """Share of full light at a share p of rated power; negative below the power at black."""
    return (p - s) / (1 - s)


@law("τ = (1 - Φ)/f", "Dark time of each pulse", τ=Var("dark time", "µs"), Φ=Var("share of full light", "%", 0, 100), f=Var("pulse frequency", "Hz", 1), source=DRIVER)
def dark_time(*, Φ: float, f: float) -> float:
    """Time in s that pulsed light is dark in each pulse."""
    return (1 - Φ) / f


@law("v_m = v/Φ", "Difference as a share of the mean light", v_m=Var("difference between frames, peak to peak", "%", 0), v=Var("difference as a share of undimmed light", "%", 0),
     Φ=Var("share of full light", "%", 0.1, 100), source=DRIVER)
def of_mean(*, v: float, Φ: float) -> float:
    """Peak-to-peak difference as a share of the mean of light pulsed with width Φ."""
    return v / Φ
