"""Data files of the core: TOML as people write it, or what was read from it when the page's archive was made.

A phone would spend longer on reading the tables than on the chain. So the archive carries `made.json`, which holds the
content of every data file by its name; natively there is none, and each file is read when it is first asked for.
"""

import json
from functools import cache
from pkgutil import get_data
from typing import Any

FOLDERS = ("pycore/data", "pycore/data/tables", "demo_scenarios")
MADE = "made.json"
Content = dict[str, Any]


def content(name: str) -> Content:
    """What a file holds, by its name from the top: "pycore/data/typical.toml"."""
    made = _made()
    return made["files"][name] if made else _read(name)


def contents(folder: str) -> dict[str, Content]:
    """What every file of a folder holds, by its name without the ending, in the order of their names."""
    made = _made()
    names = made["files"] if made else _names(folder)
    return {n.rpartition("/")[2].removesuffix(".toml"): content(n) for n in sorted(names) if n.rpartition("/")[0] == folder}


def made_units() -> Content:
    """What pint said of every unit when the page's archive was made; nothing natively, where pint is asked."""
    return _made().get("units", {})


def make(units: Content) -> str:
    """The text of `made.json`."""
    names = [name for folder in FOLDERS for name in _names(folder)]
    return json.dumps({"units": units, "files": {n: _read(n) for n in names}}, ensure_ascii=False, separators=(",", ":"))


@cache
def _made() -> Content:
    try:
        return json.loads(get_data("pycore.data", MADE) or b"{}")
    except OSError:
        return {}


# ---- from the files themselves; what only this needs is imported only here ---------------------


def _names(folder: str) -> list[str]:
    from pathlib import Path

    return sorted(f"{folder}/{f.name}" for f in (Path(__file__).parents[2] / folder).glob("*.toml"))


def _read(name: str) -> Content:
    import tomllib
    from pathlib import Path

    return tomllib.loads((Path(__file__).parents[2] / name).read_text("utf-8"))
