"""A person who has never seen the app reaches a true answer about one lamp in at most four taps."""

import re

import pytest
from playwright.sync_api import expect

from e2e.pages.app import go
from e2e.pages.rig import RigPage, figure_of

MOST_TAPS = 4

COUNT_TAPS = "addEventListener('click', (event) => { if (event.isTrusted) window.taps = (window.taps ?? 0) + 1; }, true);"


def test_cold_start_to_an_answer_in_four_taps(page, platform):
    page.add_init_script(COUNT_TAPS)

    rig = RigPage(page).add_lamp()

    assert page.evaluate("() => window.taps") <= MOST_TAPS
    added = platform.call("add_lamp", {"rig": None, "lamp": "arc-4000", "ballast": "electronic corrected", "supply": supply_id(platform)})
    answer = platform.call("check", {"rig": added["rig"], "load": added["load"]})
    run = next(link for link in answer["chain"]["links"] if link["kind"] == "run")
    rig.shows(run["title"], figure_of(answer, run["id"]))


def supply_id(platform) -> str:
    return next(s["id"] for s in platform.call("kit")["supplies"] if s["label"].startswith("Industrial socket, 230"))


@pytest.mark.shared_page
def test_what_was_not_entered_looks_like_an_estimate(page):
    rig = RigPage(page).add_lamp()

    expect(rig.link("Run")).to_contain_text(re.compile("(assumed|typical) .*length"))
    length = rig.field("Run", "Length")
    expect(length).to_have_value("")
    assert length.get_attribute("placeholder") is None
    expect(length).to_have_accessible_description(re.compile(r"Not given. Counting with (assumed|typical) 25\sm"))


@pytest.mark.shared_page
def test_the_second_lamp_is_not_asked_for_its_supply(page):
    rig = RigPage(page).open_demo()

    rig.choose_lamp("2 kW tungsten")

    rig.settled()
    expect(page.get_by_role("heading", level=1)).to_have_text(re.compile("2 kW tungsten"))
    page.get_by_role("button", name=re.compile("^2 lamps")).tap()
    page.get_by_role("button", name=re.compile("^Moon, 4 kW")).tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Moon, 4 kW")


@pytest.mark.shared_page
def test_back_leads_through_the_questions(page):
    go(page)
    RigPage(page).choose_lamp("4 kW daylight", "Electronic, corrected")

    for title in ("Which ballast?", "Which lamp?"):
        page.get_by_role("button", name="Back", exact=True).tap()
        expect(page.get_by_role("heading", name=title)).to_be_visible()
    page.get_by_role("button", name="Back", exact=True).tap()
    expect(page.get_by_role("button", name="Open the demo rig")).to_be_visible()
