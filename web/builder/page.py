"""The page itself and what lies around it: Pyodide, the core, the manifest, icons, fonts."""

import re
from pathlib import Path

from builder.files import BuildError, copy, write
from policy import policy
from toolchain import WEB

PYODIDE = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")
# The calculator's start and what it imports: its worker is under way before the rest of the page is asked for.
START = ("app/core/start.js", "app/core/client.js", "app/core/error.js", "app/core/trusted_url.js", "vendor/signals-core.js")
IN_THE_WORKER = ("app/core/worker.js", "app/core/boot.js")


def copy_parts(site: Path, core: Path) -> None:
    """Copy Pyodide, the core's archives, the manifest and the icons."""
    for name in PYODIDE:
        copy(WEB / "node_modules" / "pyodide" / name, site / "pyodide" / name)
    for archive in sorted(core.glob("*.zip")):
        copy(archive, site / "core" / archive.name)
    copy(WEB / "app.webmanifest", site / "app.webmanifest")
    for icon in sorted([*(WEB / "icons").glob("*.png"), *(WEB / "icons").glob("*.svg")]):
        copy(icon, site / "icons" / icon.name)


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
    """Write index.html with the policy; the calculator's start comes first of all modules, then all others at one go."""
    page = (WEB / "index.html").read_text("utf-8")
    modules = [path.relative_to(site).as_posix() for path in sorted([*(site / "app").rglob("*.js"), *(site / "vendor").rglob("*.js")])]
    later = [name for name in modules if name not in page and name not in (*START, *IN_THE_WORKER)]
    start = [f'<script type="module" async src="{START[0]}"></script>', *map(_preload, START[1:])]
    meta = f'<meta http-equiv="Content-Security-Policy" content="{policy(in_page=True)}">'
    page = page.replace("<!-- start -->", "\n    ".join(start)).replace("<!-- modules -->", "\n      ".join(map(_preload, later)))
    write(site / "index.html", page.replace("<!-- policy -->", meta))


def _preload(module: str) -> str:
    return f'<link rel="modulepreload" href="{module}">'
