"""A recording: its figures, what it is to people, what it does to the shots, and keeping it."""

import pytest

from pycore.base.problem import Refused
from pycore.base.result import Verdict
from pycore.camera import arc_light, led_light
from pycore.findings import measured_light, shutter
from pycore.findings.measured_light import Source
from pycore.rig import edit
from pycore.rig.read import read
from pycore.rig.typical import settle
from tests.camera.rigs import document, rig
from tests.camera.test_measured import clip, record

UNEVEN = arc_light.on_sine(f=50, m=0.55, a=0.04)


def text(wave=UNEVEN, rate=10_000, seconds=1.2, noise=0.003):
    samples = record(wave, rate, seconds, noise)
    return "time,level\n" + "\n".join(f"{i / rate:.7f},{x:.6f}" for i, x in enumerate(samples.levels))


def named(reading):
    return {t.name: t.value for t in reading.terms}


def test_figures():
    """What was put in comes out, marked as measured."""
    found = measured_light.read(text(), Source(), rig(), "A1")

    assert named(found)["fundamental"] == pytest.approx(50, rel=1e-3) and named(found)["unequal half-cycles"] == pytest.approx(0.04, rel=0.02)
    assert named(found)["percent flicker"] == pytest.approx(0.559, rel=0.02)
    assert {t.origin for t in found.terms if t.name not in ("percent flicker",)} == {"measured"}
    assert [(k, round(size.value, 3)) for k, _, size, _ in found.orders] == [(1, 0.04), (2, 0.55)]


def test_keeping_it():
    """With its changes made the rig's lamp gives the recorded light, and without them its own again."""
    found = measured_light.read(text(), Source(note="warm, stage 2"), rig(), "A1")
    kept = edit.put(document(), found.changes)
    after = settle(read(kept).rig)
    seen = shutter.steady(after, after.loads["A1"], after.shots["S1"])

    assert read(kept).problems == read(document()).problems
    assert seen.demand.value == pytest.approx(UNEVEN.extremes(1 / 48).spread, rel=0.02) and after.loads["A1"].recording.note == "warm, stage 2"
    assert edit.put(kept, measured_light.forgotten("A1"))["loads"]["A1"].get("recording", {}) == {}


def people(wave, **more):
    return measured_light.read(text(wave, **more), Source()).findings[0]


@pytest.mark.parametrize(("m", "verdict"), [(0.02, Verdict.CLEAR), (0.05, Verdict.TIGHT), (0.2, Verdict.STOP)])
def test_people(m, verdict):
    """At 100 Hz: no effect up to 3.33 %, low risk up to 8 %. IEEE 1789-2015, 8.1.1, second hand. It is not about cameras, and says so."""
    found = people(led_light.rippling(f=50, m=m))

    assert found.verdict is verdict and "8\u00a0%" in found.says and "camera" in found.cautions[0]


def test_a_slow_part_may_trouble_people_more():
    """4 % at 50 Hz is over its limit of 1.25 % though the 100 Hz ripple is small."""
    found = people(arc_light.on_sine(f=50, m=0.05, a=0.04))

    assert found.verdict is Verdict.STOP and "50\u00a0Hz" in found.says


def test_no_limit_for_fast_pulses():
    """Above 1250 Hz there is none for low risk, and full depth at 5 kHz is above 3 kHz too."""
    assert people(led_light.pulsed(f=5000, duty=0.5), rate=100_000, seconds=0.2).verdict is Verdict.CLEAR
    assert people(led_light.pulsed(f=2000, duty=0.5), rate=100_000, seconds=0.2).verdict is Verdict.TIGHT


def test_the_stroboscopic_measure_asks_for_a_long_recording():
    """A second at 4 kHz or unknown, never a pass; its constants are from memory, and that is said."""
    short, long = (measured_light.read(text(seconds=s), Source()).findings[1] for s in (0.5, 1.2))

    assert short.verdict is Verdict.UNKNOWN and short.problems[0].code == "recording-short"
    assert long.verdict is Verdict.TIGHT and "from memory" in long.says


def test_a_clip_of_a_known_lamp():
    """The dips of the rig's 75 Hz ballast, filmed at 240 frames a second, are put at 150 Hz."""
    brightness = "\n".join(map(str, clip(arc_light.on_square(f=75, τ=2e-4, d=0.6, e=0.5), 240.0, 1e-4).levels))
    found = measured_light.read(brightness, Source(kind="frames", rate=240.0, exposure=1e-4), rig(), "A2")

    assert named(found)["fundamental"] == pytest.approx(150) and any("taken as 150 Hz" in n for n in found.notes)


def test_steady_light():
    """No fundamental, nothing to keep."""
    found = measured_light.read(text(led_light.rippling(f=50, m=1e-7)), Source(), rig(), "A4")

    assert found.changes == () and "Steady" in found.says and found.plots == ()


def test_a_bad_file():
    """Every line, at once."""
    with pytest.raises(Refused) as caught:
        measured_light.read("1,2\nx,3\n4,y\n", Source())

    assert {p.address for p in caught.value.problems} >= {"line 2", "line 3"}


def test_plots():
    """One period in ms, components in Hz."""
    period, tones = measured_light.read(text(), Source(), rig(), "A1").plots

    assert period.lines[0].points[-1][0] == pytest.approx(20, rel=0.05) and max(y for _, y in period.lines[1].points) == pytest.approx(159, rel=0.02)
    assert [(round(m.x), round(m.y)) for m in tones.marks] == [(50, 4), (100, 55)]
