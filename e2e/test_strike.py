"""Eight lamps on a 60 kVA generator: plan, strike, one drops, recover. The timers are exact whatever the phone does."""

import json
import re

import pytest
from playwright.sync_api import expect

from e2e.pages.app import START, go
from e2e.pages.strike import PLANNED, StrikePage, eight_on_sixty

pytestmark = pytest.mark.shared_page(name="on a clock of its own")

MORNING = "2026-03-04T06:00:00"


@pytest.fixture(autouse=True)
def morning(page) -> None:
    """It is six in the morning; from then on the clock goes, or goes as the test says."""
    page.clock.install(time=MORNING)
    page.clock.resume()


@pytest.fixture
def strike(page) -> StrikePage:
    """The eight lamps."""
    return StrikePage(page).import_rig(eight_on_sixty())


@pytest.fixture
def day(strike) -> StrikePage:
    """The day's rows, with the calculator up and the clock held."""
    strike.open_day()
    expect(strike.page.get_by_text("Calculator: ready")).to_be_visible(timeout=START)
    strike.page.clock.pause_at("2026-03-04T07:00:00")
    return strike


def seconds(text: str) -> int:
    """Seconds of "4:10" or "1:04:10"."""
    total = 0
    for part in text.split(":"):
        total = 60 * total + int(part)
    return total


def figure(strike: StrikePage, load: str) -> int:
    return seconds(strike.row(load).locator(".day-timer .figure").inner_text())


def test_plan_strike_drop_recover(strike):
    strike.open_plan().plan()
    expect(strike.verdict).to_contain_text("Clear")
    expect(strike.verdict).to_contain_text("The shortest that keeps every limit")
    expect(strike.order.get_by_role("listitem")).to_have_count(8)
    expect(strike.order.get_by_role("listitem").nth(7)).to_contain_text("1:10")
    expect(strike.order).to_contain_text("0:10 after A1, the least gap")

    strike.open_day()
    expect(strike.row("A8")).to_contain_text("Planned at 1:10", timeout=START)
    expect(strike.page.get_by_text("Calculator: ready")).to_be_visible(timeout=START)
    strike.page.clock.pause_at("2026-03-04T07:00:00")
    for load in [f"A{k}" for k in range(1, 9)]:
        strike.page.get_by_role("button", name=re.compile(f"^{load} struck")).click()
        strike.shows(load, "Running up", "3:00")
        strike.page.clock.run_for(10_000)
    strike.shows("A1", "Running up", "1:40")
    expect(strike.page.get_by_text("8 of 8 burning")).to_be_visible()

    strike.page.clock.fast_forward(400_000)
    strike.shows("A8", "Full light")
    strike.press("A3", "Out")
    strike.shows("A3", "Hot", "10:00")
    strike.row("A3").get_by_role("button", name="What to do now").click()
    strike.page.clock.run_for(500)  # the page draws on the clock that is held
    advice = strike.row("A3").get_by_role("group", name="What to do while A3 is out")
    expect(advice).to_contain_text("Keep the others burning", timeout=START)
    expect(advice).to_contain_text("13:00")

    strike.page.clock.fast_forward(600_000)
    strike.shows("A3", "Cold")
    strike.press("A3", "Struck")
    strike.shows("A3", "Running up", "3:00")
    strike.page.clock.fast_forward(180_000)
    strike.shows("A3", "Full light")
    expect(strike.page.get_by_text("8 of 8 burning")).to_be_visible()


def test_timers_are_exact_after_a_reload(day):
    day.press("A1", "Struck")
    day.shows("A1", "Running up", "3:00")
    day.page.clock.run_for(41_000)
    day.shows("A1", "Running up", "2:19")
    day.page.reload()
    day.shows("A1", "Running up")
    assert 135 <= figure(day, "A1") <= 139


def test_timers_are_exact_after_a_day_of_sleep(day):
    day.press("A1", "Struck")
    day.press("A2", "Struck")
    day.shows("A2", "Running up", "3:00")
    day.press("A2", "Out")
    day.shows("A2", "Hot", "10:00")
    day.page.clock.fast_forward("24:00:00")
    day.page.clock.run_for(1000)

    day.shows("A1", "Full light", "24:00:01")
    day.shows("A2", "Cold")
    day.page.get_by_text("Hours of each lamp").click()
    hours = day.page.get_by_role("table")
    expect(hours.get_by_role("row", name=re.compile("A1"))).to_contain_text("24:00:0")
    expect(hours.get_by_role("row", name=re.compile("A2"))).to_contain_text("0:00")


def test_a_clock_set_back_is_said_and_the_timers_go_on(day):
    day.press("A1", "Struck")
    day.shows("A1", "Running up", "3:00")
    day.page.clock.run_for(60_000)
    day.shows("A1", "Running up", "2:00")
    day.page.clock.set_system_time("2026-03-04T06:01:00")
    day.page.clock.run_for(1000)

    expect(day.trouble).to_contain_text("set back by 1:00:00", timeout=START)
    day.shows("A1", "Running up", "1:59")


def test_a_slip_is_taken_back(day):
    day.press("A1", "Struck")
    day.shows("A1", "Running up", "3:00")
    day.page.clock.run_for(30_000)
    day.press("A1", "Out")
    day.shows("A1", "Hot", "10:00")
    day.page.get_by_role("button", name="Undo A1 out").click()

    day.shows("A1", "Running up", "2:30")


def test_a_lamp_found_hot_counts_from_then(day):
    day.press("A4", "Found hot")
    day.shows("A4", "Hot", "10:00")
    day.page.clock.fast_forward(599_000)
    day.shows("A4", "Hot", "0:01")
    day.page.clock.run_for(1000)
    day.shows("A4", "Cold")


def test_a_strike_moved_by_hand_is_judged(strike):
    strike.open_plan().plan()
    strike.open_entry("A2")
    field = strike.order.get_by_label(re.compile("^Struck at"))
    field.locator("visible=true").fill("2")
    field.locator("visible=true").press("Enter")

    expect(strike.verdict).to_contain_text("Stop", timeout=PLANNED)
    expect(strike.order).to_contain_text("less than the least gap")
    expect(strike.page.get_by_role("region", name="What stands in the way")).to_contain_text("between the strikes")
    strike.page.get_by_role("button", name="Undo").click()
    expect(strike.verdict).to_contain_text("Clear", timeout=PLANNED)


def test_a_plan_that_cannot_be_names_the_limit(page):
    strike = StrikePage(page).import_rig(eight_on_sixty("40 kVA")).open_plan().plan()

    expect(strike.verdict).to_contain_text("Stop")
    expect(page.get_by_role("region", name="What stands in the way")).to_contain_text("Does the engine carry it?")
    expect(strike.order).to_have_count(0)


def test_the_screen_stays_on_when_asked(day):
    button = day.page.get_by_role("button", name="Keep the screen on")
    expect(button).to_have_attribute("aria-pressed", "false")
    button.click()
    expect(day.page.get_by_text("The screen stays on while this page is open.")).to_be_visible()
    button.click()
    expect(day.page.get_by_text("The screen may switch off.")).to_be_visible()
    expect(day.page.get_by_role("button", name="Sound when a lamp is ready")).to_have_attribute("aria-pressed", "false")


def test_a_dim_with_its_light_and_colour(page):
    strike = StrikePage(page).import_rig(eight_on_sixty())
    go(page, "strike/dim")
    page.get_by_text("Dim A1", exact=True).click()
    page.get_by_label("Less light by in stops", exact=True).fill("1")
    expect(page.get_by_text("59.2 %").first).to_be_visible(timeout=START)
    page.get_by_role("button", name="Set this dim").click()
    expect(page.get_by_role("button", name="Undo")).to_be_enabled()

    page.get_by_text("Law of A1 from a light meter").click()
    for k, (setting, light) in enumerate((("100", "900"), ("70", "540"), ("50", "330"))):
        page.get_by_label(f"Setting {k + 1}").fill(setting)
        page.get_by_label(f"Light {k + 1}").fill(light)
    page.get_by_role("button", name="Find its law").click()
    expect(page.get_by_text("Exponent 1.45").first).to_be_visible(timeout=START)
    page.get_by_label("By its own law, less light by").fill("1")
    page.get_by_label("Or the setting is").fill("80")
    expect(page.get_by_text("At 62.6 % it gives −1 stop.")).to_be_visible(timeout=START)
    expect(page.get_by_text("At 80 % it gives −0.491 stops.")).to_be_visible(timeout=START)

    page.get_by_text("Control line", exact=True).click()
    page.get_by_role("button", name="Add a control line").click()
    expect(page.get_by_text("Unknown: control line D1")).to_be_visible(timeout=START)
    page.get_by_role("button", name="Add A2").click()
    expect(page.get_by_role("region", name="Lamps on it")).to_contain_text("A2, 4 kW daylight", timeout=START)
    assert strike.page.locator(".failure").count() == 0


def test_a_dim_from_the_control_and_several_lamps(page):
    StrikePage(page).import_rig(eight_on_sixty())
    go(page, "strike/dim")
    page.get_by_text("Dim A1", exact=True).click()
    page.get_by_role("radio", name="Control", exact=True).check()
    page.get_by_label("The control is at").fill("0")
    expect(page.get_by_role("status").get_by_text("50 % of rated power")).to_be_visible(timeout=START)

    page.get_by_text("Dim several together").click()
    page.get_by_role("radio", name="A level for each").check()
    for load, light, own in (("A1", "2000", "1000"), ("A2", "1500", "900")):
        page.get_by_role("textbox", name=f"{load}, 4 kW daylight").fill(light)
        page.get_by_role("textbox", name=f"{load} is to give").fill(own)
    page.get_by_role("button", name="Work out the dims").click()
    dims = page.get_by_role("list", name="Dims of the lamps").get_by_role("listitem")
    expect(dims).to_have_count(2, timeout=START)
    expect(dims.first).to_contain_text("on the control")
    expect(dims.first).to_contain_text("1000 lx of 2000 lx, −1 stop")


def test_a_lamp_comes_up_and_ages(page):
    StrikePage(page).import_rig(eight_on_sixty())
    go(page, "strike/dim")
    page.get_by_text("Warm-up and age of A1").click()
    expect(page.get_by_role("heading", name="Light after the strike")).to_be_visible(timeout=START)
    page.get_by_label("Arc voltage now").fill("240")
    expect(page.get_by_text("4 kW at 240 V of arc voltage")).to_be_visible(timeout=START)


def test_a_wait_names_its_limit(page):
    """Two magnetic heads on a 32 A outlet: the second waits, and its entry says for what."""
    rig = eight_on_sixty()
    rig["supply"] = {"kind": "mains", "system": "single-phase", "voltage": "230 V", "frequency": "50 Hz", "rating": "32 A"}
    rig["loads"] = {i: {**rig["loads"][i], "connection": "L1-N", "lamp": {"rated_power": "1200 W"}, "ballast": {"kind": "magnetic"}, "warm": {"full_light": "3 min"}} for i in ("A1", "A2")}
    strike = StrikePage(page).import_rig(rig).open_plan().plan()

    waiting = strike.order.get_by_role("listitem").nth(1)
    expect(waiting).to_contain_text("after A1: sooner, at 0:10,")
    expect(waiting).to_contain_text("too much")
    strike.open_entry("A2")
    expect(waiting.get_by_role("heading", name="Does every device hold while they come up?")).to_be_visible()


def test_the_order_prints_without_the_screen(strike):
    strike.open_plan().plan()
    strike.page.emulate_media(media="print")

    expect(strike.page.get_by_role("heading", name="Strike order: Quarry, night")).to_be_visible()
    expect(strike.page.get_by_role("row", name=re.compile("A8 4 kW daylight"))).to_contain_text("1:10")
    assert strike.page.get_by_role("button").count() == 0
    assert strike.page.get_by_role("navigation").count() == 0


def test_marks_travel_in_the_rigs_file(day):
    """Struck here, exported, opened as another rig: its timers go on, and undoing an edit takes no strike back."""
    day.press("A1", "Struck")
    day.shows("A1", "Running up")
    text = day.page.evaluate("async () => { const { record } = await import(new URL('app/state/rig.js', document.baseURI)); const { asText } = await import(new URL('app/state/transfer.js', document.baseURI)); return asText(record.value); }")
    marks = json.loads(text)["marks"]
    assert [(m["load"], m["what"]) for m in marks] == [("A1", "struck")]

    copy = {**json.loads(text), "name": "Quarry, second unit"}
    day.page.clock.resume()
    day.import_rig(copy)
    day.open_day()
    day.shows("A1", "Running up")
    day.shows("A2", "Cold")


def test_marks_of_a_rig_that_is_gone_are_swept(page):
    go(page, "rigs")
    page.evaluate("() => localStorage.setItem('feed-to-frame:day:gone-for-good', '{}')")
    StrikePage(page).import_rig(eight_on_sixty()).open_day()
    StrikePage(page).press("A1", "Struck")
    StrikePage(page).shows("A1", "Running up")
    page.reload()
    StrikePage(page).shows("A1", "Running up")

    page.wait_for_function("() => !Object.keys(localStorage).includes('feed-to-frame:day:gone-for-good')")
    assert page.evaluate("() => Object.keys(localStorage).filter((key) => key.startsWith('feed-to-frame:day:')).length") == 1


def test_a_long_search_shows_how_far_it_is_and_can_be_stopped(page):
    """Eight lamps of three kinds: too many orders to prove. The rest of the page answers meanwhile, and the plan so far can be taken."""
    rig = eight_on_sixty("45 kVA")
    for k, load in enumerate(rig["loads"].values()):
        magnetic = {"kind": "arc lamp", "lamp": {"rated_power": "2500 W"}, "ballast": {"kind": "magnetic corrected"}}
        load |= magnetic if k < 4 else {"kind": "tungsten", "lamp": {"rated_power": "2 kW"}} if k < 6 else {**magnetic, "lamp": {"rated_power": "1200 W"}, "ballast": {"kind": "magnetic"}}
    strike = StrikePage(page).import_rig(rig).open_plan()
    page.get_by_role("button", name="Plan the strikes").click()
    expect(page.get_by_role("progressbar", name="Part of the search that is done")).to_be_visible()
    stop = page.get_by_role("button", name="Stop, and take the plan found so far")
    expect(stop).to_be_visible(timeout=PLANNED)
    expect(page.get_by_text(re.compile(r"moments judged, all lit after \d+:\d\d so far"))).to_be_visible()
    go(page, "rig")
    expect(page.locator(".summary .headline").first).to_be_visible(timeout=START)
    strike.open_plan()
    if stop.is_visible():  # a quick machine is done by now
        stop.click()

    expect(strike.verdict).to_contain_text("the search was cut short", timeout=PLANNED)
    expect(strike.order.get_by_role("listitem")).to_have_count(8)
