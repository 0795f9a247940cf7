"""Why each lamp of a strike plan waits: the limit that its earliest strike would break, held against that strike judged by itself."""

import pytest

from pycore.base.result import Verdict
from pycore.findings import strike
from tests.findings.test_strike import BARE, CORRECTED, MAGNETIC, WITH_CAPACITOR, broken_in, rig

TWO = [("arc-1200", MAGNETIC)] * 2


def test_the_limit_that_holds_a_lamp_back_is_named():
    """Two magnetic heads on 32 A: ten seconds after the first the second would ask for 35.8 A, which is 3.8 A too much."""
    wait = strike.plan(rig(*TWO, supply="house-230-32")).waits["A2"]

    assert wait.kind == "limit" and wait.finding.question == "strike-carry" and wait.finding.verdict is Verdict.STOP
    assert wait.finding.demand.value - wait.finding.limit.term.value == pytest.approx(3.8, abs=0.05)
    assert "sooner, at 0:10" in wait.says and "3.8\u00a0A too much" in wait.says and "the outlet" in wait.says


@pytest.mark.parametrize(("lamps", "entries"), [
    (TWO, {"supply": "house-230-32"}),
    ([("arc-1200", MAGNETIC)] * 6, {"supply": "house-230-32", "supply__rating": "80 A", "supply__device__kind": "D"}),
    ([("arc-2500", WITH_CAPACITOR)] * 4 + [("tungsten-2000", "none")] * 2, {"supply__rated_power": "45 kVA"}),
    ([("arc-1200", MAGNETIC)] * 3 + [("arc-2500", BARE)] * 2, {"supply__rated_power": "45 kVA", "supply__steps__voltage": "20 %", "supply__device__kind": "D"}),
])
def test_a_lamp_that_waits_cannot_strike_sooner(lamps, entries):
    """For every lamp that is said to wait for a limit, the same plan with it at its earliest breaks one, judged anew; the first and the least gaps need no reason."""
    whole = rig(*lamps, **entries)
    found = strike.plan(whole, optimise=True)
    order = list(found.at)
    for before, i in zip(order, order[1:], strict=False):
        wait = found.waits[i]
        if wait.kind == "limit":
            assert broken_in(whole, {**found.at, i: found.at[before] + found.gap})
        else:
            assert wait.kind == "least gap" and found.at[i] - found.at[before] == pytest.approx(found.gap)
    assert found.waits[order[0]].kind == "first"


def test_an_entered_gap_that_nothing_asks_for_is_said():
    """Three corrected heads on a set with room: one waits without need, one strikes too soon."""
    found = strike.plan(rig(*[("arc-1200", CORRECTED)] * 3, loads__A1__strike_at="30 s", loads__A2__strike_at="5 s", loads__A3__strike_at="32 s"))

    assert {i: w.kind for i, w in found.waits.items()} == {"A2": "first", "A1": "free", "A3": "short"}
    assert found.waits["A1"].says.endswith("no limit forbids 0:15") and "less than the least gap" in found.waits["A3"].says


def test_lamps_on_runs_of_their_own_may_change_places():
    """The same head on the same line through the same cable is alike; another line, length or device is not, nor is a run that two share."""
    whole = rig(*[("arc-1200", MAGNETIC)] * 5, supply="house-230-32", runs__K3__length="31 m", runs__K4__device__kind="C", runs__K4__device__rating="16 A", loads__A5__fed_by="K1")
    bench = strike.make_ready(whole).bench
    kinds = bench.alike

    assert kinds["A2"] not in (kinds["A3"], kinds["A4"], kinds["A1"]) and kinds["A1"] == kinds["A5"]


def test_a_search_goes_on_where_it_stopped():
    """With what was judged handed on, the second search judges only what is new, and both together no more than one search does."""
    whole = rig(*[("arc-2500", WITH_CAPACITOR)] * 4, *[("tungsten-2000", "none")] * 2, ("arc-1200", MAGNETIC), supply__rated_power="45 kVA")
    made, known = strike.make_ready(whole), {}
    first = strike.plan_on(made, {}, 40, known)
    judged = len(known)
    strike.plan_on(made, {}, 300, known)
    at_once: dict = {}
    strike.plan_on(strike.make_ready(whole), {}, 300, at_once)

    assert not first.proven and judged >= 40
    assert len(known) >= len(at_once) > judged
