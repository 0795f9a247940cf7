"""The generic kit: everything it offers gives a true answer at once."""

import pytest

from pycore.base.problem import Refused
from pycore.base.result import Origin, Verdict
from pycore.findings.chain import chain
from pycore.rig import kit
from pycore.rig.read import read
from tests.rigs import PLAIN, rig

OFFERED = [(lamp["id"], ballast["id"]) for lamp in kit.lamps() for ballast in lamp["ballasts"]]


def test_a_new_rig_is_sound():
    """An empty rig reads without a problem."""
    assert read(kit.new_rig("Dock")).problems == ()
    assert kit.new_rig("Dock")["name"] == "Dock"


SUPPLIES = [s["id"] for s in kit.supplies()]


@pytest.mark.parametrize(("lamp", "ballast", "supply"), [(*offer, SUPPLIES[n % len(SUPPLIES)]) for n, offer in enumerate(OFFERED)])
def test_everything_offered_gets_an_answer(lamp, ballast, supply):
    """Each lamp of the kit, on one supply after the other, reads without a problem and gets an answer that says what is only typical."""
    document, load = kit.add_lamp(None, lamp=lamp, ballast=ballast, supply=supply)
    made = chain(read(document), load)

    assert read(document).problems == ()
    assert made.links[0].figure is not None or made.verdict is Verdict.STOP
    assert any(t.origin in (Origin.TYPICAL, Origin.ASSUMED) for x in made.links for f in x.findings for t in f.assumptions)


def test_lamps_are_spread_over_the_lines():
    """On three phases the next lamp goes where the fewest are."""
    document = None
    for _ in range(4):
        document, _ = kit.add_lamp(document, lamp="arc-4000", ballast="electronic corrected", supply="" if document else "three-230-63")

    assert [x["connection"] for x in document["loads"].values()] == ["L1-N", "L2-N", "L3-N", "L1-N"]


def test_names_are_free_everywhere():
    """A new run or lamp takes no name that any part of the rig has."""
    document, load = kit.add_lamp(rig({"boxes/A2/fed_by": "K1", "boxes/K2/fed_by": "K1"}), lamp="arc-1200", ballast="magnetic")

    assert load == "A3" and document["loads"]["A3"]["fed_by"] == "K3"
    assert read(document).problems == ()


def test_the_document_given_is_left_alone():
    """Adding and removing give changed copies."""
    before = rig()

    document, load = kit.add_lamp(PLAIN, lamp="arc-1200", ballast="magnetic")
    kit.remove_lamp(document, load)

    assert before == PLAIN and load in document["loads"]


def test_what_is_added_can_be_removed():
    """Removing takes the lamp's own run with it, and leaves a run that others use."""
    document, load = kit.add_lamp(PLAIN, lamp="arc-1200", ballast="magnetic")
    shared = rig({"loads/A2/fed_by": "K1"})

    assert kit.remove_lamp(document, load) == PLAIN
    assert "K1" in kit.remove_lamp(shared, "A2")["runs"]
    assert kit.remove_lamp(PLAIN, "A9") == PLAIN


@pytest.mark.parametrize(("lamp", "ballast", "supply"), [("arc-1", "magnetic", ""), ("arc-4000", "steam", ""), ("arc-4000", "magnetic", "sun"), ("", "", ""), ("tungsten-1", "none", "")])
def test_what_the_kit_does_not_have(lamp, ballast, supply):
    """An unknown lamp, ballast or supply is refused."""
    with pytest.raises(Refused) as caught:
        kit.add_lamp(None, lamp=lamp, ballast=ballast, supply=supply)

    assert caught.value.problems[0].code == "not-in-kit"


@pytest.mark.parametrize("broken", [{"loads": []}, {"runs": 5}, {"supply": "wall"}, {"loads": {"A1": "moon"}}, {"boxes": None}])
def test_no_lamp_is_added_to_what_is_no_rig(broken):
    """Where parts are not where they belong, adding and removing are refused with a way out."""
    for act in (lambda d: kit.add_lamp(d, lamp="arc-4000", ballast="magnetic"), lambda d: kit.remove_lamp(d, "A1")):
        with pytest.raises(Refused) as caught:
            act(rig() | broken)
        assert caught.value.problems[0].way_out
