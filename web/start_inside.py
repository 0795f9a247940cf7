"""Runs inside Pyodide in the page, called by boot.js: loads what the first answer needs, and the rest when asked to.

A data class is made by compiling a text. Compiling all of them would take half of the start, so the archive carries what
the same interpreter compiled when it was made, by that text; any other text is compiled as ever.
"""

import dataclasses
import gc
import marshal
from importlib import import_module
from pkgutil import get_data

COMPILED = "compiled.bin"


def door():
    """Load what the first answer needs; return the door."""
    known = marshal.loads(get_data("pycore.data", COMPILED))
    dataclasses.exec = lambda text, *names: exec(known.get(text, text), *names)
    gc.disable()  # nothing that loading makes is rubbish: looking for some costs a tenth of the time
    import_module("pycore.api.method").load("methods")
    handle = import_module("pycore.api.door").handle
    gc.freeze()
    gc.enable()
    return handle


def load_more():
    """Load one more module of methods; whether there may be another."""
    method = import_module("pycore.api.method")
    lacking = [module for module in method.MODULES if module not in method.LOADED]
    if lacking:
        method.load(lacking[0])
    return len(lacking) > 1
