"""Light on camera: the day's shots against the lamps, recordings, the arc's log, exposure."""

import re
import time
from math import pi, sin

import pytest
from playwright.sync_api import expect

from e2e.pages.rig import RigPage
from e2e.pages.shots import RecordingPage, ShotsPage
from e2e.pages.strike import StrikePage
from tests.camera.rigs import LAMPS, document

pytestmark = pytest.mark.shared_page


@pytest.fixture
def screen(page) -> ShotsPage:
    RigPage(page).open_demo()
    return ShotsPage(page).open()


def recorded(rate: int = 10_000, count: int = 4_000, depth: float = 0.3) -> str:
    """A lamp that pulses at 100 Hz about its mean, as time and level."""
    return "\n".join(["time (s),level", *(f"{i / rate:.5f},{1 + depth * sin(200 * pi * i / rate):.5f}" for i in range(count))])


def core_answer(platform, method: str, **params):
    """What the core itself answers for the rig as it stands on the screen."""
    rig = platform.page.evaluate("async () => (await import(new URL('app/state/rig.js', document.baseURI))).record.value.rig")
    return platform.call(method, {"rig": rig, **params})


@pytest.mark.own_page
def test_is_500_fps_clean_under_these_two_lamps_and_if_not_what_is(page, platform):
    """From a fresh app, in taps and three digits typed."""
    began = time.monotonic()
    page.goto("")
    for button in ("Add a lamp", "4 kW daylight", "Electronic, corrected", "House socket, 230"):
        page.get_by_role("button", name=re.compile(button)).first.click()
    RigPage(page).settled()
    for button in ("Add a lamp", "1.2 kW daylight", "Electronic, corrected"):
        page.get_by_role("button", name=re.compile(button)).first.click()
    RigPage(page).settled()
    screen = ShotsPage(page).open()
    screen.card("25").click()
    screen.enter("Frame rate", "500")
    screen.says("Stop")
    expect(screen.advice.get_by_role("button").first).to_contain_text("fps")
    took = time.monotonic() - began

    answer = core_answer(platform, "shots")["shots"][0]
    assert answer["verdict"] == "stop" and [c["verdict"] for c in answer["cells"]] == ["stop", "stop"]
    assert took < 60
    screen.advice.get_by_role("button").first.click()
    screen.says("Clear")


def test_a_remedy_is_one_step_of_undo(screen):
    screen.card("25").click()
    screen.enter("Frame rate", "500")
    screen.says("Stop")
    screen.advice.get_by_role("button").first.click()
    screen.says("Clear")

    screen.undo.click()

    screen.says("Stop")
    expect(screen.field("Frame rate").first).to_have_value("500")


def test_shots_are_added_named_copied_and_removed(screen):
    screen.list.get_by_role("button", name="Add a shot").click()
    screen.enter("Name", "Dive")
    screen.enter("Frame rate", "120")
    expect(screen.page.get_by_role("heading", level=1)).to_have_text("Dive")

    screen.shot.get_by_role("button", name="Copy this shot").click()
    expect(screen.field("Frame rate").first).to_have_value("120")
    screen.page.get_by_role("button", name="Back to the shots").click()
    expect(screen.list.get_by_role("list", name="Shots").get_by_role("link")).to_have_count(3)

    screen.card("Dive").click()
    screen.shot.get_by_role("button", name="Remove this shot").click()
    expect(screen.list.get_by_role("list", name="Shots").get_by_role("link")).to_have_count(2)
    screen.undo.click()
    expect(screen.card("Dive")).to_be_visible()


def test_a_ramp_shows_its_steady_part(screen, platform):
    screen.card("25").click()
    screen.shot.get_by_label("Taken as").select_option(label="Speed ramp")
    for label, text in (("Frame rate", "24"), ("Ramp ends at", "1000"), ("Ramp lasts", "3")):
        screen.enter(label, text)
    plot = screen.plot("Along the ramp")
    expect(plot).to_contain_text(re.compile("from 24.fps to 1000.fps in 3.s"))

    bands = next(p for p in core_answer(platform, "shot", shot="S1")["plots"] if p["id"] == "ramp")["bands"]
    steady = [band["label"] for band in bands if band["verdict"] == "clear"]
    assert steady
    expect(plot.get_by_role("listitem").first).to_have_text(steady[0])
    screen.says("where it is worst")


def test_a_plot_is_read_by_buttons_and_has_all_its_numbers(screen, platform):
    screen.card("25").click()
    screen.enter("Frame rate", "500")
    plot = screen.plot("Light and shutter")
    expect(plot.get_by_role("img", name="Light and shutter")).to_be_visible()
    slider = plot.get_by_role("slider")
    screen.says("Stop")

    before = slider.input_value()
    plot.get_by_role("button", name="One point on").click()
    expect(slider).to_have_value(str(int(before) + 1))
    expect(slider).to_have_attribute("aria-valuetext", re.compile(r"ms: .*%"))

    points = core_answer(platform, "shot", shot="S1", load="A1")["plots"][0]["lines"][0]["points"]
    plot.get_by_text("Show the numbers").click()
    expect(plot.get_by_role("table").last.get_by_role("row")).to_have_count(len(points) + 1)


def test_a_matrix_where_there_is_room(screen):
    page = screen.page
    page.set_viewport_size({"width": 1280, "height": 800})
    matrix = page.get_by_role("group", name="Shots against lamps")
    expect(matrix.get_by_role("columnheader", name=re.compile("Moon, 4 kW"))).to_be_visible()

    matrix.get_by_role("row", name=re.compile("Wide, 25 fps")).get_by_role("link").last.click()

    screen.says("Under Moon, 4 kW alone")
    expect(matrix.get_by_role("link", name=re.compile("Clear")).last).to_have_attribute("aria-current", "true")


def test_the_list_is_cleaned_by_one_setting(screen, platform):
    """A square wave about 1 kHz serves 1000 fps (common practice, no source)."""
    screen.card("25").click()
    screen.enter("Frame rate", "1000")
    screen.says("Stop")
    screen.page.get_by_role("button", name="Back to the shots").click()

    screen.page.get_by_role("region", name="For the whole list").get_by_role("button").first.click()

    expect(screen.list.get_by_role("status")).to_contain_text("Clear")
    assert {row["verdict"] for row in core_answer(platform, "shots")["shots"]} == {"clear"}


def add_a_magnetic_lamp(page):
    """A second lamp, whose light is another than the first one's."""
    page.get_by_role("link", name="Rig", exact=True).click()
    for button in ("Add a lamp", "1.2 kW daylight", "Magnetic"):
        page.get_by_role("button", name=re.compile(button)).first.click()
    RigPage(page).settled()


def test_shares_that_do_not_add_up_say_so(screen):
    page = screen.page
    add_a_magnetic_lamp(page)
    screen.open().card("25").click()
    screen.says("No shares are entered, so each lamp counts by itself")
    expect(screen.lamp("Each by itself")).to_have_attribute("aria-current", "true")
    screen.fold_out("Which lamps light it")
    shares = screen.shot.get_by_role("group", name="Shares of the light")

    shares.get_by_role("textbox").first.fill("60")
    shares.get_by_role("textbox").first.press("Enter")
    screen.says("60")
    shares.get_by_role("textbox").last.fill("40")
    shares.get_by_role("textbox").last.press("Enter")

    screen.says("Under 2 lamps together, by their shares")
    expect(screen.lamp("All together")).to_be_visible()


def test_a_recording_is_read_and_kept(screen):
    """Percent flicker of 1 + 0.3 sin is 30 %: (A - B)/(A + B), IEEE 1789-2015, clause 4 (from memory)."""
    page = RecordingPage(screen.page).open()
    page.choose("window lamp.csv", recorded())

    expect(page.figure("Fundamental")).to_contain_text("100")
    expect(page.figure("Percent flicker")).to_contain_text("30")
    expect(page.camera).to_contain_text("Wide, 25 fps")
    expect(page.people).to_contain_text("It says nothing of what a camera sees")

    page.keep.click()
    screen.card("25").click()
    expect(screen.shot.get_by_text("As recorded").first).to_be_attached()
    screen.undo.click()
    expect(screen.shot.get_by_text("As recorded")).to_have_count(0)


def test_every_bad_line_of_a_recording_is_named(screen):
    page = RecordingPage(screen.page).open()
    lines = recorded().splitlines()
    lines[10], lines[20] = "0.001,dark", "0.002"
    page.choose("a.csv", "\n".join(lines))

    for number in (11, 21):
        expect(page.answer.get_by_text(re.compile(f"^Line {number}\\b"))).to_be_visible()

    page.paste("level\nnothing\nof\nuse")
    expect(page.page.get_by_role("alert")).to_contain_text("Line")


def test_the_brightness_of_frames_is_read_too(screen):
    page = RecordingPage(screen.page).open()
    page.page.get_by_role("radio", name="Brightness of each frame").check()
    page.page.get_by_label("Frame rate of the clip").fill("960")
    page.page.get_by_label("Exposure time of each frame").fill("0.5")
    page.paste("\n".join(f"{1 + 0.2 * sin(200 * pi * i / 960):.5f}" for i in range(960)))

    expect(page.figure("Fundamental")).to_contain_text("100")


def test_a_sweep_finds_the_widest_quiet_window(screen):
    page = screen.page
    page.get_by_role("link", name=re.compile("Arc sweep log")).click()
    expect(page.get_by_text("verify it on camera").first).to_be_visible()
    for frequency, seen in (("900", "Quiet"), ("920", "Hums"), ("940", "Quiet"), ("980", "Quiet"), ("1000", "Arc snakes")):
        page.get_by_label("The ballast is set to").fill(frequency)
        page.get_by_role("button", name=seen, exact=True).click()
        expect(page.get_by_text(f"Logged {frequency} Hz").first).to_be_visible()

    windows = page.get_by_role("region", name="Quiet windows")
    expect(windows.get_by_role("listitem").first).to_contain_text("940 Hz to 980 Hz".replace(" Hz", "\u00a0Hz"))
    page.get_by_role("button", name=re.compile("Set 960")).click()
    expect(page.get_by_text(re.compile("960.Hz lies in the quiet window")).first).to_be_visible()
    expect(page.get_by_role("region", name="Where the tube may ring").get_by_text("assumed").first).to_be_attached()

    page.get_by_text(re.compile("All readings")).click()
    page.get_by_role("button", name=re.compile("^Remove 1")).click()
    expect(page.get_by_text("All readings (4)")).to_be_visible()


def test_exposure_by_distance(screen, platform):
    screen.card("25").click()
    screen.shot.get_by_role("link", name="Is there light enough?").click()
    for label, text in (("Intensity", "200000"), ("Distance to the subject", "10"), ("ISO speed", "800"), ("Aperture wanted", "2.8")):
        screen.enter(label, text)

    status = screen.page.get_by_role("main").get_by_role("status")
    expect(status).to_contain_text(re.compile(r"(Over|Short) by .*\sstops"))

    answer = core_answer(platform, "exposure", shot="S1")
    assert answer["finding"]["demand"]["quantity"]["shown"] in status.inner_text()
    expect(screen.page.get_by_role("region", name="The lamps")).to_contain_text(answer["lamps"][0]["lux"]["quantity"]["shown"])


def test_the_lamps_limits_stand_beside_each_other(screen, platform):
    """With no lamp chosen the screen says which of them sets the limit, each figure as the core rounds it."""
    page = screen.page
    add_a_magnetic_lamp(page)
    screen.open().card("25").click()

    limits = core_answer(platform, "limits", shot="S1")
    part = page.get_by_role("region", name="How fast may it be filmed?")
    expect(part).to_contain_text(limits["says"])
    for mode in limits["modes"]:
        expect(part.get_by_role("row", name=re.compile(re.escape(mode["lamp"])))).to_contain_text(mode["shown"]["shown"])


def test_light_that_is_missing_names_its_lamp_and_leads_to_its_field(screen):
    page = screen.page
    page.get_by_role("link", name=re.compile("^Exposure")).click()
    status = page.get_by_role("main").get_by_role("status")
    expect(status).to_contain_text("No light is entered for Moon, 4")

    page.get_by_role("button", name=re.compile("Moon, 4.kW: intensity is missing")).click()

    expect(page.get_by_role("textbox", name=re.compile("^Intensity")).first).to_be_focused()


def test_the_sheet_is_printed_black_on_white_without_controls(screen, platform):
    page = screen.page
    page.get_by_role("link", name=re.compile("^Shot sheet")).click()
    sheet = core_answer(platform, "shots_sheet")
    main = page.get_by_role("main")
    expect(main.get_by_role("heading", name="What is estimated")).to_be_visible()
    for shot in sheet["shots"]:
        expect(main).to_contain_text(shot["says"])
    expect(main.get_by_role("region", name="How fast each lamp may be filmed")).to_contain_text(sheet["lamps"][0]["shown"]["shown"])

    page.evaluate("() => { document.documentElement.dataset.theme = 'dark'; }")
    page.emulate_media(media="print")
    expect(page.get_by_role("button", name="Print or save as PDF")).to_be_hidden()
    expect(page.get_by_role("navigation").first).to_be_hidden()
    inks = main.evaluate("(element) => [...element.querySelectorAll('p, th, td, li, h3')].map((each) => getComputedStyle(each).color)")
    assert set(inks) == {"rgb(0, 0, 0)"}
    assert page.evaluate("() => getComputedStyle(document.body).backgroundColor") in ("rgb(255, 255, 255)", "rgba(0, 0, 0, 0)")


def test_eight_lines_are_told_apart_without_colour(page, platform):
    """Each line of a plot has a number at its end, and dashes and shapes that no other has."""
    more = {"A6": {**LAMPS["A1"], "name": "Older arc", "lamp": {"rated_power": "2500 W", "ripple": "60 %"}},
            "A7": {**LAMPS["A2"], "name": "Edge", "ballast": {**LAMPS["A2"]["ballast"], "output_frequency": "300 Hz"}}}  # fmt: skip
    shares = dict(zip([*LAMPS, *more], ("20 %", "20 %", "20 %", "10 %", "10 %", "10 %", "10 %"), strict=True))
    rig = document(shots={"S1": {"frame_rate": "24 fps", "shutter": "180°", "lit_by": shares}})
    StrikePage(page).import_rig({**rig, "name": "Eight lines", "loads": {**LAMPS, **more}})
    screen = ShotsPage(page).go("shot", "S1")
    screen.says("Under 7 lamps together")
    plot = screen.plot("Against the frame rate")

    key = plot.get_by_role("list").first.get_by_role("listitem")
    expect(key).to_have_count(8)
    looks = plot.locator(".plot-key").evaluate(
        "(key) => [...key.querySelectorAll('li')].map((item) => ["
        "getComputedStyle(item.querySelector('.plot-line')).strokeDasharray, item.querySelector('.plot-marker').getAttribute('d')])"
    )
    assert len({shape for _, shape in looks}) == 8 and len({dashes for dashes, _ in looks}) >= 6
    expect(plot.locator(".plot-number")).to_have_text([str(n) for n in range(1, 9)])
