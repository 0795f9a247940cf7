"""The door: text in, text out, whatever the text."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.api import door
from pycore.api.method import METHODS, WHERE, find
from tests.rigs import PLAIN, rig
from tests.strategies import JSON, unsound_rigs


def ask(method, **params):
    """The answer as the page gets it."""
    return json.loads(door.handle(json.dumps({"method": method, "params": params})), parse_constant=no_constant)


def no_constant(name):
    raise AssertionError(f"{name} left the core")


def sound(answer):
    """An answer of one of the two shapes, and no fault of ours."""
    if answer["ok"]:
        return "result" in answer
    error = answer["error"]
    assert error["code"] != "fault", error.get("detail")
    return {"code", "message", "hint", "problems"} <= set(error)


@given(st.text(max_size=60) | JSON.map(json.dumps))
def test_any_text_is_answered(text):
    """Text that is no request is refused in the shape of an answer."""
    assert sound(json.loads(door.handle(text)))


@pytest.mark.parametrize("text", ["", "null", "[]", '"check"', "{}", '{"method": 5}', '{"method": ["check"]}', '{"method": {"a": 1}, "params": {}}', '{"method": "check", "params": []}',
                                  '{"method": "check", "params": "x"}', "[" * 200_000, '{"method": "check", "params": {"rig": ' + '{"a":' * 20_000 + "1" + "}" * 20_000 + "}}"])  # fmt: skip
def test_requests_that_are_none(text):
    """No method, another kind of value, nesting without end: refused, never raised."""
    answer = json.loads(door.handle(text))

    assert not answer["ok"] and sound(answer)


@given(st.sampled_from(sorted(WHERE)), st.dictionaries(st.sampled_from(["rig", "lamp", "ballast", "supply", "load", "shot", "id", "code", "question", "answer", "text", "changes", "show", "reveal", "x"]), JSON, max_size=4))
def test_any_parameters_are_answered(method, params):
    """A method with missing, surplus or wrong parameters says so; it is not called a fault of the calculator."""
    assert sound(ask(method, **params))


@given(unsound_rigs())
def test_any_rig_is_answered(document):
    """A rig with anything in it gets an answer with its problems, and the document comes back as it was sent."""
    answer = ask("check", rig=document)

    assert sound(answer)
    if answer["ok"]:
        assert answer["result"]["rig"] == document
        assert all(p["message"] and p["way_out"] for p in answer["result"]["problems"])


@pytest.mark.parametrize("half", ["\ud83d", "a\udc00b"])
def test_half_a_character_comes_back(half):
    """A name cut in the middle of an emoji goes in and out as it is, in text that any terminal can hold."""
    text = door.handle(json.dumps({"method": "check", "params": {"rig": rig() | {"name": half}}}))

    text.encode()
    assert json.loads(text)["result"]["rig"]["name"] == half


@pytest.mark.parametrize("changes", [[{"address": "x"}], [{"text": "x"}], ["x"], [None], [[1, 2]]])
def test_changes_that_are_none(changes):
    """A change without address or text is refused as such."""
    assert ask("check", rig=PLAIN, changes=changes)["error"]["code"] == "params-wrong"


def test_a_fault_of_ours_is_said_to_be_one(monkeypatch):
    """An exception inside is answered with its trace, the user's rig kept and nothing blamed on them."""
    monkeypatch.setitem(METHODS, "drills", find("drills").__class__(lambda: 1 / 0, "", "", ""))

    error = ask("drills")["error"]

    assert error["code"] == "fault" and "ZeroDivisionError" in error["detail"]


def test_every_refusal_has_a_way_out():
    """What is refused says what to do next."""
    for method, params in [("check", {"rig": {}}), ("open_rig", {"text": "{"}), ("drill", {"id": "x"}), ("mark", {"id": "long_run", "code": "", "question": "x", "answer": ""}),
                           ("add_lamp", {"lamp": "x", "ballast": "y"}), ("nothing", {}), ("check", {})]:  # fmt: skip
        assert ask(method, **params)["error"]["hint"]
