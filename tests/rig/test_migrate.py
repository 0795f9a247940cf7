"""Old files become new ones; newer ones are refused."""

import json
from pathlib import Path

import pytest

from pycore.base.problem import Refused
from pycore.base.result import Origin
from pycore.rig import migrate
from pycore.rig.model import FORMAT, SCHEMA
from pycore.rig.read import load_document, read
from tests.rigs import rig

FILES = Path(__file__).parent.parent / "files"
FROZEN = sorted(FILES.glob("rig-schema-*.json"))


@pytest.mark.parametrize("file", FROZEN, ids=lambda f: f.stem)
def test_every_frozen_file_is_still_read(file):
    """A file of each schema ever saved reads without a problem, and nothing of it is lost."""
    reading = read(load_document(file.read_text("utf-8")))

    assert reading.problems == ()
    assert reading.document["schema"] == SCHEMA
    assert set(json.loads(file.read_text("utf-8"))) <= set(reading.document)


def test_there_is_a_frozen_file_for_every_schema():
    """Raising the schema takes a frozen file and a step for the one before."""
    assert [f.stem for f in FROZEN] == [f"rig-schema-{n}" for n in range(1, SCHEMA + 1)]
    assert set(migrate.STEPS) == set(range(1, SCHEMA))


def test_what_the_first_frozen_file_says():
    """Its entries mean what they meant when it was saved."""
    frozen = read(load_document((FILES / "rig-schema-1.json").read_text("utf-8"))).rig
    moon, wall = frozen.loads["A1"], frozen.loads["A2"]

    assert frozen.supply.voltage_measured.value == 233.5
    assert frozen.supply.impedance.value == pytest.approx(0.08)
    assert frozen.runs["K2"].length.value == pytest.approx(24.384)
    assert frozen.runs["K2"].size.value == pytest.approx(5.26e-6, rel=1e-3)
    assert frozen.runs["K2"].ambient.value == pytest.approx(303.15)
    assert (moon.lamp.rated_power.value, moon.dim.value, moon.ballast.efficiency.origin) == (4000, 0.75, Origin.NAMEPLATE)
    assert (wall.connection, wall.ballast.kind, wall.dim) == ("L2-N", "magnetic", None)
    assert {i: t.value for i, t in frozen.shots["S1"].lit_by.items()} == pytest.approx({"A1": 0.7, "A2": 0.3})


@pytest.mark.parametrize(("document", "code"), [
    (rig() | {"schema": SCHEMA + 1}, "file-too-new"), (rig() | {"schema": 10**9}, "file-too-new"),
    (rig() | {"schema": "1"}, "schema-unknown"), (rig() | {"schema": True}, "schema-unknown"), (rig() | {"schema": 0}, "schema-unknown"), (rig() | {"schema": 1.0}, "schema-unknown"),
    ({"format": FORMAT}, "schema-unknown"), ({"format": "another", "schema": 1}, "not-a-rig"), ([], "not-a-rig"), (None, "not-a-rig"), ("rig", "not-a-rig"),
])  # fmt: skip
def test_what_is_refused_whole(document, code):
    """A newer schema, no schema, or another format: refused with a way out, not guessed at."""
    with pytest.raises(Refused) as caught:
        migrate.newest(document)

    problem = caught.value.problems[0]
    assert problem.code == code and problem.way_out


def test_a_newer_file_names_both_schemas():
    """The refusal says which schema the file has and up to which this one reads."""
    with pytest.raises(Refused, match=rf"schema {SCHEMA + 1}.*up to {SCHEMA}"):
        migrate.newest(rig() | {"schema": SCHEMA + 1})


def test_steps_follow_one_another(monkeypatch):
    """From the file's schema on, each step runs once and in turn; the document given stays as it was."""
    monkeypatch.setattr(migrate, "SCHEMA", 3)
    monkeypatch.setattr(migrate, "STEPS", {1: lambda d: {**d, "trace": "one"}, 2: lambda d: {**d, "trace": d.get("trace", "") + " two"}})
    old = {"format": FORMAT, "schema": 1}

    assert migrate.newest(old) == {"format": FORMAT, "schema": 3, "trace": "one two"}
    assert migrate.newest(old | {"schema": 2})["trace"] == " two"
    assert old == {"format": FORMAT, "schema": 1}
