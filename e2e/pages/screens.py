"""Every screen of the app and how to get there, for the tests that look at all of them."""

import re
from collections.abc import Callable
from math import pi, sin
from pathlib import Path

from playwright.sync_api import Page, expect

from e2e.pages.app import START, go
from e2e.pages.rig import RigPage
from e2e.pages.shots import RecordingPage, ShotsPage
from e2e.pages.strike import StrikePage, eight_on_sixty
from e2e.pages.whole import WholePage

BRICKWORKS = Path(__file__).parents[1] / "rigs" / "brickworks.json"
THEMES = ("day", "sun", "dark")
WIDTHS = (320, 360, 820, 1280)


def wear(page: Page, theme: str, gloves: bool = False) -> None:
    """Choose the look before the page starts."""
    kept = f'{{"theme": "{theme}", "gloves": {str(gloves).lower()}}}'
    page.add_init_script(f"localStorage.setItem('feed-to-frame:settings', '{kept}')")


def empty(page: Page) -> None:
    go(page)
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
    go(page, "rigs")
    page.get_by_role("button", name="Open the demo rig").click()
    RigPage(page).settled()


def open_link(page: Page) -> None:
    panel = RigPage(page).open("Track run")
    for summary in (panel.get_by_text("More fields"), panel.get_by_text("Show working"), panel.get_by_text("Leans on")):
        if summary.first.locator("..").get_attribute("open") is None:
            summary.first.click()
    panel.evaluate("(element) => element.querySelectorAll('.step').forEach((step) => { step.open = true; })")


def bad_input(page: Page) -> None:
    rig = RigPage(page)
    rig.enter("Track run", "Length", "sixty")
    expect(page.get_by_text("for the previous value").first).to_be_visible()


def rigs(page: Page) -> None:
    go(page, "rigs")
    page.get_by_text("Rename, copy, export, delete").first.click()


def drills(page: Page) -> None:
    go(page, "drills")
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
    go(page, "more")
    expect(page.get_by_role("heading", name="About")).to_be_visible()


def sources(page: Page) -> None:
    page.get_by_role("link", name="Where the figures come from").click()
    expect(page.get_by_role("heading", name=re.compile("IEC 60228"))).to_be_visible()


def licences(page: Page) -> None:
    go(page, "more")
    page.get_by_role("link", name="Licences").click()
    expect(page.get_by_text("Mozilla Public License")).to_be_visible()


def shots(page: Page) -> None:
    go(page, "shots")
    expect(ShotsPage(page).list).to_be_visible(timeout=START)


def shot(page: Page) -> None:
    screen = ShotsPage(page).go("shot", "S1")
    screen.enter("Frame rate", "500")
    screen.says("Stop")
    expect(page.get_by_role("region", name="How fast may it be filmed?").get_by_role("figure")).to_be_visible()
    for words in ("Which lamps light it", "More fields", "Show the numbers", "Leans on", "Show working"):
        screen.fold_out(words)


def recording(page: Page) -> None:
    ShotsPage(page).go("recording")
    rows = [f"{i / 5000:.4f};{1 + 0.3 * sin(200 * pi * i / 5000):.4f}" for i in range(1000)]
    RecordingPage(page).paste("\n".join(["s;level", *rows[:300], "0.06;dark", *rows[300:]]))
    expect(RecordingPage(page).people).to_be_visible()


def sweep(page: Page) -> None:
    ShotsPage(page).go("sweep")
    for frequency, seen in (("900", "Quiet"), ("950", "Quiet"), ("1000", "Hums")):
        page.get_by_label("The ballast is set to").fill(frequency)
        page.get_by_role("button", name=seen, exact=True).click()
        expect(page.get_by_text(f"Logged {frequency} Hz").first).to_be_visible()
    expect(page.get_by_role("region", name="Quiet windows")).to_be_visible()


def exposure(page: Page) -> None:
    ShotsPage(page).go("exposure")
    expect(page.get_by_role("heading", name="Is there light enough?")).to_be_visible()


def shot_sheet(page: Page) -> None:
    ShotsPage(page).go("sheet")
    expect(page.get_by_role("heading", name="What is estimated")).to_be_visible(timeout=START)


def strike_plan(page: Page) -> None:
    strike = StrikePage(page).import_rig(eight_on_sixty()).open_plan().plan()
    strike.order.get_by_text("A2", exact=True).click()
    expect(page.get_by_role("heading", name="The supply over time")).to_be_visible(timeout=START)


def strike_day(page: Page) -> None:
    strike = StrikePage(page).open_day()
    strike.press("A1", "Struck")
    strike.shows("A1", "Running up")
    strike.press("A2", "Found hot")
    strike.shows("A2", "Hot")
    strike.row("A2").get_by_role("button", name="What to do now").click()
    expect(page.get_by_role("group", name="What to do while A2 is out")).to_be_visible(timeout=START)


def strike_dim(page: Page) -> None:
    go(page, "strike/dim")
    page.get_by_text("Dim A1", exact=True).click()
    expect(page.get_by_role("button", name="Set this dim")).to_be_visible(timeout=START)


# In the order of one walk through the app: each starts where the one before it ended.
def whole(page: Page) -> None:
    """The brickworks: three lines, a feeder, boxes and ten lamps."""
    WholePage(page).bring(BRICKWORKS)


def whole_place(page: Page) -> None:
    WholePage(page).choose("Head 1")


def whole_meter(page: Page) -> None:
    """What a meter shows at a box: four conductors side by side."""
    whole = WholePage(page)
    whole.place("Yard box").click()
    whole.meter_here()


SCREENS: dict[str, Callable[[Page], None]] = {
    f.__name__: f
    for f in (empty, which_lamp, which_ballast, which_supply, new_lamp, demo, open_link, bad_input, rigs, drills, drill, drill_answered, more, sources, licences, shots, shot, recording, sweep, exposure, shot_sheet, strike_plan, strike_day, strike_dim, whole, whole_place, whole_meter)
}
