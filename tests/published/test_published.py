"""Published figures, one test each; the printed digits are the tolerance."""

import tomllib
from pathlib import Path

import pytest

from pycore.base.quantity import Quantity
from pycore.base.source import sources
from tests.modules import every_law
from tests.published import run_cases

every_law()
FILES = sorted((Path(__file__).parent / "cases").glob("*.toml"))
CASES = {f"{f.stem}/{i}": c for f in FILES for i, c in tomllib.loads(f.read_text("utf-8")).items()}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_as_printed(case):
    """The core gives what is printed."""
    assert run_cases.run(case) == []


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_says_where_it_is_printed(case):
    """Each case names a listed source, which says how surely it is known, and the place in it."""
    assert case["source"] in sources() and case["locator"]


def test_there_are_many():
    """Far more than a hundred published figures hold the core."""
    assert len(CASES) > 200


def test_cables_and_protection_rest_on_many_documents():
    """Of cables and protection alone there are more than sixty, apart from the many rows of one table of loops, and no document carries them by itself."""
    area = [c for i, c in CASES.items() if i.startswith(("conductors/", "protection/"))]
    apart = [c for c in area if not c["locator"].startswith("Table 41.3")]

    assert len(apart) > 100 and len({c["source"] for c in area}) >= 15
    assert max(len([c for c in apart if c["source"] == s]) for s in {c["source"] for c in apart}) < len(apart) / 3


@pytest.mark.parametrize(("printed", "unit", "within", "room"), [
    ("4.4 V", "V", "", 0.05), ("405 A", "A", "", 0.5), ("22.676 ms", "ms", "", 0.5e-6), ("0.0316", "", "", 0.00005), ("60 °C", "°C", "", 0.5), ("110.5 kVA", "VA", "", 50),
    ("175 W", "W", "5 %", 8.75), ("-144.8 mired", "mired", "0.2 mired", 0.2e-6), ("70 %", "%", "0.5 % of full", 0.005),
])  # fmt: skip
def test_the_room_for_a_figure(printed, unit, within, room):
    """Half of the last printed digit, a share, an amount, or a share of the whole, in SI."""
    assert run_cases.room(printed, unit, within) == pytest.approx(room)


@pytest.mark.parametrize(("value", "agrees"), [(4.4, True), (4.4499, True), (4.3501, True), (4.4501, False), (4.3499, False), (-4.4, False), (440.0, False)])
def test_the_runner_sees_what_is_off(value, agrees):
    """A figure beyond half of the last printed digit fails."""
    assert (run_cases.off(Quantity(value, "V"), "4.4 V") == "") is agrees


@pytest.mark.parametrize("prints", [["75°", "150°"], ["75°", "150°", "225°", "301°"], {"has": ["76°"], "lacks": []}, {"has": [], "lacks": ["75°"]}])
def test_lists_are_compared_whole(prints):
    """A list that is short of one, has a wrong one, or holds what it should not, fails."""
    assert run_cases.run({"angles": "25 fps", "pulses": "120 Hz", "expected": prints})
