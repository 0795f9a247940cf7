"""The whole rig: lines, tree, re-plugging, balancing, rig faults, all with undo."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from e2e.pages.rig import RigPage
from e2e.pages.whole import WholePage

pytestmark = pytest.mark.shared_page

BRICKWORKS = Path(__file__).parent / "rigs" / "brickworks.json"


@pytest.fixture
def whole(page: Page) -> WholePage:
    """The brickworks rig, seen whole."""
    opened = WholePage(page)
    opened.bring(BRICKWORKS)
    return opened


def test_every_line_has_its_bar_and_the_neutral_its_own(whole: WholePage) -> None:
    """Three lines and the neutral, each with current, rating and verdict in words."""
    for line in ("L1", "L2", "L3", "Neutral"):
        expect(whole.line(line)).to_contain_text("of 125 A")
    expect(whole.line("Neutral").get_by_role("img")).to_be_visible()


def test_a_lamp_is_plugged_elsewhere_and_back(whole: WholePage) -> None:
    """Plugging a lamp to another line moves its current there at once, and undo brings it back."""
    before = figure_of(whole, "L3")
    whole.choose("Head 1")
    whole.tree.get_by_label("Plugged to").select_option("L3-N")
    expect(whole.line("L3")).not_to_contain_text(before)
    whole.page.get_by_role("button", name="Undo").click()
    expect(whole.line("L3")).to_contain_text(before)


def test_an_undo_that_comes_before_the_answer_is_not_lost(whole: WholePage) -> None:
    """The answer to a change that was taken back at once does not bring the change back."""
    before = figure_of(whole, "L3")
    whole.choose("Head 1")
    whole.tree.get_by_label("Plugged to").select_option("L3-N")
    whole.page.get_by_role("button", name="Undo").click()
    expect(whole.page.get_by_role("button", name="Redo")).to_be_enabled()
    whole.page.wait_for_timeout(1500)
    expect(whole.line("L3")).to_contain_text(before)


def figure_of(whole: WholePage, line: str) -> str:
    """The current of a line as it is shown."""
    return whole.line(line).inner_text().split("\n")[1].split(" ")[0]


def test_balancing_shows_its_gain_and_replugs(whole: WholePage) -> None:
    """The proposal names the moves and the currents before and after; one tap makes them."""
    whole.balance.get_by_role("button", name="Find the best lines").click()
    expect(whole.balance.get_by_role("table")).to_be_visible()
    whole.balance.get_by_role("button", name="Re-plug").click()
    whole.balance.get_by_role("button", name="Find the best lines").click()
    expect(whole.balance).to_contain_text("Already as even as it gets")


def test_a_broken_neutral_names_the_lamps_it_destroys(whole: WholePage) -> None:
    """The fault is worked out for every lamp, with a caution and the working."""
    whole.what_if.get_by_label("Where").select_option("F1")
    whole.what_if.get_by_role("button", name="Work it out").click()
    expect(whole.what_if.get_by_role("listitem").filter(has_text="Head 4")).to_contain_text("→")
    expect(whole.what_if).to_contain_text("everything off at the source")
    expect(whole.what_if.get_by_text("Show working")).to_be_visible()


def test_lamps_are_doubled_moved_and_removed(whole: WholePage) -> None:
    """A lamp is doubled with its run, fed from a new box, and removed again."""
    whole.choose("Head 9")
    whole.tree.get_by_role("button", name="Duplicate").click()
    expect(whole.place("Head 10")).to_be_visible()
    whole.choose("Yard box")
    whole.tree.get_by_role("button", name="Add a box here").click()
    expect(whole.place("Box 2")).to_be_visible()
    whole.choose("Head 10")
    whole.tree.get_by_label("Fed from").select_option(label="Box 2")
    whole.tree.get_by_role("button", name="Remove", exact=True).click()
    expect(whole.place("Head 10")).to_have_count(0)


def test_what_a_meter_shows_at_a_box_follows_the_rig(whole: WholePage) -> None:
    """Current and voltage of every conductor with their working, worked out again when a lamp is plugged elsewhere."""
    whole.place("Yard box").click()
    table = whole.meter_here()
    line = table.get_by_role("row", name="Current, true rms").get_by_role("cell")
    expect(table.get_by_role("columnheader")).to_have_text(["Figure", "L1", "L2", "L3", "N"])
    expect(line.nth(2)).to_have_text("8.61")
    expect(whole.tree.get_by_text("A clamp that is not marked true rms")).to_be_visible()

    whole.place("Head 1").click()
    whole.tree.get_by_label("Plugged to").select_option("L3-N")
    whole.place("Yard box").click()
    whole.meter_here()
    expect(line.nth(2)).not_to_have_text("8.61")
    whole.tree.get_by_text("Show working").click()
    expect(whole.tree.get_by_text("Crest factor", exact=True).last).to_be_visible()


def test_a_meter_where_nothing_flows_says_so_in_its_place(whole: WholePage) -> None:
    """A new box that feeds nothing shows no figures and no failure over the screen, but what to do."""
    whole.place("Feeder").click()
    whole.tree.get_by_role("button", name="Add a box here").click()
    whole.place("Box 2").click()
    whole.tree.get_by_text("What a meter shows here").click()

    expect(whole.tree.get_by_text("Nothing is fed from here. Feed a lamp from it first.")).to_be_visible()
    expect(whole.page.get_by_role("alert")).to_have_count(0)


def test_what_is_typed_about_one_lamp_reaches_the_others(whole: WholePage) -> None:
    """While somebody types only the lamp that is open is answered; the whole rig follows when typing rests, and at once where it is looked at."""
    expect(whole.place("Head 9")).to_contain_text("227.3 V")
    whole.place("Head 5").click()
    whole.tree.get_by_role("button", name="Open its chain").click()
    RigPage(whole.page).field("Feeder", "Length").fill("140")
    expect(RigPage(whole.page).link("Feeder")).not_to_contain_text("229 V")

    whole.page.get_by_role("link", name="Whole rig").click()

    expect(whole.place("Head 9")).not_to_contain_text("227.3 V")
    expect(whole.place("Head 9")).to_contain_text(re.compile(r"22\d\.?\d? V"))


def test_a_lamp_opens_its_chain(whole: WholePage) -> None:
    """From the tree to one lamp's chain in two taps."""
    whole.choose("Head 5")
    whole.tree.get_by_role("button", name="Open its chain").click()
    expect(whole.page.get_by_role("heading", name="Head 5")).to_be_visible()
