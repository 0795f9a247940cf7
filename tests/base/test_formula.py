"""Formula text: one tree for reading, showing and evaluating."""

import math
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pycore.base import formula
from tests.base.mathml_reading import read

VALUES = {"a": 2.0, "b_1": 3.0, "c": 5.0, "V_s": 7.0}
LEAVES = st.sampled_from([*VALUES, "2", "0.5", "π"])


def compound(part):
    """A formula made of smaller ones, each in brackets of its own."""
    pair = st.tuples(st.sampled_from(["({0})+({1})", "({0})-({1})", "({0})*({1})", "({0})/({1})", "({0})**({1})", "min({0},{1})", "max({0},{1})"]), part, part)
    one = st.tuples(st.sampled_from(["-({0})", "sqrt({0})", "abs({0})", "sin({0})", "cos({0})", "log2({0})", "sinc({0})", "exp({0})", "log({0})"]), part)
    return (pair | one).map(lambda x: x[0].format(*x[1:]))


EXPRESSIONS = st.recursive(LEAVES, compound, max_leaves=7)
PLAIN = {"sqrt": math.sqrt, "abs": abs, "min": min, "max": max, "log2": math.log2, "log": math.log, "sin": math.sin, "cos": math.cos, "exp": math.exp, "π": math.pi,
         "sinc": lambda x: math.sin(math.pi * x) / (math.pi * x) if x else 1.0}  # fmt: skip


def plain(expression):
    """The value as Python itself gives it, or None where there is none to compare."""
    try:
        value = eval(expression, {"__builtins__": {}}, {**PLAIN, **VALUES})
    except (ValueError, ZeroDivisionError, OverflowError, TypeError):  # a complex power among the last
        return None
    return value if isinstance(value, float | int) and math.isfinite(value) and abs(value) < 1e12 else None


@settings(max_examples=100)
@given(EXPRESSIONS)
def test_evaluates_as_python_does(expression):
    """The tree evaluates to what Python makes of the same text."""
    expected = plain(expression)
    if expected is not None:
        assert formula.evaluate(f"y = {expression}", VALUES) == expected


@settings(max_examples=100)
@given(EXPRESSIONS)
def test_symbols_read_back_to_the_same_value(expression):
    """What is drawn with symbols, read by eye, has the value of the text."""
    expected = plain(expression)
    if expected is not None:
        left, value = read(formula.in_symbols(f"y = {expression}"), VALUES)
        assert left == "y"
        assert value == pytest.approx(expected, rel=1e-9, abs=1e-9)


@settings(max_examples=100)
@given(EXPRESSIONS)
def test_numbers_read_back_to_the_same_value(expression):
    """What is drawn with numbers, read by eye, has the value of the text, and begins with the result."""
    expected = plain(expression)
    if expected is not None:
        drawn = formula.mathml(f"y = {expression}", {s: (repr(v), "V") for s, v in VALUES.items()}, ("42", "A"))
        left, value = read(drawn, {})
        assert left == "42"
        assert value == pytest.approx(expected, rel=1e-9, abs=1e-9)


@given(st.dictionaries(st.sampled_from(sorted(VALUES)), st.tuples(st.text(max_size=5), st.text(max_size=5)), min_size=len(VALUES)))
def test_any_figure_and_unit_is_well_formed(numbers):
    """Whatever stands in a figure or a unit, the MathML stays well-formed: no text becomes markup."""
    numbers = {s: tuple("".join(c for c in t if c.isprintable()) for t in figure) for s, figure in numbers.items()}

    ElementTree.fromstring(formula.mathml("y = a*b_1 - c/V_s", numbers, ("<", "&")))


@pytest.mark.parametrize(("text", "drawn"), [
    ("y = (a/c)**2", "<msup><mrow><mo>(</mo><mfrac><mi>a</mi><mi>c</mi></mfrac><mo>)</mo></mrow><mn>2</mn></msup>"),
    ("y = a - (b_1 + c)", "<mi>a</mi><mo>−</mo><mrow><mo>(</mo><mrow><msub><mi>b</mi><mi>1</mi></msub><mo>+</mo><mi>c</mi></mrow><mo>)</mo></mrow>"),
    ("y = abs(a)", "<mrow><mo>|</mo><mi>a</mi><mo>|</mo></mrow>"),
    ("y = a**2", "<msup><mi>a</mi><mn>2</mn></msup>"),
])  # fmt: skip
def test_brackets_where_they_are_needed(text, drawn):
    """A power of a fraction has brackets, so has a sum taken away; a plain square has none."""
    assert drawn in formula.in_symbols(text)


def test_a_figure_with_its_unit_is_bracketed_under_a_power():
    """(2.5 A)², not 2.5 A²."""
    assert "<mo>(</mo><mrow><mn>2.5</mn>" in formula.mathml("P = I**2*R", {"I": ("2.5", "A"), "R": ("1", "Ω")}, ("6.25", "W"))


def test_symbols_of_a_formula():
    """Functions and constants are not symbols; the result is none of the right-hand side."""
    assert formula.symbols("V = sqrt(V_s**2 - 4*P*R)*sinc(x)*π") == {"V_s", "P", "R", "x"}
    assert formula.tree("V = a + c")[0] == "V"


@pytest.mark.parametrize("text", ["y = a if b else c", "y = [a]", "y = a.real", "y = lambda: a", "y = a < c", "y = 'a'.join(c)", "y = __import__('os')"])
def test_only_formulas_are_evaluated(text):
    """Python that is no formula is refused: nothing is called but the listed functions."""
    with pytest.raises((ValueError, KeyError)):
        formula.evaluate(text, {"a": 1.0, "b": 1.0, "c": 1.0})


def test_sinc():
    """sinc is 1 at nothing, 0 at whole numbers, and even."""
    assert formula.sinc(0) == 1
    assert [formula.sinc(n) for n in (1, 2, -3)] == pytest.approx([0, 0, 0], abs=1e-15)
    assert formula.sinc(0.5) == formula.sinc(-0.5) == pytest.approx(2 / math.pi)
