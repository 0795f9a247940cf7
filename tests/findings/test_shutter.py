"""Steady light or not: published safe rates and angles, asymmetric half-cycles, square waves and mixes, against plain arithmetic."""

from math import log2, pi, sin

import pytest

from pycore.base.result import Verdict
from tests.rigs import BALLAST, LAMP, MAGNETIC, RUN, SHOT, SUPPLY, answer, finding, result, value

STOUT = {f"{RUN}/size": "16 mm²", f"{RUN}/length": "5 m", "supply/rating": "100 A"}
GLOBAL, ROLLING = {f"{SHOT}/sensor": "global"}, {f"{SHOT}/sensor": "rolling"}


def shot(rate, angle="", time="", mains=50):
    """A pulsing lamp on the supply's own sine, seen at this rate through this window."""
    window = {f"{SHOT}/shutter": f"{angle}°" if angle else "", f"{SHOT}/exposure_time": time}
    return {**MAGNETIC, **STOUT, f"{SHOT}/frame_rate": f"{rate} fps", f"{SUPPLY}/frequency": f"{mains} Hz", **window}


def steady(*sets):
    """The answer for one lamp on the shot."""
    return finding(answer(*sets), "shot-steady")


def ripple(pulses, m=0.8):
    """Peak to peak of what a window with so many pulses leaves of 1 + m·cos: 2·m·|sin πx / πx|."""
    return 2 * m * abs(sin(pi * pulses) / (pi * pulses))


# E2 of the published lists: θ = 360·fps·n/(2f). 25 fps at 60 Hz printed in a cinematography article, the rest by the same rule.
ANGLES = [(25, 60, (75, 150, 225, 300)), (24, 50, (86.4, 172.8, 259.2, 345.6)), (24, 60, (72, 144, 216, 288)), (30, 50, (108, 216, 324)), (48, 50, (172.8,)), (48, 60, (144, 288))]
RATES = {60: (120, 60, 40, 30, 24, 20, 15, 12, 10), 50: (100, 50, 25, 20, 12.5, 10)}  # 120/n as a cinematographers' forum lists them; 100/n by the same rule


@pytest.mark.parametrize(("rate", "mains", "angle"), [(r, m, a) for r, m, angles in ANGLES for a in angles])
def test_published_safe_angles_are_clear(rate, mains, angle):
    """A window of whole pulses leaves nothing, whatever the clocks do and however the sensor is read."""
    for sensor in (GLOBAL, ROLLING):
        found = steady(shot(rate, angle, mains=mains), sensor)
        assert found.verdict is Verdict.CLEAR and value(found) < 1e-6


@pytest.mark.parametrize(("rate", "mains", "angle"), [(r, m, a + 15) for r, m, angles in ANGLES for a in angles if a < 200])
def test_other_angles_are_not(rate, mains, angle):
    """15° beside a safe angle the difference is what the sinc says, and never clear."""
    found = steady(shot(rate, angle, mains=mains), GLOBAL)

    assert value(found) == pytest.approx(ripple(2 * mains * angle / 360 / rate), rel=1e-3)
    assert found.verdict is not Verdict.CLEAR


@pytest.mark.parametrize(("mains", "rate"), [(m, r) for m, rates in RATES.items() for r in rates])
def test_published_safe_rates_hold_while_the_clocks_do(mains, rate):
    """At 2f/n every frame meets the pulse alike: with a global shutter tight at worst, and the answer says on what it rests."""
    found = steady(shot(rate, 100, mains=mains), GLOBAL)

    assert found.verdict in (Verdict.CLEAR, Verdict.TIGHT)
    assert found.verdict is Verdict.CLEAR or "clocks hold" in found.says


@pytest.mark.parametrize(("mains", "rate"), [(60, 25), (60, 50), (60, 48), (50, 24), (50, 30), (50, 48), (50, 23.976), (60, 23.9)])
def test_rates_that_are_not_safe(mains, rate):
    """Off the list the pulses roll through the frames: a stop at 100°, with the beat in the words."""
    found = steady(shot(rate, 100, mains=mains), GLOBAL)

    assert found.verdict is Verdict.STOP
    assert value(found) == pytest.approx(ripple(2 * mains * 100 / 360 / rate), rel=1e-3)


def test_24_fps_at_180_degrees_on_50_hz():
    """2.083 pulses leave ±3.16 % of 80 % ripple, 0.0913 stop, beating at 4 Hz; 172.8° leaves nothing."""
    made = answer(shot(24, 180), GLOBAL)

    assert value(finding(made, "shot-steady")) == pytest.approx(0.0632, abs=1e-4)
    assert result(made, "stops_between").value == pytest.approx(0.0913, abs=1e-4)
    assert result(made, "beat").value == pytest.approx(4.0)
    assert any("172.8°" in t for r in finding(made, "shot-steady").remedies for _, t in r.changes)


@pytest.mark.parametrize(("mains", "unsafe", "safe"), [(50, "10 ms", "20 ms"), (60, "8.333333333 ms", "16.66666667 ms")])
def test_unequal_half_cycles(mains, unsafe, safe):
    """Old electrodes make 1/(2f) unsafe and leave 1/f safe: only a window of whole cycles holds equal shares of both halves."""
    uneven = {f"{LAMP}/asymmetry": "20 %"}

    assert steady(shot(23, time=unsafe, mains=mains), GLOBAL).verdict is Verdict.CLEAR
    assert value(steady(shot(23, time=unsafe, mains=mains), uneven, GLOBAL)) == pytest.approx(ripple(0.5, 0.2), rel=0.02)
    assert steady(shot(23, time=unsafe, mains=mains), uneven, GLOBAL).verdict is Verdict.STOP
    assert steady(shot(23, time=safe, mains=mains), uneven, GLOBAL).verdict is Verdict.CLEAR


def test_unequal_half_cycles_unlock_a_safe_rate():
    """At 24 fps on 60 Hz every other frame meets the other half-cycle: what was tight is a stop."""
    uneven = {f"{LAMP}/asymmetry": "20 %"}

    assert steady(shot(24, 180, mains=60), GLOBAL).verdict is Verdict.TIGHT
    assert steady(shot(24, 180, mains=60), uneven, GLOBAL).verdict is Verdict.STOP
    assert steady(shot(30, 180, mains=60), uneven, GLOBAL).verdict in (Verdict.CLEAR, Verdict.TIGHT)


def test_an_uneven_lamp_is_not_sent_to_an_angle_that_is_no_help():
    """The angle offered spans whole cycles, not half ones: entered, it makes the shot clear."""
    made = [shot(24, 180), {f"{LAMP}/asymmetry": "20 %"}, GLOBAL]
    offered = [dict(r.changes) for r in steady(*made).remedies if any(a.endswith("shutter") for a, _ in r.changes)]

    assert offered
    assert all(steady(*made, o).verdict is Verdict.CLEAR for o in offered)


@pytest.mark.parametrize("rate", [24, 25, 48, 60, 90, 120, 300])
def test_remedies_work(rate):
    """Whatever is offered for a shot, entered, makes it clear or no worse than locked."""
    for sets in ([shot(rate, 180), GLOBAL], [shot(rate, 90), ROLLING]):
        for r in steady(*sets).remedies:
            if r.changes:
                assert steady(*sets, dict(r.changes)).verdict in (Verdict.CLEAR, Verdict.TIGHT), r.text


def test_a_square_wave_at_high_speed():
    """75 Hz, dips of 100 µs and half depth, 1/1000 s: a frame with a dip gets 5 % less, 0.074 stop (derived model, from memory)."""
    made = answer(STOUT, {f"{SHOT}/frame_rate": "500 fps", f"{SHOT}/shutter": "180°"}, GLOBAL)
    mean = 1 - 0.5 * 100e-6 * 150

    assert value(finding(made, "shot-steady")) == pytest.approx(0.05 / mean, rel=1e-3)
    assert result(made, "stops_between").value == pytest.approx(log2(1 / 0.95), rel=1e-2)


@pytest.mark.parametrize(("rate", "angle"), [(25, 180), (25, 60), (50, 120), (75, 180)])
def test_a_window_of_whole_dips_is_clear(rate, angle):
    """At 150 dips a second a window of n/150 s loses the same light in every frame."""
    assert value(steady(STOUT, {f"{SHOT}/frame_rate": f"{rate} fps", f"{SHOT}/shutter": f"{angle}°"})) < 1e-6


def test_a_black_frame_has_no_stops_and_is_a_stop():
    """Full ripple and a window of a microsecond: some frames get nothing, which is no reason to call it unknown."""
    found = steady(shot(24, time="1 µs"), {f"{LAMP}/ripple": "100 %"}, GLOBAL)

    assert found.verdict is Verdict.STOP


@pytest.mark.parametrize(("share", "verdict"), [(100, "stop"), (50, "stop"), (20, "tight"), (5, "clear")])
def test_steady_light_dilutes_the_pulses(share, verdict):
    """A mix with a lamp that is as good as steady: the spread is that of the pulsing lamp times its share."""
    lit = {"loads/A2/kind": "arc lamp", "loads/A2/fed_by": "K2", "runs/K2/fed_by": "supply", "runs/K2/length": "5 m", "runs/K2/size": "16 mm²", "loads/A2/lamp/rated_power": "4 kW",
           "loads/A2/ballast/kind": "electronic corrected", "loads/A2/ballast/dip_depth": "0 %", f"{SHOT}/lit_by/A1": f"{share} %", f"{SHOT}/lit_by/A2": f"{100 - share} %"}  # fmt: skip
    found = finding(answer(shot(24, 150), lit, GLOBAL), "mix-steady")

    assert value(found) == pytest.approx(share / 100 * ripple(100 * 150 / 360 / 24), rel=1e-3)
    assert str(found.verdict) == verdict


@pytest.mark.parametrize("lit", [{f"{SHOT}/lit_by/A1": "60 %"}, {f"{SHOT}/lit_by/A1": "60 %", f"{SHOT}/lit_by/A9": "40 %"}, {f"{SHOT}/lit_by/A1": "60 %", f"{SHOT}/lit_by/A2": "4o %"}])
def test_a_mix_that_does_not_add_up_is_not_clear(lit):
    """Shares short of the whole, of a lamp that is not there, or unreadable: never a clear shutter where they are needed."""
    made = answer(STOUT, lit)

    assert made.links[-1].verdict is not Verdict.CLEAR or set(lit) == {f"{SHOT}/lit_by/A1"}


def test_a_ballast_setting_for_the_shot_is_offered():
    """Where dips show, another setting of the ballast is offered and works."""
    sets = [STOUT, GLOBAL, {f"{SHOT}/frame_rate": "800 fps", f"{SHOT}/shutter": "180°"}]
    offered = [dict(r.changes) for r in steady(*sets).remedies if any(BALLAST in a for a, _ in r.changes)]

    for o in offered:
        assert steady(*sets, o).verdict is Verdict.CLEAR
