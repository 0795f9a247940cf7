"""The strike plan against brute force: every order and every gap tried, on small rigs with invented supplies."""

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.lamp.strike import Starter, Use, cost, ends, keeps, state
from pycore.lamp.strike_search import shortest


class Supply:
    """A made-up supply: each lamp draws its profile (one figure a slot, the last for ever), plus a surge in its first slot."""

    def __init__(self, profiles, surges, carry, peak):
        self.profiles, self.surges, self.carry, self.peak = profiles, surges, carry, peak

    def __call__(self, now):
        drawn = sum(self.profiles[i][min(age, len(self.profiles[i]) - 1)] for i, age in now)
        surge = drawn + sum(self.surges[i] for i, age in now if age == 0)
        return (Use(limit="carry", place="supply", demand=drawn, allowed=self.carry, share=drawn / self.carry),
                Use(limit="peak", place="supply", demand=surge, allowed=self.peak, share=surge / self.peak))

    def starters(self):
        return [Starter(id=i, settles=max(1, len(p) - 1), full=len(p) - 1, alike=f"{p}/{self.surges[i]}") for i, p in self.profiles.items()]


def brute(starters, judge):
    """The cheapest plan of all, over every start slot up to where waiting changes nothing, or None."""
    longest = sum(s.settles + 1 for s in starters)
    best = None
    for slots in product(range(longest + 1), repeat=len(starters)):
        plan = dict(zip((s.id for s in starters), slots, strict=True))
        fits = min(slots) == 0 and len(set(slots)) == len(slots) and (best is None or cost(plan, starters) < best)
        if fits and not keeps(plan, starters, judge):
            best = cost(plan, starters)
    return best


PROFILES = st.lists(st.integers(1, 6), min_size=1, max_size=3)


@given(st.lists(st.tuples(PROFILES, st.integers(0, 6)), min_size=1, max_size=3), st.integers(4, 18), st.integers(4, 20))
def test_the_search_finds_what_brute_force_finds(lamps, carry, peak):
    """Rising, falling and flat profiles alike: the same cost, or none in both."""
    supply = Supply({f"A{k}": p for k, (p, _) in enumerate(lamps)}, {f"A{k}": s for k, (_, s) in enumerate(lamps)}, carry, peak)
    found = shortest(supply.starters(), supply)

    assert found.proven
    assert (cost(found.plan, supply.starters()) if found.plan else None) == brute(supply.starters(), supply)
    if found.plan:
        assert keeps(found.plan, supply.starters(), supply) == ()
    else:
        assert found.blocked and all(u.broken for u in found.blocked)


def test_four_lamps_against_brute_force():
    """Four falling profiles, as magnetic ballasts have them, on a supply that bears one run-up at a time."""
    supply = Supply({"A1": [6, 4], "A2": [6, 4], "A3": [3, 2], "A4": [3, 2]}, dict.fromkeys(("A1", "A2", "A3", "A4"), 0), 14, 14)
    found = shortest(supply.starters(), supply)

    assert found.plan is not None and found.proven
    assert cost(found.plan, supply.starters()) == brute(supply.starters(), supply)


def test_rising_loads_leave_room_only_early():
    """Two lamps that draw little at first: the second's surge fits only while the first still runs up."""
    supply = Supply({"A1": [1, 1, 8], "A2": [2, 2, 2]}, {"A1": 0, "A2": 6}, 10, 10)
    found = shortest(supply.starters(), supply)

    assert found.plan is not None and cost(found.plan, supply.starters()) == brute(supply.starters(), supply)


def test_too_much_in_the_end_is_said_at_once():
    """Lamps that no order can carry together: the limit is named after one look."""
    supply = Supply({"A1": [5], "A2": [5], "A3": [5]}, dict.fromkeys(("A1", "A2", "A3"), 0), 14, 99)
    found = shortest(supply.starters(), supply)

    assert found.plan is None and found.proven and found.states == 1
    assert [(u.limit, u.demand, u.allowed) for u in found.blocked] == [("carry", 15, 14)]


def test_a_surge_that_no_order_avoids():
    """The last strike always meets the others burning: the limit that forbids it is the peak."""
    supply = Supply({"A1": [4], "A2": [4]}, {"A1": 5, "A2": 5}, 10, 12)
    found = shortest(supply.starters(), supply)

    assert found.plan is None and found.proven
    assert {u.limit for u in found.blocked} == {"peak"}


def test_the_longest_run_up_is_struck_first():
    """With nothing in the way, strikes follow each other and the slowest lamp comes first."""
    supply = Supply({"A1": [1, 1], "A2": [1, 1, 1, 1, 1], "A3": [1]}, dict.fromkeys(("A1", "A2", "A3"), 0), 99, 99)

    assert shortest(supply.starters(), supply).plan == {"A2": 0, "A1": 1, "A3": 2}


def test_a_search_cut_short_says_so():
    """Out of budget is not a proof."""
    supply = Supply({f"A{k}": [6, 5, 4 + k / 10] for k in range(6)}, {f"A{k}": 0 for k in range(6)}, 28, 28)

    assert not shortest(supply.starters(), supply, budget=5).proven


def test_a_strike_that_breaks_a_limit_by_itself_is_seen_at_once():
    """What depends on the striking lamp alone needs no search."""
    supply = Supply({f"A{k}": [5, 4, 3] for k in range(6)}, {f"A{k}": 20 for k in range(6)}, 99, 22)
    found = shortest(supply.starters(), lambda now: [replace(u, own=u.limit == "peak") for u in supply(now)])

    assert found.plan is None and found.proven and found.states == 2


def test_two_lamps_that_never_go_together_are_seen():
    """Whichever comes second puts the other out, at every age: proven after a look at the pair, however many others there are."""
    def judge(now):
        struck = [i for i, age in now if age == 0]
        clash = any(i in ("A0", "A1") for i in struck) and {"A0", "A1"} <= {i for i, _ in now}
        return [Use(limit="hold", place="supply", demand=float(clash), allowed=0.5, share=2.0 * clash)]

    lamps = [Starter(id=f"A{k}", settles=6, full=6) for k in range(7)]
    found = shortest(lamps, judge, budget=120)

    assert found.plan is None and found.proven and [u.limit for u in found.blocked] == ["hold"]


def test_one_moment_that_fits_is_enough_for_a_pair():
    """Two lamps that clash except just before the first settles are no proof against a plan."""
    def judge(now):
        ages = dict(now)
        clash = ages.get("A1") == 0 and ages.get("A0", 5) != 5
        return [Use(limit="hold", place="supply", demand=float(clash), allowed=0.5, share=2.0 * clash)]

    lamps = [Starter(id=f"A{k}", settles=6, full=6) for k in range(2)]

    assert shortest(lamps, judge).plan == {"A1": 0, "A0": 1}


def test_a_search_that_runs_dry_still_has_a_plan():
    """Seven falling loads on a supply that bears one start at a time: not proven shortest within the budget, but a plan that keeps the limits."""
    supply = Supply({f"A{k}": [9, 7, 5, 4, 3, 2] for k in range(7)}, {f"A{k}": k / 100 for k in range(7)}, 21.5, 21.5)
    found = shortest(supply.starters(), supply, budget=200)

    assert found.plan is not None and len(found.plan) == 7
    assert keeps(found.plan, supply.starters(), supply) == ()


def test_the_strike_itself_is_no_settled_state():
    """A lamp that draws the same from the start still strikes only once."""
    with pytest.raises(ValueError, match="settles"):
        Starter(id="A1", settles=0, full=0)
    supply = Supply({"A1": [4], "A2": [4]}, {"A1": 3, "A2": 3}, 9, 11)

    assert shortest(supply.starters(), supply).plan == {"A1": 0, "A2": 1}


def test_a_limit_that_is_no_number_is_broken():
    """NaN never passes."""
    assert Use(limit="carry", place="supply", demand=float("nan"), allowed=1, share=float("nan")).broken


@pytest.mark.parametrize(("slot", "expected"), [(0, (("A1", 0),)), (1, (("A1", 1),)), (2, (("A1", 1), ("A2", 0)))])
def test_states_age_until_they_settle(slot, expected):
    """A lamp keeps the age at which it settled."""
    starters = [Starter(id="A1", settles=1, full=1), Starter(id="A2", settles=3, full=3)]

    assert state({"A1": 0, "A2": 2}, starters, slot) == expected
    assert ends({"A1": 0, "A2": 2}, starters) == 5
