"""A case's input.json as the core's own network."""

import json
from pathlib import Path
from typing import Any

from pycore.powerflow.network import Branch, Load, Network, Wire
from pycore.powerflow.source import supply

CASES = Path(__file__).parent / "cases"


def case_names() -> list[str]:
    """Every folder under cases."""
    return sorted(p.parent.name for p in CASES.glob("*/input.json"))


def read(name: str, file: str) -> Any:
    """One JSON file of a case."""
    return json.loads((CASES / name / file).read_text("utf-8"))


def network(given: dict[str, Any]) -> Network:
    """The network that an input describes."""
    s = given["source"]
    source = supply(node=s["node"], system=s["system"], voltage=s["voltage"], line=complex(*s["line"]), neutral=complex(*s["neutral"]))
    return Network(source=source, branches=tuple(map(_branch, given["branches"])), loads=tuple(Load(**x) for x in given["loads"]), frequency=given["frequency"])


def _branch(b: dict[str, Any]) -> Branch:
    ends, joints = b.get("ends", {}), b.get("joint", {})
    wires = tuple(Wire(top=c, bottom=ends.get(c, c), r=r, x=x, joint=joints.get(c, 0.0)) for c, (r, x) in b["wires"].items())
    return Branch(id=b["id"], start=b["start"], end=b["end"], wires=wires, mutual=tuple(map(tuple, b.get("mutual", ()))))
