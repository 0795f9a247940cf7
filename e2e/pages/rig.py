"""The rig screen as a person finds it: by role, name and label."""

import re

from playwright.sync_api import Locator, Page, expect

from e2e.pages.app import START, go


class RigPage:
    """One lamp's chain, its links and their fields."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.chain = page.get_by_role("list", name="Chain from supply to shutter")
        self.verdict = page.get_by_role("region", name="Verdict")
        self.undo = page.get_by_role("button", name="Undo")
        self.redo = page.get_by_role("button", name="Redo")

    def open_demo(self) -> "RigPage":
        go(self.page)
        self.page.get_by_role("button", name="Open the demo rig").click()
        self.settled()
        return self

    def add_lamp(self, lamp: str = "4 kW daylight", ballast: str = "Electronic, corrected", supply: str = "Industrial socket, 230") -> "RigPage":
        """From the empty app to a rig of one lamp, by four taps."""
        go(self.page)
        self.choose_lamp(lamp, ballast)
        self.page.get_by_role("button", name=supply).tap()
        self.settled()
        return self

    def choose_lamp(self, lamp: str, ballast: str = "") -> None:
        """The first taps of a new lamp; a lamp that has one way to run is not asked for its ballast."""
        self.page.get_by_role("button", name="Add a lamp").tap()
        self.page.get_by_role("button", name=lamp).tap(timeout=START)
        if ballast:
            self.page.get_by_role("button", name=ballast).tap()

    def settled(self) -> None:
        """The calculator has answered and the rig is written down."""
        expect(self.chain).to_be_visible(timeout=START)
        expect(self.page.get_by_text("Calculator: ready")).to_be_visible(timeout=START)
        expect(self.page.get_by_text(re.compile(r"Saved \d\d:\d\d"))).to_be_visible()

    def link(self, title: str) -> Locator:
        """The row of a link, a button that opens it; its text has verdict, figure and caption."""
        return self.chain.get_by_role("button", name=re.compile(f"^{title}"))

    def shows(self, title: str, figure: str) -> None:
        """The link's one figure."""
        expect(self.link(title)).to_have_text(re.compile(rf"(?<![\d.]){re.escape(figure)}(?![\d.])"))

    def open(self, title: str) -> Locator:
        """Open a link unless it is open; its fields and working."""
        if self.link(title).get_attribute("aria-expanded") != "true":
            self.link(title).click()
        return self.panel(title)

    def panel(self, title: str) -> Locator:
        return self.page.get_by_role("region", name=f"{title}, fields and working")

    def field(self, title: str, label: str) -> Locator:
        """A field of an open link."""
        return self.open(title).get_by_role("textbox", name=re.compile(f"^{label}"))

    def unit(self, title: str, label: str, unit: str) -> Locator:
        return self.open(title).get_by_role("group", name=f"Unit of {label}").get_by_role("button", name=unit, exact=True)

    def enter(self, title: str, label: str, text: str) -> None:
        """Type into a field and leave it."""
        field = self.field(title, label)
        field.fill(text)
        field.press("Enter")


def figure_of(answer: dict, link_id: str) -> str:
    """The figure that the core itself answers for a link."""
    return next(link for link in answer["chain"]["links"] if link["id"] == link_id)["figure"]["quantity"]["shown"]
