"""licences.txt: the notices of everything that the site carries."""

import zipfile
from pathlib import Path

from builder.files import BuildError, write
from toolchain import ROOT, WEB

OWN_WORDS = """\
Feed to Frame carries the following work of others, with thanks.

Pyodide (pyodide/*) is under the Mozilla Public License 2.0; its source is at https://github.com/pyodide/pyodide
CPython's standard library (core/python.zip) is under the Python Software Foundation licence, printed below under typing_extensions.
"""


def write_licences(site: Path, libraries: set[str], wheels: Path) -> None:
    """Gather the licence texts of the libraries, the fonts and the wheels of the page."""
    packages = {"/".join(name.split("/")[: 2 if name.startswith("@") else 1]) for name in libraries} - {"pyodide"}
    fonts = {f"@fontsource/{path.name}" for path in (WEB / "node_modules" / "@fontsource").iterdir()}
    parts = [OWN_WORDS, _section("Feed to Frame", (ROOT / "LICENSE").read_text("utf-8"))]
    for name in sorted(packages | fonts):
        parts.append(_section(name, (WEB / "node_modules" / name / "LICENSE").read_text("utf-8")))
    parts += [_section(wheel.name.split("-")[0], _of_wheel(wheel)) for wheel in sorted(wheels.glob("*.whl"))]
    write(site / "licences.txt", "\n".join(parts))


def _of_wheel(wheel: Path) -> str:
    with zipfile.ZipFile(wheel) as archive:
        for name in archive.namelist():
            if ".dist-info/" in name and name.endswith("/LICENSE"):
                return archive.read(name).decode("utf-8")
    raise BuildError(f"{wheel.name} has no licence text.")


def _section(name: str, text: str) -> str:
    return f"\n{'=' * 36}\n{name}\n{'=' * 36}\n\n{text.strip()}\n"
