"""The typical spectra."""

from math import cos, degrees, pi, sin

import pytest

from pycore.base.problem import Refused
from pycore.base.result import Origin
from pycore.powerflow.spectrum import from_text, typical
from pycore.rig.typical import listed


@pytest.mark.parametrize("spectrum", typical().values(), ids=typical())
def test_is_typical_and_says_from_where(spectrum):
    """Rising orders above 1, shares above 0, a note, and a term that looks like an estimate."""
    orders = [h for h, _, _ in spectrum.parts]

    assert orders == sorted(set(orders)) and min(orders) > 1
    assert all(0 < share < 1 for _, share, _ in spectrum.parts)
    assert spectrum.note and spectrum.term().origin is Origin.TYPICAL and spectrum.term().firm_up


@pytest.mark.parametrize("kind", ["electronic", "electronic corrected", "magnetic", "magnetic corrected"])
def test_agrees_with_the_kit(kind):
    """The distortion factor of the spectrum is the one that the kit's typical entries give, within 0.01."""
    assert typical()[kind].factor == pytest.approx(float(listed()["ballast"][kind]["distortion"]), abs=0.01)


def test_uncorrected_head():
    """A published article: an uncorrected 800 W head at power factor 0.58 draws 12.5 A from 110 V. Ours: within a tenth."""
    assert typical()["electronic"].factor == pytest.approx(0.58, rel=0.13)
    assert 800 / (110 * 0.58) == pytest.approx(12.54, abs=0.005)


def test_corrected_gear_keeps_within_ten_to_fifteen_per_cent():
    """Common practice, no source."""
    assert typical()["electronic corrected"].distortion == pytest.approx(0.10, abs=0.01)
    assert typical()["led"].distortion == pytest.approx(0.15, abs=0.01)


def test_dimmer_is_the_cut_sine():
    """Fourier integrals of a cosine that is let through in the second half of each half-cycle, by midpoint rule."""
    n = 20_000
    points = [pi * (k + 0.5) / (2 * n) for k in range(n)]  # 0 … π/2; the other half-cycle repeats it

    def part(h):
        return sum(cos(t) * cos(h * t) for t in points) / n, sum(cos(t) * sin(h * t) for t in points) / n

    size = (part(1)[0] ** 2 + part(1)[1] ** 2) ** 0.5
    for h, share, angle in typical()["dimmer"].parts:
        a, b = part(h)
        assert share == pytest.approx((a * a + b * b) ** 0.5 / size, abs=0.001)
        assert degrees(angle) == pytest.approx(-90) and b > 0 and abs(a) < 1e-6


def test_reading_a_spectrum():
    """Order, share and angle as people write them; nonsense is refused."""
    assert from_text([(3, "80 %", "-90°")])[0] == (3, 0.8, pytest.approx(-pi / 2))
    with pytest.raises(Refused):
        from_text([(3, "eighty", "0°")])
