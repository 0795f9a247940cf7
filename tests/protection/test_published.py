"""The published figures about cables, devices and earth, each as printed in its source."""

import tomllib
from pathlib import Path

import pytest

from pycore.base import units
from pycore.base.source import sources
from pycore.base.table import table
from tests.modules import every_law
from tests.protection.rigs import BASES, changed, findings

FOLDER = Path(__file__).parent.parent / "published" / "cases"
CASES = {f"{f.stem}/{i}": c for part in ("conductors", "protection") for f in FOLDER.glob(f"{part}*.toml") for i, c in tomllib.loads(f.read_text("utf-8")).items()}


def by_law(case):
    """The law's own answer, and its unit."""
    law = every_law()[case["law"]]
    value = law.function(**{s: units.parse(text, law.variables[s].unit) for s, text in case["given"].items()})

    return value, law.variables[law.result].unit


def by_table(case):
    """The cell as the core looks it up."""
    of = table(case["table"])
    cell = of.cell(units.parse(case["key"], of.columns[of.key]), case["column"])

    return cell.value, cell.quantity.unit


def by_rig(case):
    """A figure of a finding of a described rig."""
    finding = findings(changed(BASES[case["base"]], case["changes"]))[case["question"]]
    term = finding.limit.term if case["term"] == "limit" else finding.demand

    return term.value, term.quantity.unit


def allowed(case, expected, unit):
    """How far the answer may be off: a share of it, per cent of full, or an amount."""
    within = case["within"]
    if within.endswith("% of full"):
        return units.parse(within.removesuffix(" of full"), "%")
    return units.parse(within, "%") * abs(expected) if within.endswith("%") else units.parse(within, unit)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_as_printed(case):
    """The core gives the printed figure within its printed digits, and the source is listed."""
    value, unit = by_law(case) if "law" in case else by_table(case) if "table" in case else by_rig(case)
    expected = units.parse(case["expected"], unit)

    assert abs(value - expected) <= allowed(case, expected, unit) * (1 + 1e-9)
    assert case["source"] in sources() and case["locator"]


def test_there_are_enough():
    """Sixty published figures and more hold this part of the core."""
    assert len(CASES) >= 60
