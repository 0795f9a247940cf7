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
from toolchain import PYTHON, WEB, chromium, node, python_packages  # noqa: E402

TSC = WEB / "node_modules" / "typescript" / "bin" / "tsc"


def main() -> None:
    python_packages("packages that test", ROOT / "tests" / "requirements.txt")
    chromium()
    build()
    passed = [
        step("style", PYTHON, "-m", "ruff", "check", "."),
        step("types of the core", PYTHON, "-m", "mypy"),
        step("types of the page", node(), TSC, "-p", WEB / "tsconfig.json"),
        step("types of the workers", node(), TSC, "-p", WEB / "tsconfig.worker.json"),
        *((tests(sys.argv[1:]),) if sys.argv[1:] else (tests(["tests"]), in_the_browser())),
    ]
    sys.exit(not all(passed))


def tests(chosen: list[str]) -> bool:
    """Run pytest on what is chosen."""
    return step("tests", PYTHON, "-m", "pytest", *chosen)


def in_the_browser() -> bool:
    """Run the browser tests. One that fails is run once more with a trace, and said: a machine under load may be late, a wrong page stays wrong."""
    if step("tests in the browser", PYTHON, "-m", "pytest", "e2e"):
        return True
    print("\nThe browser tests that failed are run once more; screenshots and traces go to .cache/e2e", flush=True)
    return step("failed browser tests, once more", PYTHON, "-m", "pytest", "e2e", "--last-failed", "--last-failed-no-failures=none", "--tracing=retain-on-failure")


def step(name: str, *command: object) -> bool:
    """Run one step with its output shown; say whether it passed."""
    print(f"\n== {name} ==", flush=True)
    start = time.monotonic()
    passed = subprocess.run([str(part) for part in command], cwd=ROOT).returncode == 0
    if "tests" not in name:  # pytest's own closing line stays the last
        print(f"{'passed' if passed else 'FAILED'} in {time.monotonic() - start:.0f} s", flush=True)
    return passed


if __name__ == "__main__":
    main()
