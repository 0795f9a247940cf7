"""Text that cannot be used is kept, said beside its field, and never turns into a pass."""

import re

import pytest
from playwright.sync_api import expect

from e2e.pages.rig import RigPage

pytestmark = pytest.mark.shared_page


@pytest.fixture
def rig(page) -> RigPage:
    rig = RigPage(page).open_demo()
    rig.open("Track run")
    return rig


def problem(rig: RigPage):
    return rig.panel("Track run").get_by_text("Problem:")


def test_the_text_is_kept_and_the_problem_stands_beside_it(rig):
    rig.enter("Track run", "Length", "sixty")

    field = rig.field("Track run", "Length")
    expect(field).to_have_value("sixty")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_accessible_description("Problem: “sixty” is not a number. Write a number with its unit, such as 12.5 m.")


def test_the_previous_figure_is_dimmed_and_said_to_be_old(rig):
    figure = re.search(r"\d{3}\.\d", rig.link("Track run").inner_text())[0]
    ink = colour(rig)

    rig.enter("Track run", "Length", "sixty")

    link = rig.link("Track run")
    expect(link).to_contain_text("for the previous value")
    expect(link).to_contain_text("Unknown")
    expect(link).not_to_contain_text("Clear")
    rig.shows("Track run", figure)
    expect(rig.page.locator(".figure").nth(1)).not_to_have_css("color", ink)  # it pales a moment later, so that quick answers do not flicker


def colour(rig) -> str:
    return rig.page.evaluate("() => getComputedStyle(document.querySelectorAll('.figure')[1]).color")


def test_nothing_downstream_reads_as_a_pass(rig):
    rig.enter("Track run", "Length", "sixty")
    expect(problem(rig)).to_be_visible()

    expect(rig.verdict).to_contain_text("Unknown")
    for title in ("Ballast", "Head cable", "Lamp", "Shutter"):
        expect(rig.link(title)).to_contain_text("Unknown")


def test_nobody_is_corrected_while_typing(rig):
    field = rig.field("Track run", "Length")
    field.press("Control+a")
    field.press_sequentially("s")
    expect(rig.link("Track run")).to_contain_text("for the previous value")

    expect(problem(rig)).to_have_count(0)
    field.blur()
    expect(problem(rig)).to_be_visible()


def test_the_summary_leads_to_the_field(rig):
    rig.enter("Track run", "Length", "sixty")
    rig.link("Track run").click()  # closes it
    expect(rig.panel("Track run")).to_have_count(0)

    rig.page.get_by_role("list", name="Problems").first.get_by_role("button").click()

    expect(rig.field("Track run", "Length")).to_be_focused()


def test_a_good_number_clears_it(rig):
    rig.enter("Track run", "Length", "sixty")
    expect(problem(rig)).to_be_visible()

    rig.enter("Track run", "Length", "60")

    expect(problem(rig)).to_have_count(0)
    expect(rig.link("Track run")).not_to_contain_text("for the previous value")
    expect(rig.link("Track run")).to_contain_text("Tight")
