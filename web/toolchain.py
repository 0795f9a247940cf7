"""Sets up what building and testing need, and skips whatever is already there. Standard library only.

Everything lands in dot-folders of the repository (.venv, .cache) and in web/node_modules; a step runs again only when
the lock file that it installs from has changed.
"""

import hashlib
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterable
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
WEB = ROOT / "web"
CACHE = ROOT / ".cache"
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


class CannotSetUp(SystemExit):
    """Ends the program with what is missing and what to type."""

    def __init__(self, missing: str, what_to_type: str) -> None:
        super().__init__(f"\n{missing}\nType this, then start again:\n\n    {what_to_type}\n")


def run(*command: object, cwd: Path = ROOT) -> None:
    """Run a command; on failure end the program with what it printed."""
    done = subprocess.run([str(part) for part in command], cwd=cwd, text=True, capture_output=True)
    if done.returncode:
        raise SystemExit(f"{' '.join(map(str, command))} failed:\n{done.stdout}{done.stderr}")


def fingerprint(paths: Iterable[Path], *extra: str) -> str:
    """One hash of the files (folders with all they hold), their names and `extra`."""
    digest = hashlib.sha256("\0".join(extra).encode())
    for path in sorted(paths):
        files = sorted(p for p in path.rglob("*") if "__pycache__" not in p.parts) if path.is_dir() else [path]
        for file in files:
            if file.is_file():
                digest.update(file.relative_to(ROOT).as_posix().encode() + b"\0" + file.read_bytes() + b"\0")
    return digest.hexdigest()


def unless_done(step: str, done_for: str, result: Path, action: Callable[[], None]) -> bool:
    """Do `action` unless `result` exists and was made for the same fingerprint; say whether it was done."""
    stamp = CACHE / "done" / step
    if result.exists() and stamp.exists() and stamp.read_text() == done_for:
        return False
    print(f"Setting up: {step} ...", flush=True)
    stamp.unlink(missing_ok=True)
    action()
    stamp.parent.mkdir(parents=True, exist_ok=True)
    stamp.write_text(done_for)
    return True


# ---- Python ------------------------------------------------------------------------------------


def python_packages(name: str, lock: Path) -> None:
    """Install a hash-locked requirements file into .venv, which is made when it is missing."""
    unless_done("Python environment", sys.version, PYTHON, _make_venv)
    unless_done(
        name,
        fingerprint([lock], _venv_identity()),
        PYTHON,
        lambda: run(PYTHON, "-m", "pip", "install", "-q", "--disable-pip-version-check", "--require-hashes", "-r", lock),
    )


def _venv_identity() -> str:
    return str((VENV / "pyvenv.cfg").stat().st_mtime_ns)


def _make_venv() -> None:
    if sys.version_info < (3, 11):  # noqa: UP036  (this file runs before anything has checked)
        raise CannotSetUp(f"Python 3.11 or newer is needed; this is {sys.version.split()[0]}.", "sudo apt-get install python3.11")
    try:
        import ensurepip  # noqa: F401  (Debian and Ubuntu keep it in a package of its own)
    except ImportError:
        apt_install(f"python{sys.version_info.major}.{sys.version_info.minor}-venv")
    shutil.rmtree(VENV, ignore_errors=True)
    run(sys.executable, "-m", "venv", VENV)


def wheels(lock: Path, folder: Path, python: str) -> None:
    """Fetch the wheels of a hash-locked requirements file, for another Python than ours."""

    def fetch() -> None:
        shutil.rmtree(folder, ignore_errors=True)
        run(
            *(PYTHON, "-m", "pip", "download", "-q", "--disable-pip-version-check", "--require-hashes", "--no-deps"),
            *("--only-binary=:all:", "--python-version", python, "-r", lock, "-d", folder),
        )

    unless_done("wheels for the page", fingerprint([lock]), folder, fetch)


# ---- Node --------------------------------------------------------------------------------------


def node_modules() -> None:
    """Install web/node_modules exactly as package-lock.json says; no package's own scripts run."""
    node()
    unless_done(
        "Node packages",
        fingerprint([WEB / "package.json", WEB / "package-lock.json"]),
        WEB / "node_modules",
        lambda: run(shutil.which("npm") or "npm", "ci", "--ignore-scripts", "--no-fund", "--no-audit", cwd=WEB),
    )


def node() -> str:
    """Path of Node.js 20 or newer."""
    found = shutil.which("node")
    version = subprocess.run([found, "--version"], text=True, capture_output=True).stdout.strip() if found else ""
    major = re.match(r"v(\d+)\.", version)
    if not found or not major or int(major[1]) < 20 or not shutil.which("npm"):
        raise CannotSetUp(
            f"Node.js 20 or newer with npm is needed; found: {version or 'none'}.",
            "sudo apt-get install nodejs npm      (or a newer release from nodejs.org)",
        )
    return found


# ---- Debian and Ubuntu packages ----------------------------------------------------------------


def chromium() -> str:
    """Path of the Chromium that the browser tests drive."""
    for name in ("chromium", "chromium-browser", "google-chrome"):
        if found := shutil.which(name):
            return found
    apt_install("chromium", "chromium")
    return shutil.which("chromium") or "chromium"


def apt_install(*packages: str) -> None:
    """Install packages where that needs no password, else end the program with what to type."""
    apt, names = _apt_get(), " ".join(packages)
    if apt is None:
        raise CannotSetUp(f"Missing: {names}.", f"sudo apt-get install {names}")
    print(f"Setting up: {names} ...", flush=True)
    run(*apt, "update", "-q")
    run(*apt, "install", "-q", "-y", "--no-install-recommends", *packages)


def _apt_get() -> list[str] | None:
    apt, sudo = shutil.which("apt-get"), shutil.which("sudo")
    if apt and os.geteuid() == 0:
        return ["env", "DEBIAN_FRONTEND=noninteractive", apt]
    if apt and sudo and subprocess.run([sudo, "-n", "true"], capture_output=True).returncode == 0:
        return [sudo, "-n", "env", "DEBIAN_FRONTEND=noninteractive", apt]
    return None
