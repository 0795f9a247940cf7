"""A rig as a method gets it: changes applied, read, settled, with the forms of its parts."""

import json
from collections.abc import Sequence
from typing import Any

from pycore.api.method import Json
from pycore.api.wire import Wire, problem
from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.findings.chain import settled
from pycore.findings.strike_words import clock
from pycore.rig import edit, form
from pycore.rig.model import Load, Rig
from pycore.rig.read import Reading, load_document, read

Show = dict[str, str] | None  # the units to show lengths and sizes in, as `check` takes them


class Asked:
    """A rig as a method gets it: read, settled, with its forms; what it answers is in the units to be shown."""

    def __init__(self, rig: Json, changes: list[Json] | None = None, show: Show = None):
        pairs = [(str(c.get("address")), str(c.get("text"))) for c in changes or []]
        self.reading: Reading = read(edit.put(load_document(json.dumps(rig)), pairs))
        self.rig: Rig = settled(self.reading)
        self.wire = Wire(show)

    def load(self, load: str) -> Load:
        """One lamp. Raises `Refused` for one that is not there."""
        if load not in self.rig.loads:
            raise refuse("lamp-unknown", f"The rig has no lamp {load}", "Choose one of the rig's lamps")
        return self.rig.loads[load]

    def fields(self, part: Any, address: str, **choose: Any) -> list[Json]:
        """The form of a part."""
        return [self.wire.field(e) for e in form.entries(part, address, self.reading.document, self.reading.problems, **choose)]

    def all(self) -> Json:
        """What every answer carries of the rig itself."""
        return {"rig": self.reading.document, "problems": [problem(p) for p in self.reading.problems]}

    def seconds(self, value: float) -> Json:
        """A time as a quantity, and as minutes and seconds."""
        return {**self.wire.quantity(Quantity(value, "s")), "clock": clock(value)}


def changes_of(pairs: Sequence[tuple[str, str]]) -> list[Json]:
    """Changes as the page applies them."""
    return [{"address": a, "text": t} for a, t in pairs]
