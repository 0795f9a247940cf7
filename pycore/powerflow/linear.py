"""Small dense linear equations in plain Python, real or complex."""

from collections.abc import Sequence
from typing import TypeVar

Number = TypeVar("Number", float, complex)


def solve(a: Sequence[Sequence[Number]], b: Sequence[Sequence[Number]]) -> tuple[list[list[Number]] | None, Number]:
    """X with a·X = b, and the determinant of a; X is None where a is singular or holds a NaN.

    Elimination with row pivoting. `a` is n×n, `b` n×m.
    """
    n = len(a)
    rows = [list(row) + list(right) for row, right in zip(a, b, strict=True)]
    determinant: Number = 1.0
    for k in range(n):
        best = max(range(k, n), key=lambda i: abs(rows[i][k]))
        if best != k:
            rows[k], rows[best], determinant = rows[best], rows[k], -determinant
        lead, pivot = rows[k], rows[k][k]
        determinant *= pivot
        if not abs(pivot) > 0:
            return None, determinant
        for i in range(k + 1, n):
            if factor := rows[i][k] / pivot:
                rows[i] = [x - factor * y for x, y in zip(rows[i], lead, strict=True)]
    return _back(rows, n), determinant


def _back(rows: list[list[Number]], n: int) -> list[list[Number]]:
    x: list[list[Number]] = [[]] * n
    for k in reversed(range(n)):
        row, right = rows[k], rows[k][n:]
        for j in range(k + 1, n):
            if factor := row[j]:
                right = [r - factor * v for r, v in zip(right, x[j], strict=True)]
        pivot = row[k]
        x[k] = [r / pivot for r in right]
    return x
