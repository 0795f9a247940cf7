"""Tones of an arc tube."""

import pytest

from pycore.camera import resonance

PRINTED = [(1, 1, "1.84118"), (2, 1, "3.05424"), (0, 1, "3.83171"), (3, 1, "4.20119"), (4, 1, "5.31755"), (1, 2, "5.33144")]


@pytest.mark.parametrize(("m", "n", "root"), PRINTED)
def test_roots_of_the_slopes(m, n, root):
    """Abramowitz and Stegun, table 9.5, from memory; the first three also in a public derivation of the cavity's tones."""
    assert resonance.bessel_slope_root(m, n) == pytest.approx(float(root), abs=0.5e-5)


@pytest.mark.parametrize("m", range(5))
def test_roots_against_scipy(m):
    """Where scipy is installed, its roots to ten figures."""
    special = pytest.importorskip("scipy.special")

    assert [resonance.bessel_slope_root(m, n) for n in (1, 2, 3)] == pytest.approx(list(special.jnp_zeros(m, 3)), rel=1e-9)


@pytest.mark.parametrize(("m", "x", "value"), [(0, 1.0, 0.7651976866), (1, 1.0, 0.4400505857), (0, 2.4048255577, 0.0), (2, 5.0, 0.0465651163)])
def test_bessel_functions(m, x, value):
    """Abramowitz and Stegun, table 9.1, from memory."""
    assert resonance.bessel(m, x) == pytest.approx(value, abs=1e-9)


def test_tones_by_hand():
    """500 m/s in 30 mm along: 8333 Hz; across a radius of 10 mm: 14652 and 30492 Hz. Formula read in a public derivation."""
    assert resonance.tone(c=500, α=0, D=1, n_z=1, l=0.030) == pytest.approx(8333, rel=1e-3)
    assert resonance.tone(c=500, α=resonance.root_of((1, 1)), D=0.020, n_z=0, l=1) == pytest.approx(14_652, rel=1e-3)
    assert resonance.tone(c=500, α=resonance.root_of((0, 1)), D=0.020, n_z=0, l=1) == pytest.approx(30_492, rel=1e-3)


def test_larger_tubes_ring_lower():
    """All lengths doubled halve every tone."""
    for _, mode, along in resonance.MODES:
        small, large = (resonance.tone(c=500, α=resonance.root_of(mode), D=d, n_z=along, l=1.5 * d) for d in (0.01, 0.02))
        assert large == pytest.approx(small / 2)


@pytest.mark.parametrize(("T", "c"), [(2000, 372), (3000, 455), (4000, 525.7), (5000, 588)])
def test_sound_speed_in_mercury(T, c):
    """Monatomic, 0.20059 kg/mol: textbook gas law."""
    assert resonance.sound_speed(γ=5 / 3, R_s=8.314462618 / 0.20059, T=T) == pytest.approx(c, rel=0.002)
