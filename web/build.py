#!/usr/bin/env python3
"""Builds the static site into web/dist.  python3 web/build.py

Standard library only; it sets up what it needs.
"""

import shutil
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

from builder.core import WHEELS, core_archives  # noqa: E402
from builder.licences import write_licences  # noqa: E402
from builder.modules import check_links, copy_modules  # noqa: E402
from builder.offline import write_service_worker  # noqa: E402
from builder.page import copy_fonts, copy_parts, write_page  # noqa: E402
from toolchain import CACHE, ROOT, WEB, node_modules, python_packages  # noqa: E402

DIST = WEB / "dist"


def build() -> Path:
    """Set up, build the core's archives if its sources changed, and lay out web/dist; return it."""
    python_packages("packages that build the core", WEB / "build-requirements.txt")
    node_modules()
    lay_out(core_archives())
    return DIST


def lay_out(core: Path) -> None:
    """Lay the site out beside web/dist and swap it in when it is complete."""
    site = CACHE / "site"
    shutil.rmtree(site, ignore_errors=True)
    site.mkdir(parents=True)
    copy_parts(site, core)
    libraries = copy_modules(site)
    copy_fonts(site)
    write_licences(site, libraries, WHEELS)
    write_page(site)
    check_links(site)
    write_service_worker(site)
    shutil.rmtree(DIST, ignore_errors=True)
    site.rename(DIST)


if __name__ == "__main__":
    print(f"Built {build().relative_to(ROOT)}")
