"""Published tables, kept as printed: the text of a cell is what the document shows, its digits are the tolerance.

A table never interpolates unless it says so, and never extrapolates.
"""

from dataclasses import dataclass
from functools import cache, lru_cache

from pycore.base import units
from pycore.base.data_files import contents
from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Term
from pycore.base.source import Cite


@dataclass(frozen=True, slots=True, eq=False)  # each stands for itself, so that what is read off it can be kept
class Table:
    """A table of a published document. The first column is the key; "" or "-" marks a cell the document leaves empty."""

    id: str
    title: str
    source: str
    locator: str
    columns: dict[str, str]  # column → unit
    rows: tuple[tuple[str, ...], ...]
    monotone: dict[str, str]  # column → "rising" or "falling", where the document must be
    readings: tuple[str, ...]
    note: str

    @property
    def key(self) -> str:
        """Name of the key column."""
        return next(iter(self.columns))

    def keys(self) -> list[str]:
        """The key cells as printed."""
        return [row[0] for row in self.rows]

    @lru_cache(maxsize=2048)  # noqa: B019 - tables live as long as the program
    def cell(self, key: float | str, column: str, name: str = "") -> Term:
        """The published term for `key` (SI float, or the printed text).

        Raises `Refused` ("no-row", "no-column", "no-cell") where the document has no such figure.
        """
        if column not in self.columns:
            raise refuse("no-column", f"{self.title} has no column for {column}", "Choose another kind of cable")
        at = list(self.columns).index(column)
        for row in self.rows:
            if self._is(row[0], key) and row[at] not in ("", "-"):
                quantity = Quantity.read(row[at], self.columns[column])
                unit = "" if row[0].endswith("AWG") else self.columns[self.key]
                place = f"{self.locator}, row {row[0]} {unit}".rstrip()
                return Term(quantity=quantity, name=name or column, origin=Origin.PUBLISHED, cite=Cite(self.source, place))
        raise refuse("no-cell", f"{self.title} has no figure for this size", "Choose a listed size")

    @cache  # noqa: B019
    def pairs(self, column: str) -> tuple[tuple[float, float], ...]:
        """(key, value) in SI of every filled cell of a column."""
        at, unit = list(self.columns).index(column), self.columns[column]
        return tuple((self._si(r[0]), units.parse(r[at], unit)) for r in self.rows if r[at] not in ("", "-"))

    def _si(self, printed: str) -> float:
        return units.parse(printed, self.columns[self.key])

    def _is(self, printed: str, key: float | str) -> bool:
        if isinstance(key, str):
            return printed == key
        return abs(self._si(printed) - key) <= 1e-3 * abs(key)


@cache
def tables() -> dict[str, Table]:
    """Every table in data/tables, by id."""
    found = {}
    for listed in contents("pycore/data/tables").values():
        for i, t in listed.items():
            found[i] = Table(i, t["title"], t["source"], t["locator"], t["columns"], tuple(map(tuple, t["rows"])),
                             t.get("monotone", {}), tuple(t.get("readings", ())), t.get("note", ""))
    return found


def table(table_id: str) -> Table:
    """One table by id."""
    return tables()[table_id]
