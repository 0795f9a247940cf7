"""The whole rig as its users find things on it."""

import re
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

from e2e.pages.app import START, go


class WholePage:
    """The screen with lines, tree, balancing and rig faults."""

    def __init__(self, page: Page):
        self.page = page
        self.tree = page.get_by_role("region", name="The rig as a tree")
        self.lines = page.get_by_role("region", name="Load of each line")
        self.balance = page.get_by_role("region", name="Balance the lines")
        self.what_if = page.get_by_role("region", name="What if")

    def bring(self, file: Path) -> None:
        """Open a rig file and go to the whole rig."""
        go(self.page, "rigs")
        self.page.locator("input[type=file]").first.set_input_files(file)
        expect(self.page.get_by_role("region", name="Verdict")).to_be_visible(timeout=START)
        self.page.get_by_role("link", name="Whole rig").click()
        expect(self.lines).to_be_visible(timeout=START)

    def place(self, name: str) -> Locator:
        """The row of a place."""
        return self.tree.get_by_role("button", name=re.compile(rf"^(Clear|Tight|Stop|Unknown): *{name}"))

    def choose(self, name: str) -> None:
        """Open what can be done with a place, unless it is open."""
        if self.place(name).get_attribute("aria-expanded") != "true":
            self.place(name).click()

    def meter_here(self) -> Locator:
        """Open what a meter shows at the place that is open; the table."""
        self.tree.get_by_text("What a meter shows here").click()
        table = self.tree.get_by_role("table", name="What a meter shows at")
        expect(table).to_be_visible(timeout=START)
        return table

    def line(self, name: str) -> Locator:
        """The row of a line of the supply."""
        return self.lines.get_by_role("listitem").filter(has=self.page.get_by_text(name, exact=True))
