"""Which load on which phase: the smallest worst phase, then the smallest neutral, then the fewest re-plugs from how it is now.

Loads are their fundamental currents, each against the voltage of the phase it hangs on, so a move turns nothing. Harmonics
do not balance away and are left out. Differences below `SAME` of an even share are not worth a re-plug. Alike loads (give
their nameplate currents, not measured ones) are counted together, which makes the search short.

Small rigs are searched to the end (branch and bound); larger ones are improved by moves and swaps from several starts, and
the gap to a bound that nothing can beat is told.
"""

from cmath import isfinite, rect
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf, pi

from pycore.base.problem import Problem, Refused
from pycore.powerflow.plugging import Counts, Goal, Kind
from pycore.powerflow.search import seek

SAME = 0.01
EFFORT = 8_000  # ways tried for each aim before the proof is given up


@dataclass(frozen=True, slots=True, kw_only=True)
class Plug:
    """A single-phase load: `current` (A, against its own phase), where it is now, and where it may go ("" now: nowhere yet)."""

    id: str
    current: complex
    now: str = ""
    may: tuple[str, ...] = ("L1", "L2", "L3")


@dataclass(frozen=True, slots=True)
class Picture:
    """Currents of the lines and of the neutral, A."""

    lines: Mapping[str, float]
    neutral: float

    @property
    def worst(self) -> float:
        """The heaviest line."""
        return max(self.lines.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """Where each load goes. `moves` are (load, from, to).

    `proven` where every other way was ruled out, differences below `SAME` aside. `gap`: how much lower, as a share, the worst
    phase could be if loads could be cut in pieces; no arrangement beats that.
    """

    places: Mapping[str, str]
    moves: tuple[tuple[str, str, str], ...]
    before: Picture | None
    after: Picture
    proven: bool
    gap: float


def turns(lines: Sequence[str]) -> dict[str, complex]:
    """Direction of each line's voltage: a third of a turn apart, or half a turn for two legs."""
    return {c: rect(1, -2 * pi * k / len(lines)) for k, c in enumerate(lines)}


def picture(plugs: Sequence[Plug], places: Mapping[str, str], lines: Sequence[str], fixed: Mapping[str, complex]) -> Picture:
    """The currents that an arrangement gives; `fixed` (A, against its own phase, by line) stays where it is."""
    sums = {c: complex(fixed.get(c, 0)) for c in lines}
    for p in plugs:
        sums[places[p.id]] += p.current
    turn = turns(lines)
    return Picture({c: abs(i) for c, i in sums.items()}, abs(sum(turn[c] * i for c, i in sums.items())))


def balance(plugs: Sequence[Plug], lines: Sequence[str] = ("L1", "L2", "L3"), fixed: Mapping[str, complex] | None = None,
            most_moves: int | None = None) -> Proposal:
    """Propose phases for `plugs`; `fixed` line currents (A, against their own phase) of what cannot move; at most `most_moves` re-plugs.

    Raises `Refused` for loads that are no numbers or may go nowhere.
    """
    fixed = fixed or {}
    _admit(plugs, lines)
    kinds = _kinds(plugs, lines)
    turn = turns(lines)
    goal = Goal([k for k, _ in kinds], [complex(fixed.get(c, 0)) for c in lines], [turn[c] for c in lines],
                inf if most_moves is None else most_moves, SAME)
    counts, proven = seek(goal, EFFORT)
    places = _places(kinds, counts, lines)
    after = picture(plugs, places, lines, fixed)
    before = picture(plugs, {p.id: p.now for p in plugs}, lines, fixed) if all(p.now in lines for p in plugs) else None
    moves = tuple((p.id, p.now, places[p.id]) for p in plugs if p.now and p.now != places[p.id])
    return Proposal(places=places, moves=moves, before=before, after=after, proven=proven,
                    gap=max(0.0, 1 - goal.bound() / after.worst) if after.worst else 0.0)


def _kinds(plugs: Sequence[Plug], lines: Sequence[str]) -> list[tuple[Kind, list[Plug]]]:
    """Alike loads together, heaviest kind first."""
    alike: dict[tuple[complex, tuple[int, ...]], list[Plug]] = {}
    for p in plugs:
        alike.setdefault((complex(p.current), tuple(k for k, c in enumerate(lines) if c in p.may)), []).append(p)
    found = [(Kind(current, allowed, len(members), tuple(sum(p.now == c for p in members) for c in lines), sum(p.now not in lines for p in members)), members)
             for (current, allowed), members in alike.items()]
    return sorted(found, key=lambda f: -abs(f[0].current) * f[0].number)


def _places(kinds: Sequence[tuple[Kind, list[Plug]]], counts: Counts, lines: Sequence[str]) -> dict[str, str]:
    """Names for the counts: what can stay where it is stays."""
    places: dict[str, str] = {}
    for (_, members), row in zip(kinds, counts, strict=True):
        free = dict(zip(lines, row, strict=True))
        for p in members:
            if free.get(p.now):
                places[p.id], free[p.now] = p.now, free[p.now] - 1
        open_places = [c for c, n in free.items() for _ in range(n)]
        places |= dict(zip([p.id for p in members if p.id not in places], open_places, strict=True))
    return {p.id: places[p.id] for _, members in kinds for p in members}


def _admit(plugs: Sequence[Plug], lines: Sequence[str]) -> None:
    found = []
    for p in plugs:
        if not isfinite(p.current):
            found.append(Problem("not-a-number", f"{p.id} draws a current that is no usable number", "Check its entries", f"loads/{p.id}"))
        if not set(p.may) & set(lines):
            found.append(Problem("no-phase", f"{p.id} may go to none of the phases", "Let it go to at least one", f"loads/{p.id}"))
    if found:
        raise Refused(*found)
