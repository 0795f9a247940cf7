"""A law: a short function, the formula that people read, its units, its range and who says so.

    @law("R = 2*r*l", "Loop resistance of a run",
         R=Var("loop resistance", "Ω"), r=Var("resistance per length", "Ω/km", 0), l=Var("length", "m", 0),
         source=Cite("...", "..."))
    def loop_resistance(*, r, l):
        return 2 * r * l

The text and the function say the same thing on adjacent lines on purpose; one test evaluates both on random
input, checks the dimensions by pint and sees that the source exists, for every law there is.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from math import inf

from pycore.base import formula as formulas
from pycore.base import units
from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Step, Term, leaning
from pycore.base.source import Cite


@dataclass(frozen=True, slots=True)
class Var:
    """A variable of a law: name, the unit people read it in, and the range (in that unit) where the law holds."""

    name: str
    unit: str
    low: float = -inf
    high: float = inf


@dataclass(frozen=True, slots=True)
class Law:
    """A registered law; call the function for a float, `work` for a line of working."""

    id: str
    title: str
    formula: str
    result: str
    variables: dict[str, Var]
    source: Cite
    function: Callable[..., float]


LAWS: dict[str, Law] = {}


def law(formula: str, title: str, *, source: Cite, **variables: Var) -> Callable[[Callable[..., float]], Callable[..., float]]:
    """Register a function under its formula. Raises ValueError when symbols and variables disagree."""
    result = formulas.tree(formula)[0]
    if formulas.symbols(formula) | {result} != set(variables):
        raise ValueError(f"{formula}: symbols and variables disagree")

    def register(function: Callable[..., float]) -> Callable[..., float]:
        name = f"{function.__module__.removeprefix('pycore.')}.{function.__name__}"
        LAWS[name] = Law(name, title, formula, result, variables, source, function)
        function.law = LAWS[name]  # type: ignore[attr-defined]
        return function

    return register


def work(function: Callable[..., float], **given: Term | float) -> Step:
    """One line of working: the law applied to terms.

    A bare float counts as a plain SI number of no special origin. Raises `Refused` where the law does not hold.
    """
    the: Law = function.law  # type: ignore[attr-defined]
    inputs, checked = _inputs(the.id)
    terms, values = [], {}
    for symbol, var, low, high in checked:
        t = given[symbol]
        if not isinstance(t, Term):
            t = Term(quantity=Quantity(t, var.unit))
        values[symbol] = value = t.quantity.value
        if not low <= value <= high:
            _refuse_outside(var, t.called(symbol, var.name), low, high)
        terms.append(t)
    try:
        value = function(**values)
    except (ValueError, ZeroDivisionError, OverflowError):
        raise refuse("no-value", f"{the.title}: no value for these entries", "Check the entries of this part of the rig") from None
    var = the.variables[the.result]
    result = Term(quantity=Quantity(value, var.unit), name=var.name, symbol=the.result, origin=Origin.COMPUTED, cite=the.source, rests_on=leaning(terms))
    return Step(law=the.id, title=the.title, formula=the.formula, inputs=inputs, given=tuple(terms), result=result, cite=the.source)


Checked = tuple[tuple[str, Var, float, float], ...]


@cache
def _inputs(law_id: str) -> tuple[tuple[tuple[str, str], ...], Checked]:
    """Symbol and name of what a law takes; the same with the variable and its range in SI."""
    the = LAWS[law_id]
    checked = tuple((s, v, units.to_si(v.low, v.unit), units.to_si(v.high, v.unit)) for s, v in the.variables.items() if s != the.result)
    return tuple((s, v.name) for s, v, _, _ in checked), checked


def _refuse_outside(var: Var, t: Term, low: float, high: float) -> None:
    """Refuse a term outside the range where the law holds, but for the rounding of floats."""
    slack = 1e-9 * max(abs(t.value), 1e-30)
    if not low - slack <= t.value <= high + slack:
        ends = f"from {var.low:g} to {var.high:g}" if var.low > -inf and var.high < inf else f"{var.low:g} or more" if var.low > -inf else f"{var.high:g} or less"
        raise refuse("outside-range", f"{t.name} must be {ends} {var.unit}".rstrip(), "Check the entry", t.address)
