"""Who says so. Every published figure names one of the sources listed in data/sources.toml."""

from dataclasses import dataclass
from functools import cache

from pycore.base.data_files import content

SURENESS = ("first hand", "second hand", "memory", "common practice")


@dataclass(frozen=True, slots=True)
class Source:
    """A document, and how surely we know what it says.

    `how_sure` is "first hand" (its own text was read), "second hand" (a text that quotes it was read),
    "memory" (neither; treat as provisional) or "common practice" (a fact of the trade, no document).
    """

    id: str
    title: str
    edition: str
    how_sure: str
    note: str


@dataclass(frozen=True, slots=True)
class Cite:
    """A place in a source: "Table 3, row 2.5 mm²"."""

    source: str
    locator: str = ""


@cache
def sources() -> dict[str, Source]:
    """All sources by id."""
    listed = content("pycore/data/sources.toml")
    return {i: Source(i, s["title"], s.get("edition", ""), s["how_sure"], s.get("note", "")) for i, s in listed.items()}
