"""Skin effect against the exact solution of the round conductor."""

import pytest

from pycore.powerflow.skin import resistance_factor


def exact(x: float) -> float:
    """R/R_dc of a round conductor: Re(z·J0(z)/(2·J1(z))), z² = -j·x_s²·... by power series (textbook, Bessel functions).

    With x_s² = 8π·f·1e-7/R' and R' = ρ/(π·a²): a²·ωμ/ρ = x_s², so z = √(-j)·x_s.
    """
    z = (-1j) ** 0.5 * x
    j0 = j1 = 0j
    term = 1 + 0j
    for k in range(60):
        j0 += term
        j1 += term * (z / 2) / (k + 1)
        term *= -((z / 2) ** 2) / (k + 1) ** 2
    return (z * j0 / (2 * j1)).real


@pytest.mark.parametrize("x", [0.5, 1.0, 1.5, 2.0, 2.5, 2.8, 3.0, 3.5, 3.8, 4.5, 6.0])
def test_against_bessel_functions(x):
    """IEC 60287-1-1's three formulas stay within 1 % of the exact factor."""
    r, frequency = 1e-3, x**2 * 1e-3 / (8 * 3.141592653589793 * 1e-7)

    assert resistance_factor(r, frequency) == pytest.approx(exact(x), rel=0.01)


def test_thin_cable_at_mains_frequency_has_none():
    """2.5 mm² at 50 Hz: less than a hundred-thousandth."""
    assert resistance_factor(7.98e-3, 50.0) == pytest.approx(1, abs=1e-5)


def test_unknown_conductor_has_none():
    """Resistance per length 0 stands for not known."""
    assert resistance_factor(0.0, 1000.0) == 1
