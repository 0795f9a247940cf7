"""How a published table is read between its rows: towards the safe side, and never beyond its ends."""

from pycore.base.problem import refuse
from pycore.base.result import Term, leaning
from pycore.base.table import Table, table
from pycore.base.units import parse


def next_above(table_id: str, key: Term, column: str, name: str) -> Term:
    """The cell of the first row whose key is not below `key`. Raises `Refused` above the last."""
    return _cell(table(table_id), key, column, name, [k for k, _ in table(table_id).pairs(column) if k >= key.value * (1 - 1e-9)][:1])


def next_below(table_id: str, key: Term, column: str, name: str) -> Term:
    """The cell of the last row whose key is not above `key`. Raises `Refused` below the first."""
    return _cell(table(table_id), key, column, name, [k for k, _ in table(table_id).pairs(column) if k <= key.value * (1 + 1e-9)][-1:])


def size_down(places: tuple[tuple[str, str], ...], size: Term, name: str) -> tuple[Term, str]:
    """The cell of a size in the first (table, column) that lists it, else of the next smaller listed size; and the table's id.

    Raises `Refused` below the smallest and above the largest listed size.
    """
    for table_id, column in places:
        for key, _ in table(table_id).pairs(column):
            if abs(key - size.value) <= 1e-3 * size.value:
                return _leaning(table(table_id).cell(key, column, name), size, ""), table_id
    listed = [(key, t, c) for t, c in places for key, _ in table(t).pairs(c)]
    below = [x for x in listed if x[0] < size.value]
    if not below or size.value > max(key for key, _, _ in listed):
        raise refuse("no-rating", f"No table here rates {size.quantity} laid this way", "Take the rating from the cable's own data or your local code", size.address)
    key, table_id, column = max(below, key=lambda x: x[0])
    cell = table(table_id).cell(key, column, name)
    row = next(k for k in table(table_id).keys() if abs(parse(k, "mm²") - key) <= 1e-9)
    return _leaning(cell, size, f"rated as the next smaller listed size, {row if 'AWG' in row else row + ' mm²'}"), table_id


def _cell(of: Table, key: Term, column: str, name: str, found: list[float]) -> Term:
    if not found:
        listed = [k for k, _ in of.pairs(column)]
        raise refuse("beyond-table", f"{of.title}: the table ends before {key.quantity}", "Take the figure from the cable's own data or your local code" if listed else "", key.address)
    return _leaning(of.cell(found[0], column, name), key, "")


def _leaning(cell: Term, key: Term, note: str) -> Term:
    """A cell that leans on the entry it was looked up by."""
    return Term(quantity=cell.quantity, name=cell.name, origin=cell.origin, cite=cell.cite, note=note, rests_on=leaning((key,)))
