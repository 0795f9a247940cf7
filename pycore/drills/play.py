"""Exercises: pose one, mark an answer, reveal the core's own working. The answer is always what the core computes."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from pycore.base.problem import Refused, refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Finding, Term
from pycore.base.units import parse
from pycore.drills.scenario import START, Scenario, filled, scenario, scenarios, tidy
from pycore.findings.chain import Chain, chain, settled
from pycore.findings.lamp_out import Out, went_out
from pycore.findings.strike import Strikes, plan
from pycore.rig.read import read

Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Marked:
    """An answer marked: "right", "close", "wrong", "unit" (another kind of unit) or "unreadable"."""

    outcome: str
    says: str
    expected: Term | None = None
    finding: Finding | None = None


def drills() -> list[Json]:
    """The list of exercises."""
    return [{"id": s.id, **{k: s.content[k] for k in ("title", "teaches", "minutes", "level")}} for s in scenarios().values()]


def demo_rig() -> Json:
    """The rig of the first exercise with its first numbers."""
    first = next(iter(scenarios().values()))
    return rig_of(first, START)


def rig_of(what: Scenario, code: str) -> Json:
    """The rig that belongs to a code."""
    return filled(what.content["rig"], what.values(code))


def drill(drill_id: str, code: str = "") -> Json:
    """An exercise posed."""
    what, code = scenario(drill_id), tidy(code)
    content = filled({k: v for k, v in what.content.items() if k not in ("vary", "derive", "promise")}, what.values(code))
    questions = [{k: q[k] for k in ("id", "prompt", "unit", "tolerance", "hints")} for q in content["question"]]
    return {"id": drill_id, "code": code, "title": content["title"], "story": content["story"], "cautions": content["cautions"], "rig": content["rig"],
            "load": content["load"], "shot": content["shot"], "questions": questions}


def solution(what: Scenario, code: str, question: Json) -> tuple[Term, Finding]:
    """The term and the finding that answer a question. Raises `Refused` where the core has no answer."""
    found = next((f for f in _findings(what, code, question) if f.question == question["finding"]), None)
    wanted = None if found is None else (next((s.result for s in found.steps if s.law.endswith(f".{question['law']}")), None) if "law" in question else found.demand)
    if found is None or wanted is None:
        raise refuse("drill-broken", "The calculator has no answer to this question", "Try another code")
    return wanted, found


def _findings(what: Scenario, code: str, question: Json) -> tuple[Finding, ...]:
    """What the core says where a question points to: a link of the chain, the strike plan, or a lamp that went out."""
    if question.get("about") == "strike":
        return answer_strike(what.id, code).findings
    if question.get("about") == "lamp out":
        return answer_out(what.id, code, question["load"]).findings
    return next((link.findings for link in answer_chain(what, code, question.get("load", "")).links if link.id == question["link"]), ())


@lru_cache(maxsize=128)
def answer_strike(drill_id: str, code: str) -> Strikes:
    """The strike plan that the core judges for an exercise."""
    return plan(settled(read(rig_of(scenario(drill_id), code))))


@lru_cache(maxsize=128)
def answer_out(drill_id: str, code: str, load: str) -> Out:
    """What the core says of an exercise when a lamp goes out."""
    return went_out(settled(read(rig_of(scenario(drill_id), code))), load)


def answer_chain(what: Scenario, code: str, load: str = "") -> Chain:
    """The chain that the core computes for an exercise, of its lamp or of another that a question is about."""
    return chain(read(rig_of(what, code)), load or what.content["load"], what.content["shot"])


def mark(drill_id: str, code: str, question_id: str, answer: str) -> Marked:
    """Mark an answer: readable, of the right kind, of the right size."""
    what, code = scenario(drill_id), tidy(code)
    question = next((q for q in what.content["question"] if q["id"] == question_id), None)
    if question is None:
        raise refuse("question-unknown", f"The exercise has no question {question_id}", "Choose one of its questions")
    expected, finding = solution(what, code, question)
    try:
        given = parse(answer, question["unit"])
    except Refused as refused:
        p = refused.problems[0]
        return Marked("unit" if p.code in ("unit-wrong", "unit-unknown") else "unreadable", f"{p.message}. {p.way_out}.", expected, finding)
    return _judge(given, expected, finding, question)


def _judge(given: float, expected: Term, finding: Finding, question: Json) -> Marked:
    tolerance = parse(question["tolerance"], "%")
    off = abs(given - expected.value) / abs(expected.value) if expected.value else abs(given)
    if off <= tolerance * (1 + 1e-9):
        return Marked("right", f"Right: {Quantity(expected.value, question['unit'])}.", expected, finding)
    for slip in question.get("slip", ()):
        if abs(given - slip["factor"] * expected.value) <= tolerance * abs(slip["factor"] * expected.value):
            return Marked("wrong", slip["says"], expected, finding)
    for factor in (1000, 0.001):
        if abs(given - factor * expected.value) <= tolerance * factor * abs(expected.value):
            return Marked("wrong", "The figures are right, the thousands are not: look at the unit.", expected, finding)
    if off <= 4 * tolerance:
        return Marked("close", f"Close: {'too high' if given > expected.value else 'too low'}. The tolerance is {question['tolerance']}.", expected, finding)
    return Marked("wrong", f"Too {'high' if given > expected.value else 'low'}.", expected, finding)
