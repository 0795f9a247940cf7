"""Neutral sizing by both rule sets."""

import pytest

from pycore.base.problem import Refused
from pycore.base.result import term
from pycore.powerflow.neutral import neutral_counts, size_neutral


@pytest.mark.parametrize(("third", "on", "required"), [
    (0.10, "line", 39.0), (0.20, "line", 45.3), (0.40, "neutral", 54.4), (0.50, "neutral", 58.5),
])
def test_annex_e_example(third, on, required):
    """39 A a line; factors BS 7671 Table 4Aa / IEC 60364-5-52 Annex E; the worked example from memory, arithmetic re-run."""
    found = size_neutral(line=term(39.0, "A"), third=term(third, "%"))

    assert found.on == on
    assert found.required.value == pytest.approx(required, abs=0.1)


@pytest.mark.parametrize(("third", "on", "factor"), [(0.15, "line", 1.0), (0.151, "line", 0.86), (0.33, "line", 0.86), (0.331, "neutral", 0.86),
                                                      (0.45, "neutral", 0.86), (0.451, "neutral", 1.0), (0.0, "line", 1.0), (1.0, "neutral", 1.0)])
def test_edges_of_the_table(third, on, factor):
    """Each row holds above its share and up to the next, as the table says."""
    found = size_neutral(line=term(100.0, "A"), third=term(third, "%"))

    assert found.on == on
    assert found.required.value == pytest.approx((100 if on == "line" else 300 * third) / factor)


def test_overfull_neutral_leaves_the_lines_spare():
    """Above 135 % of line current in the neutral the lines are not fully loaded (memory)."""
    assert size_neutral(line=term(39.0, "A"), third=term(0.46, "%")).lines_spare
    assert not size_neutral(line=term(39.0, "A"), third=term(0.44, "%")).lines_spare


@pytest.mark.parametrize("third", [-0.01, 1.01])
def test_shares_that_are_none(third):
    """Below 0 and above 100 %."""
    with pytest.raises(Refused):
        size_neutral(line=term(39.0, "A"), third=term(third, "%"))


@pytest.mark.parametrize(("system", "lines", "nonlinear", "counts"), [
    ("three-phase wye", 3, 0.2, False), ("three-phase wye", 3, 0.8, True), ("three-phase wye", 2, 0.0, True),
    ("split-phase", 2, 0.8, False), ("single-phase", 1, 0.0, True),
])
def test_north_american_count(system, lines, nonlinear, counts):
    """NEC 310.15(E): unbalance only does not count; two lines of a wye do; mostly nonlinear load does (that item from memory)."""
    found = neutral_counts(system=system, lines=lines, nonlinear=nonlinear)

    assert found.counts is counts and found.why and found.cite.source == "nec"


def test_share_that_is_none():
    """NaN is no share."""
    with pytest.raises(Refused):
        neutral_counts(system="split-phase", lines=2, nonlinear=float("nan"))
