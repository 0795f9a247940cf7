"""The one structure of every answer. The screen, the printed sheet, the export, the drills and the tests read it; nothing else computes."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property

from pycore.base import units
from pycore.base.problem import Problem
from pycore.base.quantity import Quantity
from pycore.base.source import Cite


class Origin(StrEnum):
    """Where a figure comes from."""

    STATED = "stated"  # the user entered it: a length, a setting
    NAMEPLATE = "nameplate"
    MEASURED = "measured"
    PUBLISHED = "published"
    TYPICAL = "typical"  # what such gear usually has; read the nameplate
    ASSUMED = "assumed"  # nobody said so; enter or measure it
    COMPUTED = "computed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One symbol of a formula with its value and where that comes from.

    `rests_on` are the terms that it was computed from, as far as any estimate is among or below them.
    """

    quantity: Quantity
    name: str = ""
    symbol: str = ""
    origin: Origin = Origin.COMPUTED
    cite: Cite | None = None
    note: str = ""
    address: str = ""
    firm_up: str = ""
    rests_on: tuple["Term", ...] = field(default=(), hash=False, repr=False)

    @property
    def value(self) -> float:
        """The SI float."""
        return self.quantity.value

    @property
    def leans_on(self) -> tuple["Term", ...]:
        """The typical and assumed terms that it rests on."""
        return estimates(self.rests_on)

    def called(self, symbol: str, name: str = "") -> "Term":
        """The same term under the symbol (and name) that a formula gives it."""
        if self.symbol == symbol and self.name:
            return self
        return Term(quantity=self.quantity, name=self.name or name, symbol=symbol, origin=self.origin, cite=self.cite, note=self.note, address=self.address,
                    firm_up=self.firm_up, rests_on=self.rests_on)  # dataclasses.replace costs ten times as much


def term(value: float, unit: str, name: str = "", *, origin: Origin = Origin.COMPUTED, rests_on: Iterable[Term] = (), **more: object) -> Term:
    """A term from an SI value; `rests_on` are the terms it was computed from."""
    return Term(quantity=Quantity(value, unit), name=name, origin=origin, rests_on=leaning(rests_on), **more)  # type: ignore[arg-type]


_TYPICAL, _ASSUMED = Origin.TYPICAL, Origin.ASSUMED


def leaning(terms: Iterable[Term]) -> tuple[Term, ...]:
    """Those of `terms` that are estimates, or rest on some."""
    return tuple([t for t in terms if t.rests_on or t.origin is _TYPICAL or t.origin is _ASSUMED])


def estimates(terms: Iterable[Term]) -> tuple[Term, ...]:
    """The typical and assumed terms among and below `terms`, each once. Without recursion: a working can be long."""
    found: dict[tuple[str, str, float], Term] = {}
    seen: set[int] = set()
    ahead = list(terms)[::-1]
    while ahead:
        t = ahead.pop()
        if id(t) in seen:
            continue
        seen.add(id(t))
        if t.origin is _TYPICAL or t.origin is _ASSUMED:
            found.setdefault((t.address, t.name, t.quantity.value), t)
        ahead += t.rests_on[::-1]
    return tuple(found.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of working: a law, what it was given in the order of `inputs` (symbol and name), and its result."""

    law: str
    title: str
    formula: str
    inputs: tuple[tuple[str, str], ...]
    given: tuple[Term, ...]
    result: Term
    cite: Cite | None

    @property
    def terms(self) -> tuple[Term, ...]:
        """What it was given, under the symbols of the formula."""
        return tuple(t.called(symbol, name) for t, (symbol, name) in zip(self.given, self.inputs, strict=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """What a solver shows in place of a single formula."""

    method: str
    equations: tuple[str, ...]
    iterations: int
    residuals: tuple[Term, ...]


class Verdict(StrEnum):
    """`unknown` is not a pass: the check could not be made."""

    CLEAR = "clear"
    UNKNOWN = "unknown"
    TIGHT = "tight"
    STOP = "stop"


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """The verdict that a place carries up: stop, then tight, then unknown, then clear; of nothing, unknown."""
    return max(verdicts, key=_RANK.__getitem__, default=Verdict.UNKNOWN)


_RANK = {v: rank for rank, v in enumerate(Verdict)}


@dataclass(frozen=True, slots=True)
class Limit:
    """What may be: the demand must stand in `relation` ("<=", ">=") to the term."""

    relation: str
    term: Term


@dataclass(frozen=True, slots=True)
class Remedy:
    """What to do about it; `changes` are (address, text) pairs that would do it.

    Where it was tried out: `does` names the thing to do, `clears` what it is good for, `fully` whether that is clear then.
    """

    text: str
    changes: tuple[tuple[str, str], ...] = ()
    does: str = ""
    clears: str = ""
    fully: bool = True


@dataclass(frozen=True, kw_only=True)  # no slots: its assumptions are kept once found
class Finding:
    """The answer to one question about one place in the rig."""

    question: str
    title: str
    place: str
    verdict: Verdict
    says: str
    demand: Term | None = None
    limit: Limit | None = None
    steps: tuple[Step, ...] = ()
    evidence: Evidence | None = None
    cautions: tuple[str, ...] = ()
    remedies: tuple[Remedy, ...] = ()
    problems: tuple[Problem, ...] = ()
    note: str = ""  # stands in for the verdict's word where that says more: "Colour unknown"

    @property
    def margin(self) -> Quantity | None:
        """How far the demand is from the limit, positive on the good side, as a share of the limit."""
        if not (self.demand and self.limit) or not self.limit.term.value:
            return None
        room = (self.limit.term.value - self.demand.value) / abs(self.limit.term.value)
        return Quantity(room if self.limit.relation == "<=" else -room, "%")

    @property
    def times(self) -> str:
        """The demand as a multiple of the limit, in words, where it lies beyond twice of it; nothing nearer by."""
        margin = self.margin
        if margin is None or abs(margin.value) <= 1 or not (self.demand and self.limit):
            return ""
        here, limit = self.demand.value, self.limit.term
        if here / limit.value <= 0:
            return f"{Quantity(abs(here - limit.value), limit.quantity.unit)} away"
        return f"{units.digits(float(f'{here / limit.value:.2g}'))} times {'the limit' if self.limit.relation == '<=' else 'what is needed'}"

    @cached_property
    def assumptions(self) -> tuple[Term, ...]:
        """The typical and assumed terms that the answer leans on."""
        limit = (self.limit.term,) if self.limit else ()
        used = [t for s in self.steps for t in (*s.given, s.result)]
        return estimates([*used, *((self.demand,) if self.demand else ()), *limit])


def unknown(question: str, title: str, place: str, *problems: Problem) -> Finding:
    """The finding of a check that could not be made, with the reasons."""
    says = problems[0].message if problems else "This could not be checked"
    return Finding(question=question, title=title, place=place, verdict=Verdict.UNKNOWN, says=says, problems=problems)
