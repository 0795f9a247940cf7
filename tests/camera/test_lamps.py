"""The light of arcs, filaments and LEDs over time."""

from math import cos, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.base.problem import Refused
from pycore.camera import arc_light, exposure_window, filament, led_light
from tests.camera.waves import plain_square, windows


@given(st.floats(0.05, 1), st.sampled_from([50.0, 60.0]), windows)
def test_the_law_for_ripple_is_the_integral(m, f, T):
    """The law that is shown gives what the engine computes."""
    shown = exposure_window.ripple_spread(m=m, f_L=2 * f, T=T)

    assert arc_light.on_sine(f=f, m=m).extremes(T).spread == pytest.approx(shown, abs=1e-9)


@given(st.floats(60, 2000), st.floats(0.005, 0.4), st.floats(0.01, 0.9), st.floats(0.05, 1), windows)
def test_the_laws_for_dips_are_the_integral(f, part, d, e, T):
    """The laws that are shown give what the engine computes, edges and all."""
    τ, f_d = part / (2 * f), 2 * f
    r = exposure_window.beyond_whole_dips(T=T, f_d=f_d)
    held = [exposure_window.dip_held(r=x, τ=τ, ε=e * τ) for x in (r, exposure_window.rest_of_period(f_d=f_d, r=r))]
    shown = exposure_window.dip_spread(d=d, A_r=held[0], A_g=held[1], τ=τ, T=T, f_d=f_d)

    assert arc_light.on_square(f=f, τ=τ, d=d, e=e).extremes(T).spread == pytest.approx(shown, abs=1e-7)


@given(plain_square)
def test_an_even_square_wave_pulses_twice_a_cycle(wave):
    """Without asymmetry the light repeats at twice the current's frequency."""
    assert wave.level(0.3 / wave.frequency) == pytest.approx(wave.level(1.3 / wave.frequency))


def test_unequal_half_cycles_halve_the_rate():
    """1/100 s is no longer clean at 50 Hz, 1/50 s is."""
    for wave in (arc_light.on_sine(f=50, m=0.8, a=0.05), arc_light.on_square(f=50, τ=1e-4, d=0.5, e=0.5, a=0.05)):
        assert wave.frequency == pytest.approx(50)
        assert wave.extremes(0.01).spread > 0.02 and wave.extremes(0.02).spread == pytest.approx(0, abs=1e-9)


def test_sag_and_dips_show_in_the_level():
    """The light falls between commutations, and to its share at the bottom of a dip."""
    wave = arc_light.on_square(f=75, τ=1e-4, d=0.5, e=0.5, s=0.04)
    half = 1 / 150
    after, before = wave.level(half / 2 + 2e-4), wave.level(half / 2 - 2e-4)

    assert after / before == pytest.approx(1.04, rel=0.01)
    assert wave.level(half / 2) / ((after + before) / 2) == pytest.approx(0.5, rel=0.01)


def test_light_is_never_less_than_none():
    """More ripple than light, and dips longer than a half-cycle, are refused."""
    with pytest.raises(Refused, match="light-negative"):
        arc_light.on_sine(f=50, m=0.9, h=0.2)
    with pytest.raises(Refused, match="dips-merge"):
        arc_light.on_square(f=1000, τ=4e-4, d=0.5, e=0.5)


def test_persistence():
    """Light that follows the size of the current at once falls to nothing; a long persistence leaves no ripple; the lag is an eighth of a
    cycle at most at 2f for long ones. The component at 2f is 2/3 of the mean: Fourier series of |cos|, textbook."""
    at_once, slow = arc_light.following(f=50, τ_p=0, orders=200), arc_light.following(f=50, τ_p=1.0)

    assert at_once.extremes(0).low == pytest.approx(0, abs=0.01) and at_once.extremes(0).high == pytest.approx(pi / 2, abs=0.01)
    assert arc_light.ripple_left(f=50, τ_p=0) == pytest.approx(2 / 3)
    assert slow.extremes(0).spread < 0.01
    assert abs(arc_light.following(f=50, τ_p=1e-3, m=0.5).component(1)) == pytest.approx(0.5)


def test_pulsed_light():
    """On for its duty, dark for the rest; the brightest window of that length holds the whole pulse."""
    wave = led_light.pulsed(f=1000, duty=0.25)

    assert wave.level(0) == pytest.approx(4, rel=0.01) and wave.level(0.5e-3) == 0
    assert wave.extremes(0.25e-3).high == pytest.approx(4, rel=0.01) and wave.extremes(0.25e-3).low == 0
    for duty in (0.0, 1.0):
        with pytest.raises(Refused, match="no-pulse"):
            led_light.pulsed(f=1000, duty=duty)


def wire(I, T, ε=0.33, ρ=9.2e-7):  # noqa: E741
    M = filament.radiated(ε=ε, σ=5.670374419e-8, T=T)
    return filament.thickness(d_1=1e-3, x=filament.heat_against_surface(ρ=ρ, I=I, M=M, d_1=1e-3)), M


def test_the_filament_radiates_what_heats_it():
    """I²R of a length of the wire equals what its surface radiates."""
    d, M = wire(8.7, 3200)

    assert 8.7**2 * 9.2e-7 / (pi * d**2 / 4) == pytest.approx(M * pi * d)


def test_ripple_of_filaments():
    """A 100 W lamp at 120 V, 60 Hz flickers by 6 to 10 %, thick filaments less: fact sheets give 6 % for household lamps and set
    practice 10 to 15 % for lamps of any size (from memory). A straight wire that radiates freely overstates the lag of a coil."""
    ripples = []
    for watts, volts, T in ((100, 120, 2870), (1000, 120, 3200), (2000, 120, 3200), (10_000, 120, 3200)):
        d, M = wire(watts / volts, T)
        τ = filament.thermal_time(γ=19_300, c=200, d=d, T=T, M=M)
        ripples.append(filament.ripple(n=8.1, q=1.0, f=60, τ_f=τ))

    assert 0.06 <= ripples[0] <= 0.10
    assert ripples == sorted(ripples, reverse=True) and ripples[-1] < 0.01
    assert wire(100 / 120, 2870)[0] == pytest.approx(60e-6, rel=0.1)  # a household filament's wire, from memory


def test_small_changes_follow_the_differential_equation():
    """Integrate heat in less heat out over many cycles: the light's ripple is what the law says, to second order."""
    d, M0 = wire(100 / 120, 2870)
    T0, dt = 2870.0, 1e-5
    heat = 19_300 * 200 * pi * d**2 / 4  # per metre and kelvin
    τ = filament.thermal_time(γ=19_300, c=200, d=d, T=T0, M=M0)
    T, seen = T0, []
    for i in range(int(0.6 / dt)):
        power = M0 * pi * d * (1 + cos(2 * pi * 120 * i * dt))
        T += dt * (power - M0 * pi * d * (T / T0) ** 4) / heat
        if i * dt > 0.5:
            seen.append((T / T0) ** 8.1)

    assert (max(seen) - min(seen)) / (max(seen) + min(seen)) == pytest.approx(filament.ripple(n=8.1, q=1.0, f=60, τ_f=τ), rel=0.03)
