"""The day's shots against the lamps, and how fast each lamp may be filmed."""

import pytest

from pycore.base.result import Verdict, worst
from pycore.findings import rate_limits, shutter
from pycore.findings.shots import Board, described
from pycore.rig import edit
from pycore.rig.read import read
from pycore.rig.typical import settle
from tests.camera.rigs import document, rig

DAY = {
    "S1": {"frame_rate": "24 fps", "shutter": "172.8°"}, "S2": {"frame_rate": "24 fps", "shutter": "180°", "lit_by": {"A1": "20 %", "A2": "80 %"}},
    "S3": {"frame_rate": "500 fps", "shutter": "180°", "lit_by": {"A2": "100 %"}}, "S4": {"frame_rate": "24 fps", "ramp_to": "1000 fps", "ramp_time": "3 s", "lit_by": {"A3": "100 %"}},
    "S5": {"kind": "still", "exposure_time": "1/125 s"}, "S6": {"interval": "10 s", "exposure_time": "1/50 s"}, "S7": {"frame_rate": "rubbish"},
}  # fmt: skip


def board(*sets, shots=DAY):
    return Board(rig(*sets, shots=shots))


def rows(*sets, shots=DAY):
    return {r.shot: r for r in board(*sets, shots=shots).rows()}


def test_each_cell_is_the_lamp_alone():
    """Verdict and figure of a cell are those of the lamp's own finding."""
    made = rig(shots=DAY)
    for r in Board(made).rows():
        if r.shot == "S7":
            continue
        for c in r.cells:
            found = shutter.steady(made, made.loads[c.load], made.shots[r.shot], advise=False)
            assert (c.verdict, c.spread) == (found.verdict, pytest.approx(found.demand.value, rel=0.02, abs=1e-9)), (r.shot, c.load)


def test_a_shot_is_judged_as_it_is_lit():
    """By its mix where shares are entered; as bad as the worst lamp where they are not."""
    found = rows()
    made = rig(shots=DAY)

    assert found["S2"].verdict is shutter.mix(made, made.shots["S2"]).verdict and found["S2"].spread == pytest.approx(shutter.mix(made, made.shots["S2"]).demand.value)
    assert found["S3"].verdict is Verdict.STOP and found["S4"].verdict is Verdict.CLEAR
    assert found["S5"].verdict is worst(c.verdict for c in found["S5"].cells) and "is not entered" in found["S5"].says and "Old arc alone" in found["S5"].says
    assert found["S1"].verdict is Verdict.CLEAR and "any mix is" in found["S1"].says


def test_what_cannot_be_judged_is_unknown():
    """A shot without a rate, a lamp without its light: unknown, with the reason, and never a pass."""
    assert rows()["S7"].verdict is Verdict.UNKNOWN and rows()["S7"].problems
    found = rows({"loads/A2/ballast/output_frequency": "rubbish"})
    assert all(next(c for c in r.cells if c.load == "A2").verdict is Verdict.UNKNOWN for r in found.values())
    assert found["S2"].verdict is Verdict.UNKNOWN and found["S1"].verdict is Verdict.UNKNOWN
    assert all(r.verdict is Verdict.UNKNOWN for r in rows({"supply/frequency": ""}).values())
    assert all(r.verdict is Verdict.UNKNOWN for r in rows({"picture/steady": "rubbish"}).values())


def test_advice_for_a_row_works():
    """The nearest way out, made, clears the shot."""
    shots = {"S": {"frame_rate": "24 fps", "shutter": "180°", "lit_by": {"A1": "60 %", "A2": "40 %"}}}
    advice = rows(shots=shots)["S"].advice
    after = settle(read(edit.put(document(shots=shots), advice.changes)).rig)

    assert Board(after).rows()[0].verdict is Verdict.CLEAR


def test_a_frequency_that_cleans_the_list():
    """The ballast that troubles a shot is set once, and every shot is clear by it."""
    shots, usual = {i: DAY[i] for i in ("S1", "S3", "S4")}, {"loads/A2/ballast/commutation_time": "", "loads/A2/ballast/dip_depth": ""}
    advice = board(usual, shots=shots).for_the_list()
    after = settle(read(edit.put(document(usual, shots=shots), advice[0].changes)).rig)

    assert len(advice) == 1 and "Key" in advice[0].text and "1\u00a0kHz" in advice[0].text
    assert all(next(c for c in r.cells if c.load == "A2").verdict is Verdict.CLEAR for r in Board(after).rows())


def test_a_frequency_within_the_ballasts_range():
    """An adjustable ballast is set within its range, nearest first, and no "if it can" is added."""
    limits = {"loads/A2/pulse/lowest_frequency": "900 Hz", "loads/A2/pulse/highest_frequency": "1200 Hz", "loads/A2/ballast/output_frequency": "900 Hz", "loads/A2/ballast/commutation_time": "40 µs"}
    shots = {"S": {"frame_rate": "1000 fps", "shutter": "180°", "lit_by": {"A2": "100 %"}}}
    advice = board(limits, shots=shots).for_the_list()
    after = settle(read(edit.put(document(limits, shots=shots), advice[0].changes)).rig)

    assert board(limits, shots=shots).rows()[0].verdict is Verdict.TIGHT and Board(after).rows()[0].verdict is Verdict.CLEAR
    assert 900 <= float(advice[0].changes[0][1].split()[0]) <= 1200 and "if it can" not in advice[0].text


def test_no_frequency_is_said_so():
    """Shots at 20 000 frames a second are beyond any usual setting."""
    advice = board(shots={"S": {"frame_rate": "20000 fps", "shutter": "170°"}}).for_the_list()

    assert {r.changes for r in advice} == {()} and all("No usual output frequency" in r.text for r in advice)


@pytest.mark.parametrize(("shot", "text"), [("S1", "24\u00a0fps, 172.8°"), ("S4", "24\u00a0fps to 1000\u00a0fps in 3\u00a0s, 180°"), ("S5", "stills, 8\u00a0ms"), ("S6", "every 10\u00a0s, 20\u00a0ms")])
def test_a_shot_in_words(shot, text):
    """As short as a slate."""
    assert described(rig(shots=DAY).shots[shot]) == text


def test_limits_of_each_mode():
    """The present setting and the other usual ones; the law where it holds."""
    made = rig(shots=DAY)
    modes = rate_limits.modes(made, made.loads["A2"], made.shots["S2"])

    assert [(m.title.split(", ")[1], m.present) for m in modes] == [("75\u00a0Hz", True), ("300\u00a0Hz", False), ("1\u00a0kHz", False)]
    assert modes[0].highest == pytest.approx(198.5, rel=1e-3) and str(modes[0].shown) == "198\u00a0fps" and "198\u00a0fps" in modes[0].finding.says
    assert modes[0].finding.steps[0].result.value == pytest.approx(modes[0].highest, rel=0.02)
    assert modes[0].finding.verdict is Verdict.CLEAR and modes[0].finding.limit.term.value == 24
    arc = rate_limits.modes(made, made.loads["A1"], made.shots["S2"])[0]
    assert arc.highest == pytest.approx(2.03, rel=0.01) and arc.finding.verdict is Verdict.TIGHT
    assert rate_limits.modes(made, made.loads["A1"], made.shots["S5"])[0].finding.verdict is Verdict.UNKNOWN
    assert rate_limits.modes(made, made.loads["A2"], made.shots["S4"])[0].finding.verdict is Verdict.TIGHT  # it ramps to 1000 fps


def test_a_steady_lamp_has_no_limit():
    """LEDs on a steady current without ripple."""
    made = rig({"loads/A4/ballast/drive": "constant current", "loads/A4/lamp/ripple": "0 %"}, shots=DAY)
    mode = rate_limits.modes(made, made.loads["A4"], made.shots["S1"])[0]

    assert mode.highest is None and "every frame rate" in mode.finding.says and rate_limits.safe(made, made.loads["A4"], made.shots["S1"]) == ([], [])


def test_safe_rates_and_angles():
    """Rates need held clocks, angles do not: 100/n, and 86.4, 172.8, 259.2, 345.6 at 24 frames a second (published)."""
    made = rig(shots=DAY)
    rates, angles = rate_limits.safe(made, made.loads["A1"], made.shots["S1"])

    assert [round(r.step.result.value, 3) for r in rates[:4]] == [100, 50, 33.333, 25] and not any(r.steady for r in rates)
    assert [round(a.step.result.value * 180 / 3.14159265, 1) for a in angles] == [86.4, 172.8, 259.2, 345.6] and all(a.steady for a in angles)


def test_uneven_half_cycles_need_twice_the_angle():
    """Old electrodes: only whole cycles are safe, not whole pulses."""
    made = rig({"loads/A1/lamp/asymmetry": "5 %"}, shots=DAY)

    assert [round(a.step.result.value * 180 / 3.14159265, 1) for a in rate_limits.safe(made, made.loads["A1"], made.shots["S1"])[1]] == [172.8, 345.6]


@pytest.mark.parametrize(("highest", "shown"), [(198.5, "198\u00a0fps"), (3105.4, "3100\u00a0fps"), (2.0376, "2.03\u00a0fps"), (199.99, "199\u00a0fps"), (50.0, "50\u00a0fps")])
def test_a_highest_rate_is_rounded_down(highest, shown):
    """Three figures; never up, for above the limit the light is not steady."""
    assert str(shutter.rounded_down(highest)) == shown


def test_the_lamps_beside_each_other():
    """Each lamp of the shot as it is set has the limit that it has alone; the mix its own, where shares are entered."""
    made = rig(shots=DAY)
    modes, problems = rate_limits.lamps(made, made.shots["S2"])

    assert [m.lamp for m in modes] == ["All together", "Old arc", "Key"] and not problems
    for m, i in zip(modes[1:], ("A1", "A2"), strict=True):
        assert m.highest == rate_limits.modes(made, made.loads[i], made.shots["S2"])[0].highest
    assert modes[1].highest < modes[0].highest < modes[2].highest
    assert [m.id for m in rate_limits.lamps(made, made.shots["S1"])[0]] == list(made.loads)


def test_a_lamp_without_its_light_has_no_limit_but_a_reason():
    """It is named, the others keep theirs."""
    made = rig({"loads/A2/ballast/output_frequency": "rubbish"}, shots=DAY)
    modes, problems = rate_limits.lamps(made, made.shots["S1"])

    assert "A2" not in [m.id for m in modes] and len(modes) == 4 and [p.address for p in problems] == ["loads/A2/ballast/output_frequency"]
