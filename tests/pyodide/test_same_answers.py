"""The Python that the page ships, trimmed and compiled, gives the answers of the native one, word for word.

Floats may differ in their last digits: Python 3.14 on another C library computes sin and exp. What people read may not.
"""

import json
import subprocess
from math import isclose
from pathlib import Path
from typing import Any

import pytest

from build import build
from pycore.api.door import handle
from toolchain import node

RUNNER = Path(__file__).with_name("shipped.mjs")
CODES = ("A1", "B2", "C3")
Question = tuple[str, dict[str, Any]]


def native(method: str, params: dict[str, Any]) -> Any:
    return json.loads(handle(json.dumps({"method": method, "params": params})))


def result(method: str, **params: Any) -> Any:
    answer = native(method, params)
    assert answer["ok"], answer
    return answer["result"]


def simple() -> list[Question]:
    return [(method, {}) for method in ("describe", "kit", "demo", "new_rig", "drills", "sources")]


def refused() -> list[Question]:
    rig = result("demo")["rig"]
    run = next(iter(rig["runs"]))
    changes = [[(f"runs/{run}/length", text)] for text in ("abc", "-5 m", "80 ft", "", "1e400 m", "25 kg")]
    wrong: list[Question] = [("no such method", {}), ("check", {}), ("check", {"rig": 3}), ("check", {"rig": {"format": "x", "schema": 99}})]
    return wrong + [("check", {"rig": rig, "changes": [{"address": a, "text": t} for a, t in change]}) for change in changes]


def kit() -> list[Question]:
    """Every lamp of the kit on every ballast it may have, and one supply after the other."""
    have = result("kit")
    questions = []
    for number, (lamp, ballast) in enumerate((one, ballast) for one in have["lamps"] for ballast in one["ballasts"] or [{"id": ""}]):
        supply = have["supplies"][number % len(have["supplies"])]["id"]
        added = native("add_lamp", {"rig": None, "lamp": lamp["id"], "ballast": ballast["id"], "supply": supply})
        if added["ok"]:
            questions.append(("check", {"rig": added["result"]["rig"], "load": added["result"]["load"]}))
    return questions


def exercises() -> list[Question]:
    questions: list[Question] = []
    for drill in result("drills"):
        for code in CODES:
            posed = result("drill", id=drill["id"], code=code)
            questions.append(("check", {name: posed[name] for name in ("rig", "load", "shot")}))
            common = {"id": posed["id"], "code": posed["code"], "answer": "1 V"}
            questions += [("mark", {**common, "question": q["id"], "reveal": True}) for q in posed["questions"]]
    return questions


@pytest.fixture(scope="module")
def shipped():
    """Asks the shipped Python one question."""
    build()
    with subprocess.Popen([node(), str(RUNNER)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdin and process.stdout
        asking, answering = process.stdin, process.stdout

        def ask(method: str, params: dict[str, Any]) -> Any:
            asking.write(json.dumps({"method": method, "params": params}) + "\n")
            asking.flush()
            return json.loads(answering.readline())

        yield ask
        asking.close()


def differences(a: Any, b: Any, where: str = "") -> list[str]:
    """Places at which two answers differ by more than the last digits of a float."""
    if isinstance(a, dict) and isinstance(b, dict) and a.keys() == b.keys():
        return [found for key in a for found in differences(a[key], b[key], f"{where}/{key}")]
    if isinstance(a, list) and isinstance(b, list) and len(a) == len(b):
        return [found for n, pair in enumerate(zip(a, b, strict=True)) for found in differences(*pair, f"{where}/{n}")]
    if isinstance(a, float) and isinstance(b, float) and isclose(a, b, rel_tol=1e-9, abs_tol=1e-9):
        return []
    if "/residuals/" in where and where.endswith(("/shown", "/shown_unit")):
        return []  # what is left of a solution that holds is the last digits, and so is its prefix
    return [] if a == b and type(a) is type(b) else [f"{where}: native {a!r}, shipped {b!r}"]


@pytest.mark.parametrize("group", [simple, refused, kit, exercises])
def test_the_shipped_python_gives_the_native_answers(shipped, group):
    questions = group()
    assert len(questions) > 5

    for method, params in questions:
        expected = native(method, params)
        assert not (expected.get("error") or {}).get("detail"), expected["error"]["detail"]
        assert not differences(expected, shipped(method, params)), (method, params)
