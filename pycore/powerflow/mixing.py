"""Loads that change each other's harmonics come to rest sooner when every turn learns from those before it (Anderson's mixing).

A turn makes new loads of old ones. The mix of the last turns whose changes cancel best stands closer to where nothing changes
than the last turn does. Where a turn changes nothing, neither does this: the answer is that of plain turns.
"""

from cmath import phase, rect
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from operator import mul, sub

from pycore.powerflow.linear import solve
from pycore.powerflow.network import Load

DEPTH = 4  # turns that are remembered
FAINT = 1e-10  # of the changes' own size: what keeps turns that changed alike from being told apart

Vector = list[float]


class Mixing:
    """The turns so far, as numbers: what changed in each, and what it came to."""

    def __init__(self) -> None:
        self._turns: list[tuple[Vector, Vector]] = []

    def mixed(self, before: Sequence[Load], after: Sequence[Load]) -> tuple[Load, ...]:
        """The loads to go on with, in place of what a turn made of those `before`."""
        came = _numbers(after)
        changed = list(map(sub, came, _numbers(before)))
        if self._turns and len(self._turns[-1][1]) != len(came):
            self._turns.clear()
        self._turns = [*self._turns[-DEPTH:], (changed, came)]
        return _with_numbers(after, self._best()) if len(self._turns) > 1 else tuple(after)

    def _best(self) -> Vector:
        """Where the last turn came to, less what the turns before explain of its change."""
        changed, best = self._turns[-1]
        differ = [(list(map(sub, b, a)), list(map(sub, y, x))) for (a, x), (b, y) in pairwise(self._turns)]
        squares = [[_dot(a, b) for b, _ in differ] for a, _ in differ]
        whole = sum(row[k] for k, row in enumerate(squares))
        for k, row in enumerate(squares):
            row[k] += FAINT * whole
        shares, _ = solve(squares, [[_dot(a, changed)] for a, _ in differ])
        for (share,), (_, step) in zip(shares or (), differ, strict=bool(shares)):
            best = [x - share * d for x, d in zip(best, step, strict=True)]
        return best


def _dot(a: Vector, b: Vector) -> float:
    return sum(map(mul, a, b))


def _numbers(loads: Sequence[Load]) -> Vector:
    """What a turn may change of all loads with pulses: power, reactive power, harmonics; over the square of the voltage, so that all weigh by their size."""
    found: Vector = []
    for load in loads:
        if load.pulse:
            size = load.power / load.voltage**2
            found += [size, load.reactive / load.voltage**2]
            for _, share, angle in load.spectrum:
                part = rect(share * size, angle)
                found += [part.real, part.imag]
    return found


def _with_numbers(loads: Sequence[Load], numbers: Vector) -> tuple[Load, ...]:
    """The loads with these numbers in place of their own."""
    found, rest = [], iter(numbers)
    for load in loads:
        if load.pulse:
            size, reactive = next(rest), next(rest) * load.voltage**2
            parts = [(h, complex(next(rest), next(rest)) / size) for h, _, _ in load.spectrum]
            found.append(replace(load, power=size * load.voltage**2, reactive=reactive, spectrum=tuple([(h, abs(z), phase(z)) for h, z in parts])))
        else:
            found.append(load)
    return tuple(found)
