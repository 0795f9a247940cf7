"""What a rule set says of cables: the one interface that the findings see.

A set is tables plus short functions, put together as one `CableRules`; `SETS` lists them. A third set is another module
like `iec` and `na`, and one more line there.
"""

from collections.abc import Callable
from dataclasses import dataclass

from pycore.base.problem import refuse
from pycore.base.result import Origin, Step, Term, leaning, term
from pycore.base.units import from_si
from pycore.rig.model import Run


@dataclass(frozen=True, slots=True)
class Laying:
    """A run as it is laid and loaded; `loaded` conductors carry current, the neutral included where it counts."""

    run: Run
    loaded: int = 2

    @property
    def at(self) -> str:
        """Address of the run."""
        return f"runs/{self.run.id}"

    @property
    def single_cores(self) -> bool:
        """Single cores, not one cable."""
        return self.run.cores == "single cores"


@dataclass(frozen=True, slots=True)
class Base:
    """Tabled current of one set, and the temperature class (°C) whose factors go with it."""

    current: Term
    limit: int


@dataclass(frozen=True, slots=True)
class CableRules:
    """One rule set's say on cables. Each function may raise `Refused` where the set has no figure."""

    id: str
    title: str
    base: Callable[[Laying], Base]
    air: Callable[[Laying, int], Term]
    neighbours: Callable[[Laying], Term]
    cores: Callable[[Laying], Term]
    reel: Callable[[Laying], Term]
    terminals: Callable[[Laying, Base], Term | None]  # most that the connectors allow one set
    largest_device: Callable[[Laying], Term | None]
    guidance: Callable[[str, Term, int], tuple[Step, ...]]  # supply kind, length from the outlet, runs → the recommended drop
    drop_by_table: Callable[[Laying, Term, Term], tuple[Step, ...]]  # current, displacement factor → the set's own reckoning


def limit_of(laying: Laying) -> int:
    """The conductor temperature limit of a run in °C. Raises `Refused` where it is missing."""
    limit = laying.run.insulation
    if limit is None:
        raise refuse("entry-missing", "Conductor temperature limit is missing or cannot be read", "Enter the conductor temperature limit", f"{laying.at}/insulation")
    return round(from_si(limit.value, "°C"))


def size_of(laying: Laying) -> Term:
    """The conductor size of a run. Raises `Refused` where it is missing."""
    if laying.run.size is None:
        raise refuse("entry-missing", "Conductor size is missing or cannot be read", "Enter the conductor size", f"{laying.at}/size")
    return laying.run.size


def laid(laying: Laying, key: str, words: str) -> Term:
    """A quantity of how the run is laid. Raises `Refused` where it is missing."""
    value = getattr(laying.run.laid, key)
    if value is None:
        raise refuse("entry-missing", f"{words} is missing or cannot be read", f"Enter {words[0].lower()}{words[1:]}", f"{laying.at}/laid/{key}")
    return value


def chosen(laying: Laying, key: str, words: str) -> str:
    """A choice of how the run is laid. Raises `Refused` where it is missing or unreadable."""
    value = getattr(laying.run.laid, key)
    if not value:
        raise refuse("entry-missing", f"{words} is not chosen", f"Choose {words[0].lower()}{words[1:]}", f"{laying.at}/laid/{key}")
    return str(value)


def whole(name: str, note: str, *rests_on: Term) -> Term:
    """A factor of 1 with its reason."""
    return term(1.0, "", name, origin=Origin.PUBLISHED, note=note, rests_on=rests_on)


def resting(found: Term, *on: Term | None) -> Term:
    """A published figure that also rests on other entries."""
    more = (*found.rests_on, *(t for t in on if t is not None))
    return Term(quantity=found.quantity, name=found.name, origin=found.origin, cite=found.cite, note=found.note, rests_on=leaning(more))
