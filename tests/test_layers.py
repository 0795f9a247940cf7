"""The core's layers: base <- rig <- physics <- findings <- drills <- api, and nothing from outside but pint."""

import ast
import sys
from functools import cache
from pathlib import Path

import pytest

import pycore

CORE = Path(pycore.__file__).parent
PHYSICS = {"conductors", "powerflow", "protection", "lamp", "camera", "meter"}
ORDER = {"base": 0, "rig": 1, **dict.fromkeys(PHYSICS, 2), "findings": 3, "drills": 4, "api": 5, "__main__": 6}
FREE = {"__init__", "data"}  # the version, and data files: open to every layer
FILES = sorted(CORE.rglob("*.py"))


@cache
def imports(file):
    """Dotted names of all that a file imports, also inside functions."""
    found = []
    for node in ast.walk(ast.parse(file.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found += [a.name for a in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{file}: relative import"
            found += [f"{node.module}.{a.name}" if node.module == "pycore" else node.module for a in node.names]
    return found


def layer(path):
    """The part of the core that a file belongs to."""
    parts = path.relative_to(CORE).with_suffix("").parts
    return parts[0]


@pytest.mark.parametrize("file", FILES, ids=lambda f: str(f.relative_to(CORE)))
def test_imports_point_downwards(file):
    """A file imports from its own part or from layers below it, never from above."""
    mine = layer(file)
    for name in imports(file):
        top, _, rest = name.partition(".")
        theirs = rest.split(".")[0]
        if top == "pycore" and theirs in ORDER and theirs != mine and mine not in FREE:
            assert ORDER[theirs] < ORDER[mine] or {mine, theirs} <= PHYSICS, f"{mine} imports {name}"


def test_the_physics_has_no_circles():
    """Parts of the physics may use each other one way only."""
    uses = {(layer(f), n.split(".")[1]) for f in FILES for n in imports(f) if n.startswith("pycore.") and layer(f) in PHYSICS}
    between = {(a, b) for a, b in uses if a != b and b in PHYSICS}

    assert {(a, b) for a, b in between if (b, a) in between} == set()


def test_every_part_has_its_layer():
    """A new part of the core is given a place in the order."""
    assert {layer(f) for f in FILES} <= set(ORDER) | FREE


@pytest.mark.parametrize("file", FILES, ids=lambda f: str(f.relative_to(CORE)))
def test_only_the_standard_library_and_pint(file):
    """The core needs nothing that a phone would have to fetch, and nothing from the tests."""
    assert {n.partition(".")[0] for n in imports(file)} <= {*sys.stdlib_module_names, "pycore", "pint"}


def test_pint_stays_at_the_edge():
    """Only the unit module speaks pint; everything else counts in SI floats."""
    assert [layer(f) for f in FILES if any(n.partition(".")[0] == "pint" for n in imports(f))] == ["base"]
