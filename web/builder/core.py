"""The Python that the page ships: pint and pycore, installed and compiled inside Pyodide under Node."""

import shutil
from pathlib import Path

from toolchain import CACHE, PYTHON, ROOT, WEB, fingerprint, node, run, unless_done, wheels

ARCHIVES = CACHE / "core"
WHEELS = CACHE / "wheels"
TARGET_PYTHON = "3.14"  # of Pyodide 314

SOURCES = (ROOT / "pycore", ROOT / "demo_scenarios", ROOT / "pyproject.toml", WEB / "requirements.txt")
TOOLS = (WEB / "bundle.mjs", WEB / "bundle_inside.py", WEB / "start_inside.py", WEB / "package-lock.json")


def core_archives() -> Path:
    """Make python.zip, libs.zip and core.zip, if a source of theirs has changed; return their folder."""
    wheels(WEB / "requirements.txt", WHEELS, TARGET_PYTHON)
    unless_done("Python for the page", fingerprint([*SOURCES, *TOOLS]), ARCHIVES, _make)
    return ARCHIVES


def _make() -> None:
    gathered = CACHE / "wheels-with-ours"
    shutil.rmtree(gathered, ignore_errors=True)
    shutil.copytree(WHEELS, gathered)
    run(PYTHON, "-m", "hatchling", "build", "-t", "wheel", "-d", gathered)
    shutil.rmtree(ARCHIVES, ignore_errors=True)
    run(node(), WEB / "bundle.mjs", gathered, ARCHIVES)
