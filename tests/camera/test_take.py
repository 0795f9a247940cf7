"""What a shot asks of the camera, and the verdict on light under it."""

from math import pi

import pytest

from pycore.base.problem import Refused
from pycore.base.result import Verdict
from pycore.camera import arc_light
from pycore.camera.clocks import SUPPLY, Part, mix
from pycore.camera.take import Limits, limits_of, see, take_of
from tests.camera.rigs import rig

ARC = mix([("a", 1.0, [Part(SUPPLY, arc_light.on_sine(f=50, m=0.8))])], 50)
LIMITS = Limits(0.02, 0.05)


def take(**entries):
    return take_of(rig(shots={"S": entries}).shots["S"])


def seen(light=ARC, **entries):
    return see(light, take(**entries), LIMITS)


def test_moving_pictures():
    """Angle and rate give the window."""
    made = take(frame_rate="24 fps", shutter="180°")

    assert made.shortest == made.longest == pytest.approx(1 / 48) and made.fastest == 24 and made.angle == pytest.approx(pi) and not made.ramps


def test_ramps_either_way():
    """The windows run from that of the fast end to that of the slow one."""
    for start, end in (("24 fps", "1000 fps"), ("1000 fps", "24 fps")):
        made = take(frame_rate=start, ramp_to=end, shutter="180°")
        assert (made.shortest, made.longest) == pytest.approx((0.0005, 1 / 48)) and made.ramps


def test_stills_and_time_lapse():
    """Stills have no rate; a time-lapse has that of its interval."""
    assert take(kind="still", exposure_time="1/125 s").fastest == 0
    made = take(interval="5 s", exposure_time="1/50 s")
    assert made.kind == "time-lapse" and made.fastest == pytest.approx(0.2) and made.shortest == pytest.approx(0.02)


@pytest.mark.parametrize(
    ("entries", "code"),
    [({"frame_rate": "25 fps", "exposure_time": "1/20 s"}, "exposure-too-long"), ({"kind": "ramp", "frame_rate": "24 fps"}, "entry-missing"), ({"frame_rate": "x"}, "entry-missing"),
     ({"sensor": "odd"}, "entry-missing"), ({"kind": "odd"}, "entry-missing"), ({"readout": "-1 ms"}, "entry-missing")],
)  # fmt: skip
def test_a_shot_that_cannot_be_taken(entries, code):
    """Exposures longer than a frame, and missing or unreadable entries, are refused, not replaced."""
    with pytest.raises(Refused, match=code):
        take(**entries)


def test_whole_pulses_are_clear():
    """172.8° at 24 frames a second spans two pulses of 50 Hz mains, 144° at 60 Hz: published angles."""
    assert seen(frame_rate="24 fps", shutter="172.8°").verdict is Verdict.CLEAR
    assert seen(frame_rate="24 fps", shutter="180°").verdict is Verdict.STOP


def test_held_clocks():
    """25 frames a second fit 50 Hz at any shutter: frames alike on a global sensor, standing bands on one read row by row."""
    whole, rows = seen(frame_rate="25 fps", shutter="90.5°", sensor="global"), seen(frame_rate="25 fps", shutter="60°", sensor="rolling")

    assert whole.verdict is Verdict.CLEAR
    assert seen(frame_rate="25 fps", shutter="60°", sensor="global").verdict is Verdict.TIGHT and seen(frame_rate="25 fps", shutter="60°", sensor="global").locked
    assert rows.verdict is Verdict.STOP and rows.locked
    assert seen(frame_rate="25 fps", shutter="60°", sensor="rolling", readout="0.05 ms").verdict is Verdict.TIGHT  # too fast for a band to show


def test_a_ramp_is_as_bad_as_its_worst_instant():
    """From 24 to 1000 frames a second an arc on the mains is worst at the fast end, and steady only about 25 and 50."""
    found = seen(frame_rate="24 fps", ramp_to="1000 fps", shutter="180°")
    rates = [(0.5 / x.long, 0.5 / x.short) for x in found.stretches if x.steady]

    assert found.verdict is Verdict.STOP and found.T == pytest.approx(0.0005) and found.spread == pytest.approx(ARC.spread(0.0005))
    assert len(rates) == 2 and rates[0][0] < 50 < rates[0][1] and rates[1][0] < 25 < rates[1][1]


def test_a_locked_rate_does_not_hold_through_a_ramp():
    """A constant exposure of half a pulse while the rate ramps over 25 frames a second is judged as if clocks ran free."""
    assert seen(frame_rate="20 fps", ramp_to="50 fps", exposure_time="5 ms").locked is False


def test_thresholds_are_the_rigs_own():
    """What does not show is a setting; one that contradicts the other is refused."""
    limits = limits_of(rig({"picture/steady": "1 %", "picture/spoiled": "4 %"}).picture)

    assert [limits.verdict(x) for x in (0.01, 0.011, 0.04, 0.041)] == [Verdict.CLEAR, Verdict.TIGHT, Verdict.TIGHT, Verdict.STOP]
    assert limits_of(rig().picture) == Limits(0.02, 0.05)
    with pytest.raises(Refused, match="limits-crossed"):
        limits_of(rig({"picture/steady": "6 %"}).picture)
