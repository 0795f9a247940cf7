"""Loads by their voltage."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.powerflow.demand import COLD, Demand
from tests.powerflow.rigs import load


def demand(**more):
    return Demand(load(**({"power": 1000.0} | more)), 0, 0, 1)


@pytest.mark.parametrize("exponent", [0.0, 0.7, 1.0, 1.6, 2.0, 2.2])
def test_power_law(exponent):
    """P = P0·(V/V0)^k and the same for Q, from half to one and a half times the voltage."""
    d = demand(reactive=300.0, exponent=exponent)
    for v in (115.0, 200.0, 230.0, 345.0):
        s = v * d.current(v + 0j).conjugate()
        assert s.real == pytest.approx(1000 * (v / 230) ** exponent)
        assert s.imag == pytest.approx(300 * (v / 230) ** exponent)


def test_lagging_and_leading():
    """Lagging current turns back from its voltage, leading forward."""
    assert demand(reactive=300.0).current(230 + 0j).imag < 0 < demand(reactive=-300.0).current(230 + 0j).imag


def test_nothing_draws_without_bound():
    """At no voltage there is no current, and near it no more than a cold filament's."""
    for exponent in (0.0, 1.0, 1.6, 2.0, 2.2):
        d = demand(exponent=exponent)
        assert d.current(0j) == 0
        assert abs(d.current(1e-9 + 0j)) <= COLD * abs(d.admittance) * 1e-9
    assert not demand().held(40.0) and demand().held(100.0) and demand(exponent=1.6).held(1.0)


@given(st.sampled_from([0.0, 1.0, 1.6, 2.0, 2.2]), st.floats(70, 400), st.floats(-3, 3), st.sampled_from([0.0, 180.0, 500.0]), st.floats(0.1, 1), st.floats(0, 1))
def test_slope_is_the_derivative(exponent, size, angle, fold, share, stiffness):
    """The tangent agrees with differences of the current itself."""
    from cmath import rect

    d, u, h = demand(reactive=-200.0, exponent=exponent, fold=fold), rect(size, angle), 1e-4
    if fold and abs(size - fold) < 0.01:
        return
    a, b, c = d.tangent(u, share, stiffness)

    by_re = (d.current(u + h, share, stiffness) - d.current(u - h, share, stiffness)) / (2 * h)
    by_im = (d.current(u + 1j * h, share, stiffness) - d.current(u - 1j * h, share, stiffness)) / (2 * h)
    assert a * u + b * u.conjugate() + c == pytest.approx(d.current(u, share, stiffness))
    assert a + b == pytest.approx(by_re, abs=1e-6)
    assert 1j * (a - b) == pytest.approx(by_im, abs=1e-6)
