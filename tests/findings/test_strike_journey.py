"""Eight lamps on a 60 kVA set, through the door as the page goes: plan, strike, one drops, recover. And each method's refusals."""

import json

import pytest

from pycore.api.door import answer


def call(method, **params):
    """A method's result; fails on an error."""
    given = json.loads(answer(method, params))
    assert given["ok"], given
    return given["result"]


def error(method, **params):
    """A method's error code."""
    given = json.loads(answer(method, params))
    assert not given["ok"]
    return given["error"]["code"]


def applied(rig, changes):
    """The rig with changes entered, as `check` does it."""
    return call("check", rig=rig, changes=changes)["rig"]


@pytest.fixture(scope="module")
def rig():
    """Eight corrected 4 kW heads on a 60 kVA generator."""
    made = None
    for _ in range(8):
        made = call("add_lamp", rig=made, lamp="arc-4000", ballast="electronic corrected", supply="" if made else "gen-230")["rig"]
    entries = [("supply/rated_power", "60 kVA"), ("supply/rating", "80 A"), *((f"runs/K{k}/size", "6 mm²") for k in range(1, 9))]
    return applied(made, [{"address": a, "text": t} for a, t in entries])


def test_plan_strike_drop_recover(rig):
    """The plan is clear and can be kept; on the day the timers follow it; a lamp that drops out is back after cooling and run-up, the others burning on."""
    plan = call("strike", rig=rig)
    kept = applied(rig, plan["changes"])
    again = call("strike", rig=kept)
    marks = [{"load": x["load"], "what": "struck", "at": 1000 + x["at"]["value"]} for x in plan["order"]]
    burning = call("timers", rig=kept, marks=marks, now=1000 + 400)
    marks.append({"load": "A3", "what": "out", "at": 1500})
    dropped = call("lamp_dropped", rig=kept, load="A3")
    waiting = call("timers", rig=kept, marks=marks, now=1500 + 60)["lamps"]["A3"]
    marks.append({"load": "A3", "what": "struck", "at": 1500 + dropped["strike_after"]["value"]})
    back = call("timers", rig=kept, marks=marks, now=1500 + dropped["light_after"]["value"])["lamps"]

    assert (plan["verdict"], plan["entered"], again["verdict"], again["entered"]) == ("clear", False, "clear", True)
    assert [x["at"]["value"] for x in again["order"]] == [x["at"]["value"] for x in plan["order"]]
    assert {x["state"] for x in burning["lamps"].values()} == {"full"}
    assert (waiting["state"], waiting["ready_at"]) == ("cooling", 2100)
    assert dropped["options"][0]["verdict"] == "clear" and dropped["options"][0]["off"] == []
    assert {x["state"] for x in back.values()} == {"full"}
    assert back["A3"]["strikes"] == 2 and back["A1"]["strikes"] == 1


def test_the_course_is_ready_to_be_drawn(rig):
    """All columns have one figure for each moment, and nothing exceeds the drawn limits."""
    plan = call("strike", rig=rig)
    course, limits = plan["course"], plan["limits"]
    columns = [course["apparent"], course["active"], *course["lines"].values(), *course["outlet"].values(), *course["light"].values(), *course["voltages"].values()]

    assert {len(c) for c in columns} == {len(course["t"])}
    assert max(course["apparent"]) <= limits["apparent"] and max(max(x) for x in course["lines"].values()) <= limits["line"]
    assert [d["loads"] for d in course["dips"]] == [[x["load"]] for x in plan["order"]]


def test_a_move_by_hand_is_judged_at_once(rig):
    """Two strikes pulled together: the same request with the change says which limit that breaks."""
    moved = call("strike", rig=applied(rig, call("strike", rig=rig)["changes"]), changes=[{"address": "loads/A2/strike_at", "text": "2 s"}])

    assert moved["verdict"] == "stop"
    assert [f["question"] for f in moved["findings"] if f["verdict"] == "stop"] == ["strike-gap"]


def test_a_plan_that_cannot_exist(rig):
    """On 40 kVA the engine forbids it, whatever the order; there is no order to show."""
    plan = call("strike", rig=rig, changes=[{"address": "supply/rated_power", "text": "40 kVA"}])

    assert plan["verdict"] == "stop" and plan["order"] == [] and plan["proven"]
    assert "strike-kw" in {f["question"] for f in plan["findings"]}


def test_a_clock_that_went_back_gives_a_mark(rig):
    """The page adds the mark it is given; with it the countdown goes on."""
    marks = [{"load": "A1", "what": "struck", "at": 5000}]
    first = call("timers", rig=rig, marks=marks, now=4000, last_seen=5050, steady=10)
    second = call("timers", rig=rig, marks=[*marks, first["mark"]], now=4030, last_seen=4000, steady=30)

    assert first["mark"] == {"what": "clock", "load": "", "at": 4000, "by": 1060}
    assert first["lamps"]["A1"]["full_at"] == second["lamps"]["A1"]["full_at"] == 4120
    assert second["mark"] is None


@pytest.mark.parametrize(("method", "params", "code"), [
    ("lamp_dropped", {"load": "A99"}, "lamp-unknown"),
    ("dim", {"load": "A1", "stops": "many"}, "number-unreadable"),
    ("dim", {"load": "A1", "level": "50 V"}, "unit-wrong"),
    ("refit", {"load": "A1", "readings": [{"setting": "100 %", "light": "900"}]}, "readings-few"),
    ("bank", {"lamps": [], "wanted": "900 lx"}, "no-lamps"),
    ("bank", {"lamps": [{"load": "A1", "light": "900 lx"}]}, "nothing-wanted"),
    ("control_line", {"line": "D1"}, "line-unknown"),
    ("timers", {"marks": [{"what": "danced", "at": 1}], "now": 2}, "mark-unreadable"),
    ("timers", {"marks": [{"what": "struck"}], "now": 2}, "mark-unreadable"),
    ("head_cables", {"load": "A99"}, "lamp-unknown"),
])
def test_what_cannot_be_answered_is_refused(rig, method, params, code):
    """A reason with a way out, never a fault."""
    assert error(method, rig=rig, **params) == code


def test_every_other_method_answers(rig):
    """Dimming, refit, banks, head cables, warm-up and control lines through the door."""
    dim = call("dim", rig=rig, load="A1", stops="3", distance="5 m")
    bank = call("bank", rig=rig, lamps=[{"load": "A1", "light": "2000 lx"}, {"load": "A2", "light": "2000 lx"}], wanted="2000 lx")
    refit = call("refit", rig=rig, load="A1", readings=[{"setting": s, "light": x} for s, x in (("100 %", "900 lx"), ("70 %", "540 lx"), ("50 %", "330 lx"))], stops="0.5")
    lined = call("add_control_line", rig=rig)
    checked = call("control_line", rig=lined["rig"], line=lined["line"], changes=[{"address": "loads/A1/control/line", "text": lined["line"]}, {"address": "loads/A1/control/address", "text": "7"}])

    assert (dim["below"]["doubles"], dim["below"]["singles"]) == (1, 1) and dim["changes"] == [{"address": "loads/A1/dim", "text": "50 %"}]
    assert bank["total"]["quantity"]["value"] == pytest.approx(2000)
    assert refit["changes"][0]["address"] == "loads/A1/lamp/exponent" and refit["wanted"]["setting"]["quantity"]["value"] < 1
    assert call("head_cables", rig=rig, load="A1")["sizes"] and call("warm_up", rig=rig, load="A1")["findings"]
    assert [(x["load"], x["first"], x["last"]) for x in checked["receivers"]] == [("A1", 7, 7)]
    assert call("remove_control_line", rig=checked["rig"], line="D1")["rig"]["loads"]["A1"]["control"] == {"address": "7"}


def test_lengths_are_shown_in_feet_and_sizes_in_awg_when_asked(rig):
    """Terms, sentences and the list of head cables follow the setting, as `check` does; what goes into the rig is what was shown."""
    feet = {"length": "ft", "size": "AWG"}
    metric, american = call("head_cables", rig=rig, load="A1"), call("head_cables", rig=rig, load="A1", show=feet)
    away = call("dim", rig=rig, load="A1", stops="3", distance="16 ft", show=feet)["below"]["distance"]["quantity"]

    assert "102\u00a0m" in metric["finding"]["says"] and "335\u00a0ft" in american["finding"]["says"]
    assert [x["size"] for x in american["sizes"]] == ["12 AWG", "10 AWG"] and american["sizes"][0]["length"]["quantity"]["shown_unit"] == "ft"
    assert american["sizes"][0]["changes"] == [{"address": "loads/A1/head_cable/size", "text": "12 AWG"}]
    assert (away["shown"], away["shown_unit"]) == ("28.6", "ft") and away["value"] == pytest.approx(8.724, abs=0.001)


def test_the_plan_says_why_each_lamp_waits(rig):
    """Each start carries its reason; on a rig with room it is the first, then the least gap."""
    plan = call("strike", rig=rig)

    assert [x["wait"]["kind"] for x in plan["order"]] == ["first", *["least gap"] * 7]
    assert plan["order"][1]["wait"]["says"] == "0:10 after A1, the least gap"


def test_a_search_in_parts_ends_where_one_search_does(rig):
    """A small effort is cut short and says so; asked again with more, it comes to the proven plan."""
    fresh = applied(rig, [{"address": "supply/rated_power", "text": "61 kVA"}])
    cut = call("strike", rig=fresh, optimise=True, effort=4)
    whole = call("strike", rig=fresh, optimise=True, effort=600)

    assert not cut["proven"] and "a shorter one may exist" in cut["says"]
    assert whole["proven"] and [x["at"]["value"] for x in whole["order"]] == [10.0 * k for k in range(8)]
