"""The form: what the user wrote, what counts instead, what is wrong."""

from pycore.rig import form
from pycore.rig.model import Run, Supply, specs
from pycore.rig.read import read
from pycore.rig.typical import settle
from tests.rigs import rig


def entries(part, address, *changes, **choose):
    """The form of a part of the plain rig, by key."""
    reading = read(rig(*changes))
    whole = settle(reading.rig, {p.address for p in reading.problems})
    found = {"supply": whole.supply, "run": whole.runs["K1"]}[part]
    return {e.address.rpartition("/")[2]: e for e in form.entries(found, address, reading.document, reading.problems, **choose)}


def test_every_entry_has_its_field():
    """The form of a part shows each of its described entries once, unless told otherwise."""
    assert set(entries("run", "runs/K1")) == set(specs(Run))
    assert set(entries("run", "runs/K1", only=("length", "size"))) == {"length", "size"}
    assert set(specs(Supply)) - set(entries("supply", "supply", without=("name",))) == {"name"}


def test_a_given_entry_shows_the_users_own_words():
    """What is entered is shown as written, and nothing typical beside it."""
    length = entries("run", "runs/K1", {"runs/K1/length": "80 ft "})["length"]

    assert (length.text, length.usual, length.usual_text, form.origin_of(length)) == ("80 ft ", None, "", "")


def test_a_missing_entry_shows_what_counts_instead():
    """An empty field shows the value that counts, and that it is assumed."""
    length = entries("run", "runs/K1", {"runs/K1/length": ""})["length"]

    assert (length.text, length.usual_text, form.origin_of(length)) == ("", "25\u00a0m", "assumed")


def test_a_missing_choice_shows_its_usual_words():
    """An empty choice shows the words of the one that counts."""
    cores = entries("run", "runs/K1", {"runs/K1/cores": ""})["cores"]

    assert (cores.usual_text, form.origin_of(cores)) == ("One multicore cable", "typical")


def test_a_bad_entry_keeps_its_text_and_shows_the_problem():
    """The error stands at the field, the text stays, and nothing else counts instead."""
    length = entries("run", "runs/K1", {"runs/K1/length": "25 V"})["length"]

    assert (length.text, length.usual, length.usual_text, length.problem.code) == ("25 V", None, "", "unit-wrong")


def test_the_rigs_own_fields():
    """Name and rule set have fields of their own."""
    found = {e.address: e for e in form.rig_entries(rig({"rules": "mine"}), read(rig({"rules": "mine"})).problems)}

    assert found["name"].text == "Test"
    assert (found["rules"].text, found["rules"].problem.code) == ("mine", "choice-unknown")
