"""The strike screen as a person finds it, and a rig to strike: eight 4 kW heads on a 60 kVA generator."""

import json
import re

from playwright.sync_api import Locator, Page, expect

from e2e.pages.app import START, go

PLANNED = 60_000  # ms that a cold calculator and the search may take together on a busy machine


def eight_on_sixty(power: str = "60 kVA") -> dict:
    """The rig file's document."""
    lines = ("L1-N", "L2-N", "L3-N")
    return {
        "format": "feed to frame rig", "schema": 1, "name": "Quarry, night", "rules": "iec",
        "supply": {"kind": "generator", "system": "three-phase wye", "voltage": "230 V", "frequency": "50 Hz", "rating": "80 A", "rated_power": power},
        "runs": {f"K{k}": {"fed_by": "supply", "size": "6 mm²"} for k in range(1, 9)},
        "boxes": {},
        "loads": {
            f"A{k}": {"name": "4 kW daylight", "kind": "arc lamp", "fed_by": f"K{k}", "connection": lines[(k - 1) % 3],
                      "lamp": {"rated_power": "4 kW"}, "ballast": {"kind": "electronic corrected"}, "head_cable": {}}
            for k in range(1, 9)
        },
        "shots": {}, "readings": [],
    }


class StrikePage:
    """The plan and the day."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.verdict = page.get_by_role("region", name="Verdict")
        self.order = page.get_by_role("region", name="Order of the strikes")
        self.trouble = page.locator(".day-trouble")

    def import_rig(self, document: dict) -> "StrikePage":
        go(self.page, "rigs")
        file = {"name": "quarry.json", "mimeType": "application/json", "buffer": json.dumps(document).encode()}
        self.page.get_by_label("Import a rig file").set_input_files([file])
        expect(self.page.get_by_text(document["name"]).first).to_be_visible(timeout=PLANNED)
        return self

    def open_plan(self) -> "StrikePage":
        go(self.page, "strike")
        expect(self.page.get_by_role("heading", name="Strike plan")).to_be_visible()
        return self

    def plan(self) -> "StrikePage":
        self.page.get_by_role("button", name="Plan the strikes").click()
        expect(self.verdict).to_be_visible(timeout=PLANNED)
        return self

    def open_entry(self, load: str) -> None:
        """One strike of the order, with its time and what holds it back."""
        self.order.locator(".strike-entry").filter(has=self.page.get_by_text(load, exact=True)).locator("summary").first.click()

    def open_day(self) -> "StrikePage":
        go(self.page, "strike/day")
        expect(self.page.get_by_role("heading", name="On the day")).to_be_visible(timeout=START)
        return self

    def row(self, load: str) -> Locator:
        return self.page.get_by_role("region", name=re.compile(f"^{load}, "))

    def press(self, load: str, what: str) -> None:
        self.row(load).get_by_role("button", name=f"{what} {load}").click()

    def shows(self, load: str, word: str, figure: str | re.Pattern[str] = "", timeout: float = START) -> None:
        expect(self.row(load).locator(".day-state")).to_have_text(word, timeout=timeout)
        if figure:
            expect(self.row(load).locator(".day-timer .figure")).to_have_text(figure)
