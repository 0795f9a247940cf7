"""Every published table: complete, readable, in order, and refusing what it does not have."""

import tomllib
from datetime import date
from importlib.resources import files
from itertools import pairwise

import pytest

from pycore.base import units
from pycore.base.problem import Refused
from pycore.base.source import sources
from pycore.base.table import tables


def keys(table):
    """The keys in SI, or as printed where they are words."""
    try:
        return [units.parse(k, table.columns[table.key]) for k in table.keys()]
    except Refused:
        return table.keys()


TABLES = pytest.mark.parametrize("table", tables().values(), ids=tables())


def test_no_table_hides_another():
    """Each id names one table in one file."""
    printed = [i for f in files("pycore.data").joinpath("tables").iterdir() if f.name.endswith(".toml") for i in tomllib.loads(f.read_text("utf-8"))]

    assert sorted(printed) == sorted(tables())


@TABLES
def test_says_where_it_is_from(table):
    """A table names a listed source, the place in it, and when and from what it was read."""
    assert table.source in sources()
    assert table.title and table.locator
    assert all(date.fromisoformat(r[:10]) for r in table.readings)


@TABLES
def test_read_twice(table):
    """Two readings, the second apart from the first, are on record for every published table."""
    first, second, *_ = [*table.readings, "", ""]
    assert "second reading, apart from the first" in second and "second reading" not in first


@TABLES
def test_every_cell_is_a_quantity_in_a_known_unit(table):
    """Each row has a cell for each column; each filled cell behind the key is a positive number in its column's unit."""
    assert set(table.columns.values()) <= set(units.SPELLINGS)
    for row in table.rows:
        assert len(row) == len(table.columns)
        assert all(units.parse(cell, unit) > 0 for cell, unit in list(zip(row, table.columns.values(), strict=True))[1:] if cell not in ("", "-"))


@TABLES
def test_keys_rise_and_are_single(table):
    """No key comes twice, and numbers rise from row to row."""
    found = keys(table)

    assert len(set(found)) == len(found)
    assert isinstance(found[0], str) or found == sorted(found)


@TABLES
def test_monotone_where_declared(table):
    """A column that must rise or fall with the key does: a slip of a digit shows here."""
    assert set(table.monotone) <= set(table.columns)
    for column, way in table.monotone.items():
        values = [v for _, v in table.pairs(column)]
        assert len(values) > 1
        assert values == sorted(values, reverse={"rising": False, "falling": True}[way]), column


@TABLES
def test_refuses_what_it_does_not_have(table):
    """Above, below, and between its rows a table gives nothing; of words, only its own."""
    found, column = keys(table), list(table.columns)[-1]
    strange = ["none of these"] if isinstance(found[0], str) else [found[0] * 0.9 or -1.0, found[-1] * 1.1, *((a + b) / 2 for a, b in pairwise(found))]
    for key in strange:
        with pytest.raises(Refused):
            table.cell(key, column)
