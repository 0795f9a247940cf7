"""A recording read back gives the light that was recorded."""

from math import cos, sin, tau
from random import Random

import pytest

from pycore.base.problem import Refused
from pycore.camera import arc_light, components, led_light, measured, spectrum
from pycore.camera.measured import measure, of_frames
from pycore.camera.recording import Samples

LIGHTS = {
    "mains arc": (arc_light.on_sine(f=50.03, m=0.8), 10_000, 1.0, 100.06),
    "uneven arc": (arc_light.on_sine(f=60.0, m=0.7, a=0.05, h=0.05), 20_000, 0.8, 60.0),
    "square wave": (arc_light.on_square(f=75.2, τ=1e-4, d=0.5, e=0.5), 50_000, 0.6, 150.4),
    "uneven square wave": (arc_light.on_square(f=75.2, τ=1e-4, d=0.5, e=0.5, s=0.02, a=0.03), 50_000, 0.6, 75.2),
    "pulsed LED": (led_light.pulsed(f=997, duty=0.3), 100_000, 0.2, 997.0),
    "faint ripple": (led_light.rippling(f=50, m=0.01), 5_000, 1.0, 100.0),
}


def record(wave, rate, seconds, noise=0.003, scale=2.7, start=0.0123, seed=1):
    """What a sensor writes."""
    dice = Random(seed)
    return Samples(rate, [scale * (wave.level(start + i / rate) + dice.gauss(0, noise)) for i in range(int(rate * seconds))])


@pytest.mark.parametrize("name", LIGHTS)
def test_fundamental(name):
    """Found to a few parts in ten thousand, and not a half or a multiple of it."""
    wave, rate, seconds, f = LIGHTS[name]

    assert measure(record(wave, rate, seconds)).frequency == pytest.approx(f, rel=5e-4)


@pytest.mark.parametrize("name", LIGHTS)
@pytest.mark.parametrize("T", [0.001, 0.0055, 0.0208, 0.01])
def test_what_the_camera_sees_is_kept(name, T):
    """The light kept in the rig's text spreads exposures as the lamp did, to 0.3 % of the mean or 4 %."""
    wave, rate, seconds, _ = LIGHTS[name]
    found = measure(record(wave, rate, seconds))
    kept = components.outline(found.frequency, components.read(components.written(found.amplitudes), "x"))

    assert kept.extremes(T).spread == pytest.approx(wave.extremes(T).spread, rel=0.04, abs=0.003)


@pytest.mark.parametrize("name", LIGHTS)
def test_one_period(name):
    """The folded period is as deep as the light."""
    wave, rate, seconds, _ = LIGHTS[name]
    folded, ends = measure(record(wave, rate, seconds)).folded, wave.extremes(0.0)

    assert max(folded) == pytest.approx(ends.high, rel=0.02) and min(folded) == pytest.approx(ends.low, rel=0.03, abs=0.01)


def test_unequal_half_cycles():
    """Read at the frequency of the current where that is known, else at half that of the pulses."""
    wave, rate, seconds, _ = LIGHTS["uneven arc"]
    found = measure(record(wave, rate, seconds))

    assert found.asymmetry() == pytest.approx(0.05, rel=0.02) and found.asymmetry(60.0) == pytest.approx(0.05, rel=0.02) and found.asymmetry(47.0) == 0
    assert measure(record(*LIGHTS["mains arc"][:3])).asymmetry() == 0


def test_steady_light_has_no_fundamental():
    """Noise alone is not taken for ripple."""
    found = measure(record(led_light.rippling(f=50, m=1e-6), 5000, 1.0, noise=0.005))

    assert found.frequency == 0 and found.amplitudes == () and found.noise == pytest.approx(0.005, rel=0.1)


def test_dark_level():
    """A level that is there without light makes ripple look smaller, until it is entered."""
    wave, rate, seconds, _ = LIGHTS["mains arc"]
    samples = Samples(rate, [x + 2.7 for x in record(wave, rate, seconds).levels])

    assert abs(measure(samples).amplitudes[0]) == pytest.approx(0.4, rel=0.01) and abs(measure(samples, dark=2.7).amplitudes[0]) == pytest.approx(0.8, rel=0.01)
    with pytest.raises(Refused, match="no-light"):
        measure(samples, dark=100.0)


def test_lone_spikes_are_taken_out_and_said():
    """Three hits of something else; the ripple stays."""
    wave, rate, seconds, _ = LIGHTS["mains arc"]
    levels = record(wave, rate, seconds).levels
    for i in (1000, 4001, 7007):
        levels[i] += 60
    found = measure(Samples(rate, levels))

    assert abs(found.amplitudes[0]) == pytest.approx(0.8, rel=0.01) and any("3 lone spikes" in n for n in found.notes)


def test_drift_is_taken_out_and_said():
    """A lamp that warms up by a third while it is recorded."""
    wave, rate, seconds, _ = LIGHTS["mains arc"]
    levels = [x * (1 + 0.3 * i / 10_000) for i, x in enumerate(record(wave, rate, seconds).levels)]
    found = measure(Samples(rate, levels))

    assert abs(found.amplitudes[0]) == pytest.approx(0.8, rel=0.01) and any("drift" in n for n in found.notes)


def clip(wave, fps, exposure, seconds=3.0):
    return Samples(fps, [wave.average(0.0017 + i / fps, exposure) for i in range(int(fps * seconds))])


def test_frames_of_a_clip_are_put_right_for_their_exposure():
    """240 frames a second of 1/300 s under 100 pulses: each frame smooths the ripple by sinc(1/3)."""
    found = measure(clip(arc_light.on_sine(f=50, m=0.6), 240.0, 1 / 300))

    assert abs(of_frames(found, 1 / 300, None).amplitudes[0]) == pytest.approx(0.6, rel=0.01)
    assert abs(of_frames(found, None, None).amplitudes[0]) < 0.55 and "exposure time is not entered" in of_frames(found, None, None).notes[-1]


def test_pulses_too_fast_for_a_clip():
    """150 dips a second show at 90 Hz in 240 frames a second; where 150 is expected they are put there, and it is said."""
    found = measure(clip(arc_light.on_square(f=75, τ=2e-4, d=0.6, e=0.5), 240.0, 1e-4))
    put = of_frames(found, 1e-4, 150.0)

    assert found.frequency * found.main == pytest.approx(90, rel=1e-3)
    assert put.frequency == 150 and len(put.amplitudes) == 1 and "90 Hz" in put.notes[-1]
    assert "would show at" in of_frames(found, 1e-4, 130.0).notes[-2] + of_frames(found, 1e-4, 130.0).notes[-1]


def test_what_the_exposure_has_smoothed_away_is_not_made_up():
    """An exposure of one pulse leaves nothing to restore."""
    found = measure(clip(arc_light.on_sine(f=50, m=0.6, a=0.1), 240.0, 0.0099))

    assert any("not restored" in n for n in of_frames(found, 0.01, None).notes)


def test_transform():
    """A tone of three and a half turns in 64 samples, against the plain sum."""
    x = [cos(tau * 3.5 * i / 64) + 0.2 * sin(tau * 9 * i / 64) for i in range(64)]
    plain = [sum(v * complex(cos(tau * k * i / 64), -sin(tau * k * i / 64)) for i, v in enumerate(x)) for k in range(64)]

    assert spectrum.transform(x) == pytest.approx(plain, abs=1e-9)


def test_components_as_text():
    """Written and read back; what is no component is named by its order."""
    kept = [0.8 + 0.1j, 0j, -0.05 + 0j]

    assert components.read(components.written(kept), "x") == pytest.approx(kept, abs=1e-3)
    with pytest.raises(Refused) as caught:
        components.read("80 at 0; x at 1; 5", "loads/A1/recording/components")
    assert [p.message[:11] for p in caught.value.problems] == ["Component 2", "Component 3"] and measured.MOST == components.MOST
