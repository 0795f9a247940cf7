"""A bank of lamps against the sum it must give."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.lamp.bank import Member, balance, level

MEMBERS = st.dictionaries(st.sampled_from(["A1", "A2", "A3", "A4"]), st.builds(Member, full=st.floats(1, 5000), lowest=st.floats(0, 0.9)), min_size=1)


@given(MEMBERS, st.floats(0.01, 1.5))
def test_the_light_adds_up(members, share):
    """Inside its range a bank gives just what is wanted; beyond, all it has or the least it can, and says how far off."""
    wanted = share * sum(m.full for m in members.values())
    found = level(members, wanted)
    total = sum(found.shares[i] * m.full for i, m in members.items())

    assert total + found.short - found.over == pytest.approx(wanted, rel=1e-9)
    assert all(m.lowest - 1e-12 <= found.shares[i] <= 1 + 1e-12 for i, m in members.items())


@given(MEMBERS, st.floats(0.01, 0.999))
def test_all_that_can_are_dimmed_alike(members, share):
    """Lamps that are not at their lowest have one share, and those that are would have to be below it."""
    found = level(members, share * sum(m.full for m in members.values()))
    free = {round(found.shares[i], 9) for i in members if i not in found.at_lowest}

    assert len(free) <= 1
    assert all(found.shares[i] == members[i].lowest for i in found.at_lowest)
    assert all(members[i].lowest >= s - 1e-9 for i in found.at_lowest for s in free)


def test_by_hand():
    """An arc that stops at 40 % of 2000 lx and a lamp of 1000 lx that goes to black: 1000 lx are 800 and 200."""
    found = level({"A1": Member(full=2000, lowest=0.4), "A2": Member(full=1000, lowest=0.0)}, 1000)

    assert found.shares == {"A1": 0.4, "A2": pytest.approx(0.2)} and found.at_lowest == ("A1",)


def test_each_to_its_own():
    """Balance: what is wanted of each, its lowest where it cannot, all it has where that is too little."""
    members = {"A1": Member(full=2000, lowest=0.4), "A2": Member(full=1000, lowest=0.0), "A3": Member(full=100, lowest=0.0)}
    found = balance(members, {"A1": 500, "A2": 250, "A3": 150})

    assert found.shares == {"A1": 0.4, "A2": 0.25, "A3": 1.0}
    assert (found.over, found.short, found.at_lowest) == (pytest.approx(300), pytest.approx(50), ("A1",))
