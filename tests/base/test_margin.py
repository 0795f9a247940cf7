"""How far from the limit: per cent near it, a multiple beyond twice of it."""

import pytest

from pycore.base.result import Finding, Limit, Verdict, term


def finding(demand, relation, limit, unit="A"):
    """A finding with these figures."""
    return Finding(question="q", title="Q?", place="runs/K1", verdict=Verdict.CLEAR, says="", demand=term(demand, unit), limit=Limit(relation, term(limit, unit)))


@pytest.mark.parametrize(("demand", "relation", "limit", "margin", "times"), [
    (20, "<=", 25, "20 %", ""), (30, "<=", 25, "−20 %", ""), (50, "<=", 25, "−100 %", ""), (87, "<=", 25, "−248 %", "3.5 times the limit"), (2500, "<=", 25, "−9900 %", "100 times the limit"),
    (30, ">=", 25, "20 %", ""), (20, ">=", 25, "−20 %", ""), (81.4, ">=", 0.131, None, "620 times what is needed"), (-5, "<=", -1, "400 %", "5 times the limit"), (-30, ">=", 10, "−400 %", "40 A away"),
])  # fmt: skip
def test_margin_in_words(demand, relation, limit, margin, times):
    """Per cent within ±100 %, and a factor beyond: nobody reads −248 %."""
    found = finding(demand, relation, limit)

    assert margin is None or str(found.margin).replace("\u00a0", " ") == margin
    assert found.times.replace("\u00a0", " ") == times


def test_no_limit_no_margin():
    """Without a limit, or with one of nothing, there is no margin and no factor."""
    assert finding(3, "<=", 0).margin is None and finding(3, "<=", 0).times == ""
