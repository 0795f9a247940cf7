"""Every screen of the app and how to get there, for the tests that look at all of them."""

import re
from collections.abc import Callable

from playwright.sync_api import Page, expect

from e2e.pages.rig import START, RigPage

THEMES = ("day", "sun", "dark")
WIDTHS = (320, 360, 820, 1280)


def wear(page: Page, theme: str, gloves: bool = False) -> None:
    """Choose the look before the page starts."""
    kept = f'{{"theme": "{theme}", "gloves": {str(gloves).lower()}}}'
    page.add_init_script(f"localStorage.setItem('feed-to-frame:settings', '{kept}')")


def _go(page: Page, place: str) -> None:
    page.evaluate("(place) => { location.hash = place; }", place)


def empty(page: Page) -> None:
    page.goto("")
    expect(page.get_by_role("button", name="Open the demo rig")).to_be_visible()
    expect(page.get_by_text("Calculator: ready")).to_be_visible(timeout=START)


def which_lamp(page: Page) -> None:
    page.get_by_role("button", name="Add a lamp").click()
    expect(page.get_by_role("heading", name="Which lamp?")).to_be_visible()


def which_ballast(page: Page) -> None:
    page.get_by_role("button", name="4 kW daylight").click()
    expect(page.get_by_role("heading", name="Which ballast?")).to_be_visible()


def which_supply(page: Page) -> None:
    page.get_by_role("button", name="Electronic, corrected").click()
    expect(page.get_by_role("heading", name="What feeds it?")).to_be_visible()


def new_lamp(page: Page) -> None:
    page.get_by_role("button", name="House socket, 230").click()
    RigPage(page).settled()


def demo(page: Page) -> None:
    _go(page, "rigs")
    page.get_by_role("button", name="Open the demo rig").click()
    RigPage(page).settled()


def open_link(page: Page) -> None:
    panel = RigPage(page).open("Track run")
    for summary in (panel.get_by_text("More fields"), panel.get_by_text("Show working"), panel.get_by_text("Leans on")):
        if summary.first.locator("..").get_attribute("open") is None:
            summary.first.click()


def bad_input(page: Page) -> None:
    rig = RigPage(page)
    rig.enter("Track run", "Length", "sixty")
    expect(page.get_by_text("for the previous value").first).to_be_visible()


def rigs(page: Page) -> None:
    _go(page, "rigs")
    page.get_by_text("Rename, copy, export, delete").first.click()


def drills(page: Page) -> None:
    _go(page, "drills")
    expect(page.get_by_role("link", name=re.compile("Across the salt pan"))).to_be_visible()


def drill(page: Page) -> None:
    page.get_by_role("link", name=re.compile("Across the salt pan")).click()
    expect(page.get_by_role("region", name="The rig")).to_be_visible()


def drill_answered(page: Page) -> None:
    for number in range(1, 1 + page.get_by_role("button", name="Mark it").count()):
        question = page.get_by_role("region", name=f"Question {number}")
        question.get_by_role("button", name="Show a hint").click()
        question.get_by_role("button", name="Show the answer and its working").click()
        expect(question.get_by_text("The core gets")).to_be_visible()


def more(page: Page) -> None:
    _go(page, "more")
    expect(page.get_by_role("heading", name="About")).to_be_visible()


def sources(page: Page) -> None:
    page.get_by_role("link", name="Where the figures come from").click()
    expect(page.get_by_role("heading", name=re.compile("IEC 60228"))).to_be_visible()


# In the order of one walk through the app: each starts where the one before it ended.
SCREENS: dict[str, Callable[[Page], None]] = {
    f.__name__: f
    for f in (empty, which_lamp, which_ballast, which_supply, new_lamp, demo, open_link, bad_input, rigs, drills, drill, drill_answered, more, sources)
}
