"""What is loaded when: the first answer waits for nothing that it does not need."""

import ast
import json
import subprocess
import sys
from pathlib import Path

import pytest

import pycore
from pycore.api.method import MODULES, WHERE
from tests.rigs import PLAIN

API = Path(pycore.__file__).parent / "api"
AFTER_A_CHECK = """
import json, sys
from pycore.api import door, method
method.load("methods")
started = set(sys.modules)
answer = json.loads(door.handle(sys.stdin.read()))
print(json.dumps({"ok": answer["ok"], "started": sorted(started), "later": sorted(set(sys.modules) - started)}))
"""


@pytest.fixture(scope="module")
def loaded():
    """Modules of a fresh interpreter when the door is open, and those that the first check adds."""
    question = json.dumps({"method": "check", "params": {"rig": PLAIN}})
    done = subprocess.run([sys.executable, "-c", AFTER_A_CHECK], input=question, capture_output=True, text=True, check=True, cwd=API.parent.parent)
    return json.loads(done.stdout)


def methods_in(file: Path) -> set[str]:
    """Names of the methods that a module registers, read without loading it."""
    marks = [(f.name, d) for f in ast.parse(file.read_text("utf-8")).body if isinstance(f, ast.FunctionDef)
             for d in f.decorator_list if isinstance(d, ast.Call) and isinstance(d.func, ast.Name) and d.func.id == "method"]  # fmt: skip
    return {next((k.value.value for k in d.keywords if k.arg == "name"), name) for name, d in marks}


def test_every_method_is_found_where_it_is():
    """The list of modules names each method of each module, and no other."""
    there = {file.stem: found for file in API.glob("*.py") if (found := methods_in(file))}

    assert there == {module: set(names.split()) for module, names in MODULES.items()}
    assert len(WHERE) == sum(map(len, there.values())), "two methods of one name"


def test_the_first_check_loads_no_other_methods(loaded):
    """Exercises, shots, strikes and what only they use are left for later."""
    everything = set(loaded["started"]) | set(loaded["later"])

    assert loaded["ok"] and "pycore.findings.chain" in everything
    assert not everything & {f"pycore.api.{module}" for module in MODULES if module != "methods"}
    assert not {name for name in everything if name.startswith("pycore.drills")}
    assert not everything & {"pycore.findings.strike", "pycore.findings.balancing", "pycore.lamp.strike_search", "pycore.camera.measured", "pycore.camera.recording"}


def test_opening_the_door_reads_no_table(loaded):
    """Tables come with the first question that needs one."""
    assert "tomllib" not in loaded["started"] and "tomllib" in loaded["later"]


def test_what_the_door_opens_with_is_enough(loaded):
    """A check brings no module of ours after the start: the page has all it needs when it says that it is ready."""
    assert [name for name in loaded["later"] if name.startswith("pycore.")] == []
