"""The search behind `balance`: moves and swaps for a good arrangement, branch and bound to better or prove it, aim by aim."""

from collections.abc import Iterator, Sequence
from math import inf

from pycore.powerflow.bounded import Bounded
from pycore.powerflow.plugging import MOVES, NEUTRAL, WORST, Counts, Goal

Shift = tuple[int, int, int]  # one load of a kind, from a line, to a line


def seek(goal: Goal, effort: int) -> tuple[Counts, bool]:
    """The best arrangement found, and whether nothing better exists."""
    starts = [_as_now(goal)] + ([_fill(goal, [[0] * len(goal.fixed) for _ in goal.kinds])] if goal.most_moves == inf else [])
    best, proven = starts[0], True
    for aim in (WORST, NEUTRAL, MOVES):
        starts = {WORST: starts, NEUTRAL: [best], MOVES: [best, *_approach(goal)]}[aim]
        best = min((_descend(goal, s, aim) for s in starts), key=lambda c: (goal.score(c)[aim], *goal.score(c)))  # noqa: B023
        best, sure = Bounded(goal, aim, best, effort).run()
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


class _Walk:
    """An arrangement under change, with what a change would make of it."""

    def __init__(self, goal: Goal, counts: Counts):
        self.goal, self.counts = goal, [list(row) for row in counts]
        self.sums = goal.sums(counts)
        self.moves = sum(k.moves(c) for k, c in zip(goal.kinds, counts, strict=True))

    def frozen(self) -> Counts:
        return tuple(map(tuple, self.counts))

    def after(self, change: tuple[Shift, ...]) -> tuple[float, float, float]:
        """The aims if one load, or two of different kinds, went elsewhere."""
        sums, moves = list(self.sums), self.moves
        for g, a, b in change:
            kind, row = self.goal.kinds[g], self.counts[g]
            sums[a] -= kind.current
            sums[b] += kind.current
            moves += kind.moves([n - (j == a) + (j == b) for j, n in enumerate(row)]) - kind.moves(row)
        return self.goal.weigh(sums, moves)

    def take(self, change: tuple[Shift, ...]) -> None:
        self.moves = int(self.after(change)[MOVES])
        for g, a, b in change:
            self.counts[g][a] -= 1
            self.counts[g][b] += 1
            self.sums[a] -= self.goal.kinds[g].current
            self.sums[b] += self.goal.kinds[g].current

    def shifts(self) -> list[Shift]:
        """Every single move."""
        return [(g, a, b) for g, row in enumerate(self.counts) for a, n in enumerate(row) if n for b in self.goal.kinds[g].allowed if b != a]

    def swaps(self) -> Iterator[tuple[Shift, ...]]:
        """Every exchange of two loads between the heaviest line and another."""
        heavy = max(range(len(self.sums)), key=lambda j: abs(self.sums[j]))
        shifts = self.shifts()
        back = [s for s in shifts if s[2] == heavy]
        for there in (s for s in shifts if s[1] == heavy):
            for s in back:
                if s[1] == there[2] and s[0] != there[0]:
                    yield there, s


def _descend(goal: Goal, counts: Counts, aim: int) -> Counts:
    """The best move again and again, or where none helps the best swap, until nothing lowers the aim."""
    walk = _Walk(goal, counts)
    value = goal.score(counts)
    while True:
        for options in (((s,) for s in walk.shifts()), walk.swaps()):
            scored = ((walk.after(o), o) for o in options)
            best = min((x for x in scored if goal.within(x[0])), key=lambda x: (x[0][aim], *x[0]), default=None)
            if best is not None and best[0][aim] < value[aim] - 1e-9:
                break
        else:
            return walk.frozen()
        value = best[0]
        walk.take(best[1])


def _approach(goal: Goal) -> list[Counts]:
    """From how it is now by the most helpful moves into the limits: few moves by nature. Empty where that gets stuck."""

    def excess(score: Sequence[float]) -> float:
        return sum(max(0.0, s - limit) for s, limit in zip(score[:MOVES], goal.limits, strict=False))

    walk = _Walk(goal, _as_now(goal))
    left = excess(goal.score(walk.frozen()))
    while left > 1e-9:
        singles: list[tuple[Shift, ...]] = [(s,) for s in walk.shifts()]
        options = [(excess(walk.after(o)), o) for o in singles]
        if not any(e < left - 1e-9 for e, _ in options):
            options = [(excess(walk.after(o)), o) for o in walk.swaps()]
        following, change = min(options, key=lambda o: o[0], default=(left, ()))
        if not following < left - 1e-9:
            return []
        walk.take(change)
        left = following
    return [walk.frozen()] if goal.within(goal.score(walk.frozen())) else []
