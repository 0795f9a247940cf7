"""No network: the app must start, calculate and stay whole once it has said that it is ready."""

import shutil
from pathlib import Path

import pytest

pytestmark = pytest.mark.browser_context_args(service_workers="allow")


def test_starts_and_calculates_with_the_server_stopped(page, platform, own_server):
    page.goto(own_server.url)
    before = platform.call("describe")
    state = platform.ready_offline()

    own_server.stop()
    page.reload()

    assert platform.call("describe") == before
    assert platform.ready_offline()["words"] == state["words"]


def test_a_page_opened_by_any_address_of_the_app_starts_offline(page, platform, own_server):
    page.goto(own_server.url)
    platform.ready_offline()

    own_server.stop()
    page.goto(own_server.url + "?from=home-screen#somewhere")

    assert "version" in platform.call("describe")


def test_says_ready_only_when_every_file_is_there(page, platform, own_server, guard):
    page.goto(own_server.url)
    platform.ready_offline()
    own_server.stop()

    page.evaluate("""async () => {
        const [name] = (await caches.keys()).filter((key) => key.startsWith("feed-to-frame-"));
        await (await caches.open(name)).delete(new URL("core/python.zip", document.baseURI).href);
    }""")
    guard.expect("ERR_CONNECTION_REFUSED|Failed to load resource|Failed to fetch|python.zip")
    page.evaluate("async () => (await import(new URL('app/offline/register.js', document.baseURI))).verify()")

    assert platform.offline()["status"] != "ready"


def test_a_lost_file_is_fetched_again_when_there_is_a_network(page, platform, own_server):
    page.goto(own_server.url)
    platform.ready_offline()

    page.evaluate("""async () => { for (const name of await caches.keys()) await caches.delete(name); }""")
    page.reload()

    platform.ready_offline()
    own_server.stop()
    page.reload()
    assert "version" in platform.call("describe")


def test_says_how_much_it_keeps_and_which_version(page, platform, own_server):
    page.goto(own_server.url)
    state = platform.ready_offline()

    assert state["version"] == platform.call("describe")["version"]
    assert state["version"] in state["words"]
    assert f"{state['total'] / 1e6:.1f} MB" in state["words"]


def test_lives_in_a_sub_folder_of_a_host(page, platform, dist, serving, tmp_path):
    (tmp_path / "tools" / "light").mkdir(parents=True)
    (tmp_path / "tools" / "light" / "app").symlink_to(dist)
    server = serving(tmp_path)
    page.goto(server.url + "tools/light/app/")
    platform.ready_offline()

    server.stop()
    page.reload()

    assert "version" in platform.call("describe")


def test_repair_fetches_the_app_again_and_keeps_what_people_made(page, platform, own_server):
    page.goto(own_server.url)
    platform.ready_offline()
    page.evaluate("localStorage.setItem('a rig', 'kept')")

    page.evaluate("async () => { (await import(new URL('app/offline/register.js', document.baseURI))).repair(); }")
    page.wait_for_url("**/?fresh=*", wait_until="commit")

    platform.ready_offline()
    assert page.evaluate("localStorage.getItem('a rig')") == "kept"


def test_an_install_that_fails_says_what_it_needs_and_the_app_runs_on(page, platform, dist, serving, guard, tmp_path):
    site = Path(shutil.copytree(dist, tmp_path / "site"))
    (site / "icons" / "maskable-512.png").unlink()
    guard.expect("404|Failed to load resource|Failed to fetch|icons/")
    page.goto(serving(site).url)

    state = platform.until(platform.offline, lambda state: state["status"] == "failed")

    assert "maskable-512.png" in state["words"] and "MB are needed" in state["words"]
    assert page.evaluate("async () => (await caches.keys()).length") == 0
    assert "version" in platform.call("describe")
