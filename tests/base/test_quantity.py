"""A number with its unit."""

from math import inf, nan

import pytest

from pycore.base.problem import Refused
from pycore.base.quantity import Quantity


@pytest.mark.parametrize("value", [nan, inf, -inf])
def test_no_infinite_or_undefined_number(value):
    """A quantity that is no finite number cannot be made."""
    with pytest.raises(Refused) as caught:
        Quantity(value, "V")

    assert caught.value.problems[0].code == "not-a-number"


def test_made_from_its_own_unit_and_from_text():
    """`of` counts in the unit itself, `read` takes what a person wrote."""
    assert Quantity.of(2.5, "mm²") == Quantity.read("2,5 mm²", "mm²")
    assert Quantity.of(20, "°C").value == 293.15


def test_figure_and_unit_apart():
    """A large figure can be set apart from its unit."""
    assert Quantity(4350.0, "W").shown() == ("4.35", "kW")
