"""Beat, drift, and the bands of a sensor read row by row."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pycore.camera import arc_light, frames
from tests.camera.waves import any_wave, windows


@settings(max_examples=30)
@given(any_wave, windows, st.floats(0.0002, 0.05))
def test_contrast_against_reading_every_row(wave, T, t_r):
    """The worst difference between rows, whatever the phase, is found by reading 30 rows at 300 phases."""
    claimed, period = frames.contrast(wave, T, t_r), 1 / wave.frequency
    worst = 0.0
    for i in range(300):
        rows = [wave.average(i * period / 300 + t_r * y / 29, T) for y in range(30)]
        worst = max(worst, max(rows) - min(rows))
    swing = wave.extremes(T).spread

    assert worst <= claimed + 0.12 * swing + 1e-9 and claimed <= worst + 0.12 * swing + 1e-9


def test_bands_and_roll_by_hand():
    """100 pulses a second read in 8 ms are 0.8 bands; a beat of 4 Hz rolls them through 5 picture heights a second."""
    assert frames.bands(f_L=100, t_r=0.008) == pytest.approx(0.8)
    assert frames.roll(f_b=4, N=0.8) == pytest.approx(5)


def test_next_frame():
    """Frames that meet the same place of the pulse are alike, those that meet opposite places differ by the whole swing."""
    wave = arc_light.on_sine(f=50, m=0.8)

    assert frames.next_frame(wave, 0.001, 25) == pytest.approx(0, abs=1e-9)
    assert frames.next_frame(wave, 0.001, 200) == pytest.approx(wave.extremes(0.001).spread, rel=0.01)


def test_which_component_troubles():
    """An exposure of whole pulses leaves the ripple of unequal half-cycles in charge."""
    wave = arc_light.on_sine(f=50, m=0.8, a=0.05)

    assert frames.pulsing(wave, 1 / 48, 24).rate == pytest.approx(100)
    assert frames.pulsing(wave, 0.01, 24).rate == pytest.approx(50)


def test_drift():
    """1 % of 100 Hz and 50 millionths of 4·25 Hz."""
    assert frames.drift(f_L=100, δ_s=0.01, k=4, f_c=25, δ_c=5e-5) == pytest.approx(1.005)
