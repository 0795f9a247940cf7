"""The whole core, loaded."""

import importlib
import pkgutil

import pycore
from pycore.base.law import LAWS, Law


def every_law() -> dict[str, Law]:
    """Every law there is, once all modules are imported."""
    for module in pkgutil.walk_packages(pycore.__path__, "pycore."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    return {i: x for i, x in LAWS.items() if x.function.__module__.startswith("pycore.")}
