"""A filament against its voltage: light, power, current, colour and life, and a phase-cut dimmer before it.

The published exponents are rounded, so that power and current do not quite agree with each other (P = V·I would ask for
0.6); the power flow uses power over voltage, this file gives each figure as published.
"""

from math import pi, sin, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite

RERATING = Cite("lamp-rerating", "exponents on relative voltage")
THEORY = Cite("circuit-theory")
_VOLTAGE = Var("share of rated voltage", "%", 1, 200)
_POWER = Var("share of rated power", "%", 0, 300)
_LIGHT = Var("share of full light", "%", 0, 1000)
POWER, LIGHT = 1.6, 3.4


@law("v = V/V_r", "Share of rated voltage", v=_VOLTAGE, V=Var("voltage at the lamp", "V", 0), V_r=Var("rated voltage", "V", 1), source=THEORY)
def voltage_share(*, V: float, V_r: float) -> float:
    """Share of rated voltage."""
    return V / V_r


@law("v = p**(1/1.6)", "Voltage at this power", v=_VOLTAGE, p=_POWER, source=RERATING)
def voltage_for_power(*, p: float) -> float:
    """Share of rated voltage at which the lamp draws a share p of its rated power."""
    return p ** (1 / POWER)


@law("P = P_n*(V/V_n)**1.6", "Power that follows the lamp's voltage", P=Var("power", "W"), P_n=Var("power at that voltage", "W", 0),
     V=Var("voltage", "V", 0), V_n=Var("voltage", "V", 1), source=RERATING)
def power_at(*, P_n: float, V: float, V_n: float) -> float:
    """Power in W at V of a lamp that draws P_n at V_n."""
    return P_n * (V / V_n) ** POWER


@law("p = v**1.6", "Power at this voltage", p=_POWER, v=_VOLTAGE, source=RERATING)
def power(*, v: float) -> float:
    """Share of rated power."""
    return v**POWER


@law("Φ = v**3.4", "Light at this voltage", Φ=_LIGHT, v=_VOLTAGE, source=RERATING)
def light(*, v: float) -> float:
    """Share of full light at a share v of rated voltage."""
    return v**LIGHT


@law("v = Φ**(1/3.4)", "Voltage for this light", v=_VOLTAGE, Φ=_LIGHT, source=RERATING)
def voltage_for_light(*, Φ: float) -> float:
    """Share of rated voltage that gives a share Φ of full light."""
    return Φ ** (1 / LIGHT)


@law("i = v**0.55", "Current at this voltage", i=Var("share of rated current", "%"), v=_VOLTAGE, source=RERATING)
def current(*, v: float) -> float:
    """Share of rated current."""
    return v**0.55


@law("T = T_r*v**0.42", "Colour temperature at this voltage", T=Var("colour temperature", "K"), T_r=Var("colour temperature at rated voltage", "K", 1000, 5000),
     v=_VOLTAGE, source=RERATING)
def colour_temperature(*, T_r: float, v: float) -> float:
    """Colour temperature in K."""
    return T_r * v**0.42


@law("b = v**(-13)", "Life at this voltage", b=Var("share of rated life", ""), v=_VOLTAGE, source=RERATING)
def life(*, v: float) -> float:
    """Life against rated life; of halogen lamps good only above about 85 % voltage."""
    return v**-13


@law("λ = v", "Power factor of a phase-cut dimmer on a filament", λ=Var("power factor", ""), v=Var("share of the voltage let through", "%", 1, 100), source=THEORY)
def dimmer_factor(*, v: float) -> float:
    """True power factor: the lamp's rms voltage over the supply's, since both carry the same current."""
    return v


@law("λ_1 = 1/sqrt(1 + (sin(α)**2/(π - α + sin(2*α)/2))**2)", "Displacement factor of a phase-cut dimmer on a filament",
     λ_1=Var("displacement factor", ""), α=Var("firing angle", "°", 0, 179.9), source=THEORY)
def dimmer_displacement(*, α: float) -> float:
    """Cosine between voltage and fundamental current when conduction starts at α (rad) of each half-cycle."""
    return 1 / sqrt(1 + (sin(α) ** 2 / (pi - α + sin(2 * α) / 2)) ** 2)


@law("v = sqrt(1 - α/π + sin(2*α)/(2*π))", "Voltage that a phase-cut dimmer lets through", v=Var("share of the voltage let through", "%"),
     α=Var("firing angle", "°", 0, 180), source=THEORY)
def let_through(*, α: float) -> float:
    """Share of the rms voltage when conduction starts at α (rad) of each half-cycle."""
    return sqrt(max(0.0, 1 - α / pi + sin(2 * α) / (2 * pi)))


def firing_angle(v: float) -> float:
    """Firing angle in rad at which the share v of the rms voltage passes, halved in to the last bit."""
    low, high = 0.0, pi
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if let_through(α=middle) > v else (low, middle)
    return (low + high) / 2
