"""Branch and bound: every arrangement that could still win, and the proof that no other does."""

from pycore.powerflow.plugging import Counts, Goal


class Bounded:
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
