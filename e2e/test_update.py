"""A new version: the old one stays whole until people agree, and a torn one is never taken."""

import shutil
from pathlib import Path

import pytest

from builder import offline

pytestmark = pytest.mark.browser_context_args(service_workers="allow")


@pytest.fixture
def site(dist, tmp_path) -> Path:
    """A copy of the built site that a test may replace."""
    return Path(shutil.copytree(dist, tmp_path / "site"))


def deploy(site: Path, mark: str) -> None:
    """Change the page and list the files anew, as a new build does."""
    page = site / "index.html"
    page.write_text(page.read_text().replace("<head>", f'<head><meta name="build" content="{mark}">'))
    (site / "sw.js").unlink()
    offline.write_service_worker(site)


def shown_build(page) -> str | None:
    found = page.locator('meta[name="build"]')
    return found.get_attribute("content") if found.count() else None


def caches_of(page) -> list[str]:
    return page.evaluate("async () => (await caches.keys()).filter((name) => name.startsWith('feed-to-frame-'))")


def test_an_update_waits_for_consent_and_then_comes_whole(page, platform, site, serving):
    server = serving(site)
    page.goto(server.url)
    platform.ready_offline()

    deploy(site, "two")
    platform.look_for_update()
    platform.until(platform.update_ready, bool)
    page.reload()
    assert shown_build(page) is None, "the new version came without consent"
    assert "version" in platform.call("describe")
    platform.until(platform.update_ready, bool)

    page.get_by_role("button", name="Update now").click()
    page.wait_for_selector('meta[name="build"]', state="attached")

    assert shown_build(page) == "two"
    platform.ready_offline()
    assert len(caches_of(page)) == 1, "the old version's files were left behind"
    assert "fresh" not in page.url
    server.stop()
    page.reload()
    assert shown_build(page) == "two"
    assert "version" in platform.call("describe")


def test_an_update_does_not_fetch_again_what_has_not_changed(page, platform, site, serving):
    server = serving(site)
    page.goto(server.url)
    platform.ready_offline()

    deploy(site, "two")
    shutil.rmtree(site / "pyodide")  # asking for any of it would now fail the update
    shutil.rmtree(site / "core")
    platform.look_for_update()

    platform.until(platform.update_ready, bool)


@pytest.mark.parametrize("victim", ["app.pack.json", "core/core.zip"])
@pytest.mark.parametrize("tear", ["missing", "other bytes"])
def test_a_torn_deploy_is_not_taken(page, platform, site, serving, guard, victim, tear):
    server = serving(site)
    page.goto(server.url)
    platform.ready_offline()
    before = caches_of(page)

    (site / "core" / "core.zip").write_bytes((site / "core" / "core.zip").read_bytes() + b"new")
    deploy(site, "two")
    torn = site / victim
    if tear == "missing":
        torn.unlink()
    else:
        torn.write_bytes(torn.read_bytes() + b"torn")
    guard.expect("Failed to find a valid digest|Failed to load resource|integrity|404")
    platform.look_for_torn_update()
    platform.until(lambda: caches_of(page), lambda there: there == before)  # the torn version leaves no files behind

    assert not platform.update_ready()
    page.reload()
    assert shown_build(page) is None
    assert "version" in platform.call("describe")
    platform.ready_offline()


def test_two_open_pages_stay_on_one_version_until_one_of_them_agrees(page, platform, site, serving, context):
    server = serving(site)
    page.goto(server.url)
    platform.ready_offline()
    other = context.new_page()
    other.goto(server.url)

    deploy(site, "two")
    platform.look_for_update()
    platform.until(platform.update_ready, bool)

    other.reload()
    assert shown_build(other) is None and shown_build(page) is None

    page.get_by_role("button", name="Update now").click()
    page.wait_for_selector('meta[name="build"]', state="attached")
    other.get_by_role("button", name="Update now").click()  # it was told that it has been overtaken
    other.wait_for_selector('meta[name="build"]', state="attached")
