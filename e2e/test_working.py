"""Every number opens to its working: formula, numbers, units, origin and source."""

import re

import pytest
from playwright.sync_api import expect

from e2e.pages.rig import RigPage

pytestmark = pytest.mark.shared_page

LINKS = ("Supply", "Track run", "Ballast", "Head cable", "Lamp", "Shutter")


@pytest.fixture
def rig(page) -> RigPage:
    return RigPage(page).open_demo()


def working(rig: RigPage, title: str):
    """The first working of a link, opened."""
    panel = rig.open(title)
    summary = panel.get_by_text("Show working").first
    summary.click()
    return panel.locator("details.working").first


@pytest.mark.parametrize("title", LINKS)
def test_each_figure_opens_to_mathml_with_symbols_and_with_numbers(rig, title):
    steps = working(rig, title).get_by_role("listitem")

    expect(steps.first).to_be_visible()
    for step in steps.all():
        if step.locator("details").get_attribute("open") is None:
            step.locator("summary").click()
        expect(step.get_by_role("group", name=re.compile("with symbols$")).locator("math").first).to_be_visible()
        expect(step.get_by_role("group", name=re.compile("with numbers$")).locator("math mn").first).to_be_visible()
        expect(step.get_by_role("table")).to_be_visible()


def test_the_mathml_is_real(rig):
    math = working(rig, "Track run").get_by_role("group", name=re.compile("with numbers$")).last.locator("math").first

    assert math.evaluate("(element) => element.namespaceURI") == "http://www.w3.org/1998/Math/MathML"
    assert math.bounding_box()["height"] > 10


def test_terms_have_unit_origin_and_citation(rig):
    steps = working(rig, "Track run")
    steps.get_by_text("Resistance of the conductor at its temperature").first.click()
    table = steps.get_by_role("table").first

    tabled = table.get_by_role("row", name=re.compile("tabled resistance"))
    expect(tabled).to_contain_text("Ω/km")
    expect(tabled).to_contain_text("published")
    expect(tabled).to_contain_text("IEC 60228")


def test_an_estimate_looks_like_one(rig):
    panel = rig.open("Track run")
    panel.get_by_text(re.compile(r"Leans on \d+ estimates")).first.click()

    chip = panel.get_by_role("listitem").filter(has_text="Air around the cable").get_by_text(re.compile(r"^assumed 30"))
    expect(chip).to_be_visible()
    assert chip.evaluate("(element) => getComputedStyle(element).borderTopStyle") == "dashed"


def test_a_solver_shows_what_it_solved_and_what_is_left_over(rig):
    steps = working(rig, "Track run")

    expect(steps.get_by_role("heading", name="Solved together")).to_be_visible()
    expect(steps.get_by_text("What is left over")).not_to_have_count(0)


def test_demand_and_limit_stand_side_by_side(rig):
    panel = rig.open("Track run")

    expect(panel.get_by_role("definition").first).to_be_visible()
    expect(panel.get_by_text("At most").first).to_be_visible()
    expect(panel.get_by_text("That is").first).to_be_visible()
    expect(panel.get_by_text(re.compile(r"^\d[.\d]* times the limit$")).first).to_be_visible()


def test_a_clear_answer_is_a_line_until_it_is_opened(rig):
    panel = rig.open("Ballast")
    folded = panel.locator("details.folded-answer").first

    expect(folded.locator("summary").first).to_contain_text("Clear")
    expect(folded.locator(".says")).to_be_hidden()
    folded.locator("summary").first.click()
    expect(folded.locator(".says")).to_be_visible()


@pytest.mark.parametrize("width", [820, 1280])
def test_a_wide_screen_shows_the_open_link_beside_the_chain(rig, width):
    rig.page.set_viewport_size({"width": width, "height": 900})

    panel = rig.panel("Track run")  # the worst link is open by itself
    expect(panel).to_be_visible()
    assert panel.bounding_box()["x"] > rig.link("Supply").bounding_box()["x"] + rig.link("Supply").bounding_box()["width"]
    rig.link("Ballast").click()
    expect(rig.panel("Ballast")).to_be_visible()
    expect(panel).to_have_count(0)
