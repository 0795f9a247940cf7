"""The browser tests: the built site, served with its production headers, in Debian's Chromium on a phone's screen.

Every test also fails when the page logs an error, throws, breaks its own security policy or asks any other host.
"""

import os
import re
import socket
import subprocess
import sys
import time
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import BrowserContext, expect

from build import build
from toolchain import WEB, chromium

expect.set_options(timeout=20_000)  # ms: a slow machine may take its time, a wrong page stays wrong

PHONE = {"viewport": {"width": 390, "height": 844}, "device_scale_factor": 2, "is_mobile": True, "has_touch": True}
QUIET = (
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-gpu",
    "--disable-quic",
    "--disable-sync",
    "--no-first-run",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE localhost",
)


# ---- the site and its server -------------------------------------------------------------------


class Server:
    """A server process that a test may stop and start again at the same address."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = probe.getsockname()[1]
        self.url = f"http://localhost:{self.port}/"
        self.start()

    def start(self) -> None:
        command = [sys.executable, str(WEB / "serve.py"), "--folder", str(self.folder), "--port", str(self.port), "--leash"]
        # Its input ends with this process, however that ends: no server is left behind.
        self.process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        assert self.url in (self.process.stdout.readline() if self.process.stdout else "")

    def stop(self) -> None:
        self.process.kill()
        self.process.wait()
        with socket.socket() as probe:
            assert probe.connect_ex(("127.0.0.1", self.port)) != 0, "the server still answers"


@pytest.fixture(scope="session")
def dist() -> Path:
    """The built site."""
    return build()


@pytest.fixture(scope="session")
def base_url(dist):
    """Address of the built site; pytest-playwright resolves page.goto("...") against it."""
    server = Server(dist)
    yield server.url
    server.stop()


@pytest.fixture
def serving():
    """Starts servers of any folder for one test."""
    servers: list[Server] = []

    def serve(folder: Path) -> Server:
        servers.append(Server(folder))
        return servers[-1]

    yield serve
    for server in servers:
        server.stop()


@pytest.fixture
def own_server(dist, serving) -> Server:
    """A server of the built site for one test, which may stop it."""
    return serving(dist)


# ---- the browser -------------------------------------------------------------------------------


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args):
    root = ["--no-sandbox"] if os.geteuid() == 0 else []
    return {**browser_type_launch_args, "executable_path": chromium(), "args": [*QUIET, *root]}


@pytest.fixture(scope="session")
def browser_context_args(browser_context_args, base_url):
    """A phone, without the service worker; tests about it say @pytest.mark.browser_context_args(service_workers="allow")."""
    return {**browser_context_args, **PHONE, "base_url": base_url, "service_workers": "block"}


@pytest.fixture(scope="session")
def shared_contexts(browser, browser_context_args):
    """Contexts by name, each with one page that stays open from test to test, as a phone's does all day: Python starts once.

    One whose page was closed, as a test that fails leaves it, gives way to a new one.
    """
    contexts: dict[str, BrowserContext] = {}

    def named(name: str) -> BrowserContext:
        if name in contexts and not contexts[name].pages:
            contexts.pop(name).close()
        if name not in contexts:
            contexts[name] = reporting(browser.new_context(**browser_context_args))
        return contexts[name]

    yield named
    for context in contexts.values():
        context.close()


@pytest.fixture
def shared(request, pytestconfig) -> str:
    """Name of the context that the test shares by @pytest.mark.shared_page, or "": a run with traces shares nothing."""
    marker = request.node.get_closest_marker("shared_page")
    alone = request.node.get_closest_marker("own_page") or pytestconfig.getoption("--tracing") != "off"
    return "" if alone or not marker else marker.kwargs.get("name", "any")


@pytest.fixture
def context(request, new_context, shared) -> BrowserContext:
    """A context for one test, or a shared one."""
    return request.getfixturevalue("shared_contexts")(shared) if shared else reporting(new_context())


@pytest.fixture
def page(request, context, shared):
    """A page for one test, or the one that stays open unless the test fails."""
    page = context.pages[0] if shared and context.pages else context.new_page()
    yield page
    if not shared:
        return
    call = getattr(request.node, "rep_call", None)
    for each in context.pages:
        if each != page or not call or call.failed:
            each.close()
    if not page.is_closed():
        page.evaluate(EMPTY)
        page.set_viewport_size(PHONE["viewport"])
        page.emulate_media(media="null", color_scheme="null", forced_colors="null", reduced_motion="null")


# Leaves an open page as it was before anybody had done anything on it; the page's own modules do it.
EMPTY = """async () => {
  const names = ["state/keep", "state/rig", "state/rigs", "state/screen", "state/store", "state/typing", "views/rig/open_link"];
  const parts = names.map((name) => import(new URL(`app/${name}.js`, document.baseURI)));
  const [keep, rig, rigs, screen, store, typing, link] = await Promise.all(parts);
  typing.doneTyping();
  await keep.flush();
  rig.show(null);
  for (const { id } of await store.readRigs()) await store.eraseRig(id);
  await rigs.refresh();
  localStorage.clear();
  screen.dismiss();
  keep.saved.value = { words: "", safe: true };
  link.openLink.value = "";
  location.hash = "";
}"""


def reporting(context: BrowserContext) -> BrowserContext:
    """Have every page of a context say where it breaks its security policy."""
    context.add_init_script(
        "addEventListener('securitypolicyviolation',"
        " (e) => console.error(`policy: ${e.effectiveDirective} ${e.blockedURI} ${e.sourceFile}:${e.lineNumber}`))"
    )
    return context


class Guard:
    """Collects what must never happen; a test that provokes some of it says so with `expect`."""

    def __init__(self, context) -> None:
        self.seen: list[str] = []
        self.origins: set[str] = set()
        self.expected = ["Service Worker registration blocked by Playwright"]
        self.context = context
        self.heard = {
            "console": lambda m: self.seen.append(f"console: {m.text}") if m.type in ("error", "warning") else None,
            "weberror": lambda e: self.seen.append(f"page error: {e.error}"),
            "request": lambda request: self.note(request.url),
        }
        for event, hear in self.heard.items():
            context.on(event, hear)

    def leave(self) -> None:
        for event, hear in self.heard.items():
            self.context.remove_listener(event, hear)

    def note(self, url: str) -> None:
        parts = urlsplit(url)
        if parts.scheme in ("http", "https", "ws", "wss"):
            self.origins.add(f"{parts.scheme}://{parts.netloc}")

    def expect(self, pattern: str) -> None:
        self.expected.append(pattern)

    @property
    def unexpected(self) -> list[str]:
        return [line for line in self.seen if not any(re.search(pattern, line) for pattern in self.expected)]


@pytest.fixture(autouse=True)
def guard(context):
    """Watches the context of every browser test."""
    watching = Guard(context)
    yield watching
    watching.leave()
    foreign = {origin for origin in watching.origins if urlsplit(origin).hostname != "localhost"}
    assert not foreign, f"the app asked another host: {foreign}"
    assert not watching.unexpected, "\n".join(watching.unexpected)


# ---- looking into the platform -----------------------------------------------------------------


class Platform:
    """Asks the page's own modules, where a test is about the machinery and not about a screen."""

    def __init__(self, page) -> None:
        self.page = page

    def offline(self) -> dict:
        return self.page.evaluate("async () => (await import(new URL('app/offline/register.js', document.baseURI))).offline.value")

    def core(self) -> dict:
        return self.page.evaluate("async () => (await import(new URL('app/core/client.js', document.baseURI))).state.value")

    def update_ready(self) -> bool:
        return self.page.evaluate("async () => (await import(new URL('app/offline/register.js', document.baseURI))).updateReady.value")

    def look_for_update(self) -> None:
        self.page.evaluate("async () => { await (await navigator.serviceWorker.ready).update().catch(() => {}); }")

    def look_for_torn_update(self) -> None:
        """Wait until the update that is there has been found and given up."""
        script = """async () => {
          const registration = await navigator.serviceWorker.ready;
          registration.onupdatefound = () => { window.found = registration.installing; };
          await registration.update().catch(() => {});
        }"""
        self.page.evaluate(script)
        self.page.wait_for_function("() => window.found?.state === 'redundant'")

    def call(self, method: str, params: dict | None = None):
        """The core's result, or its error as {"error": ...}."""
        script = """async ([method, params]) => {
          const { call } = await import(new URL('app/core/client.js', document.baseURI));
          return call(method, params).catch((error) => ({ error: { code: error.code, message: error.message, detail: error.detail } }));
        }"""
        return self.page.evaluate(script, [method, params or {}])

    def until(self, what, wanted, seconds: float = 30):
        """Wait until `what()` satisfies `wanted`; return it."""
        end = time.monotonic() + seconds
        while not wanted(value := what()):
            assert time.monotonic() < end, f"still {value!r} after {seconds} s"
            self.page.wait_for_timeout(100)
        return value

    def ready_offline(self) -> dict:
        return self.until(self.offline, lambda state: state["status"] == "ready")


@pytest.fixture
def platform(page) -> Platform:
    return Platform(page)
