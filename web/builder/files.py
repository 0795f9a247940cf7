"""Copying and writing files of the site."""

import shutil
from pathlib import Path


class BuildError(SystemExit):
    """Ends the build with what is wrong in which file."""


def copy(source: Path, target: Path) -> None:
    """Copy a file, making the folder it goes into."""
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(source, target)


def write(target: Path, text: str) -> None:
    """Write text, making the folder it goes into."""
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(text, "utf-8")
