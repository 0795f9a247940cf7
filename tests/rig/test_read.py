"""The reader: all problems at once, each with its address; the document kept as written."""

import json
from copy import deepcopy

import pytest
from hypothesis import given

from pycore.base.problem import Refused
from pycore.base.result import Origin
from pycore.rig.model import GROUPS, INNER, Supply, specs
from pycore.rig.read import LARGEST, MOST_PARTS, load_document, read
from tests.rigs import rig
from tests.strategies import JSON, unsound_rigs


def problems(document):
    """(code, address) of every problem."""
    return [(p.code, p.address) for p in read(document).problems]


def test_a_sound_rig_has_no_problems():
    """The plain rig reads without a word."""
    assert problems(rig()) == []


def test_all_problems_come_at_once():
    """Every bad entry is listed with its own address, whatever else is bad."""
    document = rig({"supply/voltage": "loud", "runs/K1/length": "25 V", "loads/A1/lamp/rated_power": "1,200 W", "loads/A1/ballast/kind": "hot", "shots/S1/shutter": "400°", "rules": "mine"})
    document["loads"]["A1"]["dim"] = 50
    document["surprise"] = 1

    assert sorted(problems(document), key=str) == [
        ("choice-unknown", "loads/A1/ballast/kind"), ("choice-unknown", "rules"), ("key-unknown", "surprise"), ("not-text", "loads/A1/dim"), ("number-unclear", "loads/A1/lamp/rated_power"),
        ("number-unreadable", "supply/voltage"), ("out-of-range", "shots/S1/shutter"), ("unit-wrong", "runs/K1/length"),
    ]  # fmt: skip


def test_every_problem_has_a_way_out():
    """No problem only complains."""
    document = rig(dict.fromkeys(("supply/voltage", "supply/kind", "runs/K1/size", "rules"), "x")) | {"other": 1, "boxes": 3, "shots": {"S1": 4}}

    assert all(p.message and p.way_out for p in read(document).problems)


@pytest.mark.parametrize(("group", "value"), [(g, v) for g in GROUPS for v in ([], "x", 3, None)])
def test_a_group_that_is_none(group, value):
    """A list, text or number in the place of a group is a problem of that group, and the rest is read."""
    assert ("not-a-group", group) in problems(rig() | {group: value})


def test_a_part_that_is_none():
    """A lamp that is no group of entries is a problem at its address."""
    document = rig() | {"loads": {"A1": "moon"}}

    assert ("not-a-part", "loads/A1") in problems(document)


@pytest.mark.parametrize("address", ["runs/K1/lenght", "supply/colour", "loads/A1/ballast/brand", "shots/S1/iso_speed"])
def test_unknown_keys_are_reported_and_kept(address):
    """What this version does not know is said, and stays in the document."""
    document = rig({address: "something"})

    reading = read(document)

    assert [(p.code, p.address) for p in reading.problems] == [("key-unknown", address)]
    assert reading.document == document


def test_an_unreadable_entry_is_left_out_and_kept():
    """The rig has a gap where the entry could not be read; the document has the user's text."""
    reading = read(rig({"runs/K1/length": " 25 V"}))

    assert reading.rig.runs["K1"].length is None
    assert reading.document["runs"]["K1"]["length"] == " 25 V"


@pytest.mark.parametrize(("text", "code"), [("0 m", "out-of-range"), ("-5 m", "out-of-range"), ("3001 m", "out-of-range"), ("9" * 300, "too-long"), ("", "number-unreadable")])
def test_lengths_that_cannot_be(text, code):
    """A length of nothing, below nothing or beyond belief is refused."""
    document = rig()
    document["runs"]["K1"]["length"] = text

    assert problems(document) == [(code, "runs/K1/length")]


@pytest.mark.parametrize("text", ["0.1 m", "3000 m"])
def test_the_ends_of_a_range_are_allowed(text):
    """The declared ends belong to the range."""
    assert problems(rig({"runs/K1/length": text})) == []


def test_entries_know_where_they_come_from():
    """A quantity carries its origin, its address and the user's own words."""
    entry = read(rig({"loads/A1/ballast/efficiency": " 92,5 % "})).rig.loads["A1"].ballast.efficiency

    assert (entry.value, entry.origin, entry.address, entry.note) == (pytest.approx(0.925), Origin.NAMEPLATE, "loads/A1/ballast/efficiency", "92,5 %")


@pytest.mark.parametrize("text", ["{", "[1,2", "nul", "", '{"a": NaN}', '{"a": 1e999}', "[" * 100_000, "\ud800"])
def test_what_is_no_json(text):
    """A file that is no JSON, or holds numbers that are none, is refused whole."""
    with pytest.raises(Refused) as caught:
        load_document(text)

    assert caught.value.problems[0].code in ("file-unreadable", "not-a-rig")


def test_a_file_too_large():
    """A file beyond any rig's size is not even parsed."""
    with pytest.raises(Refused) as caught:
        load_document(" " * (LARGEST + 1))

    assert caught.value.problems[0].code == "file-too-large"


def test_too_many_parts():
    """More parts than any rig has are reported and not all read."""
    reading = read(rig() | {"boxes": {f"B{n}": {"fed_by": "supply"} for n in range(MOST_PARTS + 5)}})

    assert ("too-many", "boxes") in [(p.code, p.address) for p in reading.problems]
    assert len(reading.rig.boxes) == MOST_PARTS


@given(unsound_rigs())
def test_any_rig_gives_problems_and_no_exception(document):
    """Whatever stands in the entries, reading gives a rig and problems with address, message and code; the document stays as it was."""
    before = deepcopy(document)

    reading = read(document)

    assert reading.document == before
    for p in reading.problems:
        assert p.code and p.message
        assert p.address.split("/")[0] in document or p.address in ("", "rules")


@given(JSON)
def test_any_json_is_read_or_refused(value):
    """Any JSON at all is read or refused, never raised at."""
    for document in (value, {"format": "feed to frame rig", "schema": 1, "supply": value, "runs": value, "loads": {"A1": value}, "shots": {"S1": {"lit_by": value}}, "rules": value}):
        try:
            read(load_document(json.dumps(document)))
        except Refused as refused:
            assert refused.problems[0].way_out


def test_every_entry_is_described():
    """Label, unit in the list of units that may be chosen, and a way to firm it up, for each quantity of each part."""
    parts = [Supply, *GROUPS.values(), *(inner for group in INNER.values() for inner in group.values())]
    for part in parts:
        for key, spec in specs(part).items():
            assert spec.label, (part, key)
            if spec.kind == "quantity":
                assert spec.unit in spec.units and spec.low < spec.high and spec.firm_up, (part, key)
            if spec.kind == "choice":
                assert len(spec.options) >= 2 or key == "kind", (part, key)
