"""Light on camera in the browser's own worker: a ramp over mixed light, and a board of 30 shots by 20 lamps.

    .venv/bin/python e2e/benchmark_camera.py

From asking to the answer on the page, with all that lies between: text over to the worker, calculation, text back.
The machine's load is printed beside it; read the figures of a busy machine as upper bounds.
"""

import os
import sys
from pathlib import Path
from statistics import median
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "web"), str(ROOT / "e2e")]

from conftest import PHONE, QUIET, Server  # noqa: E402
from playwright.sync_api import Page, sync_playwright  # noqa: E402

from build import build  # noqa: E402
from tests.benchmarks.test_camera import RAMP, lamps, shots  # noqa: E402
from tests.camera.rigs import document  # noqa: E402
from toolchain import chromium  # noqa: E402

ROUNDS, WARM_UPS = 15, 3
QUESTIONS: dict[str, tuple[str, dict[str, Any], int]] = {
    "a ramp of 24 to 1000 fps over five kinds of lamp": ("shot", {"rig": document(shots=RAMP), "shot": "S1", "compact": True}, 150),
    "30 shots by 20 lamps": ("shots", {"rig": {**document(shots=shots(30)), "loads": lamps(20)}}, 500),
}
ASK = """async ([method, params, rounds]) => {
  const { call } = await import(new URL('app/core/client.js', document.baseURI));
  const times = [];
  for (let i = 0; i < rounds; i++) {
    const start = performance.now();
    await call(method, params);
    times.push(performance.now() - start);
  }
  return times;
}"""


def measure(page: Page) -> dict[str, list[float]]:
    """Milliseconds of each question, without the first few."""
    return {name: page.evaluate(ASK, [method, params, WARM_UPS + ROUNDS])[WARM_UPS:] for name, (method, params, _) in QUESTIONS.items()}


def main() -> None:
    server = Server(build())
    try:
        with sync_playwright() as playwright:
            sandbox = ["--no-sandbox"] if os.geteuid() == 0 else []
            browser = playwright.chromium.launch(executable_path=chromium(), args=[*QUIET, *sandbox])
            page = browser.new_page(**PHONE, service_workers="block")
            page.goto(server.url)
            found = measure(page)
            browser.close()
    finally:
        server.stop()
    for name, times in found.items():
        print(f"{name:50} median {median(times):5.0f} ms, least {min(times):.0f}, most {max(times):.0f}   (aim: {QUESTIONS[name][2]} or less)")
    print(f"load of the machine over 1, 5 and 15 minutes: {', '.join(f'{x:.1f}' for x in os.getloadavg())} on {os.cpu_count()} processors")


if __name__ == "__main__":
    main()
