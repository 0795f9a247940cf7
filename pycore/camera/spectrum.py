"""The tones in evenly sampled levels: a fast Fourier transform to find them, projections to measure them."""

from cmath import exp, phase, pi
from collections.abc import Sequence
from functools import lru_cache
from math import cos, tau
from operator import mul

LARGEST = 16_384  # samples that the first look takes
SIDE = 5  # lines beside a strong tone that may be its own skirt


def transform(values: Sequence[float]) -> list[complex]:
    """Discrete Fourier transform of a power of two of values."""
    return _fft([complex(v) for v in values])


def _fft(x: list[complex]) -> list[complex]:
    n = len(x)
    if n == 1:
        return x
    even, odd = _fft(x[0::2]), _fft(x[1::2])
    turned = [w * o for w, o in zip(_turns(n), odd, strict=True)]
    return [e + t for e, t in zip(even, turned, strict=True)] + [e - t for e, t in zip(even, turned, strict=True)]


@lru_cache(maxsize=32)
def _turns(n: int) -> tuple[complex, ...]:
    return tuple(exp(-2j * pi * k / n) for k in range(n // 2))


def bell(count: int) -> list[float]:
    """Hann window."""
    return [0.5 - 0.5 * cos(tau * (i + 0.5) / count) for i in range(count)]


def tones(levels: Sequence[float], rate: float, frequency: float, count: int, window: Sequence[float] | None = None) -> list[complex]:
    """Complex amplitudes of cos(2π·k·f·t) for k from 1 to `count` in levels sampled at `rate` (1/s), t = 0 at the first."""
    weights = window or bell(len(levels))
    weighed = list(map(mul, levels, weights))
    step = [exp(-2j * pi * ((i * frequency / rate) % 1)) for i in range(len(levels))]
    turned, total, found = step, sum(weights), []
    for order in range(1, count + 1):
        found.append(2 * sum(map(mul, weighed, turned)) / total)
        turned = list(map(mul, turned, step)) if order < count else turned
    return found


def sharpened(levels: Sequence[float], rate: float, frequency: float) -> float:
    """The frequency (Hz) near a given one at which both halves of the levels are in step."""
    half = len(levels) // 2
    window = bell(half)
    for _ in range(4):
        first, second = (tones(part, rate, frequency, 1, window)[0] for part in (levels[:half], levels[half:2 * half]))
        if not abs(first) or not abs(second):
            return frequency
        turned = phase(second / first * exp(-2j * pi * frequency * half / rate))
        frequency += turned / tau * rate / half
        if abs(turned) < 1e-9:
            break
    return frequency


def peaks(levels: Sequence[float], rate: float, mean: float) -> tuple[list[tuple[float, float]], float, float]:
    """Tones as (frequency Hz, amplitude over mean), strongest first; the noise between them; and the width of a line in Hz."""
    count = 1 << (min(len(levels), LARGEST).bit_length() - 1)
    window = bell(count)
    scale = 2 / sum(window) / mean
    sizes = [scale * abs(c) for c in transform([(x - mean) * w for x, w in zip(levels, window, strict=False)])[: count // 2]]
    noise = sorted(sizes[2:])[len(sizes) // 2]
    tops = [i for i in range(2, count // 2 - 1) if sizes[i - 1] <= sizes[i] > sizes[i + 1] and sizes[i] > max(6 * noise, 5e-4)]
    found: list[tuple[float, float]] = []
    for i in sorted(tops, key=lambda i: -sizes[i]):
        left, top, right = sizes[i - 1:i + 2]
        bend = left - 2 * top + right
        f = (i + (0.5 * (left - right) / bend if bend else 0)) * rate / count
        if all(abs(f - stronger) > SIDE * rate / count for stronger, _ in found):
            found.append((f, top))
    return found[:60], noise, rate / count
