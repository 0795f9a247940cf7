#!/usr/bin/env python3
"""Sets up and runs every test.  python3 tests/run.py [pytest options]

Standard library only. Style and types first, then pytest: the core natively, the shipped Python under Node, and the
app in Chromium. Whatever fails, the rest still runs.
"""

import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "web"))

from build import build  # noqa: E402
from toolchain import CACHE, PYTHON, WEB, chromium, node, python_packages  # noqa: E402

TSC = WEB / "node_modules" / "typescript" / "bin" / "tsc"


def main() -> None:
    python_packages("packages that test", ROOT / "tests" / "requirements.txt")
    chromium()
    build()
    passed = [
        step("style", PYTHON, "-m", "ruff", "check", "."),
        step("types of the page", node(), TSC, "-p", WEB / "tsconfig.json"),
        step("types of the workers", node(), TSC, "-p", WEB / "tsconfig.worker.json"),
        step("tests", PYTHON, "-m", "pytest", *sys.argv[1:]),
    ]
    if not passed[-1]:
        trace_failures()
    sys.exit(not all(passed))


def step(name: str, *command: object) -> bool:
    """Run one step with its output shown; say whether it passed."""
    print(f"\n== {name} ==", flush=True)
    start = time.monotonic()
    passed = subprocess.run([str(part) for part in command], cwd=ROOT).returncode == 0
    if name != "tests":  # pytest's own closing line stays the last
        print(f"{'passed' if passed else 'FAILED'} in {time.monotonic() - start:.0f} s", flush=True)
    return passed


def trace_failures() -> None:
    """Run the browser tests that failed once more with a trace: tracing all of them would double their time."""
    log = CACHE / "e2e-again.log"
    again = [PYTHON, "-m", "pytest", "e2e", "--last-failed", "--last-failed-no-failures=none", "--tracing=retain-on-failure"]
    with log.open("w") as output:
        subprocess.run([str(part) for part in again], cwd=ROOT, stdout=output, stderr=subprocess.STDOUT)
    print(f"Screenshots and traces of browser tests that failed are in .cache/e2e, what they said in {log.relative_to(ROOT)}")


if __name__ == "__main__":
    main()
