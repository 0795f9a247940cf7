"""Light over time and its exposure integral in closed form."""

from cmath import exp, pi
from math import cos, tau

import pytest
from hypothesis import given

from pycore.camera import quadrature
from pycore.camera.outline import Outline
from pycore.camera.waveform import Series
from pycore.findings.light_steps import by_force, finest
from tests.camera.waves import any_wave, brute, edged, lagging, smooth, starts, windows


@given(smooth | lagging, starts, windows)
def test_smooth_light_agrees_with_quadrature(wave, t, T):
    """Fourier and sinc against Gauss-Legendre panels, to 1e-9."""
    assert wave.average(t, T) == pytest.approx(quadrature.window(wave, t, T, finest(wave)), rel=1e-9)


@given(edged, starts, windows)
def test_light_with_edges_agrees_with_quadrature(wave, t, T):
    """Exact areas under straight lines against Gauss-Legendre panels that know of no knots, to 1e-6."""
    assert wave.average(t, T) == pytest.approx(quadrature.window(wave, t, T, finest(wave) / 2), rel=1e-6, abs=1e-6)


@given(any_wave, windows)
def test_extremes_are_the_extremes(wave, T):
    """No window of many is darker or brighter, and the two that are named are that dark and that bright."""
    ends = wave.extremes(T)
    low, high = brute(wave, T)
    near = 1e-9 * max(1, ends.high)

    assert ends.low <= low + near and high <= ends.high + near
    assert wave.average(ends.opens_low, T) == pytest.approx(ends.low, abs=1e-7) and wave.average(ends.opens_high, T) == pytest.approx(ends.high, abs=1e-7)


@given(any_wave)
def test_the_light_itself_has_a_mean_of_one(wave):
    """Over a period the average is 1, and so are the darkest and the brightest window."""
    period = 1 / wave.frequency

    assert wave.average(0.1 * period, period) == pytest.approx(1, abs=1e-9)
    assert wave.extremes(3 * period).spread == pytest.approx(0, abs=1e-9)


@given(any_wave)
def test_a_window_of_no_length_sees_the_light(wave):
    """Extremes of an empty window are those of the level."""
    ends, period = wave.extremes(0.0), 1 / wave.frequency
    levels = [wave.level(i * period / 400) for i in range(400)]

    assert ends.low <= min(levels) + 1e-9 and max(levels) <= ends.high + 1e-9
    assert wave.level(ends.opens_low) == pytest.approx(ends.low, abs=1e-6) and wave.level(ends.opens_high) == pytest.approx(ends.high, abs=1e-6)


@given(any_wave, windows, starts)
def test_the_spread_shrinks_as_the_window_grows(wave, T, t):
    """Whole periods more only dilute: spread times length stays."""
    period = 1 / wave.frequency

    assert wave.extremes(T + 2 * period).spread * (T + 2 * period) == pytest.approx(wave.extremes(T).spread * T, abs=1e-7 * period + 1e-12)
    assert wave.average(t, T) == pytest.approx(wave.average(t + 5 * period, T), abs=1e-6)


@pytest.mark.parametrize("order", [1, 2, 3, 7])
@given(edged)
def test_components_of_an_outline(order, wave):
    """Slopes give the same component as a sum over many samples."""
    count = 8192
    summed = 2 / count * sum(wave.level(i / count / wave.frequency) * exp(-2j * pi * order * i / count) for i in range(count))

    assert wave.component(order) == pytest.approx(summed, abs=2e-3)


def test_a_pure_ripple_by_hand():
    """1 + 0.8·cos(2π·100·t): over 5 ms from the top, half a pulse, the average is 1 + 0.8·2/π · cos of the middle, a quarter turn on."""
    wave = Series(50, {2: 0.8})

    assert wave.frequency == 100
    assert wave.average(-0.0025, 0.005) == pytest.approx(1 + 0.8 * 2 / pi.real)
    assert wave.average(0, 0.005) == pytest.approx(1)
    assert wave.level(0.001) == pytest.approx(1 + 0.8 * cos(tau * 0.1))


def test_an_outline_by_hand():
    """A triangle from 0 to 2 in 1 ms and back: a window of 1 ms about the top averages 1.5, about the trough 0.5."""
    wave = Outline(2e-3, [(0, 0), (1e-3, 2)])
    ends = wave.extremes(1e-3)

    assert (ends.low, ends.high) == pytest.approx((0.5, 1.5))
    assert ends.opens_high == pytest.approx(0.5e-3) and ends.opens_low == pytest.approx(1.5e-3)


def test_an_outline_is_scaled_to_its_mean():
    """Levels of any unit come out about 1, wherever the knots begin."""
    wave = Outline(1.0, [(0.7, 30.0), (0.2, 10.0)])

    assert wave.level(0.2) == pytest.approx(0.5) and wave.level(0.7) == pytest.approx(1.5) and wave.level(1.2) == pytest.approx(0.5)


@given(edged, starts, windows)
def test_quadrature_between_the_corners_is_the_same_integral(wave, t, T):
    """Cut at the corners or in panels of any width: one integral, found in two ways that share no cut."""
    assert by_force(wave, t, T) == pytest.approx(quadrature.window(wave, t, T, finest(wave) / 2), rel=1e-6, abs=1e-6)
    assert by_force(wave, t, T) == pytest.approx(wave.average(t, T), rel=1e-9, abs=1e-9)
