"""The app's modules and the libraries they import.

Nothing is bundled: modules are copied as they are, except that bare imports ("preact") become relative ones, since the
page's policy forbids the inline import map that they would need.
"""

import os
import re
from pathlib import Path

from builder.files import BuildError, copy, write
from toolchain import WEB

# What a module may import by its bare name → the file that the package offers, and where the site has it.
LIBRARIES = {
    "preact": ("preact/dist/preact.mjs", "vendor/preact.js"),
    "preact/hooks": ("preact/hooks/dist/hooks.mjs", "vendor/preact-hooks.js"),
    "@preact/signals": ("@preact/signals/dist/signals.module.js", "vendor/signals.js"),
    "@preact/signals-core": ("@preact/signals-core/dist/signals-core.module.js", "vendor/signals-core.js"),
    "htm": ("htm/dist/htm.module.js", "vendor/htm.js"),
    "idb": ("idb/build/index.js", "vendor/idb.js"),
    "pyodide": ("pyodide/pyodide.mjs", "pyodide/pyodide.mjs"),
}
IMPORT = r"""(?P<before>\bfrom\s*|\bimport\s*\(?\s*)(?P<quote>["'])(?P<name>FIRST[^"'\s]*)(?P=quote)"""
BARE = re.compile(IMPORT.replace("FIRST", r"""[^"'./\s]"""))
RELATIVE = re.compile(IMPORT.replace("FIRST", r"\."))
SERVICE_WORKER = WEB / "app" / "offline" / "sw.js"


def copy_modules(site: Path) -> set[str]:
    """Copy the app's modules and style sheets, then every library that they turn out to import; return its names."""
    wanted: list[str] = []
    for source in sorted((WEB / "app").rglob("*.js")):
        if source != SERVICE_WORKER:
            wanted += _copy_module(source, site, source.relative_to(WEB))
    for source in sorted((WEB / "app").rglob("*.css")):
        copy(source, site / source.relative_to(WEB))
    for name in wanted:  # grows while it is walked: a library may import another
        file, place = LIBRARIES[name]
        if not (site / place).exists():
            wanted += _copy_module(WEB / "node_modules" / file, site, Path(place))
    return set(wanted)


def _copy_module(source: Path, site: Path, place: Path) -> list[str]:
    """Copy one module with its bare imports made relative; return the names it imports."""
    names: list[str] = []

    def relative(match: re.Match[str]) -> str:
        name = match["name"]
        if in_comment(match):
            return match[0]
        if name not in LIBRARIES:
            raise BuildError(f"{source}: imports {name!r}, which web/builder/modules.py does not know (LIBRARIES).")
        names.append(name)
        path = os.path.relpath(LIBRARIES[name][1], place.parent)
        return f"{match['before']}{match['quote']}{path if path.startswith('.') else './' + path}{match['quote']}"

    text = re.sub(r"\n?//# sourceMappingURL=.*", "", source.read_text("utf-8"))
    write(site / place, BARE.sub(relative, text))
    return names


def in_comment(match: re.Match[str]) -> bool:
    """Whether the match is a JSDoc type, not an import that runs."""
    before = match.string[: match.start()]
    return before.rfind("/*") > before.rfind("*/") or before[before.rfind("\n") + 1 :].lstrip().startswith("//")


# ---- a site without dead ends ------------------------------------------------------------------

CSS_URL = re.compile(r"""url\(["']?([^"')]+)["']?\)|@import\s+["']([^"']+)["']""")
HTML_URL = re.compile(r"""(?:href|src)=["']([^"'#]+)["']""")


def check_links(site: Path) -> None:
    """Refuse a site in which a module, style sheet or the page names a local file that is not there."""
    for file in sorted(path for path in site.rglob("*") if path.suffix in {".js", ".css", ".html"}):
        for link in _links(file):
            if not link.startswith("data:") and not (file.parent / re.split("[?#]", link)[0]).exists():
                raise BuildError(f"{file.relative_to(site)}: {link} does not exist.")


def _links(file: Path) -> list[str]:
    text = file.read_text("utf-8")
    if file.suffix == ".js":
        return [match["name"] for match in RELATIVE.finditer(text) if not in_comment(match)]
    return [a or b for a, b in CSS_URL.findall(text)] if file.suffix == ".css" else HTML_URL.findall(text)
