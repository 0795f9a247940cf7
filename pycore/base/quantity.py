"""A number with its unit: the smallest thing the tool ever shows."""

from dataclasses import dataclass
from math import isfinite

from pycore.base import units
from pycore.base.problem import refuse


@dataclass(frozen=True, slots=True)
class Quantity:
    """`value` in coherent SI units, `unit` the family in which people read it.

    `Quantity(4350.0, "W")` reads "4.35 kW"; `Quantity(2.5e-6, "mm²")` reads "2.5 mm²".
    Raises `Refused` for a value that is not finite: no such number ever leaves the core.
    """

    value: float
    unit: str

    def __post_init__(self) -> None:
        if not isfinite(self.value):
            raise refuse("not-a-number", "The calculation gave no finite number", "Check the entries of this part of the rig")

    @classmethod
    def of(cls, value: float, unit: str) -> "Quantity":
        """From a value in `unit` itself: `Quantity.of(2.5, "mm²")`."""
        return cls(units.to_si(value, unit), unit)

    @classmethod
    def read(cls, text: str, unit: str) -> "Quantity":
        """From what a person wrote; a bare number counts in `unit`."""
        return cls(units.parse(text, unit), unit)

    def shown(self) -> tuple[str, str]:
        """The figure and its unit, apart, for large figures with a small unit."""
        return units.shown(self.value, self.unit)

    def __str__(self) -> str:
        figure, unit = self.shown()
        return figure + unit if unit == "°" else f"{figure}\u00a0{unit}".strip()
