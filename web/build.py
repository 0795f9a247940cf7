#!/usr/bin/env python3
"""Builds the static site into web/dist.  python3 web/build.py

Standard library only; it sets up what it needs. Nothing is bundled: app modules are copied as they are, except that
bare imports ("preact") become relative ones, since the page's policy forbids the inline import map they would need.
"""

import hashlib
import json
import os
import re
import shutil
import sys
from base64 import b64encode
from datetime import date
from pathlib import Path
from subprocess import run as start

sys.path.insert(0, str(Path(__file__).resolve().parent))

from policy import policy  # noqa: E402
from toolchain import CACHE, PYTHON, ROOT, WEB, fingerprint, node, node_modules, python_packages, run, unless_done, wheels  # noqa: E402

DIST = WEB / "dist"
CORE = CACHE / "core"
TARGET_PYTHON = "3.14"  # of Pyodide 314

# What a module may import by its bare name → the file that the package offers, and where the site has it.
LIBRARIES = {
    "preact": ("preact/dist/preact.mjs", "vendor/preact.js"),
    "preact/hooks": ("preact/hooks/dist/hooks.mjs", "vendor/preact-hooks.js"),
    "@preact/signals": ("@preact/signals/dist/signals.module.js", "vendor/signals.js"),
    "@preact/signals-core": ("@preact/signals-core/dist/signals-core.module.js", "vendor/signals-core.js"),
    "htm": ("htm/dist/htm.module.js", "vendor/htm.js"),
    "htm/preact": ("htm/preact/index.module.js", "vendor/htm-preact.js"),
    "idb": ("idb/build/index.js", "vendor/idb.js"),
    "lean-qr": ("lean-qr/index.mjs", "vendor/lean-qr.js"),
    "pyodide": ("pyodide/pyodide.mjs", "pyodide/pyodide.mjs"),
}
WORKER_ONLY = {"app/core/worker.js", "app/core/boot.js"}
PYODIDE = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")
BARE_IMPORT = re.compile(r"""(?P<before>\bfrom\s*|\bimport\s*\(?\s*)(?P<quote>["'])(?P<name>[^"'./\s][^"'\s]*)(?P=quote)""")
RELATIVE_IMPORT = re.compile(r"""(?:\bfrom\s*|\bimport\s*\(?\s*)["'](\.[^"']+)["']""")
CSS_URL = re.compile(r"""url\(["']?([^"')]+)["']?\)|@import\s+["']([^"']+)["']""")


class BuildError(SystemExit):
    """Ends the build with what is wrong in which file."""


def build() -> Path:
    """Set up, build the core's archives if its sources changed, and lay out web/dist."""
    python_packages("packages that build the core", WEB / "build-requirements.txt")
    node_modules()
    core_archives()
    lay_out()
    return DIST


# ---- the Python that the page ships ------------------------------------------------------------


def core_archives() -> None:
    """Make CORE/python.zip, libs.zip and core.zip from the wheels of pint and pycore, inside Pyodide under Node."""
    sources = [ROOT / "pycore", ROOT / "demo_scenarios", ROOT / "pyproject.toml", WEB / "requirements.txt"]
    tools = [WEB / "bundle.mjs", WEB / "bundle_inside.py", WEB / "package-lock.json"]

    def make() -> None:
        fetched, gathered = CACHE / "wheels", CACHE / "wheels-all"
        wheels(WEB / "requirements.txt", fetched, TARGET_PYTHON)
        shutil.rmtree(gathered, ignore_errors=True)
        shutil.copytree(fetched, gathered)
        run(PYTHON, "-m", "hatchling", "build", "-t", "wheel", "-d", gathered)
        shutil.rmtree(CORE, ignore_errors=True)
        run(node(), WEB / "bundle.mjs", gathered, CORE)

    unless_done("Python for the page", fingerprint([*sources, *tools]), CORE, make)


# ---- web/dist ----------------------------------------------------------------------------------


def lay_out() -> None:
    """Lay the site out beside web/dist and swap it in when it is complete."""
    site = CACHE / "site"
    shutil.rmtree(site, ignore_errors=True)
    site.mkdir(parents=True)
    copy_parts(site)
    copy_modules(site)
    copy_fonts(site)
    write_page(site)
    check_links(site)
    write_service_worker(site)
    shutil.rmtree(DIST, ignore_errors=True)
    site.rename(DIST)


def copy_modules(site: Path) -> None:
    """Copy the app's modules and style sheets, then every library module that they turn out to import."""
    wanted: list[str] = []
    for source in sorted((WEB / "app").rglob("*.js")):
        if source.name != "sw.js":
            wanted += copy_module(source, site, source.relative_to(WEB))
    for source in sorted((WEB / "app").rglob("*.css")):
        copy(source, site / source.relative_to(WEB))
    for name in wanted:  # grows while it is walked: a library may import another
        file, place = LIBRARIES[name]
        if not (site / place).exists():
            wanted += copy_module(WEB / "node_modules" / file, site, Path(place))


def copy_module(source: Path, site: Path, place: Path) -> list[str]:
    """Copy one module with its bare imports made relative; return the names it imports."""
    names: list[str] = []

    def relative(match: re.Match[str]) -> str:
        name = match["name"]
        if name not in LIBRARIES:
            if in_comment(match):
                return match[0]
            raise BuildError(f"{source}: imports {name!r}, which web/build.py does not know (LIBRARIES).")
        names.append(name)
        path = os.path.relpath(LIBRARIES[name][1], place.parent)
        return f"{match['before']}{match['quote']}{path if path.startswith('.') else './' + path}{match['quote']}"

    text = re.sub(r"\n?//# sourceMappingURL=.*", "", source.read_text("utf-8"))
    write(site / place, BARE_IMPORT.sub(relative, text))
    return names


def in_comment(match: re.Match[str]) -> bool:
    """Whether the match is a JSDoc type, not an import that runs."""
    before = match.string[: match.start()]
    return before.rfind("/*") > before.rfind("*/") or before[before.rfind("\n") + 1 :].lstrip().startswith("//")


def copy_parts(site: Path) -> None:
    """Copy Pyodide, the core's archives, the manifest and the icons it names."""
    for name in PYODIDE:
        copy(WEB / "node_modules" / "pyodide" / name, site / "pyodide" / name)
    for archive in sorted(CORE.glob("*.zip")):
        copy(archive, site / "core" / archive.name)
    copy(WEB / "app.webmanifest", site / "app.webmanifest")
    for icon in sorted((WEB / "icons").glob("*.png")):
        copy(icon, site / "icons" / icon.name)
    copy(WEB / "icons" / "ribbon.svg", site / "icons" / "ribbon.svg")


def copy_fonts(site: Path) -> None:
    """Copy the font files that the style sheets name, from whichever font package has them."""
    for sheet in sorted(site.rglob("*.css")):
        for url in re.findall(r"url\([\"']?([^\"')]+\.woff2)", sheet.read_text("utf-8")):
            name = Path(url).name
            found = sorted((WEB / "node_modules" / "@fontsource").glob(f"*/files/{name}"))
            if not found:
                raise BuildError(f"{sheet.relative_to(site)}: no font package has {name}.")
            copy(found[0], (sheet.parent / url).resolve())


def write_page(site: Path) -> None:
    """Write index.html with the policy and, for the browser to fetch early, the list of modules."""
    page = (WEB / "index.html").read_text("utf-8")
    modules = [path.relative_to(site).as_posix() for path in sorted([*(site / "app").rglob("*.js"), *(site / "vendor").rglob("*.js")])]
    early = [name for name in modules if name not in page and name not in WORKER_ONLY]
    preload = "\n".join(f'    <link rel="modulepreload" href="{name}">' for name in early)
    meta = f'<meta http-equiv="Content-Security-Policy" content="{policy(in_page=True)}">'
    write(site / "index.html", page.replace("<!-- policy -->", meta).replace("    <!-- modules -->", preload))


def check_links(site: Path) -> None:
    """Refuse a site in which a module, style sheet or the page names a local file that is not there."""
    for file in sorted(p for p in site.rglob("*") if p.suffix in {".js", ".css", ".html"}):
        text = file.read_text("utf-8")
        links = {
            ".js": [match[1] for match in RELATIVE_IMPORT.finditer(text) if not in_comment(match)],
            ".css": [a or b for a, b in CSS_URL.findall(text)],
            ".html": re.findall(r"""(?:href|src)=["']([^"'#]+)["']""", text),
        }[file.suffix]
        for link in links:
            if not link.startswith("data:") and not (file.parent / link.split("?")[0].split("#")[0]).exists():
                raise BuildError(f"{file.relative_to(site)}: {link} does not exist.")


# ---- the service worker's list -----------------------------------------------------------------


def write_service_worker(site: Path) -> None:
    """Write sw.js with the closed list of files, each with its hash; it lies at the top so that it rules the whole app."""
    template = (WEB / "app" / "offline" / "sw.js").read_text("utf-8")
    files = [entry(path, site) for path in sorted(site.rglob("*")) if path.is_file()]
    version = re.search(r'__version__ = "([^"]+)"', (ROOT / "pycore" / "__init__.py").read_text())
    build = {
        "version": version[1] if version else "",
        "id": hashlib.sha256(json.dumps([files, template, policy()]).encode()).hexdigest()[:12],
        "date": build_date(),
        "policy": policy(),
        "files": files,
    }
    text, replaced = re.subn(r"/\* build \*/ \{.*?\};", lambda _: json.dumps(build, indent=1) + ";", template, flags=re.S)
    if replaced != 1:
        raise BuildError("web/app/offline/sw.js: the place for the list of files is missing.")
    write(site / "sw.js", text)


def entry(path: Path, site: Path) -> dict[str, object]:
    """A file's URL as the page asks for it, its hash and its size."""
    data = path.read_bytes()
    url = path.relative_to(site).as_posix()
    return {
        "url": "./" if url == "index.html" else url,
        "integrity": "sha256-" + b64encode(hashlib.sha256(data).digest()).decode(),
        "bytes": len(data),
    }


def build_date() -> str:
    """Date of the last commit, so that building the same commit again gives the same app; today outside git."""
    git = start(["git", "log", "-1", "--format=%cs"], cwd=ROOT, text=True, capture_output=True) if shutil.which("git") else None
    return (git.stdout.strip() if git else "") or date.today().isoformat()


# ---- files -------------------------------------------------------------------------------------


def copy(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(source, target)


def write(target: Path, text: str) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(text, "utf-8")


if __name__ == "__main__":
    print(f"Built {build().relative_to(ROOT)}")
