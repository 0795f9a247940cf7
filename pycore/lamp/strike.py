"""The order and the gaps in which lamps are struck, and the judge that allows them or not.

Time runs in slots of one gap each, one strike to a slot at most. What the supply bears is not known here: a judge is asked
about a state, which is every struck lamp with its age in slots, and answers with what that state uses of each limit. Age 0
is the lamp that strikes. A lamp that has settled keeps the age at which it did, so states repeat and are judged once.

    plan = {lamp: slot}          shortest: the last lamp at full light soonest; of equal ones, the strikes soonest
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

Plan = dict[str, int]
State = tuple[tuple[str, int], ...]  # (lamp, age in slots), in the order of the lamps


@dataclass(frozen=True, slots=True, kw_only=True)
class Starter:
    """A lamp to be struck. Lamps that are `alike` may change places.

    `settles` and `full`: slots until nothing changes, at least 1 since age 0 is the strike itself, and until full light.
    """

    id: str
    settles: int
    full: int
    alike: str = ""

    def __post_init__(self) -> None:
        if self.settles < 1:
            raise ValueError("a lamp settles after its strike, not in it")


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """What a state uses of one limit. `share` above 1 breaks it; up to `unsure` nobody can say whether a device really opens.

    `own`: it depends on the striking lamp alone, whatever else burns.
    """

    limit: str
    place: str
    demand: float
    allowed: float
    share: float
    own: bool = False
    unsure: float = 1.0

    @property
    def broken(self) -> bool:
        """True when over the limit, and for what is no number."""
        return not self.share <= 1 + 1e-9

    @property
    def may_hold(self) -> bool:
        """True where the limit is broken and yet may hold: inside a device's band."""
        return self.broken and self.share <= self.unsure


Judge = Callable[[State], Sequence[Use]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """`plan` None with `proven`: there is none, and `blocked` is the limit that forbade the longest attempt. `states` were judged."""

    plan: Plan | None
    proven: bool
    blocked: tuple[Use, ...]
    states: int


def state(plan: Mapping[str, int], starters: Sequence[Starter], slot: int) -> State:
    """Every lamp struck by `slot`, with its age."""
    return tuple((s.id, min(slot - plan[s.id], s.settles)) for s in starters if s.id in plan and plan[s.id] <= slot)


def ends(plan: Mapping[str, int], starters: Sequence[Starter]) -> int:
    """The slot from which nothing changes any more."""
    return max((plan[s.id] + s.settles for s in starters if s.id in plan), default=0)


def full_at(plan: Mapping[str, int], starters: Sequence[Starter]) -> int:
    """The slot at which the last lamp is at full light."""
    return max((plan[s.id] + s.full for s in starters if s.id in plan), default=0)


def cost(plan: Mapping[str, int], starters: Sequence[Starter]) -> tuple[int, int]:
    """What a plan is measured by: full light of the last lamp, then the sum of all strikes."""
    return full_at(plan, starters), sum(plan.values())


def keeps(plan: Mapping[str, int], starters: Sequence[Starter], judge: Judge) -> tuple[Use, ...]:
    """What a plan breaks first, nothing when it keeps every limit from its first slot until all has settled."""
    for slot in range(ends(plan, starters) + 1):
        broken = tuple(u for u in judge(state(plan, starters, slot)) if u.broken)
        if broken:
            return broken
    return ()
