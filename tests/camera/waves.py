"""Waves for tests: one of each kind, and Hypothesis strategies for them."""

from hypothesis import strategies as st

from pycore.camera import arc_light, led_light
from pycore.camera.outline import Outline
from pycore.camera.waveform import Series

MAINS = st.sampled_from([50.0, 60.0])
SHARE = st.floats(0.01, 0.9)

smooth = st.builds(
    lambda f, m, a, h, turn: Series(f, {1: a, 2: m, 4: -h}).shifted(turn),
    MAINS, SHARE, st.floats(0, 0.05), st.floats(0, 0.05), st.floats(0, 6.3),
)
lagging = st.builds(lambda f, τ: arc_light.following(f=f, τ_p=τ), MAINS, st.floats(1e-4, 0.05))
square = st.builds(
    lambda f, part, d, e, s, a: arc_light.on_square(f=f, τ=part / (2 * f), d=d, e=e, s=s, a=a),
    st.floats(60, 2000), st.floats(0.005, 0.4), SHARE, st.floats(0.05, 1), st.floats(0, 0.1), st.sampled_from([0.0, 0.03, 0.2]),
)
plain_square = st.builds(
    lambda f, part, d, e: arc_light.on_square(f=f, τ=part / (2 * f), d=d, e=e), st.floats(60, 2000), st.floats(0.005, 0.4), SHARE, st.floats(0.05, 1),
)
pulsed = st.builds(lambda f, duty: led_light.pulsed(f=f, duty=duty), st.floats(100, 5000), st.floats(0.02, 0.98))
polygon = st.builds(
    lambda period, levels: Outline(period, [(i * period / len(levels), x) for i, x in enumerate(levels)]),
    st.floats(1e-4, 0.05), st.lists(st.floats(0.05, 2), min_size=3, max_size=24),
)
edged = square | pulsed | polygon
any_wave = smooth | lagging | edged
windows = st.floats(-5, -0.5).map(lambda e: 10**e)  # s, 10 µs to 0.3 s
starts = st.floats(-0.2, 0.2)


def brute(wave, T, samples=600):
    """Darkest and brightest window by trying many."""
    averages = [wave.average(i / samples / wave.frequency, T) for i in range(samples)]
    return min(averages), max(averages)
