"""The security policy holds, nothing is asked of any other host, and the app can be installed."""

import json
import re
from urllib.request import urlopen

import pytest

from policy import HEADERS, policy

MAX_BYTES, MAX_REQUESTS = 15_000_000, 30  # own ceilings: many requests and many bytes make an install fail on phones


@pytest.mark.parametrize("path", ["", "sw.js", "app/core/worker.js", "pyodide/pyodide.asm.wasm", "app.webmanifest"])
def test_every_answer_carries_the_headers(base_url, path):
    with urlopen(base_url + path) as answer:
        for name, value in HEADERS.items():
            assert answer.headers[name] == value


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("", "text/html"),
        ("app/core/worker.js", "text/javascript"),
        ("pyodide/pyodide.asm.mjs", "text/javascript"),
        ("pyodide/pyodide.asm.wasm", "application/wasm"),
        ("app.webmanifest", "application/manifest+json"),
    ],
)
def test_types_that_browsers_insist_on(base_url, path, kind):
    with urlopen(base_url + path) as answer:
        assert answer.headers.get_content_type() == kind


def test_the_page_repeats_the_policy_and_has_nothing_inline(dist):
    html = (dist / "index.html").read_text()

    assert policy(in_page=True) in html
    assert not re.search(r"<script(?![^>]*\bsrc=)", html), "inline script"
    assert "<style" not in html and not re.search(r"\sstyle=|\son\w+=", html), "inline style or handler"


def test_nothing_in_the_site_is_loaded_from_elsewhere(dist):
    for file in [*dist.rglob("*.html"), *dist.rglob("*.css"), dist / "app.webmanifest"]:
        assert not re.search(r"""(?:src|href|url)\s*[=(:]\s*["']?(?:https?:)?//""", file.read_text()), file


def test_only_our_own_origin_is_asked(page, platform, guard, base_url):
    page.goto("")
    platform.call("describe")

    assert guard.origins == {base_url.rstrip("/")}


@pytest.mark.parametrize(
    ("what", "script"),
    [
        ("HTML made from text", "() => { document.body.innerHTML = '<b>x</b>'; }"),
        ("a worker that is not ours", "() => { new Worker('app/other.js'); }"),
        ("text run as code", "() => new Promise((done, refused) => setTimeout(() => { try { done(Function('1')); } catch (error) { refused(error); } }))"),
        ("another host", "() => fetch('https://example.org/')"),
    ],
)
def test_the_policy_stops(page, guard, what, script):
    guard.expect("policy: |Content Security Policy|TrustedHTML|Refused|requires 'Trusted|violates")
    page.goto("")

    stopped = page.evaluate(f"async () => {{ try {{ await ({script})(); return false; }} catch (error) {{ return true; }} }}")

    assert stopped, f"{what} was allowed"


def test_the_calculator_runs_under_the_policy(page, platform):
    page.goto("")

    assert "version" in platform.call("describe")


def test_chromium_finds_it_installable(page, context, dist):
    page.goto("")
    devtools = context.new_cdp_session(page)

    errors = [error["errorId"] for error in devtools.send("Page.getInstallabilityErrors")["installabilityErrors"]]
    assert errors in ([], ["in-incognito"])  # a test's context is always a private one
    manifest = devtools.send("Page.getAppManifest")
    assert not manifest["errors"]
    named = json.loads(manifest["data"])
    assert named["id"] and named["start_url"] == "./" and named["scope"] == "./"
    for icon in named["icons"]:
        header = (dist / icon["src"]).read_bytes()[16:24]
        assert icon["sizes"] == f"{int.from_bytes(header[:4])}x{int.from_bytes(header[4:])}"


def listed(dist) -> dict:
    """What the service worker was told of this build."""
    text = (dist / "sw.js").read_text()
    return json.JSONDecoder().raw_decode(text, text.index("const BUILD = ") + len("const BUILD = "))[0]


def test_what_is_kept_for_work_offline_stays_small(dist):
    files = listed(dist)["files"]

    assert sum(file["bytes"] for file in files) <= MAX_BYTES
    assert 1 + sum("type" not in file for file in files) <= MAX_REQUESTS


def test_the_list_of_files_is_the_site(dist):
    there = {path.relative_to(dist).as_posix() for path in dist.rglob("*") if path.is_file()}

    assert {file["url"] for file in listed(dist)["files"]} == there - {"index.html", "sw.js", "app.pack.json"} | {"./"}


def test_the_pack_holds_the_small_files_as_they_are(dist):
    pack = json.loads((dist / "app.pack.json").read_text())

    assert pack.keys() == {file["url"] for file in listed(dist)["files"] if "type" in file}
    for url, text in pack.items():
        assert (dist / ("index.html" if url == "./" else url)).read_text() == text
