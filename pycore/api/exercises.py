"""Methods for learning: the exercises, the demo rig that is the first of them, and what the figures rest on."""

from pycore.api.method import Json, method
from pycore.api.wire import Wire
from pycore.base.source import sources as all_sources
from pycore.drills import play


@method("{}", "{rig}")
def demo() -> Json:
    """The demo rig: that of the first drill."""
    return {"rig": play.demo_rig()}


@method("{}", "[{id, title, teaches, minutes, level}]")
def drills() -> list[Json]:
    """The exercises there are."""
    return play.drills()


@method("{id, code?}", "{id, code, title, story: [text], rig, load, shot, questions: [{id, prompt, unit, tolerance, hints: [text]}], cautions: [text]}")
def drill(id: str, code: str = "") -> Json:
    """An exercise with the numbers that belong to its code."""
    return play.drill(id, code)


@method("{id, code, question, answer, reveal?}", "{outcome: right|close|wrong|unit|unreadable, says, expected: Term|null, finding: Finding|null}")
def mark(id: str, code: str, question: str, answer: str, reveal: bool = False) -> Json:
    """Mark an answer with its unit; the core's own working comes with the right one, or when asked for."""
    marked = play.mark(id, code, question, answer)
    wire, show = Wire(), reveal or marked.outcome == "right"
    return {"outcome": marked.outcome, "says": marked.says, "expected": wire.term(marked.expected) if show else None,
            "finding": wire.finding(marked.finding) if show and marked.finding else None}


@method("{}", "[{id, title, edition, how_sure, note}]")
def sources() -> list[Json]:
    """Every document that a figure is taken from, and how surely we know it."""
    return [{"id": s.id, "title": s.title, "edition": s.edition, "how_sure": s.how_sure, "note": s.note} for s in all_sources().values()]
