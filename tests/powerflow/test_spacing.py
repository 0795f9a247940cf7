"""Reactance of single cores laid apart."""

from math import pi

import pytest

from pycore.powerflow.spacing import MU_0, mean_radius, mutual, spaced_reactance


def test_touching_pair_of_50_mm2():
    """BS 7671 Table 4F2B: two single cores touching, x = 0.21 mV/A/m for the loop at 35 to 50 mm², 0.105 mΩ/m a core.

    50 mm² is 8 mm of copper in a jacket of some 15 mm (common practice); stranding and jacket leave 10 %.
    """
    x = spaced_reactance(f=50, d=0.015, g=mean_radius(50e-6))

    assert x == pytest.approx(0.105e-3, rel=0.10)


def test_apart_is_more():
    """At 250 mm the same pair has nearly three times as much."""
    assert spaced_reactance(f=50, d=0.25, g=mean_radius(50e-6)) == pytest.approx(2.6 * spaced_reactance(f=50, d=0.015, g=mean_radius(50e-6)), rel=0.15)


def test_matrix_of_a_pair_is_the_pair():
    """Loop of two cores: self minus mutual, twice, whatever the yardstick."""
    g, x = mean_radius(35e-6), mutual([(0, 0), (0.25, 0)], [mean_radius(35e-6)] * 2, 100.0, 60.0)

    assert x[0][0] + x[1][1] - x[0][1] - x[1][0] == pytest.approx(2 * 100 * spaced_reactance(f=60, d=0.25, g=g))
    assert x[0][1] == x[1][0]


def test_trefoil_is_balanced():
    """Three cores in a triangle: every pair the same."""
    x = mutual([(0, 0), (0.02, 0), (0.01, 0.02 * 3**0.5 / 2)], [mean_radius(35e-6)] * 3, 1.0, 50.0)

    assert x[0][1] == pytest.approx(x[1][2]) == pytest.approx(x[0][2])


def test_mean_radius():
    """0.7788 of the radius: e^(-1/4), textbook."""
    assert mean_radius(pi * 0.004**2) == pytest.approx(0.7788 * 0.004)
    assert pytest.approx(4e-7 * pi) == MU_0
