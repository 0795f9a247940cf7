"""How much light reaches the subject, and what a camera makes of it."""

from math import log2, pi, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite

METER = Cite("photometry", "incident light: N²/t = E·S/C")
SQUARE = Cite("photometry", "inverse-square law")
_LUX = Var("light at the subject", "lx", 0)
_SPEED = Var("ISO speed", "", 1)
_NUMBER = Var("aperture number", "", 0.5)
_CONSTANT = Var("calibration of incident metering", "lx·s", 1)
_TIME = Var("exposure time", "ms", 1e-6)


@law("E = I*Φ*2**(-s)/D**2", "Light at the subject", E=_LUX, I=Var("intensity", "cd", 0), Φ=Var("share of full light", "%", 0), s=Var("loss in scrims and diffusion", "stop", 0),
     D=Var("distance", "m", 1e-3), source=SQUARE)
def from_intensity(*, I: float, Φ: float, s: float, D: float) -> float:  # noqa: E741
    """Illuminance in lx at D (m) from a lamp of I (cd), square on; holds from about five times the size of the source."""
    return I * Φ * 2 ** (-s) / D**2


@law("I = E_0*D_0**2", "Intensity from a reading", I=Var("intensity", "cd"), E_0=Var("light read", "lx", 0), D_0=Var("distance of the reading", "m", 1e-3), source=SQUARE)
def intensity(*, E_0: float, D_0: float) -> float:
    """Intensity in cd of a lamp that gives E_0 (lx) at D_0 (m)."""
    return E_0 * D_0**2


@law("E = E_a + E_b", "Light of two lamps", E=_LUX, E_a=_LUX, E_b=_LUX, source=SQUARE)
def together(*, E_a: float, E_b: float) -> float:
    """Illuminances add."""
    return E_a + E_b


@law("N = sqrt(E*S*t/C)", "Aperture that this light gives", N=Var("aperture number", ""), E=_LUX, S=_SPEED, t=_TIME, C=_CONSTANT, source=METER)
def aperture(*, E: float, S: float, t: float, C: float) -> float:
    """f-number for E (lx) at ISO S and t (s)."""
    return sqrt(E * S * t / C)


@law("E = C*N**2/(S*t)", "Light that this aperture needs", E=_LUX, C=_CONSTANT, N=_NUMBER, S=_SPEED, t=_TIME, source=METER)
def needed(*, C: float, N: float, S: float, t: float) -> float:
    """Illuminance in lx for f-number N at ISO S and t (s)."""
    return C * N**2 / (S * t)


@law("s = 2*log2(N/N_w)", "Over or short", s=Var("over (short with a minus)", "stop"), N=_NUMBER, N_w=Var("aperture wanted", "", 0.5), source=METER)
def over(*, N: float, N_w: float) -> float:
    """Stops of light over what the wanted f-number N_w needs; negative is short."""
    return 2 * log2(N / N_w)


@law("f_m = θ*E*S/(2*π*C*N_w**2)", "Frame rate that the light allows", f_m=Var("frame rate", "fps"), θ=Var("shutter angle", "°", 0, 360), E=_LUX, S=_SPEED, C=_CONSTANT,
     N_w=Var("aperture wanted", "", 0.5), source=METER)
def rate_allowed(*, θ: float, E: float, S: float, C: float, N_w: float) -> float:
    """Frames a second at which a shutter open for θ (rad) just gets its light."""
    return θ * E * S / (2 * pi * C * N_w**2)
