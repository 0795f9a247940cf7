"""A shot of which nobody said what lights it: every lamp counts, and so does any mix of them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.base.problem import Refused
from pycore.base.result import Verdict, worst
from pycore.camera import take
from pycore.findings import shutter
from pycore.findings.scene import blend, blended
from pycore.findings.shots import Board
from pycore.rig import edit
from pycore.rig.read import read
from pycore.rig.typical import settle
from tests.camera.rigs import document, rig

FAST = {"S": {"frame_rate": "500 fps", "shutter": "180°"}}
RAMP = {"S": {"frame_rate": "24 fps", "ramp_to": "1000 fps", "ramp_time": "3 s"}}
USUAL = {f"loads/A2/ballast/{key}": "" for key in ("commutation_time", "dip_depth")}


def only(*lamps, shots=FAST, sets=()):
    """The rig with a few of its lamps."""
    doc = document(*sets, shots=shots)
    doc["loads"] = {i: load for i, load in doc["loads"].items() if i in lamps}
    return doc


def judged(doc):
    made = settle(read(doc).rig, {p.address for p in read(doc).problems})
    board = Board(made)
    it = shutter.by_itself(made, made.shots["S"], board.lights, tuple(p for why in board.unknown.values() for p in why))
    return made, it, shutter.each(it)


@pytest.mark.parametrize("shots", [FAST, RAMP, {"S": {"frame_rate": "50 fps", "shutter": "180°"}}, {"S": {"kind": "still", "exposure_time": "1/125 s"}}])
def test_the_worst_lamp_is_told(shots):
    """The verdict is that of the worst lamp alone, and so are figure and working; the first lamp of the rig is not meant to stand for all."""
    made, it, found = judged(only("A3", "A4", "A1", shots=shots))
    alone = {i: shutter.steady(made, load, made.shots["S"], advise=False) for i, load in made.loads.items()}

    assert found.verdict is worst(f.verdict for f in alone.values())
    assert found.demand.value == max(f.demand.value for f in alone.values() if f.verdict is found.verdict)
    assert "of the 3 lamps" in found.says and it.name in found.says


@given(shares=st.lists(st.floats(0.001, 1), min_size=5, max_size=5), T=st.floats(1e-4, 0.2))
def test_no_mix_is_worse_than_the_worst_lamp(shares, T):
    """Whatever the shares: a mix gets from each lamp no less than its darkest and no more than its brightest frame."""
    made = rig(shots=FAST)
    lights = {i: shutter.alone(made, load, made.shots["S"]).lights[i] for i, load in made.loads.items()}
    mixed = blend(made, lights, {i: s / sum(shares) for i, s in zip(lights, shares, strict=True)})

    assert mixed.spread(T) <= blended(made, lights).spread(T) * (1 + 1e-9) + 1e-12


def test_a_way_out_clears_every_lamp():
    """Each that is one tap is made, and then no lamp is left that is not clear."""
    doc = only("A2", "A5", sets=[USUAL])
    _, _, found = judged(doc)
    ways = [r for r in found.remedies if r.changes and "hold" not in r.text]

    assert found.verdict is Verdict.STOP and ways
    for way in ways:
        assert judged(edit.put(doc, way.changes))[2].verdict is Verdict.CLEAR, way.text


def test_two_ballasts_are_set_together():
    """Where one setting is not enough, that of both is found, in one step."""
    doc = only("A2", "A3", sets=[USUAL, {f"loads/A3/ballast/{key}": text for key, text in (("output_frequency", "75 Hz"), ("commutation_time", ""), ("dip_depth", ""))}])
    _, _, found = judged(doc)
    way = next(r for r in found.remedies if "ballasts of Key and Fast" in r.text)

    assert {a for a, _ in way.changes} == {"loads/A2/ballast/output_frequency", "loads/A3/ballast/output_frequency"}
    assert judged(edit.put(doc, way.changes))[2].verdict is Verdict.CLEAR


def test_a_lamp_whose_light_is_not_known_is_named():
    """The others are judged; what is steady beside an unknown lamp is unknown, and what is not is not."""
    slow = {"S": {"frame_rate": "24 fps", "shutter": "172.8°"}}
    gone = {"loads/A2/ballast/output_frequency": "rubbish"}
    found, bad = (judged(only("A1", "A2", "A4", shots=shots, sets=[gone]))[2] for shots in (slow, FAST))

    assert found.verdict is Verdict.UNKNOWN and found.problems[0].address == "loads/A2/ballast/output_frequency" and "not known: " in found.says
    assert bad.verdict is Verdict.STOP and bad.problems


def test_nothing_to_judge():
    """No lamp at all, or none whose light is known: refused, with the reasons."""
    for doc, code in ((only(), "no-lamp"), (only("A2", sets=[{"loads/A2/ballast/output_frequency": "rubbish"}]), "entry-missing")):
        with pytest.raises(Refused) as caught:
            judged(doc)
        assert caught.value.problems[0].code == code


def test_a_ramp_is_steady_where_every_lamp_is():
    """The steady parts are those of all the lamps."""
    made, it, found = judged(only("A2", "A3", "A5", shots=RAMP))
    limits = take.limits_of(made.picture)

    for x in it.every.seen.stretches:
        middle = (x.short + x.long) / 2
        assert x.steady == (it.every.mix.spread(middle) <= limits.steady)
    assert "of the ramp" in found.says
