"""A control line checked: loads, length, end, shape, addresses, refresh, fades."""

import pytest

from pycore.base.result import Verdict, term
from pycore.findings import control_line
from pycore.rig import edit, kit
from pycore.rig.read import read
from pycore.rig.typical import settle

GOOD = {"length": "80 m", "terminated": "yes"}


def rig(lamps=2, slots=None, line=GOOD, kind="led-400", **entries):
    """Lamps one behind the other on line D1; `slots` sets the footprint of each."""
    document = None
    for k in range(lamps):
        document, i = kit.add_lamp(document, lamp=kind, ballast="none", supply="" if document else "three-230-63")
        wide = slots or 4
        document["loads"][i]["control"] = {"line": "D1", "address": str(1 + k * wide), "slots": str(wide)}
    document["control_lines"] = {"D1": dict(line)}
    return settle(read(edit.put(document, [(a.replace("__", "/"), t) for a, t in entries.items()])).rig)


def found(whole, question, frame_rate=25.0):
    """One finding of the line."""
    return next(f for f in control_line.findings(whole, "D1", term(frame_rate, "fps")) if f.question == question)


def test_a_good_line_is_clear():
    """Two lamps on a short, terminated chain."""
    assert control_line.verdict_of(control_line.findings(rig(), "D1", term(25.0, "fps"))) is Verdict.CLEAR


@pytest.mark.parametrize(("lamps", "verdict"), [(16, Verdict.CLEAR), (17, Verdict.TIGHT), (33, Verdict.STOP), (40, Verdict.STOP)])
def test_unit_loads(lamps, verdict):
    """32 a line, 16 to be cautious; forty need one more line. EIA-485, second hand."""
    loads = found(rig(lamps), "line-loads")

    assert loads.verdict is verdict
    assert bool(loads.remedies) == (lamps > 32) and all("1 more line" in r.text for r in loads.remedies)


@pytest.mark.parametrize(("length", "verdict"), [("300 m", Verdict.CLEAR), ("301 m", Verdict.TIGHT), ("500 m", Verdict.TIGHT), ("501 m", Verdict.STOP), ("", Verdict.UNKNOWN)])
def test_length(length, verdict):
    """300 m is recommended, 500 m often quoted; not entered is unknown."""
    assert found(rig(control_lines__D1__length=length), "line-length").verdict is verdict


@pytest.mark.parametrize(("entry", "text", "question", "verdict"), [
    ("terminated", "no", "line-end", Verdict.TIGHT), ("terminated", "", "line-end", Verdict.UNKNOWN), ("shape", "branches", "line-shape", Verdict.STOP),
    ("earths", "several", "line-shape", Verdict.STOP), ("earths", "isolated", "line-shape", Verdict.CLEAR), ("cable", "microphone", "line-shape", Verdict.TIGHT),
])
def test_ends_shape_and_earths(entry, text, question, verdict):
    """An open end, a plain branch, joined earths, the wrong cable: each with its own verdict."""
    assert found(rig(**{f"control_lines__D1__{entry}": text}), question).verdict is verdict


def test_twenty_five_of_twenty_slots_fill_500():
    """25 fixtures of 20 slots from slot 1 end at slot 500 of 512."""
    addresses = found(rig(25, 20), "line-addresses")

    assert addresses.verdict is Verdict.CLEAR and addresses.demand.value == 500


def test_an_overlap_is_named_and_a_free_place_offered():
    """The second lamp starts inside the first: both are named, and the offered slot is free."""
    whole = rig(3, loads__A2__control__address="3")
    addresses = found(whole, "line-addresses")

    assert addresses.verdict is Verdict.STOP and "slots 3 to 4" in addresses.says
    moved = rig(3, loads__A2__control__address=addresses.remedies[0].changes[0][1])
    assert found(moved, "line-addresses").verdict is Verdict.CLEAR


def test_lamps_set_alike_move_together():
    """The same start and length is no mistake."""
    assert found(rig(2, loads__A2__control__address="1"), "line-addresses").verdict is Verdict.CLEAR


def test_overlaps_reach_across_the_lines_of_a_universe():
    """Two lines of one universe share their slots, two universes do not."""
    entries = {"loads__A2__control__line": "D2", "loads__A2__control__address": "2"}
    for universe, verdict in (("1", Verdict.STOP), ("2", Verdict.CLEAR)):
        assert found(rig(2, control_lines__D2__universe=universe, **entries), "line-addresses").verdict is verdict


def test_slots_that_are_not_sent_reach_nobody():
    """A lamp at slot 9 hears nothing of a sender that sends 8."""
    assert found(rig(3, control_lines__D1__slots_sent="8"), "line-addresses").verdict is Verdict.STOP


def test_refresh():
    """44 packets a second of 512 slots, 220 of 100. ANSI E1.11, second hand."""
    assert found(rig(), "line-refresh").demand.value == pytest.approx(44.1, abs=0.05)
    assert found(rig(control_lines__D1__slots_sent="100"), "line-refresh").demand.value == pytest.approx(219.9, abs=0.05)


@pytest.mark.parametrize(("seconds", "resolution", "verdict"), [("5 s", "8 bit", Verdict.CLEAR), ("60 s", "8 bit", Verdict.TIGHT), ("60 s", "16 bit", Verdict.CLEAR)])
def test_a_slow_fade_in_one_slot_steps(seconds, resolution, verdict):
    """Sixty seconds of 255 levels hold each for 235 ms, six frames: near black each is half the light. In two slots it is smooth."""
    whole = rig(1, control_lines__D1__fade_time=seconds, loads__A1__control__resolution=resolution)

    assert found(whole, "line-fade-A1").verdict is verdict


def test_a_frame_longer_than_the_step_hides_it():
    """At one frame in half a second, every frame has changed anyway."""
    assert found(rig(1, control_lines__D1__fade_time="60 s"), "line-fade-A1", frame_rate=2.0).verdict is Verdict.CLEAR


def test_a_fade_to_where_it_starts_is_unknown():
    """Nothing can be said of a fade that goes nowhere."""
    assert found(rig(1, control_lines__D1__fade_to="100 %"), "line-fade-A1").verdict is Verdict.UNKNOWN


def test_a_line_that_is_not_there_is_a_problem_of_the_lamp():
    """The rig names the lamp that hangs on a line it does not have."""
    document, _ = kit.add_lamp(None, lamp="led-400", ballast="none", supply="house-230")
    problems = read(edit.put(document, [("loads/A1/control/line", "D7")])).problems

    assert [(p.code, p.address) for p in problems] == [("line-missing", "loads/A1/control/line")]
