"""Every published figure, computed by the Python that the page ships."""

import json
import pkgutil
import subprocess
from pathlib import Path

import pycore
from build import build
from toolchain import node

TESTS = Path(__file__).parent.parent
CASES = sorted((TESTS / "published" / "cases").glob("*.toml"))
RUNNER = ("published/run_cases.py", "protection/rigs.py")
WRONG = '[wrong]\nlaw = "lamp.dimming.light"\ngiven = { p = "50 %", n = "1" }\nexpected = "51 %"\n'
MAIN = """
import importlib, json, os
from tests.published import run_cases

def answer():
    for name in json.load(open("/given/modules.json")):
        importlib.import_module(name)
    texts = [open("/given/cases/" + name, encoding="utf-8").read() for name in sorted(os.listdir("/given/cases"))]
    return json.dumps({"files": len(texts), "failures": run_cases.failures(texts)})
"""


def test_the_shipped_python_agrees_with_what_is_printed():
    """All files of cases are run there, and the one that is wrong on purpose is all that fails."""
    build()
    modules = [m.name for m in pkgutil.walk_packages(pycore.__path__, "pycore.") if not m.name.endswith("__main__")]
    given = {"main.py": MAIN, "modules.json": json.dumps(modules), "cases/wrong.toml": WRONG}
    given |= {f"cases/{f.name}": f.read_text("utf-8") for f in CASES} | {f"tests/{name}": (TESTS / name).read_text("utf-8") for name in RUNNER}
    done = subprocess.run([node(), str(Path(__file__).with_name("cases.mjs"))], input=json.dumps(given), capture_output=True, encoding="utf-8")

    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout) == {"files": len(CASES) + 1, "failures": ["wrong: 51 % is printed, 50 % found"]}
