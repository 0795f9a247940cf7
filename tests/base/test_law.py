"""The law decorator and one line of working."""

import pytest

from pycore.base.law import LAWS, Var, law, work
from pycore.base.problem import Refused
from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Term, term
from pycore.base.source import Cite

HERE = Cite("circuit-theory", "here")


@pytest.fixture
def ohm():
    """A law of this test's own, taken off the list again."""

    @law("U = R*I", "Ohm", U=Var("voltage", "V"), R=Var("resistance", "mΩ", 0, 1000), I=Var("current", "A", 0.5), source=HERE)
    def ohm(*, R, I):  # noqa: E741
        return R * I

    yield ohm
    del LAWS[ohm.law.id]


def test_a_law_is_still_a_plain_function(ohm):
    """The function takes and gives SI floats, and is listed under module and name."""
    assert ohm(R=2.0, I=3.0) == 6.0
    assert LAWS[ohm.law.id].formula == "U = R*I"


@pytest.mark.parametrize("formula", ["U = R*I + V", "U = R", "V = R*I"])
def test_symbols_and_variables_must_agree(formula):
    """A symbol without a variable, or a variable without a symbol, is refused when the law is made."""
    with pytest.raises(ValueError, match="disagree"):
        law(formula, "", U=Var("voltage", "V"), R=Var("resistance", "Ω"), I=Var("current", "A"), source=HERE)


def test_a_line_of_working(ohm):
    """The step holds formula, terms under the law's symbols, the result, and its source."""
    step = work(ohm, R=term(0.5, "Ω", "loop"), I=10.0)

    assert [(t.symbol, t.name, t.value) for t in step.terms] == [("R", "loop", 0.5), ("I", "current", 10.0)]
    assert (step.result.symbol, step.result.value, step.result.quantity.unit, step.result.origin) == ("U", 5.0, "V", Origin.COMPUTED)
    assert step.cite == step.result.cite == HERE


def test_the_result_leans_on_what_its_terms_lean_on(ohm):
    """A typical term, or one that leans on a typical term, is passed on to the result."""
    guess = Term(quantity=Quantity(0.1, "Ω"), name="guess", origin=Origin.TYPICAL, address="supply/impedance")
    through = term(2.0, "A", rests_on=(guess,))

    for step in (work(ohm, R=guess, I=2.0), work(ohm, R=0.1, I=through)):
        assert [(t.name, t.address) for t in step.result.leans_on] == [("guess", "supply/impedance")]


@pytest.mark.parametrize(("r", "i", "words"), [(1.5, 1.0, "from 0 to 1000 mΩ"), (0.5, 0.4, "0.5 or more A"), (-0.1, 1.0, "from 0 to 1000 mΩ")])
def test_a_law_refuses_what_lies_outside_its_range(ohm, r, i, words):
    """The refusal names the term, the range in the unit that people read, and the entry's address."""
    with pytest.raises(Refused, match=words) as caught:
        work(ohm, R=Term(quantity=Quantity(r, "Ω"), address="supply/impedance"), I=i)

    assert caught.value.problems[0].code == "outside-range"


def test_the_ends_of_a_range_belong_to_it(ohm):
    """The declared ends are allowed, rounding included."""
    assert work(ohm, R=1.0 + 1e-12, I=0.5 - 1e-12).result.value == pytest.approx(0.5)


def test_a_law_without_a_value_refuses():
    """Where the function has no value the step is refused, not NaN and not an exception of mathematics."""

    @law("y = 1/x", "Inverse", y=Var("y", ""), x=Var("x", ""), source=HERE)
    def inverse(*, x):
        return 1 / x

    try:
        with pytest.raises(Refused) as caught:
            work(inverse, x=0.0)
        assert caught.value.problems[0].code == "no-value"
    finally:
        del LAWS[inverse.law.id]
