"""Runs inside Pyodide at build time, called by bundle.mjs: installs the wheels, then compiles and zips what pycore needs.

Only bytecode is shipped, marked "unchecked" so that no source is looked for: the browser compiles nothing at start. The
core's data files are shipped as what was read from them, the units as what pint says of them: the browser reads no TOML and
loads pint for a unit only that is not among them.
"""

import ast
import importlib
import importlib.util
import io
import json
import marshal
import pkgutil
import shutil
import sys
import sysconfig
import zipfile
import zipimport
from pathlib import Path

OURS = ("pycore", "demo_scenarios")
EPOCH = (1980, 1, 1, 0, 0, 0)


# ---- first interpreter -------------------------------------------------------------------------


async def install(wheels, tree):
    """Install every wheel with micropip from local files and pack the resulting tree."""
    import micropip

    await micropip.install([f"emfs:{wheel}" for wheel in sorted(Path(wheels).iterdir())], index_urls=[])
    shutil.make_archive(tree.removesuffix(".zip"), "zip", sysconfig.get_path("purelib"))


# ---- second interpreter ------------------------------------------------------------------------


def compile_all(site, out):
    """Write python.zip, libs.zip and core.zip into `out` and return a line that says what they hold."""
    stdlib = next(entry for entry in sys.path if entry.endswith(".zip"))
    sys.path.insert(0, site)
    texts = texts_at_start()
    exercise(Path(site))
    counts = [
        write_zip(Path(out, "python.zip"), compiled(stdlib, zipimport.zipimporter(stdlib).get_data)),
        write_zip(Path(out, "libs.zip"), compiled(site, lambda file: Path(file).read_bytes())),
        write_zip(Path(out, "core.zip"), core(Path(site), texts)),
    ]
    return "python.zip {} files, libs.zip {}, core.zip {}".format(*counts)


def texts_at_start():
    """Every text of which a data class is made when what the first answer needs is loaded: see start_inside.py."""
    import dataclasses

    texts = set()

    def remember(text, *names):
        texts.add(text)
        exec(text, *names)

    dataclasses.exec = remember
    importlib.import_module("pycore.api.method").load("methods")
    importlib.import_module("pycore.api.door")
    del dataclasses.exec
    return texts


def exercise(site):
    """Import all of pycore and go through its door, failures included, so that late imports happen now."""
    for module in pkgutil.walk_packages([str(site / "pycore")], "pycore."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    for name in sorted(imported_anywhere(site / "pycore")):
        importlib.import_module(name)
    from pycore.api.door import handle

    demo = json.loads(handle('{"method": "demo", "params": {}}'))
    rig = demo["result"]["rig"] if demo["ok"] and "rig" in demo["result"] else None
    for method, params in [("describe", {}), ("check", {"rig": rig}), ("no such method", {}), ("check", {"rig": 3})]:
        handle(json.dumps({"method": method, "params": params}))
    handle("not JSON")
    show_an_exception()
    for name in ("ascii", "latin_1", "utf_8_sig"):
        importlib.import_module(f"encodings.{name}")


def show_an_exception():
    """Pyodide words a Python error with these modules; it must be able to in the page too."""
    import traceback

    try:
        raise ValueError("wanted")
    except ValueError:
        traceback.print_exc(file=io.StringIO())


def imported_anywhere(package):
    """Names of all modules that pycore imports, also inside functions."""
    names = set()
    for path in package.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Import):
                names |= {alias.name for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                names.add(node.module)
    return names - {"__future__"}


def loaded_files():
    """File of every module now loaded, except those frozen into the interpreter itself."""
    modules = [module for module in list(sys.modules.values()) if getattr(module, "__spec__", None)]
    return sorted({m.__file__ for m in modules if m.__spec__.origin != "frozen" and getattr(m, "__file__", None)})


def below(root):
    """(file, name relative to `root`) of every loaded source below `root`, our own packages left out."""
    for file in loaded_files():
        name = file.removeprefix(root + "/")
        if name != file and name.split("/")[0] not in OURS:
            yield file, name


def compiled(root, read):
    """(name in the archive, bytes) of every loaded module below `root`, without asserts and docstrings."""
    for file, name in below(root):
        yield name.removesuffix(".py") + ".pyc", bytecode(read(file), name, optimize=2)


def bytecode(source, name, *, optimize):
    """A .pyc with an unchecked hash (PEP 552): flag bit 0 set, bit 1 clear."""
    code = compile(source, name, "exec", dont_inherit=True, optimize=optimize)
    return importlib.util.MAGIC_NUMBER + (1).to_bytes(4, "little") + bytes(8) + marshal.dumps(code)


def core(site, texts):
    """(name in the archive, bytes) of pycore, compiled with its docstrings, of its other files, and of all that is made of them here."""
    yield "pycore/data/made.json", made().encode()
    yield "pycore/data/compiled.bin", marshal.dumps({text: compile(text, "<string>", "exec", dont_inherit=True) for text in sorted(texts)})
    yield "start_inside.pyc", bytecode(Path("start_inside.py").read_bytes(), "start_inside.py", optimize=0)
    for path in sorted(p for top in OURS for p in (site / top).rglob("*") if p.is_file()):
        name = str(path.relative_to(site))
        if "__pycache__" in path.parts or path.suffix == ".toml":
            continue
        if path.suffix == ".py":
            yield name.removesuffix(".py") + ".pyc", bytecode(path.read_bytes(), name, optimize=0)
        else:
            yield name, path.read_bytes()


def made():
    """All data files as read, and all units as pint has them."""
    from pycore.base import data_files, units

    return data_files.make({unit: units.from_pint(unit) for unit in units.SPELLINGS})


def write_zip(path, files):
    """Write the archive with fixed dates, so that the same sources give the same bytes."""
    count = 0
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, data in files:
            archive.writestr(zipfile.ZipInfo(name, EPOCH), data, zipfile.ZIP_DEFLATED, 9)
            count += 1
    return count
