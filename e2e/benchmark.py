"""Start-up, paired in one run: bare Pyodide as its package ships it, against this app's first answer with no network.

    .venv/bin/python e2e/benchmark.py           start-up
    .venv/bin/python e2e/benchmark.py check     what a check of a rig of many lamps costs: see benchmark_check.py

Stock: from creating a module worker to an interpreter that can run nothing of ours yet; files in the browser's cache.
Ours: from opening the page to the whole chain of the demo rig's first lamp; the server is stopped, all comes from the
service worker. Both warm, in turns, in one browser. Read the ratio, not the seconds. The stages of ours are told beside it.
"""

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT / "web"), str(ROOT / "e2e")]

import benchmark_check  # noqa: E402
from conftest import PHONE, QUIET, Server  # noqa: E402
from playwright.sync_api import BrowserContext, Page, sync_playwright  # noqa: E402

from build import build  # noqa: E402
from toolchain import WEB, chromium  # noqa: E402

ROUNDS, WARM_UPS = 5, 2
STOCK_PAGE = "<!doctype html><title>stock</title>"
STOCK_WORKER = """
import { loadPyodide } from "./pyodide/pyodide.mjs";
await loadPyodide();
postMessage("ready");
"""
STOCK_START = """() => new Promise((done, failed) => {
  const start = performance.now();
  const worker = new Worker("worker.js", { type: "module" });
  worker.onmessage = () => done(performance.now() - start);
  worker.onerror = (event) => failed(new Error(event.message));
})"""
FIRST_CHECK = """() => new Promise((done) => {
  const look = () => {
    const [first] = performance.getEntriesByName("core-answer").filter((mark) => mark.detail.method === "check");
    if (first) done(first.startTime); else setTimeout(look, 20);
  };
  look();
})"""


STAGES = """async () => {
  const client = await import(new URL('app/core/client.js', document.baseURI));
  const ready = performance.getEntriesByName('core-ready')[0].startTime;
  return { 'worker begins': Math.round(ready - client.state.value.ms), ...client.stages, ready: Math.round(ready) };
}"""


def stock_server(folder: Path) -> subprocess.Popen[bytes]:
    """Serve the package's own files with a page and a worker that only starts them."""
    (folder / "index.html").write_text(STOCK_PAGE)
    (folder / "worker.js").write_text(STOCK_WORKER)
    (folder / "pyodide").symlink_to(WEB / "node_modules" / "pyodide")
    command = [sys.executable, "-m", "http.server", "--bind", "127.0.0.1", "--directory", str(folder), "8018"]
    return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def stock(page: Page) -> float:
    """Milliseconds of one stock start."""
    page.goto("http://localhost:8018/")
    return page.evaluate(STOCK_START)


def ours(page: Page, url: str) -> float:
    """Milliseconds from opening the page to the first chain."""
    page.goto(url)
    first = page.evaluate(FIRST_CHECK)
    print("ours by stages, ms:", page.evaluate(STAGES), flush=True)
    return first


def prepare(page: Page, server: Server) -> None:
    """Open the demo rig once, so that the page has something to calculate; then take the network away."""
    page.goto(server.url)
    page.get_by_role("button", name="Open the demo rig").click()
    page.evaluate(FIRST_CHECK)
    offline = "async () => (await import(new URL('app/offline/register.js', document.baseURI))).offline.value.status"
    while page.evaluate(offline) != "ready":
        page.wait_for_timeout(200)
    server.stop()


def measure(context: BrowserContext, server: Server) -> tuple[list[float], list[float]]:
    page = context.new_page()
    prepare(page, server)
    pairs = [(stock(page), ours(page, server.url)) for _ in range(WARM_UPS + ROUNDS)]
    times = list(zip(*pairs[WARM_UPS:], strict=True))
    return list(times[0]), list(times[1])


def draw(context: BrowserContext, server: Server) -> None:
    """Measure rigs of all sizes, and draw the curves."""
    page = context.new_page()
    page.goto(server.url)
    target = ROOT / ".cache" / "benchmarks" / "check.svg"
    curves = benchmark_check.table(page)
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(benchmark_check.drawn(curves), "utf-8")
    print(f"The curves are in {target.relative_to(ROOT)}")


def main() -> None:
    checks = sys.argv[1:] == ["check"]
    server = Server(build())
    with tempfile.TemporaryDirectory() as profile, tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        other = None if checks else stock_server(Path(folder))
        sandbox = ["--no-sandbox"] if os.geteuid() == 0 else []
        context = playwright.chromium.launch_persistent_context(
            profile, executable_path=chromium(), args=[*QUIET, *sandbox], headless=True, **PHONE
        )
        try:
            if checks:
                return draw(context, server)
            bare, first_answer = measure(context, server)
        finally:
            context.close()
            server.stop()
            if other:
                other.kill()
    for name, times in (("stock, bare interpreter", bare), ("ours, first answer", first_answer)):
        print(f"{name:24} median {median(times):6.0f} ms   ({', '.join(f'{t:.0f}' for t in times)})")
    print(f"{'ratio of the medians':24} {median(first_answer) / median(bare):13.2f}      (aim: 0.5 or less)")


if __name__ == "__main__":
    main()
