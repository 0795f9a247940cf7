"""The day's marks in a rig file: taken off when it is opened, each that cannot be read said, the rest kept in their order."""

import json

import pytest

from pycore.api.door import answer
from pycore.rig.marks import take_off
from pycore.rig.read import read

RIG = {"format": "feed to frame rig", "schema": 1, "name": "Quarry"}
MARKS = [{"load": "A1", "what": "struck", "at": 1000.0}, {"load": "", "what": "clock", "at": 900.0, "by": 100.0}, {"load": "A1", "what": "out", "at": 950.0}]


def test_marks_travel_beside_the_rig():
    """A file with marks opens as the rig without them, and the marks as they were pressed."""
    given = json.loads(answer("open_rig", {"text": json.dumps({**RIG, "marks": MARKS})}))["result"]

    assert given["marks"] == MARKS and given["problems"] == []
    assert given["rig"] == RIG


def test_a_file_without_marks_has_none():
    """The key is optional: schema 1 files of before open as ever."""
    assert take_off(RIG) == (RIG, [], ())


@pytest.mark.parametrize("bad", [{"what": "danced", "at": 1}, {"what": "out"}, {"what": "out", "at": "soon"}, {"what": "out", "at": float("nan")}, "struck", None,
                                 {"what": "clock", "at": 1, "by": -5}])
def test_a_mark_that_is_none_is_said_and_left_out(bad):
    """The others stay."""
    _, marks, problems = take_off({**RIG, "marks": [MARKS[0], bad, MARKS[2]]})

    assert marks == [MARKS[0], MARKS[2]]
    assert [(p.code, p.address) for p in problems] == [("mark-unreadable", "marks/1")]


def test_marks_that_are_no_list_are_said():
    """A hand-edited file: the rig opens, the marks do not."""
    _, marks, problems = take_off({**RIG, "marks": {"A1": "struck"}})

    assert marks == [] and [p.code for p in problems] == ["marks-unreadable"]


def test_a_reader_that_leaves_them_in_the_rig_knows_the_key():
    """On the command line a file may be read as it is."""
    assert not read({**RIG, "marks": MARKS}).problems
