"""The search behind `balance`. Alike loads are counted, not named: how many of each kind hang on each line.

Three aims, one after the other: worst phase (A), neutral (A), re-plugs. Each is first lowered by moves and swaps, then by
branch and bound, which also proves it where the effort suffices. What an aim reached, the next may spoil by `slack` only.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from math import inf

Counts = tuple[tuple[int, ...], ...]  # by kind, then by line
WORST, NEUTRAL, MOVES = 0, 1, 2


@dataclass(slots=True)
class Kind:
    """Alike loads: one current (A), the lines they may hang on, how many there are, hang on each line now, and nowhere yet."""

    current: complex
    allowed: tuple[int, ...]
    number: int
    now: tuple[int, ...]
    loose: int

    def moves(self, counts: Sequence[int]) -> int:
        """Fewest re-plugs that give these counts."""
        return max(0, sum(max(0, new - old) for new, old in zip(counts, self.now, strict=True)) - self.loose)

    def ways(self) -> Iterator[tuple[int, ...]]:
        """Every way to spread the loads over the lines."""

        def spread(left: int, lines: tuple[int, ...], counts: list[int]) -> Iterator[tuple[int, ...]]:
            if len(lines) == 1:
                counts[lines[0]] = left
                yield tuple(counts)
                return
            for n in range(left + 1):
                counts[lines[0]] = n
                yield from spread(left - n, lines[1:], counts)

        yield from spread(self.number, self.allowed, [0] * len(self.now))


@dataclass(slots=True)
class Goal:
    """The kinds, heaviest first, what hangs fixed on each line (A), the lines' directions, the most re-plugs, and the slack (A)."""

    kinds: list[Kind]
    fixed: list[complex]
    turn: list[complex]
    most_moves: float
    same: float
    slack: float = 0.0
    limits: list[float] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.slack = self.same * self.bound()
        self.limits = [inf, inf, self.most_moves]

    def bound(self) -> float:
        """No arrangement has a lighter worst phase than this (A)."""
        return abs(sum(k.current * k.number for k in self.kinds) + sum(self.fixed)) / len(self.fixed)

    def sums(self, counts: Counts) -> list[complex]:
        """Current of each line (A), against its own voltage."""
        return [f + sum(k.current * c[j] for k, c in zip(self.kinds, counts, strict=False)) for j, f in enumerate(self.fixed)]

    def weigh(self, sums: Sequence[complex], moves: int) -> tuple[float, float, float]:
        """The three aims; what is within the slack of the best thinkable counts as that."""
        neutral = abs(sum(t * s for t, s in zip(self.turn, sums, strict=True)))
        return max(max(map(abs, sums)), self.bound() + self.slack), max(neutral, self.slack), moves

    def score(self, counts: Counts) -> tuple[float, float, float]:
        """The three aims of an arrangement."""
        return self.weigh(self.sums(counts), sum(k.moves(c) for k, c in zip(self.kinds, counts, strict=True)))

    def within(self, score: Sequence[float]) -> bool:
        """Does it keep to all limits?"""
        return all(s <= limit + 1e-9 for s, limit in zip(score, self.limits, strict=True))

    def settle(self, aim: int, counts: Counts) -> None:
        """Hold what an aim has reached against the next ones."""
        self.limits[aim] = min(self.limits[aim], self.score(counts)[aim] + (self.slack if aim != MOVES else 0))


def seek(goal: Goal, effort: int) -> tuple[Counts, bool]:
    """The best arrangement found, and whether nothing better exists."""
    starts = [_as_now(goal)] + ([_fill(goal, [[0] * len(goal.fixed) for _ in goal.kinds])] if goal.most_moves == inf else [])
    best, proven = starts[0], True
    for aim in (WORST, NEUTRAL, MOVES):
        starts = {WORST: starts, NEUTRAL: [best], MOVES: [best, *_approach(goal)]}[aim]
        best = min((_descend(goal, s, aim) for s in starts), key=lambda c: (goal.score(c)[aim], *goal.score(c)))  # noqa: B023
        best, sure = _Bounded(goal, aim, best, effort).run()
        proven = proven and sure
        goal.settle(aim, best)
    return best, proven


def _as_now(goal: Goal) -> Counts:
    return _fill(goal, [[n if j in k.allowed else 0 for j, n in enumerate(k.now)] for k in goal.kinds])


def _fill(goal: Goal, counts: list[list[int]]) -> Counts:
    """Hang what hangs nowhere, heaviest first, where the line is lightest."""
    sums = goal.sums(tuple(map(tuple, counts)))
    for kind, row in zip(goal.kinds, counts, strict=True):
        while sum(row) < kind.number:
            j = min(kind.allowed, key=lambda j: abs(sums[j] + kind.current))  # noqa: B023
            row[j] += 1
            sums[j] += kind.current
    return tuple(map(tuple, counts))


def _descend(goal: Goal, counts: Counts, aim: int) -> Counts:
    """The best move or swap again and again, until none lowers the aim."""
    value = goal.score(counts)
    while True:
        options = [(s, c) for c in _neighbours(goal, counts) if goal.within(s := goal.score(c))]
        better = min(options, key=lambda o: (o[0][aim], *o[0]), default=None)
        if better is None or not better[0][aim] < value[aim] - 1e-9:
            return counts
        value, counts = better


def _approach(goal: Goal) -> list[Counts]:
    """From how it is now by the most helpful moves into the limits: few moves by nature. Empty where that gets stuck."""

    def excess(counts: Counts) -> float:
        return sum(max(0.0, s - limit) for s, limit in zip(goal.score(counts)[:MOVES], goal.limits, strict=False))

    counts = _as_now(goal)
    while excess(counts) > 1e-9:
        following = min(_neighbours(goal, counts), key=excess, default=counts)
        if not excess(following) < excess(counts) - 1e-9:
            return []
        counts = following
    return [counts] if goal.within(goal.score(counts)) else []


def _neighbours(goal: Goal, counts: Counts) -> Iterator[Counts]:
    shifts = [(g, a, b) for g, kind in enumerate(goal.kinds) for a in range(len(goal.fixed)) if counts[g][a] for b in kind.allowed if b != a]
    for shift in shifts:
        moved = _shifted(counts, *shift)
        yield moved
        for g, a, b in shifts:
            if (a, b) == (shift[2], shift[1]) and g > shift[0]:
                yield _shifted(moved, g, a, b)


def _shifted(counts: Counts, g: int, a: int, b: int) -> Counts:
    row = list(counts[g])
    row[a] -= 1
    row[b] += 1
    return (*counts[:g], tuple(row), *counts[g + 1:])


class _Bounded:
    """Kind by kind through all ways, cutting off whatever can no longer win."""

    def __init__(self, goal: Goal, aim: int, start: Counts, effort: int):
        self.goal, self.aim, self.left = goal, aim, effort
        self.best, self.value = start, goal.score(start)[aim]
        total = sum(k.current * k.number for k in goal.kinds) + sum(goal.fixed)
        self.along = total.conjugate() / abs(total) if abs(total) > 0 else 1 + 0j  # a line's share of the whole only grows
        self.falls, self.reach = [0.0], [0.0]  # how far the kinds still to come can lower a line, or the neutral
        for k in reversed(goal.kinds):
            self.falls.insert(0, self.falls[0] + min(0.0, (k.current * self.along).real) * k.number)
            self.reach.insert(0, self.reach[0] + abs(k.current) * k.number)

    def run(self) -> tuple[Counts, bool]:
        """The best arrangement, and whether all others were ruled out."""
        self._place((), list(self.goal.fixed), 0)
        return self.best, self.left > 0

    def _place(self, counts: Counts, sums: list[complex], moves: int) -> None:
        at, goal = len(counts), self.goal
        if at == len(goal.kinds):
            score = goal.score(counts)
            if goal.within(score) and score[self.aim] < self.value - 1e-9:
                self.best, self.value = counts, score[self.aim]
            return
        kind = goal.kinds[at]
        options = []
        for way in kind.ways():
            self.left -= 1
            new = [s + kind.current * n for s, n in zip(sums, way, strict=True)]
            count = moves + kind.moves(way)
            floor = self._floor(at + 1, new, count)
            if self._may_win(floor):
                options.append((floor[self.aim], max(map(abs, new)), way, new, count))
            if self.left <= 0:
                return
        for floor_, _, way, new, count in sorted(options, key=lambda o: o[:2]):
            if self.left > 0 and floor_ < self.value - 1e-9:
                self._place((*counts, way), new, count)

    def _floor(self, at: int, sums: list[complex], moves: int) -> tuple[float, float, float]:
        """No completion scores below this."""
        worst = max((s * self.along).real for s in sums) + self.falls[at]
        neutral = abs(sum(t * s for t, s in zip(self.goal.turn, sums, strict=True))) - self.reach[at]
        return max(worst, self.goal.bound() + self.goal.slack), max(neutral, self.goal.slack), moves

    def _may_win(self, floor: tuple[float, float, float]) -> bool:
        return floor[self.aim] < self.value - 1e-9 and self.goal.within(floor)
