"""How a function becomes a method of the door, and where each is found: a module is loaded when one of its methods is first asked."""

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from typing import Any

Json = dict[str, Any]

# What the first answer needs stands in `methods`; the page loads the others while nobody waits.
MODULES: dict[str, str] = {
    "methods": "describe kit new_rig open_rig add_lamp remove_lamp check",
    "exercises": "demo drills drill mark sources",
    "rig_methods": "duplicate_lamp move_part remove_part add_box what_if balance meter_here",
    "shots": "shots add_shot remove_shot shot",
    "rates": "limits exposure shots_sheet",
    "light": "recording arc_sweep",
    "strike": "strike lamp_dropped warm_up timers",
    "setting": "dim refit bank head_cables",
    "control": "control_line add_control_line remove_control_line",
}
WHERE: dict[str, str] = {name: module for module, names in MODULES.items() for name in names.split()}


@dataclass(frozen=True, slots=True)
class Method:
    """A method of the door: the function, what it does, and the shapes of what it takes and gives."""

    function: Callable[..., Any]
    does: str
    params: str
    result: str


METHODS: dict[str, Method] = {}
"""Those whose modules are loaded."""
LOADED: set[str] = set()


def method(params: str, result: str, name: str = "") -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Register a function as a method; its docstring's first line says what it does."""

    def register(function: Callable[..., Any]) -> Callable[..., Any]:
        METHODS[name or function.__name__] = Method(function, (function.__doc__ or "").strip().splitlines()[0], params, result)
        return function

    return register


def find(name: str) -> Method | None:
    """A method by its name, its module loaded; None when there is none."""
    if name not in METHODS and name in WHERE:
        load(WHERE[name])
    return METHODS.get(name)


def all_methods() -> dict[str, Method]:
    """Every method there is, in the order of the modules."""
    return {name: found for name in WHERE if (found := find(name))}


def load(module: str) -> None:
    """Load one module of methods."""
    import_module(f"pycore.api.{module}")
    LOADED.add(module)
