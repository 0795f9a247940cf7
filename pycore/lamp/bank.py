"""Several lamps on one subject: the share of light that each must give for a wanted sum."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """A lamp of a bank: its light at the subject at full (lx), and the lowest share of light it can be dimmed to."""

    full: float
    lowest: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sharing:
    """Share of full light of each lamp. `at_lowest` are those that cannot go further; `over` (lx) is what is left too much, `short` what is missing."""

    shares: dict[str, float]
    at_lowest: tuple[str, ...]
    over: float = 0.0
    short: float = 0.0


def level(members: Mapping[str, Member], wanted: float) -> Sharing:
    """All lamps dimmed alike until their light adds up to `wanted` (lx); a lamp at its lowest stays there and the others give the rest.

    The sum of max(share, lowest)·full rises with the share, in straight pieces between the lamps' lowest shares: the piece that
    holds `wanted` gives the share exactly.
    """
    full, least = sum(m.full for m in members.values()), sum(m.full * m.lowest for m in members.values())
    if wanted >= full:
        return Sharing(shares=dict.fromkeys(members, 1.0), at_lowest=(), short=wanted - full)
    if wanted <= least:
        return Sharing(shares={i: m.lowest for i, m in members.items()}, at_lowest=tuple(members), over=least - wanted)
    held: dict[str, Member] = {}
    while True:
        free = {i: m for i, m in members.items() if i not in held}
        share = (wanted - sum(m.full * m.lowest for m in held.values())) / sum(m.full for m in free.values())
        stuck = {i: m for i, m in free.items() if m.lowest > share}
        if not stuck:
            return Sharing(shares={i: members[i].lowest if i in held else share for i in members}, at_lowest=tuple(held))
        held |= stuck


def balance(members: Mapping[str, Member], wanted: Mapping[str, float]) -> Sharing:
    """Each lamp dimmed to its own wanted light (lx)."""
    shares = {i: min(1.0, max(m.lowest, wanted[i] / m.full)) for i, m in members.items()}
    return Sharing(shares=shares, at_lowest=tuple(i for i, m in members.items() if wanted[i] < m.full * m.lowest * (1 - 1e-9)),
                   over=sum(max(0.0, m.full * m.lowest - wanted[i]) for i, m in members.items()), short=sum(max(0.0, wanted[i] - m.full) for i, m in members.items()))
