"""The only door into the core: JSON text in, JSON text out. It never raises."""

import inspect
import json
import traceback
from types import UnionType
from typing import Any, get_args, get_origin

from pycore.api import wire
from pycore.api.method import find
from pycore.base.problem import Refused


def handle(text: str) -> str:
    """Answer one request `{"method": ..., "params": {...}}` with `{"ok": true, "result": ...}` or `{"ok": false, "error": ...}`."""
    try:
        request = json.loads(text)
        method, params = request["method"], request.get("params") or {}
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return _failed("request-unreadable", "The request is not readable", 'Send {"method": ..., "params": {...}}')
    return answer(method, params)


def answer(method: Any, params: Any) -> str:
    """Answer a method by name."""
    found = find(method) if isinstance(method, str) else None
    if not found:
        return _failed("method-unknown", f"There is no method {method}", "Ask for `describe`")
    wrong = _misfit(found.function, params)
    if wrong:
        return _failed("params-wrong", f"{method}: {wrong}", "Ask for `describe`")
    try:
        return _text({"ok": True, "result": found.function(**params)})
    except Refused as refused:
        first = refused.problems[0]
        return _failed(first.code, first.message, first.way_out, [wire.problem(p) for p in refused.problems])
    except RecursionError:
        return _failed("request-unreadable", "The request is nested too deeply", "Open the file that this tool saved")
    except Exception:
        return _fault()


def _misfit(function: Any, params: Any) -> str:
    """What is wrong with a method's parameters, "" when they fit."""
    if not isinstance(params, dict):
        return "the parameters must be a group of names and values"
    try:
        inspect.signature(function).bind(**params)
    except TypeError as error:
        return str(error)
    return next((f"`{name}` is of the wrong kind" for name, value in params.items() if not _fits(value, function.__annotations__[name])), "")


def _fits(value: Any, kind: Any) -> bool:
    """Whether a JSON value is of an annotated kind, as far as its outermost layer shows."""
    if isinstance(kind, UnionType):
        return any(_fits(value, k) for k in get_args(kind))
    return kind is Any or isinstance(value, get_origin(kind) or kind)


def _fault() -> str:
    """A fault of ours: said so, with what is needed to find it."""
    return _failed("fault", "The calculator met a fault of its own", "Your rig is kept. Undo the last change, or report this with the detail", detail=traceback.format_exc(limit=8))


def _failed(code: str, message: str, hint: str, problems: list[Any] | None = None, detail: str = "") -> str:
    error = {"code": code, "message": message, "hint": hint, "problems": problems or []}
    return _text({"ok": False, "error": {**error, "detail": detail} if detail else error})


def _text(value: Any) -> str:
    text = json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    try:
        text.encode()
    except UnicodeEncodeError:  # half a surrogate pair, which no file and no terminal can hold
        return json.dumps(value, allow_nan=False, separators=(",", ":"))
    return text
