"""Does the camera see steady light? Clear, tight, stop and unknown, with working that adds up and advice that works."""

from math import log2

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pycore.base.result import Origin, Verdict
from pycore.findings import shutter
from pycore.rig import edit
from pycore.rig.read import read
from pycore.rig.typical import settle
from tests.camera.rigs import document, rig

HALF = {"A1": "40 %", "A2": "60 %"}


def one(load="A1", *sets, **entries):
    made = rig(*sets, shots={"S": {"frame_rate": "24 fps", "shutter": "180°", **entries}})
    return shutter.steady(made, made.loads[load], made.shots["S"], prove=True)


def together(lit_by, *sets, **entries):
    made = rig(*sets, shots={"S": {"frame_rate": "24 fps", "shutter": "180°", "lit_by": lit_by, **entries}})
    return shutter.mix(made, made.shots["S"], prove=True)


def law(found, name):
    return [s.result for s in found.steps if s.law.endswith(f".{name}")][-1]


def test_an_arc_on_the_mains_at_24_fps():
    """6.32 % peak to peak, 0.091 stops, pulsing at 4 Hz: 180° is not clean at 24 frames a second under 50 Hz (published rule)."""
    found = one()

    assert found.verdict is Verdict.STOP and found.demand.value == pytest.approx(0.0632, rel=0.01)
    assert law(found, "stops_between").value == pytest.approx(0.0913, rel=0.01) and law(found, "beat").value == pytest.approx(4)
    assert "6.33\u00a0%" in found.says and "4\u00a0Hz" in found.says and "from one frame to the next" in found.says
    assert law(found, "safe_angle").value == pytest.approx(172.8 * 3.14159265 / 180)


def test_a_slow_roll_at_23_976():
    """Published as a slow beat: 0.12 Hz under 60 Hz mains, 0.295 stops at 180° with a ripple of 80 %, whatever is locked."""
    found = one("A1", {"supply/frequency": "60 Hz"}, frame_rate="23.976 fps", sensor="global")

    assert law(found, "beat").value == pytest.approx(0.12, rel=0.02) and law(found, "beat_period").value == pytest.approx(8.3, rel=0.02)
    assert law(found, "stops_between").value == pytest.approx(0.295, rel=0.02)


def test_every_law_of_the_working_gives_the_demand():
    """The last spread of the working is the demand, for ripple and for dips."""
    for load, name in (("A1", "ripple_spread"), ("A2", "dip_spread"), ("A3", "dip_spread")):
        found = one(load)
        assert law(found, name).value == pytest.approx(found.demand.value, abs=1e-12)


@pytest.mark.parametrize("load", ["A1", "A2", "A3", "A4", "A5"])
def test_the_proof(load):
    """Closed form and quadrature agree, and the finding shows by how much."""
    found = one(load, frame_rate="500 fps")

    assert found.evidence is not None and found.evidence.residuals
    assert all(r.value < 1e-6 for r in found.evidence.residuals)


def test_a_mix_adds_clock_by_clock():
    """40 % of the arc's spread and 60 % of the square wave's."""
    mixed, arc, square = together(HALF), one("A1").demand.value, one("A2").demand.value

    assert mixed.demand.value == pytest.approx(0.4 * arc + 0.6 * square) and law(mixed, "with_share").value == pytest.approx(mixed.demand.value)
    assert mixed.question == "mix-steady" and mixed.verdict is Verdict.TIGHT


def test_a_mix_on_three_phases_cancels():
    """Three equal mains arcs, one on each phase, are steady together where one alone spoils the shot."""
    third = {"loads/A2/ballast/kind": "magnetic", "loads/A3/ballast/kind": "magnetic", "loads/A2/ballast/output_frequency": "", "loads/A3/ballast/output_frequency": ""}
    found = together({"A1": "33.4 %", "A2": "33.3 %", "A3": "33.3 %"}, third, frame_rate="333 fps")

    assert found.verdict is Verdict.CLEAR and found.demand.value < 0.01


def test_shares_must_add_up():
    """And belong to lamps that are there."""
    with pytest.raises(Exception, match="shares-wrong"):
        together({"A1": "40 %", "A2": "40 %"})
    with pytest.raises(Exception, match="lamp-gone"):
        together({"A1": "40 %", "Z9": "60 %"})


def test_estimates_look_like_estimates():
    """The typical entries that the answer leans on are listed, and so are the thresholds, which are our own."""
    found = one("A2", {"loads/A2/ballast/commutation_time": "", "loads/A2/ballast/dip_depth": ""})
    names = {t.name: t.origin for t in found.assumptions}

    assert names["Commutation time"] is Origin.TYPICAL and names["Light dip at commutation"] is Origin.TYPICAL and names["Difference that does not show"] is Origin.ASSUMED
    assert all(t.firm_up for t in found.assumptions if t.address)


def test_a_locked_rate_says_how_soon_it_drifts():
    """25 frames a second under mains that hold within 1 %: at worst once a second."""
    found = one("A1", frame_rate="25 fps", shutter="60°", sensor="global")

    assert found.verdict is Verdict.TIGHT and "clocks hold" in found.says and "once in 0.995" in found.says.replace("995\u00a0ms", "0.995")
    assert law(found, "drift").value == pytest.approx(100 * 0.01 + 4 * 25 * 5e-5)


def test_bands_that_stand():
    """The same on a sensor read row by row: bands in every picture."""
    found = one("A1", frame_rate="25 fps", shutter="60°", sensor="rolling", readout="10 ms")

    assert found.verdict is Verdict.STOP and "standing in it" in found.says and "between rows of one picture" in found.says and law(found, "bands").value == pytest.approx(1.0)


def test_a_ramp():
    """The worst instant, and the part that is steady."""
    found = one("A2", frame_rate="24 fps", ramp_to="1000 fps", ramp_time="3 s")

    assert found.verdict is Verdict.STOP and "1000\u00a0fps where it is worst" in found.says and "24\u00a0fps to 198.5\u00a0fps" in found.says
    assert any("Ramp from 24 to 198.4 fps only" in r.text for r in found.remedies)


def test_stills():
    """No frame rate, so no beat; the exposure time is the remedy."""
    found = one("A1", kind="still", frame_rate="", shutter="", exposure_time="1/125 s")

    assert found.verdict is Verdict.STOP and not any(s.law.endswith(".beat") for s in found.steps)
    assert ("shots/S/exposure_time", "1/100 s") in [c for r in found.remedies for c in r.changes]


def test_dark_frames_have_no_stops():
    """Pulsed light with a window shorter than the dark: some frames see nothing, and no infinite figure leaves."""
    found = one("A4", {"loads/A4/ballast/pulse_frequency": "100 Hz"}, frame_rate="1000 fps", shutter="90°")

    assert "no light at all" in found.says and not any(s.law.endswith(".stops_between") for s in found.steps)


SHOTS = st.fixed_dictionaries({
    "frame_rate": st.sampled_from(["12 fps", "18 fps", "24 fps", "30 fps", "48 fps", "72 fps", "200 fps", "500 fps"]), "shutter": st.sampled_from(["180°", "90°", "45°", "270°"]),
    "sensor": st.sampled_from(["global", "rolling"]),
})  # fmt: skip
MIXES = st.sampled_from([{}, {"A1": "100 %"}, HALF, {"A1": "20 %", "A2": "20 %", "A3": "20 %", "A4": "20 %", "A5": "20 %"}, {"A1": "50 %", "A5": "50 %"}])


@settings(max_examples=40)
@given(SHOTS, MIXES, st.sampled_from(["A1", "A2", "A4", "A5"]))
def test_advice_does_what_it_says(entries, lit_by, load):
    """Every remedy that names its changes leaves the shot clear when they are made; one that holds clocks leaves it held."""
    shots = {"S": {**entries, **({"lit_by": lit_by} if lit_by else {})}}
    made = rig(shots=shots)
    found = shutter.mix(made, made.shots["S"]) if lit_by else shutter.steady(made, made.loads[load], made.shots["S"])

    assert not (found.verdict is Verdict.CLEAR and found.remedies)
    for r in (x for x in found.remedies if x.changes):
        after = settle(read(edit.put(document(shots=shots), r.changes)).rig)
        again = shutter.mix(after, after.shots["S"]) if lit_by else shutter.steady(after, after.loads[load], after.shots["S"])
        assert again.verdict is Verdict.CLEAR or ("clocks hold" in r.text and again.verdict is Verdict.TIGHT), f"{found.says} → {r.text}: {again.says}"


def test_a_stop_that_nothing_helps_has_no_advice_that_fails():
    """A lone pulsed lamp at a rate no setting can serve: other lamps are named, which are steady."""
    found = one("A4", {"loads/A4/ballast/pulse_frequency": "50 Hz"}, frame_rate="700 fps", shutter="360°")

    assert found.verdict is Verdict.STOP and [r.text for r in found.remedies if "steady on this shot" in r.text] == ["Light it with Fast alone: that is steady on this shot"]


def test_stops_and_per_cent_say_the_same():
    """The figure in stops is that of the brightest over the darkest window."""
    found = one("A1")
    spread = found.demand.value

    assert law(found, "stops_between").value == pytest.approx(log2((1 + spread / 2) / (1 - spread / 2)))
