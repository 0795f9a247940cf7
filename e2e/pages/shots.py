"""The shots screen as a person finds it: the list, one shot, a recording, the arc's log, exposure."""

import re

from playwright.sync_api import Locator, Page, expect

from e2e.pages.app import START, go


class ShotsPage:
    """The day's list and the shot that is open."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.list = page.get_by_role("region", name="Shot list")
        self.shot = page.get_by_role("region", name="The shot")
        self.advice = page.get_by_role("list", name="What to do about it")
        self.undo = page.get_by_role("button", name="Undo")

    def open(self) -> "ShotsPage":
        self.page.get_by_role("link", name="Shots", exact=True).click()
        expect(self.list).to_be_visible(timeout=START)
        return self

    def go(self, *place: str) -> "ShotsPage":
        """Straight to a place of the screen."""
        go(self.page, "/".join(("shots", *place)))
        return self

    def card(self, name: str) -> Locator:
        """A shot of the list on a phone."""
        return self.list.get_by_role("list", name="Shots").get_by_role("link", name=re.compile(name))

    def says(self, text: str | re.Pattern[str]) -> None:
        """The verdict on the open shot."""
        expect(self.shot.get_by_role("status").first).to_contain_text(text, timeout=START)

    def field(self, label: str) -> Locator:
        return self.page.get_by_role("textbox", name=re.compile(f"^{label}"))

    def enter(self, label: str, text: str) -> None:
        """Type into a field and leave it."""
        self.field(label).first.fill(text)
        self.field(label).first.press("Enter")

    def lamp(self, name: str) -> Locator:
        """A lamp of the open shot."""
        return self.shot.get_by_role("navigation", name="Lamps on this shot").get_by_role("link", name=re.compile(name))

    def plot(self, title: str) -> Locator:
        return self.page.get_by_role("figure").filter(has=self.page.get_by_role("heading", name=title, exact=True))

    def fold_out(self, summary: str) -> None:
        """Open every fold with these words that can be seen."""
        closed = self.page.locator("details:not([open]) > summary:visible").filter(has_text=summary)
        while closed.count():
            closed.first.click()


class RecordingPage:
    """A recording of light, read and kept."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.answer = page.get_by_role("region", name="What the recording says")
        self.camera = page.get_by_role("region", name="For the camera")
        self.people = page.get_by_role("region", name="For people")
        self.keep = page.get_by_role("button", name="Keep it as this lamp's light")

    def open(self) -> "RecordingPage":
        self.page.get_by_role("link", name="Read a recording", exact=False).first.click()
        expect(self.page.get_by_role("heading", name="Read a recording")).to_be_visible()
        return self

    def choose(self, name: str, text: str) -> None:
        """Pick a file."""
        self.page.get_by_label("Choose a file").set_input_files({"name": name, "mimeType": "text/csv", "buffer": text.encode()})

    def paste(self, text: str) -> None:
        self.page.get_by_label("Or paste the numbers").fill(text)
        self.page.get_by_role("button", name="Read it").click()

    def figure(self, name: str) -> Locator:
        """One reading by its name."""
        return self.answer.locator("dl > div").filter(has_text=re.compile(f"^{name}"))
