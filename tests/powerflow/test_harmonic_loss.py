"""One load that pays for what its harmonics lose on the way."""

from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.powerflow.harmonic_loss import burden, burdened_point, fundamental_power, rms_current, stiff_distortion
from pycore.powerflow.single_path import constant_power_point


def test_by_hand():
    """0.4 Ω and 75 % of harmonics feel like 0.225 Ω; 20 A make 90 W of it; 25 A of rms."""
    assert burden(R=0.4, D=0.75, s=1.0) == pytest.approx(0.225)
    assert fundamental_power(P=4000, I=20, R_h=0.225) == pytest.approx(4090)
    assert rms_current(I_1=20, D=0.75) == pytest.approx(25)
    assert stiff_distortion(λ=0.8, t=0.0) == pytest.approx(0.75)


@given(R=st.floats(0.01, 1), X=st.floats(0, 0.3), share=st.floats(0, 2), P=st.floats(100, 5000), t=st.floats(-0.3, 1))
def test_the_balance_closes(R, X, share, P, t):
    """What the source gives at the fundamental is the load, its loss and that of its harmonics; at the upper of the two voltages."""
    found = burdened_point(V_s=230, R=R, X=X, R_h=R * share, P=P, Q=P * t)
    if found is None:
        assert constant_power_point(V_s=230, R=R * (1 + share), X=X, P=P, Q=P * t) is None
        return
    v = found.point.voltage
    amps = hypot(found.power, P * t) / v
    emf = v + complex(R, X) * complex(found.power, -P * t) / v

    assert amps == pytest.approx(found.current, rel=1e-6)
    assert abs(emf) == pytest.approx(230, rel=1e-9)
    assert (emf * complex(found.power, P * t) / v).real == pytest.approx(P + amps**2 * R * (1 + share), rel=1e-6)
    assert v**2 >= hypot(R, X) * hypot(found.power, P * t) * (1 - 1e-9)


def test_without_harmonics_nothing_changes():
    """No burden: the closed form of a load of constant power."""
    plain = constant_power_point(V_s=230, R=0.5, X=0.1, P=4000, Q=800)

    assert burdened_point(V_s=230, R=0.5, X=0.1, R_h=0.0, P=4000, Q=800).point.voltage == pytest.approx(plain.voltage, rel=1e-12)
