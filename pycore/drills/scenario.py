"""The scenario files: one commented TOML file each, with story, rig, questions and what it promises."""

import hashlib
from dataclasses import dataclass
from functools import cache
from typing import Any

from pycore.base.data_files import contents
from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.units import digits

START = "START"


@dataclass(frozen=True, slots=True)
class Scenario:
    """A scenario file as read."""

    id: str
    content: dict[str, Any]

    def values(self, code: str) -> dict[str, str]:
        """The numbers that belong to a code; START gives the first of every list."""
        drawn = {k: options[self._pick(code, k, len(options))] for k, options in self.content["vary"].items()}
        for name, how in self.content.get("derive", {}).items():
            rest = 1 - Quantity.read(drawn[how["one_minus"]], "%").value
            drawn[name] = f"{digits(100 * rest)} %"
        return drawn

    def _pick(self, code: str, key: str, count: int) -> int:
        if code == START:
            return 0
        seed = hashlib.sha256(f"{self.id}/{code}/{key}".encode()).digest()
        return int.from_bytes(seed[:4], "big") % count


@cache
def scenarios() -> dict[str, Scenario]:
    """All scenarios by id, in their order."""
    found = [Scenario(name, content) for name, content in contents("demo_scenarios").items()]
    return {s.id: s for s in sorted(found, key=lambda s: s.content["order"])}


def scenario(scenario_id: str) -> Scenario:
    """One scenario. Raises `Refused` for an id that there is not."""
    if scenario_id not in scenarios():
        raise refuse("drill-unknown", f"There is no exercise {scenario_id}", "Choose one from the list")
    return scenarios()[scenario_id]


def filled(node: Any, values: dict[str, str]) -> Any:
    """A copy of a part of the file with {name} replaced by its value."""
    match node:
        case str():
            for name, value in values.items():
                node = node.replace(f"{{{name}}}", value)
            return node
        case dict():
            return {k: filled(v, values) for k, v in node.items()}
        case list():
            return [filled(v, values) for v in node]
    return node


def tidy(code: str) -> str:
    """A code as written on paper: capitals and digits only, START when there is none."""
    kept = "".join(c for c in code.upper() if c.isascii() and c.isalnum())[:8]
    return kept or START
