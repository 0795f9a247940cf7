"""Two tabs of one device: only one changes a rig, the other says so, follows, and can take over."""

import pytest
from playwright.sync_api import expect

from e2e.pages.app import START, go
from e2e.pages.rig import RigPage

pytestmark = pytest.mark.shared_page

ELSEWHERE = "This rig is open in another tab of this device."
SAVED_LENGTH = """() => new Promise((done) => {
  indexedDB.open('feed-to-frame').onsuccess = ({ target }) => {
    const all = target.result.transaction('rigs').objectStore('rigs').getAll();
    all.onsuccess = () => done(all.result.map((kept) => kept.rig.runs.K1.length));
  };
})"""


@pytest.fixture
def second(page, context):
    """The demo rig open in a first tab, and the same app in a second."""
    RigPage(page).open_demo()
    page.wait_for_timeout(500)  # the rig is written
    other = context.new_page()
    other.goto("")
    expect(other.get_by_text(ELSEWHERE)).to_be_visible(timeout=START)
    return other


def shown(page, length: str) -> None:
    expect(RigPage(page).link("Track run")).to_contain_text(length, timeout=START)


def test_the_second_tab_shows_and_follows_but_changes_nothing(page, second):
    first = RigPage(page)
    expect(page.get_by_text(ELSEWHERE)).to_have_count(0)
    assert second.locator(".screen").get_attribute("inert") is not None

    first.enter("Track run", "Length", "75")
    first.settled()

    shown(second, "75 m")
    second.keyboard.press("Control+z")
    second.wait_for_timeout(500)
    assert page.evaluate(SAVED_LENGTH) == ["75 m"]
    shown(page, "75 m")


def test_taking_over_loses_nothing_that_was_typed(page, second):
    field = RigPage(page).field("Track run", "Length")
    field.fill("88")  # and never left

    second.get_by_role("button", name="Take over here").click()

    expect(second.get_by_text(ELSEWHERE)).to_have_count(0, timeout=START)
    expect(page.get_by_text(ELSEWHERE)).to_be_visible()
    shown(second, "88 m")
    taken = RigPage(second)
    taken.enter("Track run", "Length", "91")
    taken.settled()
    shown(page, "91 m")


def test_a_tab_that_lost_the_rig_undoes_nothing(page, second):
    """It has a history of its own by then, and still must not bring an old state back."""
    second.get_by_role("button", name="Take over here").click()
    expect(second.get_by_text(ELSEWHERE)).to_have_count(0, timeout=START)
    taken = RigPage(second)
    taken.enter("Track run", "Length", "91")
    taken.settled()
    expect(second.get_by_role("button", name="Undo")).to_be_enabled()
    page.get_by_role("button", name="Take over here").click()
    expect(second.get_by_text(ELSEWHERE)).to_be_visible()
    shown(page, "91 m")

    second.keyboard.press("Control+z")

    second.wait_for_timeout(500)
    assert page.evaluate(SAVED_LENGTH) == ["91 m"]
    shown(second, "91 m")
    shown(page, "91 m")


@pytest.mark.own_page
def test_the_rig_is_free_again_when_the_first_tab_is_closed(page, second):
    page.close()

    expect(second.get_by_text(ELSEWHERE)).to_have_count(0, timeout=START)
    taken = RigPage(second)
    taken.enter("Track run", "Length", "91")
    taken.settled()
    second.wait_for_timeout(500)
    assert second.evaluate(SAVED_LENGTH) == ["91 m"]


def test_a_tab_that_sleeps_is_not_waited_for(page, second):
    page.evaluate("() => { const end = performance.now() + 4000; setTimeout(() => { while (performance.now() < end); }); }")

    second.get_by_role("button", name="Take over here").click()

    expect(second.get_by_text(ELSEWHERE)).to_have_count(0, timeout=START)
    expect(page.get_by_text(ELSEWHERE)).to_be_visible(timeout=START)


def test_two_rigs_in_two_tabs_do_not_meet(page, second):
    go(second, "rigs")
    second.get_by_role("button", name="Open the demo rig").click()
    expect(second.get_by_text(ELSEWHERE)).to_have_count(0, timeout=START)
    RigPage(second).settled()
    RigPage(second).enter("Track run", "Length", "91")
    RigPage(second).settled()

    RigPage(page).enter("Track run", "Length", "75")
    RigPage(page).settled()
    page.wait_for_timeout(500)

    assert sorted(page.evaluate(SAVED_LENGTH)) == ["75 m", "91 m"]
