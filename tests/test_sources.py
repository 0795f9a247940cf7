"""Every document named anywhere is listed, with how surely we know it."""

import ast
from functools import cache
from pathlib import Path

import pycore
from pycore.base.source import SURENESS, sources
from pycore.base.table import tables
from tests.modules import every_law

CORE = Path(pycore.__file__).parent


@cache
def cited():
    """Ids in every `Cite("...")` of the code, of every law and of every table."""
    calls = [n for f in CORE.rglob("*.py") for n in ast.walk(ast.parse(f.read_text("utf-8"))) if isinstance(n, ast.Call)]
    named = {c.args[0].value for c in calls if isinstance(c.func, ast.Name) and c.func.id == "Cite" and c.args and isinstance(c.args[0], ast.Constant)}
    return named | {law.source.source for law in every_law().values()} | {t.source for t in tables().values()}


def test_every_citation_names_a_listed_source():
    """No formula, table or limit cites a document that is not in the list."""
    assert cited() - set(sources()) == set()


def test_every_source_says_how_sure_it_is():
    """Title, sureness of a known kind and a note are given for each."""
    for source in sources().values():
        assert source.title and source.note
        assert source.how_sure in SURENESS
