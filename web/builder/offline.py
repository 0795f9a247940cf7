"""sw.js with the closed list of files, and the pack in which the service worker gets the small ones at one go."""

import hashlib
import json
import re
import shutil
import subprocess
from base64 import b64encode
from datetime import date
from pathlib import Path
from typing import Any

from builder.files import BuildError, write
from builder.modules import SERVICE_WORKER
from policy import HEADERS
from toolchain import ROOT

PACK = "app.pack.json"
PACKED = {  # text files; what the browser is told that they are
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".webmanifest": "application/manifest+json",
}
PLACE = re.compile(r"/\* build \*/ \{.*?\};", re.S)


def write_service_worker(site: Path) -> None:
    """Write the pack, and sw.js at the top of the site so that it rules all of it."""
    ours = sorted(path for path in site.rglob("*") if path.is_file() and path.name not in (PACK, "sw.js"))
    texts = {_url(path, site): path.read_text("utf-8") for path in ours if path.suffix in PACKED}
    write(site / PACK, json.dumps(texts, ensure_ascii=False, separators=(",", ":")))
    template = SERVICE_WORKER.read_text("utf-8")
    if len(PLACE.findall(template)) != 1:
        raise BuildError("web/app/offline/sw.js: the place for the list of files is missing.")
    build = json.dumps(_build(site, ours, template), indent=1)
    write(site / "sw.js", PLACE.sub(lambda _: build + ";", template))


def _build(site: Path, ours: list[Path], template: str) -> dict[str, Any]:
    """What the service worker must know of this build."""
    version = re.search(r'__version__ = "([^"]+)"', (ROOT / "pycore" / "__init__.py").read_text())
    build = {
        "version": version[1] if version else "",
        "headers": {name: value for name, value in HEADERS.items() if name != "Cache-Control"},
        "pack": entry(site / PACK, site),
        "files": [entry(path, site) for path in ours],
    }
    identity = hashlib.sha256(json.dumps([build, template]).encode()).hexdigest()[:12]
    return {"id": identity, "date": build_date(), **build}


def entry(path: Path, site: Path) -> dict[str, Any]:
    """A file's URL as the page asks for it, its hash, its size and, for a packed one, its type."""
    data = path.read_bytes()
    found = {"url": _url(path, site), "integrity": "sha256-" + b64encode(hashlib.sha256(data).digest()).decode(), "bytes": len(data)}
    return found | ({"type": PACKED[path.suffix]} if path.suffix in PACKED else {})


def _url(path: Path, site: Path) -> str:
    url = path.relative_to(site).as_posix()
    return "./" if url == "index.html" else url


def build_date() -> str:
    """Date of the last commit, so that building the same commit again gives the same app; today outside git."""
    git = ["git", "log", "-1", "--format=%cs"]
    found = subprocess.run(git, cwd=ROOT, text=True, capture_output=True).stdout.strip() if shutil.which("git") else ""
    return found or date.today().isoformat()
