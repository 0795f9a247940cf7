"""The log of an arc's sweep and the tones of its tube."""

import pytest

from pycore.base.problem import Refused
from pycore.base.result import Origin, Verdict
from pycore.findings import arc_log
from tests.camera.rigs import rig

SWEEP = "900 quiet; 920 quiet; 940 quiet; 960 snaking; 980 quiet; 1000 quiet; 1020 quiet; 1040 quiet; 1060 hum"


def log(sweep=SWEEP, setting="1010 Hz", load="A3", **more):
    made = rig({f"loads/{load}/arc/sweep": sweep, f"loads/{load}/ballast/output_frequency": setting, **more})
    return arc_log.log(made.loads[load])


@pytest.mark.parametrize(
    ("setting", "verdict", "says"),
    [("1010 Hz", Verdict.CLEAR, "quiet window from 980"), ("1035 Hz", Verdict.CLEAR, "from 1.06\u00a0kHz, where it hums"), ("930 Hz", Verdict.CLEAR, "900\u00a0Hz to 940"),
     ("945 Hz", Verdict.STOP, "no window"), ("960 Hz", Verdict.STOP, "no window"), ("985 Hz", Verdict.CLEAR, "25\u00a0Hz from 960"), ("1500 Hz", Verdict.UNKNOWN, "no window")],
)  # fmt: skip
def test_the_present_setting(setting, verdict, says):
    """In a window and far enough from trouble, near trouble, or where nobody looked."""
    found = log(setting=setting).finding

    assert found.verdict is verdict and says in found.says


def test_near_a_disturbed_spot_is_tight():
    """Quiet, but less than 2 % from where the arc snakes."""
    found = log("900 quiet; 950 quiet; 960 snaking", "949 Hz").finding

    assert found.verdict is Verdict.TIGHT and found.demand.value == pytest.approx(11)


def test_the_setting_advised():
    """The middle of the widest window, with the reminder to verify it."""
    found = log(setting="960 Hz").finding

    assert found.remedies[0].changes == (("loads/A3/ballast/output_frequency", "1010 Hz"),) and "verify on camera" in found.remedies[0].text
    assert "belongs to this lamp" in found.cautions[0] and "verify it on camera" in found.cautions[0]


@pytest.mark.parametrize("sweep", ["", "900 hum; 950 snaking"])
def test_without_a_quiet_reading(sweep):
    """No sweep is unknown; a sweep without anything quiet advises nothing."""
    found = log(sweep, "950 Hz").finding

    assert found.verdict is (Verdict.STOP if sweep else Verdict.UNKNOWN) and found.remedies == ()


def test_one_quiet_reading_is_not_a_window():
    """Its neighbours are asked for."""
    assert log("1000 quiet", "1000 Hz").finding.verdict is Verdict.TIGHT
    assert "neighbours" in log("1000 quiet; 1050 hum", "1050 Hz").finding.remedies[0].text


def test_a_magnetic_ballast_has_nothing_to_sweep():
    """Unknown, with the reason."""
    made = rig({"loads/A1/arc/sweep": SWEEP})

    assert arc_log.log(made.loads["A1"]).finding.verdict is Verdict.UNKNOWN


def test_readings_as_text():
    """Written and read back; every bad one is named."""
    seen = arc_log.read(SWEEP, "x")
    assert arc_log.read(arc_log.written(seen), "x") == seen and len(seen) == 9
    with pytest.raises(Refused) as caught:
        arc_log.read("900 quiet; fast hum; 950 lovely", "x")
    assert [p.message[:9] for p in caught.value.problems] == ["Reading 2", "Reading 3"]


def test_tones_are_estimates_with_their_spread():
    """Lowest and highest by the gas temperature; the tube's size assumed from power; larger lamps lower."""
    large, small = log(**{"loads/A3/lamp/rated_power": "18 kW"}).tones, log(**{"loads/A3/lamp/rated_power": "575 W"}).tones

    assert all(a.step.result.value < b.step.result.value for a, b in zip(large, small, strict=True))
    assert all(t.low.value < 0.9 * t.step.result.value and t.high.value > 1.1 * t.step.result.value for t in large)
    assert {t.origin for t in large[0].step.result.leans_on} == {Origin.ASSUMED}
    assert 3000 < large[0].step.result.value < 6000  # an inference from memory: first tones of large film lamps lie near 4 to 16 kHz


def test_what_rings_the_tube():
    """A sine's power ripples at twice its frequency, far below; the dips of a fast square wave reach a tone by their multiples."""
    made = rig({"loads/A1/lamp/rated_power": "12 kW"})
    assert all(t.rung_by.startswith("Not rung") for t in arc_log.log(made.loads["A1"]).tones)
    assert any("multiples" in t.rung_by for t in log(setting="1 kHz").tones)
    assert all(t.rung_by.startswith("Not rung") for t in log(setting="75 Hz").tones)


def test_the_plot():
    """Each reading, the windows and the present setting."""
    plot = log().plot

    assert len(plot.marks) == 10 and {m.y for m in plot.marks} == {0.0, 0.5, 1.0} and [(b.start, b.end) for b in plot.bands] == [(980, 1040), (900, 940)]
