"""Power factor, THD, K factor and neutrals by formula."""

from math import sqrt

import pytest

from pycore.powerflow import distortion as d

COURSE = {1: 118, 3: 60, 5: 20, 7: 19, 9: 12, 11: 12, 13: 9, 15: 9, 17: 6}  # university power-quality course, solution 3-1


def test_course_solution():
    """118 V, 10 kW: rms 137.007 A, THD 59 %, displacement 0.718, S 16.167 kVA, power factor 0.619, distortion factor 0.861."""
    harmonic = d.harmonic_rms(COURSE)
    displacement = 10_000 / (118 * 118)
    factor = d.distortion_factor(THD=d.total_distortion(I_h=harmonic, I_1=118))

    assert d.rms_current(I_1=118, I_h=harmonic) == pytest.approx(137.007, abs=0.0005)
    assert d.total_distortion(I_h=harmonic, I_1=118) == pytest.approx(0.59, abs=0.0005)
    assert displacement == pytest.approx(0.718, abs=0.0005)
    assert 118 * 137.007 == pytest.approx(16_167, abs=0.5)
    assert factor == pytest.approx(0.861, abs=0.0005)
    assert d.power_factor(λ_1=displacement, λ_d=factor) == pytest.approx(0.619, abs=0.0005)
    assert d.neutral_of_triplens(I_t=d.triplen_rms(COURSE)) == pytest.approx(185.54, abs=0.005)


def test_k_factor_of_the_course_spectrum():
    """K = Σ (I_h/I)²·h² (UL 1561): 7.75, computed."""
    assert d.k_of(COURSE) == pytest.approx(7.75, abs=0.005)
    assert d.k_factor(I_w=sqrt(sum((h * i) ** 2 for h, i in COURSE.items())), I=137.007) == pytest.approx(7.75, abs=0.005)


def test_power_factor_is_a_product():
    """0.9 displacement with 30 % distortion makes 0.862."""
    assert d.power_factor(λ_1=0.9, λ_d=d.distortion_factor(THD=0.30)) == pytest.approx(0.862, abs=0.0005)


@pytest.mark.parametrize(("amps", "neutral"), [((10, 15, 20), 8.66), ((10, 10, 5), 5.0), ((10, 8, 6), 3.46), ((7, 7, 7), 0.0)])
def test_neutral_of_unequal_phases(amps, neutral):
    """Published lines for the first two; a widely copied reply gets 15.1 A for 10/8/6 by dropping brackets."""
    assert d.neutral_of_unequal_phases(I_1=amps[0], I_2=amps[1], I_3=amps[2]) == pytest.approx(neutral, abs=0.005)


def test_neutral_of_two_legs():
    """15 A and 10 A leave 5 A."""
    assert d.neutral_of_split_phase(I_1=15, I_2=10) == 5


def test_crest_of_a_sine_and_of_a_square_wave():
    """A sine peaks at √2; orders 1, 3, 5 … at 1/h make a square wave: its plateau plus Gibbs's 18 %, over 99 % of rms."""
    square = {h: 1 / h * (1 if h % 4 == 1 else -1) + 0j for h in range(1, 40, 2)}

    assert d.crest_factor({1: 3 - 4j}) == pytest.approx(sqrt(2), abs=1e-4)
    assert d.crest_factor(square) == pytest.approx(1.179 / 0.99, abs=0.01)


def test_waveform_is_the_sum_of_its_orders():
    """cos at the start of the period, times √2."""
    wave = d.waveform({1: 1 + 0j, 3: 0.5j}, 360)

    assert wave[0] == pytest.approx(sqrt(2))
    assert wave[30] == pytest.approx(sqrt(2) * (sqrt(3) / 2 - 0.5), abs=1e-9)
    assert len(wave) == 360


def test_true_power_factor_of_phasors():
    """Sine voltage, current lagging 60° with 50 % of third harmonic: 0.5/√1.25."""
    current = {1: 10 * complex(0.5, -sqrt(3) / 2), 3: 5 + 0j}

    assert d.true_power_factor({1: 230 + 0j}, current) == pytest.approx(0.5 / sqrt(1.25))


def test_nothing_flows_nothing_is_claimed():
    """Without current there is no distortion, K or crest to tell."""
    nothing = {1: 0j, 3: 0j}

    assert d.thd(nothing) is None and d.k_of(nothing) is None and d.crest_factor(nothing) is None
    assert d.true_power_factor({1: 230 + 0j}, nothing) is None
