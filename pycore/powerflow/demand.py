"""How a load's current follows its voltage: I = Y·s(u)·U, where s is 1 at the load's own voltage."""

from typing import NamedTuple

from pycore.powerflow.network import Load

COLD = 15.0  # times its rated admittance: a cold filament, and the most that any load is let draw
DEAD = 1e-6  # of the load's voltage


class Join(NamedTuple):
    """How the loops j of a load or a branch are sums of its node's loops t: (t, j, sign), and for slopes (t, s, j, i, sign)."""

    currents: tuple[tuple[int, int, float], ...] = ()
    slopes: tuple[tuple[int, int, int, int, float], ...] = ()


NOWHERE = Join()


class Demand:
    """A load made ready for solving: node and conductors as numbers."""

    __slots__ = ("a", "admittance", "b", "fold", "join", "load", "node", "power_of", "voltage")

    def __init__(self, load: Load, node: int, a: int, b: int, join: Join = NOWHERE):
        self.load, self.node, self.a, self.b, self.join = load, node, a, b, join
        self.voltage, self.fold, self.power_of = load.voltage, load.fold, load.exponent - 2
        self.admittance = complex(load.power, -load.reactive) / load.voltage**2

    def strength(self, u: float, stiffness: float = 1.0) -> tuple[float, float]:
        """s(u) and the power of u that it follows there.

        `stiffness` 0 makes the load a plain impedance, 1 what it is.
        """
        power, v = self.power_of * stiffness, u / self.voltage
        if v < DEAD:
            return (COLD if power < 0 else 0.0 if power > 0 else 1.0), 0.0
        if u < self.fold:
            s, power = (self.fold / self.voltage) ** power * (u / self.fold) ** -stiffness, -stiffness
        else:
            s = v**power
        return (s, power) if s <= COLD else (COLD, 0.0)

    def current(self, across: complex, share: float = 1.0, stiffness: float = 1.0) -> complex:
        """Current in A at the voltage `across` (V), with `share` of the load raised."""
        return share * self.strength(abs(across), stiffness)[0] * self.admittance * across

    def tangent(self, across: complex, share: float, stiffness: float) -> tuple[complex, complex, complex]:
        """(a, b, c) of I = a·U + b·Ū + c, which touches the current at `across` (V); Ū is the conjugate of U."""
        u = abs(across)
        s, power = self.strength(u, stiffness)
        y = share * s * self.admittance
        bend = y * power / 2
        return y + bend, bend * (across / u) ** 2 if bend else 0j, -power * y * across

    def held(self, u: float) -> bool:
        """False where an electronic load would be so low that it no longer is one."""
        return self.power_of > -1.5 or self.strength(u)[0] < COLD
