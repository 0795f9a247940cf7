"""Every document named anywhere is listed, with how surely we know it."""

import ast
import re
from functools import cache
from pathlib import Path

import pycore
from pycore.api import wire
from pycore.base.source import SURENESS, Cite, sources
from pycore.base.table import tables
from tests.modules import every_law

CORE = Path(pycore.__file__).parent


@cache
def places():
    """(source, locator) of every citation in the code, of every law and of every table; "" where code puts the locator together."""
    calls = [n for f in CORE.rglob("*.py") for n in ast.walk(ast.parse(f.read_text("utf-8"))) if isinstance(n, ast.Call) and isinstance(n.func, ast.Name)]
    texts = {c: [a.value if isinstance(a, ast.Constant) else "" for a in c.args] for c in calls}
    named = {(t[0], (t[1:] or [""])[0]) for c, t in texts.items() if c.func.id == "Cite" and t and t[0]}
    named |= {(t[3], t[4]) for c, t in texts.items() if c.func.id == "published" and len(t) > 4 and t[3]}
    return named | {(law.source.source, law.source.locator) for law in every_law().values()} | {(t.source, t.locator) for t in tables().values()}


def cited():
    """Ids in every citation."""
    return {source for source, _ in places()}


def test_every_citation_names_a_listed_source():
    """No formula, table or limit cites a document that is not in the list."""
    assert cited() - set(sources()) == set()


def test_every_source_says_how_sure_it_is():
    """Title, sureness of a known kind and a note are given for each."""
    for source in sources().values():
        assert source.title and source.note
        assert source.how_sure in SURENESS


PLACE = re.compile(r"(?:Tables?|Appendix|[Aa]nnex|Chapter|[Cc]lause|Articles?|pages?) [\w.()/-]*\w|\d{3}\.\d[\w.()]*")


def test_a_citation_says_each_place_once():
    """No citation reads "Table 1, Table 1": neither title nor edition repeats what the locator says."""
    for source, locator in places():
        of = sources()[source]
        found = PLACE.findall(f"{of.title}, {of.edition}, {locator}")
        assert len(found) == len(set(found)), (source, found)


def test_what_is_not_first_hand_says_so_on_the_screen():
    """Every citation goes to the screen with how surely it is known, and the screen says so unless the text itself was read."""
    citation = (CORE.parent / "web" / "app" / "ui" / "term.js").read_text("utf-8")
    for source, locator in places():
        shown = wire.cite(Cite(source, locator))
        assert shown["how_sure"] == sources()[source].how_sure and shown["title"] and "  " not in shown["title"]
    assert 'cite.how_sure !== "first hand"' in citation and "(${cite.how_sure})" in citation


def test_a_figure_from_memory_is_not_called_read():
    """A locator that says "from memory" belongs to a source that is not first hand."""
    assert all(sources()[s].how_sure != "first hand" for s, locator in places() if "memory" in locator)
