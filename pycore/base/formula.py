"""A formula is text in Python's own expression syntax; one tree serves reading, showing and checking.

    "V = (V_s + sqrt(V_s**2 - 4*P*R))/2"
        -> MathML with the symbols
        -> MathML with the numbers, each with its unit
        -> its value, in floats or in pint quantities

The text is shown to people and must agree with the function that computes: a test holds the two together.
"""

import ast
import math
from collections.abc import Callable, Mapping
from functools import cache
from html import escape
from typing import Any

_WEAK, _TERM, _FACTOR, _POWER, _ATOM = range(5)
_NAMED = {"sin": "sin", "cos": "cos", "tan": "tan", "acos": "arccos", "atan": "arctan", "atan2": "arctan", "exp": "exp",
          "log": "ln", "log10": "lg", "min": "min", "max": "max", "sinc": "sinc", "ceil": "ceil", "floor": "floor"}


def sinc(x: float) -> float:
    """sin(πx)/(πx), 1 at 0."""
    return math.sin(math.pi * x) / (math.pi * x) if x else 1.0


FUNCTIONS: dict[str, Callable[..., Any]] = {
    "sqrt": math.sqrt, "sin": math.sin, "cos": math.cos, "tan": math.tan, "acos": math.acos, "atan": math.atan, "atan2": math.atan2,
    "exp": math.exp, "log": math.log, "log2": math.log2, "log10": math.log10, "abs": abs, "min": min, "max": max,
    "ceil": math.ceil, "floor": math.floor, "sinc": sinc,
}
CONSTANTS = {"π": math.pi}


@cache
def tree(formula: str) -> tuple[str, ast.expr]:
    """Result symbol and expression tree of "result = expression"."""
    result, _, right = formula.partition("=")
    return result.strip(), ast.parse(right.strip(), mode="eval").body


@cache
def symbols(formula: str) -> frozenset[str]:
    """The symbols on the right-hand side."""
    names = {n.id for n in ast.walk(tree(formula)[1]) if isinstance(n, ast.Name)}
    return frozenset(names - set(FUNCTIONS) - set(CONSTANTS))


def evaluate(formula: str, values: Mapping[str, Any], functions: Mapping[str, Callable[..., Any]] = FUNCTIONS) -> Any:
    """Value of the right-hand side; `values` may hold floats or pint quantities."""
    return _value(tree(formula)[1], {**CONSTANTS, **values}, functions)


def _value(node: ast.expr, values: Mapping[str, Any], functions: Mapping[str, Callable[..., Any]]) -> Any:
    match node:
        case ast.Constant(value=v):
            return v
        case ast.Name(id=name):
            return values[name]
        case ast.UnaryOp(op=ast.USub(), operand=x):
            return -_value(x, values, functions)
        case ast.BinOp(left=a, op=op, right=b):
            return _OPERATE[type(op)](_value(a, values, functions), _value(b, values, functions))
        case ast.Call(func=ast.Name(id=name), args=args):
            return functions[name](*(_value(a, values, functions) for a in args))
    raise ValueError(f"not part of a formula: {ast.dump(node)}")


_OPERATE: dict[type, Callable[[Any, Any], Any]] = {
    ast.Add: lambda a, b: a + b, ast.Sub: lambda a, b: a - b, ast.Mult: lambda a, b: a * b,
    ast.Div: lambda a, b: a / b, ast.Pow: lambda a, b: a ** b,
}


@cache
def in_symbols(formula: str) -> str:
    """The formula as MathML with its symbols."""
    return mathml(formula)


def mathml(formula: str, numbers: Mapping[str, tuple[str, str]] | None = None, result: tuple[str, str] | None = None) -> str:
    """The formula as MathML; with `numbers` (symbol → figure and unit) in place of symbols when given."""
    left, right = tree(formula)
    leaf = (lambda name: _figure(*numbers[name])) if numbers is not None else symbol
    head = _figure(*result) if result else symbol(left)
    return ('<math xmlns="http://www.w3.org/1998/Math/MathML" display="block"><mrow>'
            f"{head}<mo>=</mo>{_draw(right, leaf, numbers is not None)[0]}</mrow></math>")


def symbol(name: str) -> str:
    """MathML of one symbol: what follows the underscore hangs below."""
    base, _, below = name.partition("_")
    if not below:
        return f"<mi>{escape(base)}</mi>"
    return f"<msub><mi>{escape(base)}</mi><mi>{escape(below.replace('_', ','))}</mi></msub>"


def _figure(figure: str, unit: str) -> str:
    number = f"<mn>{escape(figure)}</mn>"
    return f"<mrow>{number}<mtext>\u00a0{escape(unit)}</mtext></mrow>" if unit else number


def _draw(node: ast.expr, leaf: Callable[[str], str], numeric: bool) -> tuple[str, int]:
    """MathML of a node and how strongly it binds."""

    def inner(child: ast.expr, least: int) -> str:
        text, strength = _draw(child, leaf, numeric)
        return text if strength >= least else f"<mrow><mo>(</mo>{text}<mo>)</mo></mrow>"

    match node:
        case ast.Constant(value=v):
            return f"<mn>{str(v)}</mn>", _ATOM
        case ast.Name(id=name):
            return (f"<mi>{name}</mi>" if name in CONSTANTS else leaf(name)), _ATOM
        case ast.UnaryOp(operand=x):
            return f"<mrow><mo>−</mo>{inner(x, _FACTOR)}</mrow>", _TERM
        case ast.BinOp(left=a, op=ast.Div(), right=b):
            return f"<mfrac>{inner(a, _WEAK)}{inner(b, _WEAK)}</mfrac>", _POWER
        case ast.BinOp(left=a, op=ast.Pow(), right=b):
            return f"<msup>{_boxed(inner(a, _ATOM), a, numeric)}{inner(b, _WEAK)}</msup>", _POWER
        case ast.BinOp(left=a, op=ast.Mult(), right=b):
            return f"<mrow>{inner(a, _FACTOR)}<mo>{'×' if numeric else '·'}</mo>{inner(b, _FACTOR)}</mrow>", _FACTOR
        case ast.BinOp(left=a, op=ast.Add(), right=b):
            return f"<mrow>{inner(a, _WEAK)}<mo>+</mo>{inner(b, _TERM)}</mrow>", _WEAK
        case ast.BinOp(left=a, op=ast.Sub(), right=b):
            return f"<mrow>{inner(a, _WEAK)}<mo>−</mo>{inner(b, _TERM)}</mrow>", _WEAK
        case ast.Call(func=ast.Name(id="sqrt"), args=[x]):
            return f"<msqrt>{inner(x, _WEAK)}</msqrt>", _ATOM
        case ast.Call(func=ast.Name(id="abs"), args=[x]):
            return f"<mrow><mo>|</mo>{inner(x, _WEAK)}<mo>|</mo></mrow>", _ATOM
        case ast.Call(func=ast.Name(id="log2"), args=[x]):
            return f"<mrow><msub><mi>log</mi><mn>2</mn></msub>{_bracket([inner(x, _WEAK)])}</mrow>", _POWER
        case ast.Call(func=ast.Name(id=name), args=args):
            return f"<mrow><mi>{_NAMED[name]}</mi>{_bracket([inner(a, _WEAK) for a in args])}</mrow>", _POWER
    raise ValueError(f"not part of a formula: {ast.dump(node)}")


def _bracket(parts: list[str]) -> str:
    return f"<mrow><mo>(</mo>{'<mo>,</mo>'.join(parts)}<mo>)</mo></mrow>"


def _boxed(text: str, node: ast.expr, numeric: bool) -> str:
    """A figure with its unit under a power needs brackets: (2.5 mm²)²."""
    return _bracket([text]) if numeric and isinstance(node, ast.Name) and node.id not in CONSTANTS else text
