"""Phases for single-phase loads."""

from itertools import product
from math import nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pycore.base.problem import Refused
from pycore.powerflow.balance import SAME, Plug, balance, picture

LINES = ("L1", "L2", "L3")
CURRENTS = st.sampled_from([2.9, 5.6, 9 - 2j, 13 + 3j, 18 - 9j, 3.3 - 5j])
PLUGS = st.lists(st.tuples(CURRENTS, st.sampled_from(["L1", "L2", "L3", ""]), st.sampled_from([LINES, LINES, ("L1",), ("L2", "L3")])), min_size=1, max_size=6)


def plugs(given_):
    return [Plug(id=f"A{n}", current=c, now=now, may=may) for n, (c, now, may) in enumerate(given_)]


def everything(loads, fixed):
    """Every arrangement there is: (worst, neutral, re-plugs)."""
    for places in product(*(p.may for p in loads)):
        shown = picture(loads, dict(zip((p.id for p in loads), places, strict=True)), LINES, fixed)
        yield shown.worst, shown.neutral, sum(bool(p.now) and p.now != c for p, c in zip(loads, places, strict=True))


@settings(max_examples=60, deadline=None)
@given(PLUGS, st.sampled_from([{}, {"L1": 7.0}, {"L2": 4 - 3j, "L3": 2.0}]))
def test_against_trying_everything(given_, fixed):
    """Small rigs: worst phase, then neutral, then re-plugs are the least there are, differences of 1 % of an even share aside."""
    loads = plugs(given_)
    found, options = balance(loads, LINES, fixed), list(everything(loads, fixed))
    slack = SAME * abs(sum(p.current for p in loads) + sum(fixed.values())) / 3 + 1e-9

    assert found.proven
    assert found.after.worst <= min(w for w, _, _ in options) + 2 * slack
    near = [(w, n, m) for w, n, m in options if w <= min(w for w, _, _ in options)]
    assert found.after.neutral <= max(min(n for _, n, _ in near), slack) + slack
    alike = [m for w, n, m in options if w <= found.after.worst + 1e-9 and n <= found.after.neutral + 1e-9]
    assert len(found.moves) <= min(alike)


@settings(max_examples=40, deadline=None)
@given(PLUGS)
def test_loads_stay_where_they_may_hang(given_):
    """Every load gets a phase that it may hang on; moves are what changed; the picture is of these places."""
    loads = plugs(given_)
    found = balance(loads)

    assert all(found.places[p.id] in p.may for p in loads)
    assert {m[0] for m in found.moves} == {p.id for p in loads if p.now and found.places[p.id] != p.now}
    assert found.after == picture(loads, found.places, LINES, {})


def test_twelve_equal_lamps_on_one_phase():
    """Twelve of 5 A on L1: four each, eight moves, no neutral; before 60 A, after 20 A."""
    found = balance([Plug(id=f"A{n}", current=5.0, now="L1") for n in range(12)])

    assert found.before.worst == 60 and found.after.worst == pytest.approx(20)
    assert found.after.neutral == pytest.approx(0, abs=1e-9)
    assert len(found.moves) == 8 and found.proven and found.gap == pytest.approx(0)


def test_well_plugged_is_left_alone():
    """No move for nothing."""
    assert balance([Plug(id=f"A{n}", current=5.0 + 0.01 * n, now=LINES[n % 3]) for n in range(9)]).moves == ()


def test_few_moves_allowed():
    """With two moves from sixty on one phase: what two moves can do, and it is said."""
    found = balance([Plug(id=f"A{n}", current=5.0, now="L1") for n in range(12)], most_moves=2)

    assert len(found.moves) == 2 and found.after.worst == pytest.approx(50)


def test_split_phase():
    """Two legs: 20, 10 and 10 A go two against one, the neutral is empty."""
    found = balance([Plug(id="A", current=20.0, may=("L1", "L2")), Plug(id="B", current=10.0, may=("L1", "L2")), Plug(id="C", current=10.0, may=("L1", "L2"))], ("L1", "L2"))

    assert found.after.worst == pytest.approx(20) and found.after.neutral == pytest.approx(0)
    assert found.before is None


def test_fixed_loads_count():
    """9 A that cannot move from L1: the single lamps go elsewhere."""
    found = balance([Plug(id="A", current=9.0, now="L1"), Plug(id="B", current=9.0, now="L2")], fixed={"L1": 9.0})

    assert found.places == {"A": "L3", "B": "L2"}


def test_large_rig_has_a_gap_that_is_told():
    """A hundred unequal lamps: within 2 % of what nothing can beat."""
    found = balance([Plug(id=f"A{n}", current=2.0 + (n * 37 % 100) / 11, now="L1") for n in range(100)])

    assert found.gap <= 0.02
    assert found.after.worst < 0.36 * found.before.worst


def test_what_cannot_be_placed_is_refused():
    """NaN currents and loads without a phase, all at once."""
    with pytest.raises(Refused) as refused:
        balance([Plug(id="A", current=nan), Plug(id="B", current=5.0, may=("L4",))])

    assert [p.code for p in refused.value.problems] == ["not-a-number", "no-phase"]


def test_nothing_to_balance():
    """No loads, no moves."""
    assert balance([]).after.worst == 0
