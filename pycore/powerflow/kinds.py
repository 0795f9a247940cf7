"""The usual kinds of load, each a `Load` with the right exponents. Powers in W, voltages in V."""

from math import copysign, sqrt
from typing import Any

from pycore.powerflow.network import Load

TUNGSTEN = 1.6  # power against voltage; lamp rerating, IES Handbook by way of public pages
CHOKE = 2.2  # a magnetic ballast: 5 % of voltage is 10 to 12 % of lamp power; memory


def reactive(power: float, displacement: float) -> float:
    """Reactive power in var; a negative displacement factor stands for a leading one."""
    return copysign(power * sqrt(1 / displacement**2 - 1), displacement)


def constant_power(power: float, displacement: float = 1.0, **more: Any) -> Load:
    """An electronic load that keeps its power."""
    return Load(power=power, reactive=reactive(power, displacement), exponent=0.0, **more)


def constant_current(power: float, displacement: float = 1.0, **more: Any) -> Load:
    """A load that keeps its current."""
    return Load(power=power, reactive=reactive(power, displacement), exponent=1.0, **more)


def constant_impedance(power: float, displacement: float = 1.0, **more: Any) -> Load:
    """A heater, or a motor seen simply."""
    return Load(power=power, reactive=reactive(power, displacement), exponent=2.0, **more)


def tungsten(power: float, **more: Any) -> Load:
    """A filament: its resistance rises with voltage."""
    return Load(power=power, exponent=TUNGSTEN, **more)


def choke(power: float, displacement: float, **more: Any) -> Load:
    """An arc lamp on a magnetic ballast."""
    return Load(power=power, reactive=reactive(power, displacement), exponent=CHOKE, **more)


def capacitor(vars_: float, **more: Any) -> Load:
    """A power-factor capacitor that gives `vars_` var at its voltage."""
    return Load(power=0.0, reactive=-vars_, exponent=2.0, **more)
