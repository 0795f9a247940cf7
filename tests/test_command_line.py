"""The command line answers as the door does."""

import io
import json
import subprocess
import sys
from pathlib import Path

import pytest

from pycore.__main__ import main
from pycore.api import door
from tests.rigs import PLAIN, rig

ROOT = Path(__file__).parent.parent


@pytest.fixture
def run(monkeypatch, capsys):
    """Runs the command with a text on its standard input; gives exit code, output and complaints."""

    def command(*arguments, text=""):
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode()), encoding="utf-8"))
        try:
            code = main(list(arguments))
        except SystemExit as ended:
            code = ended.code
        return code, *capsys.readouterr()

    return command


def checked():
    """What the door answers for the plain rig."""
    return json.loads(door.handle(json.dumps({"method": "check", "params": {"rig": PLAIN, "load": "A1"}})))["result"]


def test_call_prints_what_the_page_gets():
    """`python -m pycore call` prints the door's answer byte for byte, and ends with 0."""
    request = {"rig": PLAIN}
    done = subprocess.run([sys.executable, "-m", "pycore", "call", "check"], cwd=ROOT, input=json.dumps(request), capture_output=True, encoding="utf-8")

    assert done.stdout == door.handle(json.dumps({"method": "check", "params": request})) + "\n"
    assert (done.returncode, done.stderr) == (0, "")


def test_describe(run):
    """`describe` prints every method as the door tells them."""
    assert run("describe") == (0, door.handle('{"method": "describe"}') + "\n", "")


@pytest.mark.parametrize(("arguments", "text", "code"), [
    (("call", "demo"), "", 0), (("call", "nothing"), "{}", 1), (("call", "drill"), '{"id": "x"}', 1), (("call", "demo"), "{", 2), (("call", "demo"), "[1]", 1), (("call", "check"), '{"rig": []}', 1),
    (("call", "demo"), "[" * 100_000, 2), ((), "", 2), (("dance",), "", 2), (("check", "/no/such/file.json"), "", 2), (("check", str(ROOT / "web/icons/icon-192.png")), "", 2), (("check", "-"), "{", 1),
    (("check", "-"), json.dumps(PLAIN), 0), (("check", "-", "--json"), json.dumps(PLAIN), 0), (("check", "-", "--lamp", "A1", "--shot", "S1"), json.dumps(PLAIN), 0),
    (("check", "-", "--lamp", "A9"), json.dumps(PLAIN), 2), (("check", "-", "--shot", "S9"), json.dumps(PLAIN), 2), (("check", "-"), json.dumps(rig() | {"loads": [1]}), 0),
    (("check", "-"), json.dumps(rig() | {"schema": 99}), 1),
])  # fmt: skip
def test_exit_codes(run, arguments, text, code):
    """0 when an answer came, 1 when it was refused, 2 for a wrong command; a refusal is said, and nothing is raised."""
    ended, out, complaints = run(*arguments, text=text)

    assert ended == code
    assert code == 0 or complaints or not json.loads(out)["ok"]


def test_check_prints_what_the_answer_says(run):
    """Headline, every link and finding, and the problems with their addresses."""
    told = checked()["chain"]
    _, printed, _ = run("check", "-", text=json.dumps(rig({"runs/K1/colour": "red"})))

    assert told["headline"] in printed
    assert all(x["title"] in printed and f["says"] in printed for x in told["links"] for f in x["findings"])
    assert "runs/K1/colour" in printed


def test_check_as_json_is_the_whole_answer(run):
    """`--json` prints for each lamp what `check` answers."""
    assert json.loads(run("check", "-", "--json", text=json.dumps(PLAIN))[1]) == [checked()]
