"""Turns that learn from those before them."""

from cmath import rect
from dataclasses import replace

import pytest

from pycore.powerflow.mixing import Mixing
from pycore.powerflow.network import Load

REST = (2800.0, 500.0, 0.7 * rect(1, -0.6))


def load(power, reactive, third):
    """A rectifier with one harmonic."""
    return Load(id="A", node="box", a="L1", b="N", voltage=230.0, power=power, reactive=reactive, spectrum=((3, abs(third), 0.0), (5, 0.3, third.real)), pulse=0.4)


def turn(now):
    """A turn that swings around its rest and comes closer by a tenth each time only."""
    power, reactive = REST[0] - 0.9 * (now.reactive - REST[1]), REST[1] + 0.9 * (now.power - REST[0])
    return replace(now, power=power, reactive=reactive)


def off(now):
    """How far a load is from rest, W and var."""
    return max(abs(now.power - REST[0]), abs(now.reactive - REST[1]))


def test_it_comes_to_rest_where_plain_turns_would_but_sooner():
    """After eight turns plain ones still have 40 % of their way to go; mixed ones are there."""
    plain = mixed = load(2000.0, 100.0, REST[2])
    mixing = Mixing()
    for _ in range(8):
        plain = turn(plain)
        (mixed,) = mixing.mixed([mixed], [turn(mixed)])

    assert off(plain) > 250
    assert off(mixed) < 1e-2
    assert mixed.spectrum[0] == pytest.approx((3, 0.7, 0.0)) and mixed.id == "A"


def test_at_rest_nothing_changes():
    """Loads that a turn leaves as they are come back as they are; so does the first turn of all."""
    mixing, rest = Mixing(), load(*REST)
    first = load(2000.0, 100.0, REST[2])

    assert mixing.mixed([first], [rest]) == (rest,)
    for _ in range(6):
        (again,) = mixing.mixed([rest], [rest])
        assert again.power == pytest.approx(rest.power) and again.spectrum[1] == pytest.approx(rest.spectrum[1])


def test_loads_without_pulses_are_left_alone():
    """Their harmonics were entered, and stay as entered."""
    mixing, other = Mixing(), replace(load(*REST), id="B", pulse=0.0)
    for power in (2000.0, 2400.0, 2600.0):
        found = mixing.mixed([other, load(power, 1.0, REST[2])], [other, load(power + 100, 1.0, REST[2])])
        assert found[0] is other
