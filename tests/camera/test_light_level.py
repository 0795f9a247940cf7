"""Light at the subject and what exposure it gives."""

from math import pi, sqrt

import pytest

from pycore.camera import light_level


def test_inverse_square():
    """100 000 cd at 10 m are 1000 lx, two stops less than at 5 m; a stop of diffusion halves it. Textbook."""
    far = light_level.from_intensity(I=100_000, Φ=1, s=0, D=10)

    assert far == pytest.approx(1000)
    assert light_level.from_intensity(I=100_000, Φ=1, s=0, D=5) == pytest.approx(4 * far)
    assert light_level.from_intensity(I=100_000, Φ=1, s=1, D=10) == pytest.approx(far / 2)
    assert light_level.intensity(E_0=far, D_0=10) == pytest.approx(100_000)


def test_incident_exposure():
    """f/2.8, 1/48 s, ISO 800 and C = 250 want 117.6 lx: N²/t = E·S/C as a light-meter text has it, C from memory."""
    assert light_level.needed(C=250, N=2.8, S=800, t=1 / 48) == pytest.approx(117.6, rel=0.005)
    assert light_level.aperture(E=117.6, S=800, t=1 / 48, C=250) == pytest.approx(2.8, rel=0.005)


def test_over_and_short():
    """f/4 where f/2.8 was wanted is a stop over, by the exact √2."""
    assert light_level.over(N=4, N_w=4 / sqrt(2)) == pytest.approx(1)
    assert light_level.over(N=2, N_w=4) == pytest.approx(-2)


def test_the_rate_that_the_light_allows():
    """At that rate the wanted stop is just met."""
    E, S, C, N = 5000, 800, 250, 4
    rate = light_level.rate_allowed(θ=pi, E=E, S=S, C=C, N_w=N)

    assert light_level.aperture(E=E, S=S, t=0.5 / rate, C=C) == pytest.approx(N)
