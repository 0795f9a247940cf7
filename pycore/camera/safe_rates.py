"""Frame rates and shutter angles that a pulsating light leaves steady, from the law and not from a list."""

from math import pi

from pycore.base.law import Var, law
from pycore.base.source import Cite

THEORY = Cite("camera-theory")


@law("f_c = f_L/n", "Frame rate that meets every frame at the same place of the pulse", f_c=Var("frame rate", "fps"), f_L=Var("light pulses", "Hz", 1e-6), n=Var("whole pulses per frame", "", 1), source=THEORY)
def safe_rate(*, f_L: float, n: float) -> float:
    """Frame rate with n light pulses in each frame: steady at any shutter angle while both clocks hold."""
    return f_L / n


@law("θ = 2*π*f_c*n/f_L", "Shutter angle that spans whole pulses", θ=Var("shutter angle", "°"), f_c=Var("frame rate", "fps", 1e-6), n=Var("whole pulses per exposure", "", 1), f_L=Var("light pulses", "Hz", 1e-6), source=THEORY)
def safe_angle(*, f_c: float, n: float, f_L: float) -> float:
    """Shutter angle in rad whose exposure holds n whole light pulses: steady even when the clocks drift."""
    return 2 * pi * f_c * n / f_L


def safe_rates(*, f_L: float, slowest: float = 1.0) -> list[float]:
    """All rates from f_L down to `slowest`, in frames per second."""
    return [safe_rate(f_L=f_L, n=n) for n in range(1, int(f_L / slowest + 1e-9) + 1)]


def safe_angles(*, f_c: float, f_L: float) -> list[float]:
    """All angles up to a full turn, in rad, narrowest first."""
    return [safe_angle(f_c=f_c, n=n, f_L=f_L) for n in range(1, most_pulses(f_c=f_c, f_L=f_L) + 1)]


def most_pulses(*, f_c: float, f_L: float) -> int:
    """Whole light pulses that fit into one frame."""
    return int(f_L / f_c * (1 + 1e-12) + 1e-9)
