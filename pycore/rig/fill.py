"""The list of typical values, and how one of them gets into an empty field: marked, and with what to do to firm it up."""

from collections.abc import Collection
from dataclasses import replace
from functools import cache
from typing import Any

from pycore.base import units
from pycore.base.data_files import content
from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Term
from pycore.base.source import Cite
from pycore.rig.model import Spec, specs


@cache
def listed() -> dict[str, Any]:
    """The typical values, as their file has them."""
    return content("pycore/data/typical.toml")


class Filler:
    """Fills the empty fields of one part."""

    def __init__(self, part: Any, address: str, bad: Collection[str]):
        self.part, self.address, self.bad = part, address, bad
        self.found: dict[str, Any] = {}
        self.specs: dict[str, Spec] = specs(type(part))

    def empty(self, key: str) -> bool:
        value = getattr(self.part, key)
        return (value is None or value == "") and f"{self.address}/{key}" not in self.bad

    def text(self, key: str, written: str | None, origin: Origin = Origin.TYPICAL, note: str = "") -> None:
        if written and self.empty(key):
            self.quantity(key, units.parse(written, self.specs[key].unit), origin, note or "from memory")

    def quantity(self, key: str, value: float, origin: Origin = Origin.TYPICAL, note: str = "", cite: Cite | None = None) -> None:
        if self.empty(key):
            spec = self.specs[key]
            self.found[key] = Term(quantity=Quantity(value, spec.unit), name=spec.label, origin=origin, cite=cite, note=note,
                                   address=f"{self.address}/{key}", firm_up=spec.firm_up)

    def choose(self, key: str, value: str) -> None:
        if self.empty(key):
            self.found[key] = value

    def done(self) -> Any:
        return replace(self.part, **self.found)
