"""Every method behind the door."""

import json
from pathlib import Path

import pytest

from pycore import __version__
from pycore.api.method import WHERE, find
from pycore.base.source import sources
from tests.api.test_door import ask
from tests.rigs import PLAIN, rig


def result(method, **params):
    """The result of a method that must answer."""
    answer = ask(method, **params)
    assert answer["ok"], answer
    return answer["result"]


def test_describe_lists_every_method():
    """Each with what it does and the shapes of what it takes and gives."""
    told = result("describe")

    assert told["version"] == __version__
    assert set(told["methods"]) == set(WHERE)
    assert all(m["does"].endswith(".") and m["params"].startswith("{") and m["result"] for m in told["methods"].values())


@pytest.mark.parametrize("name", WHERE)
def test_the_described_parameters_are_the_functions_own(name):
    """What is described under params are the names that the function takes, optional ones marked."""
    function, told = find(name).function, find(name).params
    names = function.__code__.co_varnames[: function.__code__.co_argcount + function.__code__.co_kwonlyargcount]

    assert all(n in told for n in names), (names, told)


def test_a_check_has_its_shape():
    """Rig, problems, lamps with verdicts, shots and the chain, as described."""
    told = result("check", rig=PLAIN)

    assert {"rig", "name", "problems", "lamps", "shots", "chain", "rig_fields", "version"} <= set(told)
    assert [set(x) >= {"id", "name", "kind", "verdict", "headline"} for x in told["lamps"]] == [True]
    assert [x["kind"] for x in told["chain"]["links"]] == ["supply", "run", "ballast", "head_cable", "lamp", "shutter"]
    assert told["lamps"][0]["verdict"] == told["chain"]["verdict"]


def test_every_shown_number_of_a_chain():
    """Each link's figure, field and step has its text, unit and origin; MathML is a whole element; nothing is null where a text belongs."""
    for x in result("check", rig=PLAIN)["chain"]["links"]:
        assert 0 <= x["share"] <= 1 and x["medium"] in ("power", "light")
        assert x["figure"] is None or (x["figure"]["quantity"]["shown"] and x["figure"]["origin"])
        for f in x["findings"]:
            assert f["verdict"] in ("clear", "tight", "stop", "unknown")
            for s in f["steps"]:
                assert s["symbols_mathml"].startswith("<math") and s["numbers_mathml"].endswith("</math>")
                assert s["cite"] and s["cite"]["how_sure"]
        for e in x["fields"]:
            assert e["keypad"] in ("decimal", "text") and isinstance(e["text"], str)


def test_changes_are_applied_and_the_rig_comes_back():
    """A change by address is in the rig that comes back, and counts in the answer; an empty text takes the entry out."""
    longer = result("check", rig=PLAIN, changes=[{"address": "runs/K1/length", "text": "90 m"}])
    without = result("check", rig=PLAIN, changes=[{"address": "runs/K1/length", "text": ""}])

    assert longer["rig"]["runs"]["K1"]["length"] == "90 m"
    assert longer["chain"]["links"][1]["figure"]["quantity"]["value"] < result("check", rig=PLAIN)["chain"]["links"][1]["figure"]["quantity"]["value"]
    assert "length" not in without["rig"]["runs"]["K1"]
    assert next(e for e in without["chain"]["links"][1]["fields"] if e["address"] == "runs/K1/length")["typical"]["origin"] == "assumed"


def test_a_bad_change_keeps_the_text_beside_its_problem():
    """The field has the user's text and the problem, the link no number, the other links their fields."""
    link = result("check", rig=PLAIN, changes=[{"address": "runs/K1/length", "text": "25 V"}])["chain"]["links"][1]
    field = next(e for e in link["fields"] if e["address"] == "runs/K1/length")

    assert (field["text"], field["problem"]["code"], field["typical"]) == ("25 V", "unit-wrong", None)
    assert link["verdict"] == "unknown" and link["figure"] is None


def test_lengths_in_feet():
    """Shown in feet on request, the value stays SI and the working follows."""
    link = result("check", rig=PLAIN, show={"length": "ft"})["chain"]["links"][1]
    length = next(t for f in link["findings"] for s in f["steps"] for t in s["terms"] if t["address"] == "runs/K1/length")

    assert (length["quantity"]["value"], length["quantity"]["shown"], length["quantity"]["shown_unit"]) == (60.0, "196.9", "ft")


def test_every_remedy_can_be_taken():
    """The changes of each remedy apply and leave no new problem."""
    bad = {**rig({"runs/K1/size": "1.5 mm²"})}
    for x in result("check", rig=bad)["chain"]["links"]:
        for r in x["remedies"]:
            assert result("check", rig=bad, changes=r["changes"])["problems"] == []


@pytest.mark.parametrize("place", [("chain", "links"), ("source",)])
def test_a_compact_check_says_the_same(place):
    """Each line of working is listed once; put back by its number, every finding is what it is without."""
    whole, packed = result("check", rig=PLAIN), result("check", rig=PLAIN, compact=True)

    def findings(told):
        return [f for link in told["chain"]["links"] for f in link["findings"]] if place[0] == "chain" else told["source"]

    unpacked = [{**f, "steps": [packed["workings"][n] for n in f["steps"]]} for f in findings(packed)]
    assert unpacked == findings(whole)
    assert len({json.dumps(w) for w in packed["workings"]}) == len(packed["workings"])


def test_others_can_wait():
    """Without the others only the chosen lamp is judged, the same as with them; the others are named, and nothing is said of them."""
    rig = json.loads((Path(__file__).parents[2] / "e2e" / "rigs" / "brickworks.json").read_text("utf-8"))
    whole, one = (result("check", rig=rig, load="A4", others=others) for others in (True, False))

    assert one["chain"] == whole["chain"] and one["lines"] == whole["lines"] and one["source"] == whole["source"]
    assert [x["name"] for x in one["lamps"]] == [x["name"] for x in whole["lamps"]]
    assert [x["verdict"] for x in one["lamps"] if x["id"] != "A4"] == [""] * 8
    assert [x for x in one["lamps"] if x["id"] == "A4"] == [x for x in whole["lamps"] if x["id"] == "A4"]
    assert one["tree"] is None


def test_a_check_without_advice_differs_in_advice_alone():
    """Figures and verdicts are those of the whole answer; the ways out can wait."""
    bad = rig({"runs/K1/size": "1.5 mm²"})
    whole, quick = result("check", rig=bad), result("check", rig=bad, advise=False)

    def told(answer):
        return [(x["id"], x["verdict"], x["figure"], x["detail"]) for x in answer["chain"]["links"]]

    assert told(whole) == told(quick) and whole["lamps"] == quick["lamps"]
    assert any(x["remedies"] for x in whole["chain"]["links"]) and len(json.dumps(quick)) < len(json.dumps(whole))


def test_opening_what_was_saved():
    """A rig saved as text opens again without a difference."""
    saved = json.dumps(result("demo")["rig"], ensure_ascii=False, indent=1)

    assert result("open_rig", text=saved) == {"rig": json.loads(saved), "problems": [], "marks": []}


def test_from_a_cold_start_to_an_answer():
    """Kit, lamp, ballast, supply: a rig whose answer comes at once; and off again."""
    kit = result("kit")
    lamp = kit["lamps"][0]
    added = result("add_lamp", rig=None, lamp=lamp["id"], ballast=lamp["ballasts"][0]["id"], supply=kit["supplies"][0]["id"])

    assert result("check", rig=added["rig"], load=added["load"])["chain"]["load"] == added["load"]
    assert result("remove_lamp", rig=added["rig"], load=added["load"])["rig"]["loads"] == {}
    assert result("check", rig=result("new_rig")["rig"])["chain"] is None


def test_drills_hide_their_answers():
    """A wrong answer does not give away the right one; a right one, or asking for it, shows the core's own working."""
    wrong = result("mark", id="long_run", code="", question="arrives", answer="12 V")
    shown = result("mark", id="long_run", code="", question="arrives", answer="12 V", reveal=True)
    right = result("mark", id="long_run", code="", question="arrives", answer=f"{shown['expected']['quantity']['value']} V")

    assert (wrong["outcome"], wrong["expected"], wrong["finding"]) == ("wrong", None, None)
    assert right["outcome"] == "right" and right["finding"]["steps"]


def test_sources_are_all_told():
    """Every listed document, with how surely it is known."""
    assert {s["id"] for s in result("sources")} == set(sources())
