"""The only door into the core: JSON text in, JSON text out. It never raises."""

import json
import traceback
from typing import Any

from pycore.api import wire
from pycore.api.methods import METHODS
from pycore.base.problem import Refused


def handle(text: str) -> str:
    """Answer one request `{"method": ..., "params": {...}}` with `{"ok": true, "result": ...}` or `{"ok": false, "error": ...}`."""
    try:
        request = json.loads(text)
        method, params = request["method"], request.get("params") or {}
    except (ValueError, TypeError, KeyError, AttributeError):
        return _failed("request-unreadable", "The request is not readable", 'Send {"method": ..., "params": {...}}')
    return answer(method, params)


def answer(method: Any, params: Any) -> str:
    """Answer a method by name."""
    if method not in METHODS or not isinstance(params, dict):
        return _failed("method-unknown", f"There is no method {method}", "Ask for `describe`")
    try:
        return _text({"ok": True, "result": METHODS[method].function(**params)})
    except Refused as refused:
        first = refused.problems[0]
        return _failed(first.code, first.message, first.way_out, [wire.problem(p) for p in refused.problems])
    except TypeError as error:
        if "argument" in str(error) and error.__traceback__ and error.__traceback__.tb_next is None:
            return _failed("params-wrong", f"{method}: {error}", "Ask for `describe`")
        return _fault()
    except Exception:
        return _fault()


def _fault() -> str:
    """A fault of ours: said so, with what is needed to find it."""
    return _failed("fault", "The calculator met a fault of its own", "Your rig is kept. Undo the last change, or report this with the detail", detail=traceback.format_exc(limit=8))


def _failed(code: str, message: str, hint: str, problems: list[Any] | None = None, detail: str = "") -> str:
    error = {"code": code, "message": message, "hint": hint, "problems": problems or []}
    return _text({"ok": False, "error": {**error, "detail": detail} if detail else error})


def _text(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
