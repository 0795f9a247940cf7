"""How a function becomes a method of the door."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Method:
    """A method of the door: the function, what it does, and the shapes of what it takes and gives."""

    function: Callable[..., Any]
    does: str
    params: str
    result: str


METHODS: dict[str, Method] = {}


def method(params: str, result: str, name: str = "") -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Register a function as a method; its docstring's first line says what it does."""

    def register(function: Callable[..., Any]) -> Callable[..., Any]:
        METHODS[name or function.__name__] = Method(function, (function.__doc__ or "").strip().splitlines()[0], params, result)
        return function

    return register
