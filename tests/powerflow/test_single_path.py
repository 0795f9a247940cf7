"""One load at the end of one path: the upper voltage, and none where there is none."""

from math import isclose, sqrt

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pycore.powerflow import single_path as path

OHMS, WATTS = st.floats(0.001, 5), st.floats(1, 20_000)


def needed(volts, R, X, P, Q):
    """Source voltage for `volts` at the load, by complex numbers."""
    return abs(volts + complex(R, X) * complex(P, -Q) / volts)


@given(st.floats(80, 400), OHMS, st.floats(0, 2), WATTS, st.floats(0, 2))
def test_the_closed_form_closes_the_circuit(V_s, R, X, P, t):
    """Where there is a voltage, current times impedance leads back to the source; above it more source would be needed."""
    point = path.constant_power_point(V_s=V_s, R=R, X=X, P=P, Q=t * P)
    assume(point is not None)

    assert isclose(needed(point.voltage, R, X, P, t * P), V_s, rel_tol=1e-6)
    assert needed(point.voltage * 1.01, R, X, P, t * P) > V_s * (1 - 1e-9)
    assert point.voltage >= V_s / 2 * (1 - 1e-6)


@given(st.floats(80, 400), OHMS, st.floats(0, 2), st.floats(0, 2), st.floats(0.5, 1.5))
def test_the_most_power_is_the_edge(V_s, R, X, t, factor):
    """Below the most power there is a voltage, above it there is none."""
    assume(abs(factor - 1) > 1e-3)
    P = factor * path.most_power(V_s=V_s, R=R, X=X, t=t)

    assert (path.constant_power_point(V_s=V_s, R=R, X=X, P=P, Q=t * P) is None) == (factor > 1)


@given(st.floats(80, 400), st.floats(0, 3), st.floats(0, 1), WATTS, st.floats(0, 2), st.floats(0.5, 3))
def test_a_load_that_follows_its_voltage(V_s, R, X, P, t, k):
    """The point found closes the circuit for a load whose power goes as a power of its voltage; it is the highest there is."""
    point = path.operating_point(V_s=V_s, R=R, X=X, t=t, power=lambda v: P * (v / V_s) ** k)
    assume(point is not None)
    drawn = P * (point.voltage / V_s) ** k

    assert isclose(needed(point.voltage, R, X, drawn, t * drawn), V_s, rel_tol=1e-6)
    assert abs(point.residual) < 1e-6


def test_both_solvers_agree():
    """The closed form and the search find the same voltage for constant power."""
    closed = path.constant_power_point(V_s=230, R=1.0, X=0.1, P=4000, Q=800)
    searched = path.operating_point(V_s=230, R=1.0, X=0.1, t=0.2, power=lambda v: 4000.0)

    assert searched.voltage == pytest.approx(closed.voltage, rel=1e-9)


def test_at_the_edge_half_the_source_is_left():
    """On a purely resistive path the two solutions meet at half the source's voltage, and no power is given beyond V²/4R."""
    assert path.most_power(V_s=230, R=1, X=0, t=0) == pytest.approx(230**2 / 4)
    assert path.upper_voltage(V_s=230, R=1, X=0, P=230**2 / 4 * (1 - 1e-12), Q=0) == pytest.approx(115, rel=1e-5)
    with pytest.raises(ValueError, match="math domain"):
        path.upper_voltage(V_s=230, R=1, X=0, P=230**2 / 4 * 1.001, Q=0)


def test_a_path_without_impedance():
    """The load has the source's voltage."""
    assert path.constant_power_point(V_s=230, R=0, X=0, P=4000, Q=0).voltage == 230


def test_there_and_back():
    """The voltage further up, from the voltage found, is the source's."""
    v = path.upper_voltage(V_s=230, R=0.8, X=0.05, P=4400, Q=900)

    assert path.sending_voltage(V=v, R=0.8, X=0.05, P=4400, Q=900) == pytest.approx(230)
    assert v == pytest.approx((sqrt(230**2 - 4 * 0.8 * 4400) + 230) / 2, rel=2e-3)  # near enough when mostly resistive
