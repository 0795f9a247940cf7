"""The search for the shortest strike plan.

It goes through all orders and gaps, longest run-up first and earliest slot first, and leaves out only

    what cannot beat the best plan found
    what has been judged before: lamps that are alike may change places, so only their ages count
    what has been gone on from before: the same ages, no later, at no more cost

so an answer that is `proven` is the shortest there is on this grid, and a `None` that is proven means that there is none.
Where that takes long, some orders are first filled greedily, each lamp in the earliest slot from which everything struck so
far settles within the limits, so that there is a plan to beat. Two lamps that break a limit whichever is struck second, at
every age of the first, alone and with all others burning, are taken as proof as well.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import combinations

from pycore.lamp.strike import Judge, Outcome, Plan, Starter, State, Use, cost, ends, full_at, state

QUICK = 20  # states a lamp that are judged before the search stops to fill some orders
LOOKS = 50  # looks at known states that cost about as much as judging one

Known = dict[tuple[tuple[str, int], ...], tuple[Use, ...]]  # ages of lamps that are alike: the limits broken


def shortest(starters: Sequence[Starter], judge: Judge, budget: int = 4000, known: Known | None = None) -> Outcome:
    """The shortest plan that breaks no limit, judging at most `budget` states. `known`: what an earlier search of the same lamps has judged, added to here."""
    search = _Search(sorted(starters, key=lambda s: (-s.full, -s.settles, s.id)), judge, budget, known={} if known is None else known)
    certain = search.broken(tuple((s.id, s.settles) for s in search.starters)) or search.broken_by_itself() or search.broken_by_pairs()
    if certain:
        return Outcome(plan=None, proven=True, blocked=certain, states=search.judged)
    search.budget = min(budget, search.judged + QUICK * len(starters))
    search.extend({}, 0)
    if search.spent:
        search.start_over(budget)
        search.greedy()
        search.extend({}, 0)
    return Outcome(plan=search.best, proven=not search.spent, blocked=() if search.best else search.blocked, states=search.judged)


@dataclass(slots=True)
class _Search:
    starters: list[Starter]
    judge: Judge
    budget: int
    known: Known
    judged: int = 0
    looks: int = 0
    best: Plan | None = None
    deepest: int = -1
    blocked: tuple[Use, ...] = ()
    seen: dict[tuple[tuple[str, int], ...], list[tuple[int, int, int]]] = field(default_factory=dict)

    @property
    def spent(self) -> bool:
        """Whether the budget is used up."""
        return self.judged + self.looks // LOOKS >= self.budget

    def start_over(self, budget: int) -> None:
        """Go on with another budget; what was judged stays known."""
        self.budget = budget
        self.seen.clear()

    def ages(self, at: State) -> tuple[tuple[str, int], ...]:
        """The ages in a state, by what lamp it is and not by which."""
        kinds = {s.id: s.alike or s.id for s in self.starters}
        return tuple(sorted((kinds[i], age) for i, age in at))

    def broken(self, at: State) -> tuple[Use, ...]:
        """The limits that a state breaks."""
        key = self.ages(at)
        self.looks += 1
        if key not in self.known:
            self.judged += 1
            self.known[key] = tuple(u for u in self.judge(at) if u.broken)
        return self.known[key]

    def broken_by_itself(self) -> tuple[Use, ...]:
        """The limits that the strike of some lamp breaks whatever else burns."""
        for s in self._next({}):
            own = tuple(u for u in self.broken(((s.id, 0),)) if u.own)
            if own:
                return own
        return ()

    def broken_by_pairs(self) -> tuple[Use, ...]:
        """The limits that two lamps break together, whichever comes second."""
        tried: set[tuple[str, str]] = set()
        for a, b in combinations(self.starters, 2):
            kinds = (a.alike or a.id, b.alike or b.id)
            if kinds not in tried:
                tried.add(kinds)
                first = self._never(a, b)
                if first and self._never(b, a):
                    return first
        return ()

    def _never(self, burning: Starter, strikes: Starter) -> tuple[Use, ...]:
        """What `strikes` breaks at every age of `burning`, with nothing else on and with all else settled; nothing where it fits once."""
        others = {s.id: s.settles for s in self.starters if s not in (burning, strikes)}
        found: tuple[Use, ...] = ()
        for rest in ({}, others) if others else ({},):
            for age in range(burning.settles, 0, -1):
                ages = {**rest, burning.id: age, strikes.id: 0}
                broken = self.broken(tuple((s.id, ages[s.id]) for s in self.starters if s.id in ages))
                if not broken:
                    return ()
                found = found or broken
        return found

    def greedy(self) -> None:
        """Fill some orders, each lamp as early as everything until then settles within the limits."""
        for order in (self.starters, self.starters[::-1]):
            plan: Plan | None = {}
            for s in order:
                plan = self._placed(plan, s) if plan is not None else None
            if plan is not None and (self.best is None or cost(plan, self.starters) < cost(self.best, self.starters)):
                self.best = plan
            if self._hopeless({}, 0):
                return

    def _placed(self, plan: Plan, starter: Starter) -> Plan | None:
        """The plan with one more lamp in the earliest slot that keeps every limit until all has settled; None without one."""
        start = max(plan.values(), default=-1) + 1
        for slot in range(start, max(start, ends(plan, self.starters)) + 1):
            trial = {**plan, starter.id: slot}
            bad = next((b for k in range(slot, ends(trial, self.starters) + 1) if (b := self.broken(state(trial, self.starters, k)))), ())
            if not bad:
                return trial
            self._note(len(plan), bad)
        return None

    def extend(self, plan: Plan, slot: int) -> None:
        """Strike one more lamp, from `slot` on; `plan` holds until then."""
        if len(plan) == len(self.starters):
            self._finish(plan)
            return
        if self._was_here(plan, slot):
            return
        latest = max(slot, ends(plan, self.starters))
        while slot <= latest and not self.spent and not self._hopeless(plan, slot):
            for starter in self._next(plan):
                trial = {**plan, starter.id: slot}
                broken = self.broken(state(trial, self.starters, slot))
                if not broken:
                    self.extend(trial, slot + 1)
                else:
                    self._note(len(plan), broken)
            idle = self.broken(state(plan, self.starters, slot)) if plan else ()
            if idle:
                self._note(len(plan), idle)
                return
            slot += 1

    def _was_here(self, plan: Plan, slot: int) -> bool:
        """Whether the same ages were gone on from before, no later and at no more cost: what follows was better there."""
        mine = (slot, *cost(plan, self.starters))
        others = self.seen.setdefault(self.ages(state(plan, self.starters, slot)), [])
        if any(all(a <= b for a, b in zip(other, mine, strict=True)) for other in others):
            return True
        others.append(mine)
        return False

    def _next(self, plan: Plan) -> list[Starter]:
        """The lamps to try next: of those that are alike, one."""
        seen: set[str] = set()
        chosen = []
        for s in self.starters:
            if s.id not in plan and (not s.alike or s.alike not in seen):
                seen.add(s.alike)
                chosen.append(s)
        return chosen

    def _hopeless(self, plan: Plan, slot: int) -> bool:
        """Whether no plan that goes on from here can beat the best."""
        if self.best is None:
            return False
        left = [s for s in self.starters if s.id not in plan]
        last = max([full_at(plan, self.starters), *(slot + k + s.full for k, s in enumerate(left))])
        total = sum(plan.values()) + sum(slot + k for k in range(len(left)))
        return (last, total) >= cost(self.best, self.starters)

    def _finish(self, plan: Plan) -> None:
        for slot in range(max(plan.values()) + 1, ends(plan, self.starters) + 1):
            broken = self.broken(state(plan, self.starters, slot))
            if broken:
                self._note(len(plan), broken)
                return
        if self.judged <= self.budget and (self.best is None or cost(plan, self.starters) < cost(self.best, self.starters)):
            self.best = dict(plan)

    def _note(self, depth: int, broken: tuple[Use, ...]) -> None:
        """Remember what forbade the attempt that came furthest, and there the least breach."""
        if depth > self.deepest or (depth == self.deepest and max(u.share for u in broken) < max(u.share for u in self.blocked)):
            self.deepest, self.blocked = depth, broken
