"""What the page's archive has ready-made is what the shipped interpreter would make of it."""

import json
import subprocess
from pathlib import Path

import pytest

from build import build
from toolchain import node

LOOK = """
import json, marshal, sys


def answer():
    at_start = sorted(sys.modules)
    import start_inside
    from pkgutil import get_data
    from pycore.base import units
    from pycore.base.data_files import made_units
    from pycore.api.door import handle

    rig = json.loads(handle('{"method": "demo", "params": {}}'))["result"]["rig"]
    checked = json.loads(handle(json.dumps({"method": "check", "params": {"rig": rig}})))
    after = sorted(sys.modules)
    compiled = marshal.loads(get_data("pycore.data", start_inside.COMPILED))
    return json.dumps({
        "ok": checked["ok"], "at start": at_start, "after a check": after,
        "units": made_units(), "by pint": {unit: units.from_pint(unit) for unit in units.SPELLINGS},
        "pint from": sys.modules["pint"].__file__,
        "other code": [text for text, code in compiled.items() if code != compile(text, "<string>", "exec", dont_inherit=True)], "compiled": len(compiled),
        "more": [start_inside.load_more() for _ in range(12)], "loaded": sorted(sys.modules["pycore.api.method"].LOADED),
    })
"""


@pytest.fixture(scope="module")
def made():
    """What the shipped interpreter says of itself."""
    build()
    done = subprocess.run([node(), str(Path(__file__).with_name("cases.mjs"))], input=json.dumps({"main.py": LOOK}), capture_output=True, encoding="utf-8")
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_the_units_are_those_of_pint(made):
    """Every unit that may be written has the factor, offset, dimension and SI unit that pint gives there and then."""
    assert made["units"] == made["by pint"] and len(made["units"]) > 70
    assert "libs.zip" in made["pint from"]


def test_a_check_asks_neither_pint_nor_toml(made):
    """What the browser would read and work out at every start was done when the archive was made."""
    assert made["ok"]
    assert not {"pint", "tomllib", "pycore.drills.play"} & set(made["at start"])
    assert not {"pint", "tomllib"} & set(made["after a check"])


def test_the_data_classes_are_compiled_as_python_would(made):
    """Each text of the archive compiles to the very code that stands beside it."""
    assert made["other code"] == [] and made["compiled"] > 50


def test_the_rest_is_loaded_a_part_at_a_time(made):
    """Once all is there, nothing is left to load."""
    assert made["more"][0] and not made["more"][-1]
    assert "strike" in made["loaded"] and "exercises" in made["loaded"]
