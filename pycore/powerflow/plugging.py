"""What `balance` searches for: alike loads are counted, not named; how many of each kind hang on each line.

Three aims, one after the other: worst phase (A), neutral (A), re-plugs. What one has reached, the next may spoil by the slack only.
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
