"""Changes by address."""

from copy import deepcopy

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.base.problem import Refused
from pycore.rig import edit
from tests.rigs import PLAIN, rig
from tests.strategies import ADDRESSES


@given(st.sampled_from(ADDRESSES), st.text(min_size=1, max_size=40))
def test_text_is_kept_as_written(address, text):
    """What is entered is found again byte for byte, and nothing else has changed."""
    before = deepcopy(PLAIN)

    changed = edit.put(PLAIN, [(address, text)])

    assert edit.entered(changed, address) == text
    assert PLAIN == before
    assert edit.put(changed, [(address, edit.entered(PLAIN, address))]) == PLAIN


def test_an_empty_text_takes_the_entry_out():
    """An emptied field leaves no key behind."""
    assert "length" not in edit.put(PLAIN, [("runs/K1/length", "")])["runs"]["K1"]
    assert edit.put(PLAIN, [("runs/K1/never_there", "")]) == PLAIN


def test_a_new_place_is_made():
    """An address that leads through nothing makes the groups on its way."""
    assert edit.put({}, [("loads/A1/lamp/rated_power", "4 kW")]) == {"loads": {"A1": {"lamp": {"rated_power": "4 kW"}}}}


@pytest.mark.parametrize("address", ["name/deeper", "runs/K1/length/unit", "schema/x"])
def test_an_address_through_an_entry_is_refused(address):
    """An entry is no group: the address is refused, and the refusal names it."""
    with pytest.raises(Refused) as caught:
        edit.put(PLAIN, [(address, "x")])

    assert [(p.code, p.address) for p in caught.value.problems] == [("address-wrong", address)]


def test_what_comes_back_is_a_copy_through_and_through():
    """Whatever is done to the changed document, also where nothing changed, the one given stays as it was."""
    given = {"runs": {"K1": {"length": "20 m"}}, "loads": {"A1": {"lamp": {"rated_power": "4 kW"}}}}
    changed = edit.put(given, [("runs/K1/size", "4 mm²")])
    changed["runs"]["K1"]["length"] = changed["loads"]["A1"]["lamp"]["rated_power"] = "nothing"

    assert given == {"runs": {"K1": {"length": "20 m"}}, "loads": {"A1": {"lamp": {"rated_power": "4 kW"}}}}


def test_later_changes_win():
    """Changes apply in order."""
    assert edit.entered(edit.put(PLAIN, [("name", "a"), ("name", "b")]), "name") == "b"


@pytest.mark.parametrize(("address", "text"), [("runs/K1/length", "60 m"), ("runs", ""), ("runs/K9/length", ""), ("name/x", ""), ("schema", "1")])
def test_what_stands_at_an_address(address, text):
    """An entry's text, and nothing for a group or a gap."""
    assert edit.entered(rig(), address) == text


@given(st.sets(st.integers(1, 30)))
def test_a_free_name(numbers):
    """The first free number, whatever is taken."""
    taken = {f"K{n}" for n in numbers}

    free = edit.free_id(taken, "K")

    assert free not in taken
    assert all(f"K{n}" in taken for n in range(1, int(free[1:])))
