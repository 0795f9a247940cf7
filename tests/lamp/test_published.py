"""The published figures about lamps, dimming and control, each as printed in its source."""

import tomllib
from pathlib import Path

import pytest

from pycore.base import units
from pycore.base.source import sources
from tests.modules import every_law

FOLDER = Path(__file__).parent.parent / "published" / "cases"
CASES = {f"{f.stem}/{i}": c for part in ("lamp", "dimming", "control") for f in FOLDER.glob(f"{part}*.toml") for i, c in tomllib.loads(f.read_text("utf-8")).items()}


def allowed(case, expected, unit):
    """How far the answer may be off: a share of it, per cent of full, or an amount."""
    within = case["within"]
    if within.endswith("% of full"):
        return units.parse(within.removesuffix(" of full"), "%")
    return units.parse(within, "%") * abs(expected) if within.endswith("%") else units.parse(within, unit)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_as_printed(case):
    """The law gives the printed answer within the printed digits, and its source is listed."""
    law = every_law()[case["law"]]
    unit = law.variables[law.result].unit
    expected = units.parse(case["expected"], unit)
    value = law.function(**{s: units.parse(text, law.variables[s].unit) for s, text in case["given"].items()})

    assert abs(value - expected) <= allowed(case, expected, unit)
    assert case["source"] in sources() and case["locator"]
