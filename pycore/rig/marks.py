"""What was pressed on the day, as it travels in a rig file: the optional key `marks`.

They are no part of the rig: undoing an edit must not undo a strike. A page keeps them beside the rig and puts them into the
file that it exports; whoever opens that file takes them off first.
"""

from typing import Any

from pycore.base.problem import Problem, Refused, refuse

KEY = "marks"
PRESSED = ("struck", "out", "hot", "clock")
FAR = 1e12  # s; no clock shows more


def read_mark(given: Any, number: int) -> dict[str, Any]:
    """One mark: load, what, at (s since 1970), by (s). Raises `Refused` for what is none."""
    try:
        what, at, by = str(given["what"]), float(given["at"]), float(given.get("by") or 0.0)
    except (AttributeError, KeyError, TypeError, ValueError):
        what, at, by = "", float("nan"), 0.0
    if what not in PRESSED or not (abs(at) < FAR and 0 <= by < FAR):
        raise refuse("mark-unreadable", f"Mark {number + 1} is not readable", "Remove it", f"{KEY}/{number}")
    return {"load": str(given.get("load", "")), "what": what, "at": at, **({"by": by} if by else {})}


def take_off(document: dict[str, Any]) -> tuple[dict[str, Any], list[dict[str, Any]], tuple[Problem, ...]]:
    """A file's document without its marks, the marks in the order pressed, and a problem for each that cannot be read."""
    given = document.get(KEY, [])
    rest = {k: v for k, v in document.items() if k != KEY}
    if not isinstance(given, list):
        return rest, [], (Problem("marks-unreadable", "The marks of the day are not readable", "They are left out", KEY),)
    marks: list[dict[str, Any]] = []
    problems: list[Problem] = []
    for k, mark in enumerate(given):
        try:
            marks.append(read_mark(mark, k))
        except Refused as refused:
            problems += refused.problems
    return rest, marks, tuple(problems)
