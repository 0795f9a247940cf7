"""The light of a filament: it follows the mains' power only as fast as the wire heats and cools; thick wires lag more."""

from math import pi, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite
from pycore.camera.waveform import Series

THEORY = Cite("filament-lag")
_TEMPERATURE = Var("filament temperature", "K", 300, 3700)
_RADIATED = Var("power radiated by its surface", "W/m²", 0)
_THICK = Var("thickness of the wire", "mm", 0)
_ONE = Var("one millimetre", "mm", 1, 1)
_AGAINST = Var("heat against surface of a wire 1 mm thick", "", 0)


@law("M = ε*σ*T**4", "Power that the wire radiates", M=_RADIATED, ε=Var("emissivity of tungsten", "", 0, 1), σ=Var("Stefan-Boltzmann constant", "W/m²/K⁴", 0),
     T=_TEMPERATURE, source=THEORY)
def radiated(*, ε: float, σ: float, T: float) -> float:
    """Radiated power in W/m² at T (K)."""
    return ε * σ * T**4


@law("x = 4*ρ*I**2/(π**2*M*d_1**3)", "Heat against surface of a wire", x=_AGAINST, ρ=Var("resistivity of hot tungsten", "Ω·m", 0),
     I=Var("current", "A", 0), M=Var("power radiated by its surface", "W/m²", 1e-3), d_1=_ONE, source=THEORY)
def heat_against_surface(*, ρ: float, I: float, M: float, d_1: float) -> float:  # noqa: E741
    """How much more I (A) heats a wire 1 mm thick than its surface radiates at M (W/m²)."""
    return 4 * ρ * I**2 / (pi**2 * M * d_1**3)


@law("d = d_1*x**(1/3)", "Thickness of the wire", d=_THICK, d_1=_ONE, x=_AGAINST, source=THEORY)
def thickness(*, d_1: float, x: float) -> float:
    """Diameter in m of the wire that radiates just what heats it: heat falls with its square, surface grows with it."""
    return float(d_1 * x ** (1 / 3))


@law("τ_f = γ*c*d*T/(16*M)", "Thermal time of the filament", τ_f=Var("thermal time", "ms"), γ=Var("density of tungsten", "kg/m³", 0), c=Var("heat capacity of hot tungsten", "J/kg/K", 0),
     d=_THICK, T=_TEMPERATURE, M=_RADIATED, source=THEORY)
def thermal_time(*, γ: float, c: float, d: float, T: float, M: float) -> float:
    """Time constant in s of small changes of temperature: heat stored over four times the power radiated, by T."""
    return γ * c * d * T / (16 * M)


@law("m = n*q/(4*sqrt(1 + (4*π*f*τ_f)**2))", "Ripple of a filament's light", m=Var("ripple of the light", "%"), n=Var("light for temperature", "", 0), q=Var("ripple of the power", "%", 0),
     f=Var("frequency of the supply", "Hz", 0), τ_f=Var("thermal time", "ms", 0), source=THEORY)
def ripple(*, n: float, q: float, f: float, τ_f: float) -> float:
    """Amplitude at twice the supply frequency f (Hz): a quarter of the power's ripple reaches temperature, less what lags; light goes
    as temperature to the exponent n."""
    return n * q / (4 * sqrt(1 + (4 * pi * f * τ_f) ** 2))


def lagging(*, f: float, m: float, τ_f: float) -> Series:
    """A ripple m at twice the supply frequency f (Hz), behind the power by the wire's lag."""
    return Series(f, {2: m / (1 + 4j * pi * f * τ_f) * sqrt(1 + (4 * pi * f * τ_f) ** 2)})
