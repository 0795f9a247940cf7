"""Small linear equations."""

from math import nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.powerflow.linear import solve

NUMBERS = st.integers(-9, 9).map(float) | st.complex_numbers(max_magnitude=9, allow_nan=False).map(lambda z: complex(round(z.real), round(z.imag)))


def laplace(a):
    """Determinant by expansion along the first row: slow, and another way."""
    return 1 if not a else sum((-1) ** j * x * laplace([row[:j] + row[j + 1:] for row in a[1:]]) for j, x in enumerate(a[0]))


@given(st.integers(1, 5).flatmap(lambda n: st.tuples(*[st.lists(st.lists(NUMBERS, min_size=k, max_size=k), min_size=n, max_size=n) for k in (n, 2)])))
def test_solves_and_knows_the_determinant(system):
    """Whole numbers, real and complex: a·X gives b back, the determinant is that of Laplace's expansion."""
    a, b = system
    x, determinant = solve(a, b)
    expected = laplace(a)

    assert determinant == pytest.approx(expected, abs=1e-6 * max(1, abs(expected)))
    if abs(expected) > 0.5:
        back = [[sum(r * x[k][j] for k, r in enumerate(row)) for j in range(2)] for row in a]
        assert all(abs(p - q) < 1e-6 for left, right in zip(back, b, strict=True) for p, q in zip(left, right, strict=True))


def test_needs_pivoting():
    """A zero in the corner; two rows change places, and the determinant its sign."""
    x, determinant = solve([[0.0, 1.0], [1.0, 0.0]], [[2.0], [3.0]])

    assert x == [[3.0], [2.0]] and determinant == -1


@pytest.mark.parametrize("a", [[[1.0, 2.0], [2.0, 4.0]], [[nan, 1.0], [1.0, 1.0]], [[nan]]])
def test_singular_and_nan_have_no_solution(a):
    """None, not a number."""
    x, _ = solve(a, [[1.0]] * len(a))

    assert x is None or any(v != v for row in x for v in row)
