"""Small helpers that every finding uses."""

from collections.abc import Callable
from dataclasses import replace
from typing import TypeVar

from pycore.base.problem import Problem, Refused
from pycore.base.quantity import Quantity
from pycore.base.result import Finding, Origin, Term, Verdict, term
from pycore.base.result import unknown as _unknown
from pycore.base.units import parse
from pycore.conductors.impedance import sizes

T = TypeVar("T")
TIGHT = 0.80  # share of a limit from which the answer is "tight"; a margin of our own choosing


def attempt(make: Callable[[], T]) -> tuple[T | None, tuple[Problem, ...]]:
    """The result, or the problems that forbid it."""
    try:
        return make(), ()
    except Refused as refused:
        return None, refused.problems


def finding_or_unknown(question: str, title: str, place: str, make: Callable[[], Finding]) -> Finding:
    """The finding, or an `unknown` one that says why."""
    found, problems = attempt(make)
    return found if found is not None else _unknown(question, title, place, *problems)


def within(demand: float, limit: float, tight_from: float = TIGHT) -> Verdict:
    """Verdict of a demand that must not exceed a limit."""
    if not demand <= limit:
        return Verdict.STOP
    return Verdict.TIGHT if demand > tight_from * limit else Verdict.CLEAR


def as_entered(t: Term) -> str:
    """A size or length the way the user wrote it, or as it is shown."""
    return t.note if t.origin in (Origin.STATED, Origin.NAMEPLATE, Origin.MEASURED) and t.note else str(t.quantity)


def by_rule(limit: Term, *behind: Term, name: str = "") -> Term:
    """A computed limit that names the rule or table behind it, and not the arithmetic: the first citation among `behind`."""
    cite = next((t.cite for t in behind if t.cite and t.cite.source != "circuit-theory"), None)
    return replace(limit, cite=cite, name=name or limit.name)


def gauge_or_size(t: Term) -> str:
    """A conductor size as people name it: an American gauge by its number, else as it was written."""
    gauge = next((g for g in sizes("AWG") if abs(parse(g, "mm²") - t.value) <= 1e-3 * t.value), None)
    return gauge or as_entered(t)


def percent(share: float, sign: bool = False) -> str:
    """A share for a sentence: "3.9 %", with its sign when wanted."""
    text = str(Quantity(round(share, 4), "%"))
    return f"+{text}" if sign and share > 0 else text


def rule(value: float, unit: str, name: str, note: str, cite: object = None, firm_up: str = "") -> Term:
    """A limit of our own choosing or of a document, as a term."""
    origin = Origin.PUBLISHED if cite else Origin.ASSUMED
    return term(value, unit, name, origin=origin, note=note, cite=cite, firm_up=firm_up or "Use the limit of your own practice")
