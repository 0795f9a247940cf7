"""Who feeds whom."""

import pytest

from pycore.base.problem import Refused
from pycore.rig import graph
from pycore.rig.read import read
from pycore.rig.typical import settle
from tests.rigs import rig

TREE = rig({"runs/K2/fed_by": "B1", "runs/K3/fed_by": "B1", "boxes/B1/fed_by": "K1", "loads/A1/fed_by": "K2", "loads/A2/fed_by": "B1", "loads/A3/fed_by": "supply"})


def problems(*changes):
    """(code, address) of the problems of a changed tree."""
    return [(p.code, p.address) for p in read(rig(*changes)).problems]


def whole(document):
    """The settled rig of a document."""
    reading = read(document)
    return settle(reading.rig, {p.address for p in reading.problems})


def test_the_path_runs_from_the_supply_down():
    """Runs come in the order of the current; boxes are passed through."""
    tree = read(TREE).rig

    assert [[r.id for r in graph.path(tree, i)] for i in ("A1", "A2", "A3")] == [["K1", "K2"], ["K1"], []]


def test_children_are_what_a_place_feeds():
    """Runs, boxes and loads, in the order of the file."""
    tree = read(TREE).rig

    assert graph.children(tree, "B1") == ["K2", "K3", "A2"]
    assert graph.children(tree, "supply") == ["K1", "A3"]
    assert graph.children(tree, "A1") == []


def test_the_way_holds_every_address():
    """From the lamp up to the supply, boxes included."""
    assert graph.way(read(TREE).rig, "A1") == ["loads/A1", "runs/K2", "boxes/B1", "runs/K1", "supply"]


@pytest.mark.parametrize(("changes", "found"), [
    ({"loads/A1/fed_by": "K9"}, [("feeder-missing", "loads/A1/fed_by")]),
    ({"loads/A1/fed_by": ""}, [("feeder-missing", "loads/A1/fed_by")]),
    ({"runs/K1/fed_by": ""}, [("feeder-missing", "runs/K1/fed_by")]),
    ({"runs/K1/fed_by": "K1"}, [("loop", "runs/K1/fed_by")]),
    ({"runs/K1/fed_by": "A1"}, [("feeder-is-load", "runs/K1/fed_by"), ("loop", "loads/A1/fed_by")]),
    ({"runs/K1/fed_by": "K2", "runs/K2/fed_by": "K1"}, [("loop", "runs/K1/fed_by"), ("loop", "runs/K2/fed_by")]),
    ({"boxes/K1/fed_by": "supply"}, [("id-twice", "runs/K1"), ("id-twice", "boxes/K1")]),
    ({"boxes/supply/fed_by": "K1"}, [("id-twice", "boxes/supply")]),
])  # fmt: skip
def test_what_cannot_be_a_tree(changes, found):
    """Missing feeders, lamps as feeders, circles and names used twice are found, each at its address."""
    assert problems(changes) == found


@pytest.mark.parametrize("changes", [
    {"loads/A1/fed_by": "K9"}, {"loads/A1/fed_by": ""}, {"runs/K1/fed_by": "K9"}, {"runs/K1/fed_by": "K1"}, {"loads/A1/fed_by": "B1", "boxes/B1/fed_by": "B2", "boxes/B2/fed_by": "B1"},
    {"boxes/K1/fed_by": "supply"}, {"loads/A1/connection": "L9"}, {"supply/system": "x"}, {"supply/kind": "x"}, {"rules": "x"}, {"runs/K1/cores": "x"}, {"supply/voltage_measured": "x"},
])  # fmt: skip
def test_no_way_for_what_cannot_be_read(changes):
    """Where the path of a lamp cannot be read nothing is computed over it."""
    with pytest.raises(Refused) as caught:
        graph.check_way(whole(rig(changes)), "A1")

    assert all(p.address for p in caught.value.problems)


@pytest.mark.parametrize("changes", [{}, {"runs/K2/fed_by": "K9"}, {"loads/A2/fed_by": "K9"}, {"runs/K1/name": "x" * 300}, {"loads/A1/surprise": "x"}, {"supply/rating": "x"}])
def test_a_fault_elsewhere_does_not_stop_this_lamp(changes):
    """Another lamp's feeder, a name too long or an entry that the path does not need leave the way open."""
    graph.check_way(whole(rig(changes)), "A1")


def test_a_shot_lit_by_a_lamp_that_is_not_there():
    """The share of a missing lamp is a problem at its address."""
    assert problems({"shots/S1/lit_by/A7": "40 %"}) == [("lamp-missing", "shots/S1/lit_by/A7")]


def test_long_circles_end():
    """A circle of a hundred runs is found and does not hang."""
    ring = {f"runs/R{n}/fed_by": f"R{(n + 1) % 100}" for n in range(100)}

    assert problems(ring, {"loads/A1/fed_by": "R0"}).count(("loop", "runs/R0/fed_by")) == 1
