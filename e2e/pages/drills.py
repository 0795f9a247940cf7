"""The drills as a person finds them."""

import re

from playwright.sync_api import Locator, Page, expect

from e2e.pages.app import go


class DrillPage:
    """One drill with its questions."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.code = page.get_by_label("Code of these numbers")
        self.facts = page.get_by_role("region", name="The rig")

    def open(self, title: str) -> "DrillPage":
        go(self.page, "drills")
        self.page.get_by_role("link", name=re.compile(title)).click()
        expect(self.facts).to_be_visible()
        return self

    def question(self, number: int) -> Locator:
        return self.page.get_by_role("region", name=f"Question {number}")

    def answer(self, number: int, text: str) -> None:
        question = self.question(number)
        question.get_by_label("Your answer").fill(text)
        question.get_by_role("button", name="Mark it").click()

    def says(self, number: int, text: str | re.Pattern[str]) -> None:
        expect(self.question(number).get_by_role("status")).to_contain_text(text)
