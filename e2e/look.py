#!/usr/bin/env python3
"""Takes a picture of every screen in every theme and width, to be looked at.  .venv/bin/python e2e/look.py [FOLDER]

The pictures land in .cache/look unless a folder is named.
"""

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "web")]

from playwright.sync_api import Page, sync_playwright  # noqa: E402

from build import build  # noqa: E402
from e2e.conftest import Server  # noqa: E402
from e2e.pages.screens import SCREENS, THEMES, wear  # noqa: E402
from toolchain import chromium  # noqa: E402

LOOKED_AT = (360, 820, 1280)
TALLEST = 4000


def main() -> None:
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else ROOT / ".cache" / "look"
    folder.mkdir(parents=True, exist_ok=True)
    server = Server(build())
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=chromium(), args=["--no-sandbox"])
            for theme in THEMES:
                page = browser.new_page(base_url=server.url, service_workers="block")
                wear(page, theme)
                walk(page, folder, theme)
                page.close()
    finally:
        server.stop()
    print(f"Pictures are in {folder}")


def walk(page: Page, folder: Path, theme: str) -> None:
    for name, reach in SCREENS.items():
        page.set_viewport_size({"width": LOOKED_AT[0], "height": 800})
        reach(page)
        for width in LOOKED_AT:
            photograph(page, folder / f"{name}-{theme}-{width}.png", width)


def photograph(page: Page, file: Path, width: int) -> None:
    """The window is made as tall as the page: bars at its edges then lie where they belong, not across the picture."""
    page.set_viewport_size({"width": width, "height": 800})
    tall = page.evaluate("() => document.documentElement.scrollHeight")
    page.set_viewport_size({"width": width, "height": min(max(tall, 800), TALLEST)})
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    page.screenshot(path=file)


if __name__ == "__main__":
    main()
