"""Every law: the text that people read and the function that computes say the same, with the right units, and name their source."""

import ast
import decimal
import math
from decimal import Decimal
from functools import cache
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pycore.base import formula, units
from pycore.base.source import sources
from tests.modules import every_law

LAWS = every_law()
EACH = pytest.mark.parametrize("law", LAWS.values(), ids=LAWS)
NO_VALUE = (ValueError, ZeroDivisionError, OverflowError)
ULTIMATE = 1e4  # of a variable's unit: how far an open range is tried


def through_float(function):
    """A function that `decimal` has not, good enough where nothing cancels."""
    return lambda *x: Decimal(function(*map(float, x)))


# The text is evaluated to 50 figures, so that what cancels in it does not hide what is wrong in it.
EXACT = {"sqrt": lambda x: Decimal(0) if -1e-12 < x < 0 else x.sqrt(), "exp": Decimal.exp, "log": Decimal.ln, "log10": Decimal.log10, "log2": lambda x: x.ln() / Decimal(2).ln(), "abs": abs, "min": min, "max": max,
         "floor": lambda x: x.to_integral_value(decimal.ROUND_FLOOR), "ceil": lambda x: x.to_integral_value(decimal.ROUND_CEILING), "π": Decimal(math.pi), "Decimal": Decimal}  # fmt: skip
EXACT |= {n: through_float(f) for n, f in formula.FUNCTIONS.items() if n not in EXACT}


class Exactly(ast.NodeTransformer):
    """Turns the numbers of an expression into decimals."""

    def visit_Constant(self, node):
        return ast.Call(ast.Name("Decimal", ast.Load()), [ast.Constant(repr(node.value))], [])


@cache
def compiled(formula):
    """The right-hand side, compiled for decimals."""
    return compile(ast.fix_missing_locations(Exactly().visit(ast.parse(formula.partition("=")[2].strip(), mode="eval"))), formula, "eval")


def by_text(law, values):
    """What the formula's text gives for SI floats, or None where it has no value."""
    try:
        with decimal.localcontext(prec=50, traps=[decimal.DivisionByZero, decimal.InvalidOperation, decimal.Overflow]):
            return float(eval(compiled(law.formula), {"__builtins__": {}}, {**EXACT, **{s: Decimal(v) for s, v in values.items()}}))
    except (ArithmeticError, ValueError):
        return None


def inputs(law):
    """The variables that go in."""
    return {s: v for s, v in law.variables.items() if s != law.result}


def ends(var):
    """The declared range in the variable's own unit, an open one cut."""
    return max(var.low, -ULTIMATE), min(var.high, max(ULTIMATE, 10 * abs(var.low) if math.isfinite(var.low) else 0))


def within(var):
    """Values in SI: anywhere in the range, small or large, ends included."""
    low, high = ends(var)
    sizes = st.floats(-3, 4).map(lambda e: min(high, max(low, low + 10**e) if math.isfinite(low) else 10**e))
    plain = st.floats(low, high).map(lambda x: x if abs(x) > 1e-9 else max(low, 0.0))  # none whose square is lost
    return (plain | sizes | st.sampled_from([low, high])).map(lambda x: units.to_si(x, var.unit))


@EACH
def test_the_text_says_what_the_function_computes(law):
    """On any input inside the declared ranges both give the same, or neither gives anything."""
    compared = []

    @settings(max_examples=12)
    @given(st.fixed_dictionaries({s: within(v) for s, v in inputs(law).items()}))
    def agree(values):
        try:
            computed = law.function(**values)
        except ZeroDivisionError:
            return
        except (ValueError, OverflowError):
            assert "ValueError" in law.function.__doc__, "raises ValueError without saying so"
            return
        assert math.isfinite(computed)
        slack = 1e-6 * abs(computed) + 1e-12 * max(1.0, *values.values())
        read = by_text(law, values)
        if read is None or not abs(computed - read) <= slack:
            near = [x for n in _around(values) if (x := by_text(law, n)) is not None]
            assert near and min(near) - slack <= computed <= max(near) + slack, f"the function gives {computed}, the text {read}"
        compared.append(computed)

    agree()
    assert len(compared) >= 5, "hardly any input has a value: are the ranges right?"


def _around(values):
    """Values a rounding error away: where much cancels or whole things are counted, that decides."""
    for s in values:
        for nudge in (-1e-9, 1e-9):
            yield values | {s: values[s] * (1 + nudge) + 1e-3 * nudge}


QUANTITY = units.registry().Quantity
BY_PINT = {
    "sqrt": lambda x: x**0.5, "abs": abs, "min": lambda *x: min(*_alike(x)), "max": lambda *x: max(*_alike(x)), "floor": lambda x: math.floor(_plain(x)), "ceil": lambda x: math.ceil(_plain(x)),
    "atan2": lambda y, x: math.atan2(*(z.magnitude for z in _alike((y, x)))),
    **{n: (lambda f: lambda x: f(_plain(x)))(formula.FUNCTIONS[n]) for n in ("sin", "cos", "tan", "acos", "atan", "exp", "log", "log2", "log10", "sinc")},
}  # fmt: skip


def _plain(x):
    """A pure number; raises for anything with a dimension."""
    return QUANTITY(x).to("").magnitude


def _alike(quantities):
    """Quantities in one unit; a bare 0 fits any."""
    unit = next((q.units for q in quantities if hasattr(q, "units")), None)
    return [q.to(unit) if hasattr(q, "units") else QUANTITY(q, unit if q == 0 else "") for q in quantities]


@EACH
def test_dimensions_agree(law):
    """The text, fed with quantities in the units that people read, gives a quantity of the result's unit, and the function's value."""
    values, computed = _everyday(law)
    fed = {s: QUANTITY(units.from_si(values[s], v.unit), units.SPELLINGS[v.unit]) for s, v in inputs(law).items()}
    result = QUANTITY(formula.evaluate(law.formula, fed, BY_PINT)).to(units.SPELLINGS[law.variables[law.result].unit])

    assert result.to_base_units().magnitude == pytest.approx(computed, rel=1e-6, abs=1e-9)


def _everyday(law):
    """Values for which the law has a value, and that value."""
    dice = Random(1)
    for _ in range(500):
        values = {s: units.to_si(_thrown(v, dice), v.unit) for s, v in inputs(law).items()}
        try:
            return values, law.function(**values)
        except NO_VALUE:
            continue
    raise AssertionError("no everyday value has a result")


def _thrown(var, dice):
    """A value in the range: anywhere in a closed one, of any size in an open one."""
    if math.isfinite(var.low) and math.isfinite(var.high):
        return dice.uniform(var.low, var.high)
    size = 10 ** dice.uniform(-2, 3)
    return var.low + size if math.isfinite(var.low) else min(var.high, size)


@EACH
def test_variables_are_declared_sensibly(law):
    """Each variable has a name, a known unit and a range that holds something; the function takes just these, by keyword."""
    for symbol, var in law.variables.items():
        assert var.name and var.unit in units.SPELLINGS
        assert var.low <= var.high, symbol
    code = law.function.__code__
    assert set(code.co_varnames[: code.co_kwonlyargcount]) == set(inputs(law)) and code.co_argcount == 0
    assert law.title and law.function.__doc__


@EACH
def test_the_source_exists(law):
    """Every law names a listed source."""
    assert law.source.source in sources()


def test_there_are_laws():
    """The list is not empty by some slip of an import."""
    assert len(LAWS) > 40
