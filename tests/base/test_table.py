"""Published tables: look up, never guess."""

import pytest

from pycore.base.problem import Refused
from pycore.base.result import Origin
from pycore.base.table import table
from pycore.base.units import awg_area, parse


def test_a_cell_names_its_source_and_row():
    """A looked-up term is published, in SI, and says which table and row it came from."""
    cell = table("copper-class-5").cell(2.5e-6, "plain", "resistance")

    assert (cell.value, cell.origin, cell.name) == (pytest.approx(7.98e-3), Origin.PUBLISHED, "resistance")
    assert (cell.cite.source, cell.cite.locator) == ("iec-60228", "Table 3, row 2.5 mm²")


def test_a_cell_by_gauge():
    """An American size is found by its area and by its printed name."""
    by_area, by_name = (table("copper-awg-75").cell(k, "resistance") for k in (awg_area("4/0"), "4/0 AWG"))

    assert by_area == by_name
    assert by_area.value == pytest.approx(parse("0.0608 Ω/kft", "Ω/km"))


@pytest.mark.parametrize(("key", "column", "code"), [
    (3e-6, "plain", "no-cell"), (2.51e-6, "plain", "no-cell"), (0.0, "plain", "no-cell"), (400e-6, "plain", "no-cell"), ("3", "plain", "no-cell"), (2.5e-6, "silver", "no-column"),
])  # fmt: skip
def test_no_figure_between_beyond_or_beside(key, column, code):
    """A size that the table does not print, or a column it does not have, is refused: nothing is interpolated."""
    with pytest.raises(Refused) as caught:
        table("copper-class-5").cell(key, column)

    assert caught.value.problems[0].code == code


def test_an_empty_cell_is_refused():
    """Where the document leaves a cell empty there is no figure."""
    with pytest.raises(Refused):
        table("flexible-60").cell(35e-6, "two_core")


def test_pairs_hold_the_filled_cells():
    """Key and value of every filled cell come in SI."""
    assert table("flexible-60").pairs("two_singles")[0] == (pytest.approx(35e-6), 140.0)
