"""The one structure of every answer."""

from itertools import permutations, product

import pytest

from pycore.base.problem import Problem
from pycore.base.result import Finding, Limit, Origin, Step, Term, Verdict, estimates, term, unknown, worst


@pytest.mark.parametrize("verdicts", list(product(Verdict, repeat=3)))
def test_the_worst_verdict(verdicts):
    """Stop outweighs tight, tight unknown, unknown clear, in whatever order they come."""
    rank = ["stop", "tight", "unknown", "clear"]
    expected = next(v for v in rank if v in [str(x) for x in verdicts])

    assert {str(worst(p)) for p in permutations(verdicts)} == {expected}


def test_the_worst_of_nothing_is_unknown():
    """A place without a single check is not clear."""
    assert worst([]) is Verdict.UNKNOWN


@pytest.mark.parametrize(("relation", "demand", "margin"), [("<=", 8.0, 0.2), ("<=", 12.0, -0.2), (">=", 12.0, 0.2), (">=", 8.0, -0.2)])
def test_the_margin_is_positive_on_the_good_side(relation, demand, margin):
    """The margin is a share of the limit, negative once the limit is passed."""
    found = _finding(demand=term(demand, "A"), limit=Limit(relation, term(10.0, "A")))

    assert found.margin is not None and found.margin.value == pytest.approx(margin)


def test_no_margin_without_a_limit():
    """Without a limit, or against a limit of nothing, there is no margin to give."""
    assert _finding(demand=term(1.0, "A")).margin is None
    assert _finding(demand=term(1.0, "A"), limit=Limit("<=", term(0.0, "A"))).margin is None


def test_estimates_are_carried_through_computed_terms():
    """A computed term keeps the typical and assumed terms it rests on, through any number of steps, each once."""
    typical = Term(quantity=term(1.0, "A").quantity, name="t", origin=Origin.TYPICAL, address="a")
    assumed = Term(quantity=term(2.0, "A").quantity, name="u", origin=Origin.ASSUMED, address="b")
    first = term(3.0, "A", rests_on=(typical, term(9.0, "A", origin=Origin.NAMEPLATE)))
    second = term(4.0, "A", rests_on=(first, assumed, typical))

    assert second.leans_on == (typical, assumed)
    assert estimates([second, first]) == (typical, assumed)


def test_a_finding_lists_the_estimates_of_demand_limit_and_steps():
    """Whatever part of the answer is an estimate, the finding says so."""
    guess = {n: Term(quantity=term(1.0, "A").quantity, name=n, origin=Origin.ASSUMED, address=n) for n in ("demand", "limit", "step", "result")}
    step = Step(law="x", title="", formula="", inputs=(("s", "step"),), given=(guess["step"],), result=guess["result"], cite=None)
    found = _finding(demand=guess["demand"], limit=Limit("<=", guess["limit"]), steps=(step,))

    assert {t.name for t in found.assumptions} == set(guess)


def test_estimates_are_found_below_a_working_of_any_length():
    """A working of thousands of lines is gone through without recursion, each line once."""
    at = Term(quantity=term(1.0, "A").quantity, name="guess", origin=Origin.ASSUMED, address="a")
    for _ in range(5000):
        at = term(2.0, "A", rests_on=(at, at))

    assert [t.name for t in at.leans_on] == ["guess"]


@pytest.mark.parametrize("origin", [o for o in Origin if o not in (Origin.TYPICAL, Origin.ASSUMED)])
def test_what_is_known_is_no_estimate(origin):
    """Stated, nameplate, measured, published and computed terms are not listed as estimates."""
    assert estimates([term(1.0, "A", origin=origin)]) == ()


def test_an_unknown_finding_says_why():
    """A check that could not be made carries its reasons and the verdict unknown."""
    found = unknown("q", "t", "p", Problem("a", "No length"), Problem("b", "No size"))

    assert (found.verdict, found.says, len(found.problems)) == (Verdict.UNKNOWN, "No length", 2)
    assert unknown("q", "t", "p").says


def _finding(**parts):
    return Finding(question="q", title="t", place="p", verdict=Verdict.CLEAR, says="", **parts)
