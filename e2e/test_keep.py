"""Nothing that was entered is lost: not by a kill, not by a reload, not by a slip of the thumb."""

import json
import os
import re
import signal
from pathlib import Path

import pytest
from playwright.sync_api import expect

from e2e.pages.rig import RigPage
from toolchain import chromium


def kill_browser_of(profile: Path) -> None:
    """Kill the browser that runs on this profile, as a phone that runs out of memory does."""
    for process in Path("/proc").iterdir():
        if not process.name.isdigit():
            continue
        try:
            command = (process / "cmdline").read_bytes().decode(errors="replace")
        except OSError:
            continue
        if f"--user-data-dir={profile}" in command and "--type=" not in command:
            os.kill(int(process.name), signal.SIGKILL)


@pytest.fixture
def browser_on_disk(playwright, tmp_path, base_url, browser_type_launch_args):
    """Starts a browser whose storage lies on disk; called again, it starts on the same storage."""
    running = []

    def start():
        context = playwright.chromium.launch_persistent_context(
            tmp_path, executable_path=chromium(), args=browser_type_launch_args["args"], base_url=base_url, viewport={"width": 390, "height": 844}
        )
        running.append(context)
        return context.pages[0] if context.pages else context.new_page()

    yield start
    kill_browser_of(tmp_path)


def test_a_saved_change_survives_a_kill(browser_on_disk, tmp_path):
    rig = RigPage(browser_on_disk()).open_demo()
    rig.enter("Track run", "Length", "75")
    rig.settled()
    rig.page.wait_for_timeout(500)  # the pause before it is written, and the writing

    kill_browser_of(tmp_path)

    rig = RigPage(browser_on_disk())
    rig.page.goto("")
    expect(rig.field("Track run", "Length")).to_have_value("75")
    rig.undo.click()
    expect(rig.field("Track run", "Length")).to_have_value("60")


def test_half_a_second_of_typing_is_all_that_a_kill_costs(browser_on_disk, tmp_path):
    rig = RigPage(browser_on_disk()).open_demo()
    field = rig.field("Track run", "Length")
    field.fill("88")  # and never left
    rig.page.wait_for_timeout(1000)

    kill_browser_of(tmp_path)

    rig = RigPage(browser_on_disk())
    rig.page.goto("")
    expect(rig.field("Track run", "Length")).to_have_value("88")


@pytest.mark.shared_page
def test_undo_and_redo_go_many_levels_and_survive_a_reload(page):
    rig = RigPage(page).open_demo()
    for length in ("70", "80", "90"):
        rig.enter("Track run", "Length", length)
    field = rig.field("Track run", "Length")

    rig.undo.click()
    rig.undo.click()
    expect(field).to_have_value("70")
    rig.redo.click()
    expect(field).to_have_value("80")
    rig.settled()
    page.wait_for_timeout(500)
    page.reload()
    field = rig.field("Track run", "Length")
    rig.undo.click()
    rig.undo.click()
    expect(field).to_have_value("60")
    expect(rig.undo).to_be_disabled()
    page.keyboard.press("Control+Shift+z")
    expect(field).to_have_value("70")


def test_the_last_answers_are_painted_before_the_calculator_is_up(page, context):
    rig = RigPage(page).open_demo()
    figure = re.search(r"\d{3}\.\d", rig.link("Track run").inner_text())[0]
    page.wait_for_timeout(500)

    context.route("**/pyodide/**", lambda route: None)  # never answered: Python stays down
    page.reload()

    rig.shows("Track run", figure)
    expect(page.get_by_text(re.compile(r"^Calculated \d\d:\d\d\. Calculator starting"))).to_be_visible()
    rig.enter("Track run", "Length", "75")  # edits wait for it
    page.wait_for_timeout(500)
    context.unroute("**/pyodide/**")
    page.reload()
    rig.settled()
    expect(rig.field("Track run", "Length")).to_have_value("75")
    expect(rig.link("Track run")).not_to_contain_text(figure)


@pytest.mark.shared_page
def test_when_indexeddb_fails_the_second_copy_stands_in_and_says_so(page):
    rig = RigPage(page).open_demo()
    page.evaluate("() => { IDBObjectStore.prototype.put = () => { throw new DOMException('lost', 'UnknownError'); }; }")

    rig.enter("Track run", "Length", "75")

    expect(page.get_by_text("Saved in the backup store. Close and reopen the app.")).to_be_visible()
    page.reload()
    expect(rig.field("Track run", "Length")).to_have_value("75")
    expect(page.get_by_text("Your last changes were recovered.")).to_be_visible()


@pytest.mark.shared_page
def test_a_lost_connection_is_opened_again(page, platform):
    """WebKit can drop it while the app is in the background; the first use then throws."""
    rig = RigPage(page).open_demo()
    page.evaluate("""() => {
      const real = IDBDatabase.prototype.transaction;
      IDBDatabase.prototype.transaction = function (names, mode) {
        if (mode !== 'readwrite') return real.call(this, names, mode); // this test's own look at what is kept
        IDBDatabase.prototype.transaction = real;
        throw new DOMException('Connection to Indexed Database server lost', 'UnknownError');
      };
    }""")

    rig.enter("Track run", "Length", "75")

    platform.until(lambda: page.evaluate(KEPT_LENGTHS), lambda lengths: lengths == ["75 m"])
    expect(page.get_by_text("backup store")).to_have_count(0)


KEPT_LENGTHS = """() => new Promise((done) => {
  indexedDB.open('feed-to-frame').onsuccess = ({ target }) => {
    const all = target.result.transaction('rigs').objectStore('rigs').getAll();
    all.onsuccess = () => done(all.result.map((kept) => kept.rig.runs.K1.length));
  };
})"""


@pytest.mark.shared_page
def test_rigs_are_copied_deleted_and_put_back(page):
    rig = RigPage(page).open_demo()
    page.get_by_role("link", name=re.compile("^My rigs")).click()
    page.get_by_text("Rename, copy, export, delete").click()
    page.get_by_role("button", name="Duplicate").click()
    rig.settled()
    expect(page.get_by_role("link", name="Salt pan, night (copy)")).to_be_visible()

    page.get_by_role("link", name=re.compile("^My rigs")).click()
    items = page.get_by_role("main").get_by_role("listitem")
    expect(items).to_have_count(2)
    first = items.filter(has=page.get_by_role("heading", name="Salt pan, night", exact=True))
    first.get_by_text("Rename, copy, export, delete").click()
    first.get_by_role("button", name="Delete").click()
    expect(page.get_by_role("heading", name="Salt pan, night", exact=True)).to_have_count(0)
    page.get_by_role("button", name="Put back").first.click()
    expect(page.get_by_role("heading", name="Salt pan, night", exact=True)).to_be_visible()
    page.get_by_role("button", name="Open Salt pan, night", exact=True).click()
    expect(page.get_by_role("link", name="Salt pan, night", exact=False)).to_be_visible()


@pytest.mark.shared_page
def test_a_rig_that_is_not_open_is_renamed(page):
    """The name is in the list at once, and in the rig itself when it is opened."""
    rig = RigPage(page).open_demo()
    page.get_by_role("link", name=re.compile("^My rigs")).click()
    page.get_by_role("button", name="New rig").click()
    expect(page.get_by_text("This rig has no lamp yet")).to_be_visible()
    page.get_by_role("link", name=re.compile("^My rigs")).click()
    item = page.get_by_role("main").get_by_role("listitem").filter(has=page.get_by_role("heading", name="Salt pan, night"))
    item.get_by_text("Rename, copy, export, delete").click()
    item.get_by_label("Name of the rig").fill("Salt pan, dawn")
    item.get_by_label("Name of the rig").press("Enter")

    page.get_by_role("button", name="Open Salt pan, dawn").click()

    rig.settled()
    expect(page.get_by_role("link", name=re.compile("^My rigs"))).to_contain_text("Salt pan, dawn")
    kept = page.evaluate("() => JSON.parse(localStorage.getItem('feed-to-frame:open'))")
    assert kept["rig"]["name"] == "Salt pan, dawn" and not kept["pending"]


def test_a_rig_file_comes_back_as_a_copy(page, tmp_path):
    rig = RigPage(page).open_demo()
    rig.enter("Track run", "Length", "75")
    rig.settled()
    page.get_by_role("link", name=re.compile("^My rigs")).click()
    page.get_by_text("Rename, copy, export, delete").click()
    page.evaluate("() => { delete Navigator.prototype.canShare; }")
    with page.expect_download() as download:
        page.get_by_role("button", name="Export a file").click()
    file = tmp_path / download.value.suggested_filename
    download.value.save_as(file)
    assert json.loads(file.read_text())["runs"]["K1"]["length"] == "75 m"

    page.get_by_label("Import a rig file").set_input_files(file)

    rig.settled()
    expect(rig.field("Track run", "Length")).to_have_value("75")
    page.get_by_role("link", name=re.compile("^My rigs")).click()
    expect(page.get_by_role("main").get_by_role("listitem")).to_have_count(2)


@pytest.mark.shared_page
@pytest.mark.parametrize(
    ("name", "content", "says"),
    [("notes.json", b"not a rig", "not readable"), ("big.json", b" " * (256 * 1024 + 1), "larger than 256 KB"), ("other.json", b'{"format": "other"}', "rig")],
)
def test_what_is_no_rig_file_is_refused_in_words(page, tmp_path, name, content, says):
    RigPage(page).open_demo()
    page.get_by_role("link", name=re.compile("^My rigs")).click()
    file = tmp_path / name
    file.write_bytes(content)

    page.get_by_label("Import a rig file").set_input_files(file)

    expect(page.get_by_role("alert")).to_contain_text(says)
    expect(page.get_by_role("main").get_by_role("listitem").filter(has=page.get_by_role("heading"))).to_have_count(1)
