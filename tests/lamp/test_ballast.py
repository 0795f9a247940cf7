"""What a ballast draws."""

from math import acos, tan

import pytest

from pycore.lamp import ballast


@pytest.mark.parametrize("displacement", [0.5, 0.8, 0.99, 1.0])
def test_reactive_ratio_is_the_tangent(displacement):
    """Q over P is the tangent of the angle whose cosine is the displacement factor."""
    assert ballast.reactive_ratio(λ_1=displacement) == pytest.approx(tan(acos(displacement)))


def test_there_and_back_through_the_efficiency():
    """Drawn power times efficiency is the output."""
    assert ballast.output_power(P=ballast.input_power(P_o=4000, η=0.92), η=0.92) == pytest.approx(4000)


def test_amperes_not_watts():
    """The same watts at half the power factor are twice the amperes, and twice the kVA."""
    assert ballast.rms_current(P=800, λ=0.5, V=110) == pytest.approx(2 * ballast.rms_current(P=800, λ=1, V=110))
    assert ballast.apparent_power(V=110, I=ballast.rms_current(P=800, λ=0.58, V=110)) == pytest.approx(800 / 0.58)


def test_apparent_power_closes_the_triangle():
    """3, 4, 5."""
    assert ballast.apparent_power_of(P=3, Q=4) == 5


@pytest.mark.parametrize(("share", "power"), [(0.95, 0.89), (1.05, 1.11)])
def test_a_choke_follows_its_voltage(share, power):
    """5 % of supply voltage is 10 to 12 % of lamp power on a choke (from memory, no document)."""
    assert ballast.voltage_following_power(P_n=1, V=230 * share, V_n=230, k=2.2) == pytest.approx(power, abs=0.01)
