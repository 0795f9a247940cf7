"""Safe rates and angles, from the law and not from a list."""

from math import pi

import pytest

from pycore.camera import safe_rates


@pytest.mark.parametrize("mains", [50, 60, 47.3])
def test_every_safe_rate_divides_the_pulses(mains):
    """Each rate meets a whole number of pulses in each frame, fastest first, none left out."""
    rates = safe_rates.safe_rates(f_L=2 * mains, slowest=10)

    assert [round(2 * mains / f) for f in rates] == list(range(1, int(2 * mains / 10) + 1))
    assert rates == sorted(rates, reverse=True)


@pytest.mark.parametrize(("rate", "pulses"), [(24, 100), (25, 120), (23.976, 120), (500, 150), (1000, 150)])
def test_every_safe_angle_spans_whole_pulses(rate, pulses):
    """Each angle's exposure holds a whole number of pulses, none beyond a full turn, none left out."""
    angles = safe_rates.safe_angles(f_c=rate, f_L=pulses)

    assert [a / (2 * pi) / rate * pulses for a in angles] == pytest.approx(list(range(1, int(pulses / rate) + 1)))
    assert all(a <= 2 * pi * (1 + 1e-9) for a in angles)


def test_a_full_turn_is_counted():
    """At 25 fps on 50 Hz the whole turn holds four pulses, rounding or not."""
    assert safe_rates.most_pulses(f_c=25, f_L=100) == 4
    assert safe_rates.most_pulses(f_c=100 / 3, f_L=100) == 3
    assert safe_rates.most_pulses(f_c=101, f_L=100) == 0
