"""Answers as plain JSON values: the shapes that the page, the command line and the export all read."""

import re
from collections.abc import Mapping
from functools import cache
from typing import Any

from pycore.base import formula
from pycore.base.problem import Problem
from pycore.base.quantity import Quantity
from pycore.base.result import Evidence, Finding, Remedy, Step, Term
from pycore.base.source import Cite, sources
from pycore.base.units import base_unit, digits, from_si, shown
from pycore.findings.chain import Chain, Link
from pycore.findings.rig_tree import LineLoad, Node
from pycore.rig.form import Entry, origin_of

Json = dict[str, Any]
_METRES = re.compile(r"(?<![\w.])(\d+(?:\.\d+)?)\u00a0m(?![\w²/])")
Line = tuple[str, tuple[tuple[float, str, str, str, tuple[str, str] | None, str, str], ...]]  # what makes a line of working the same wherever it stands
KEPT = 4000  # lines of working, drawn


class Wire:
    """Turns answers into JSON values, in the units that the user prefers: {"length": "ft"}.

    With `compact`, lines of working are listed once in `workings` and findings hold their numbers: many share them.
    """

    def __init__(self, show: Mapping[str, str] | None = None, compact: bool = False):
        self.workings: list[Json] = []
        self._numbers: dict[Line, int] | None = {} if compact else None
        feet = (show or {}).get("length") == "ft"
        self.swap = {"m": "ft", "Ω/km": "Ω/kft"} if feet else {}

    def figure(self, q: Quantity) -> tuple[str, str]:
        """Figure and unit as shown."""
        other = self.swap.get(q.unit)
        return (digits(from_si(q.value, other)), other) if other else shown(q.value, q.unit)

    def text(self, words: str) -> str:
        """A sentence with its lengths in the unit to be shown; what the user wrote stays as written, with a plain space."""
        return _METRES.sub(_in_feet, words) if self.swap else words

    def quantity(self, q: Quantity) -> Json:
        """A quantity: SI value and unit, and the text for people."""
        text, unit = self.figure(q)
        return {"value": q.value, "unit": si_unit(q.unit), "shown": text, "shown_unit": unit}

    def term(self, t: Term | None) -> Json | None:
        """A term, or nothing."""
        if t is None:
            return None
        return {"symbol": t.symbol, "symbol_mathml": f'<math xmlns="http://www.w3.org/1998/Math/MathML">{formula.symbol(t.symbol)}</math>' if t.symbol else "",
                "name": t.name, "quantity": self.quantity(t.quantity), "origin": str(t.origin), "cite": cite(t.cite), "note": t.note,
                "address": t.address}

    def step(self, s: Step, line: Line | None = None) -> Json:
        """A line of working with both forms of its formula; kept, since most edits change few of them."""
        key = line or _line(s), bool(self.swap)
        if key not in _drawn:
            if len(_drawn) >= KEPT:
                _drawn.clear()
            _drawn[key] = self._draw(s)
        return _drawn[key]

    def _draw(self, s: Step) -> Json:
        terms = s.terms
        numbers = {t.symbol: self.figure(t.quantity) for t in terms}
        return {"law": s.law, "title": s.title, "formula": s.formula, "symbols_mathml": formula.in_symbols(s.formula),
                "numbers_mathml": formula.mathml(s.formula, numbers, self.figure(s.result.quantity)),
                "terms": [self.term(t) for t in terms], "result": self.term(s.result), "cite": cite(s.cite)}

    def steps(self, steps: tuple[Step, ...]) -> list[Json] | list[int]:
        """Lines of working in order, each once, or their numbers."""
        kept: dict[tuple[str, str, tuple[float, ...]], Step] = {}
        for s in steps:
            kept.setdefault((s.law, s.result.name, tuple([t.quantity.value for t in s.given])), s)
        if self._numbers is None:
            return [self.step(s) for s in kept.values()]
        return [self._number(s) for s in kept.values()]

    def _number(self, s: Step) -> int:
        """The place of a line in `workings`, into which it goes when it is new."""
        assert self._numbers is not None
        line = _line(s)
        if line not in self._numbers:
            self._numbers[line] = len(self.workings)
            self.workings.append(self.step(s, line))
        return self._numbers[line]

    def evidence(self, e: Evidence | None) -> Json | None:
        """What a solver shows."""
        if e is None:
            return None
        return {"method": e.method, "equations": [{"text": x, "mathml": formula.in_symbols(x)} for x in e.equations], "iterations": e.iterations,
                "residuals": [self.term(t) for t in e.residuals]}

    def finding(self, f: Finding) -> Json:
        """A finding, whole."""
        return {"question": f.question, "title": f.title, "place": f.place, "verdict": str(f.verdict), "says": self.text(f.says), "note": f.note,
                "demand": self.term(f.demand), "limit": {"relation": f.limit.relation, "term": self.term(f.limit.term)} if f.limit else None,
                "margin": self.margin(f), "steps": self.steps(f.steps), "evidence": self.evidence(f.evidence),
                "assumptions": self.assumptions(f.assumptions),
                "cautions": list(f.cautions), "remedies": [remedy(r, self) for r in f.remedies], "problems": [problem(p) for p in f.problems]}

    def margin(self, f: Finding) -> Json | None:
        """What is left to the limit; where per cent stop telling anything, how many times the limit, in words and without a unit."""
        if f.margin is None:
            return None
        near = {"shown": digits(round(from_si(f.margin.value, "%"), 1)), "shown_unit": "%"}
        return self.quantity(f.margin) | ({"shown": f.times, "shown_unit": ""} if f.times else near)

    def assumptions(self, terms: tuple[Term, ...]) -> list[Json]:
        """What an answer leans on; alike ones of many lamps once, with their number."""
        groups: dict[tuple[str, str, float], list[Term]] = {}
        for t in terms:
            groups.setdefault((t.name, t.origin, t.value), []).append(t)
        return [{"term": self.term(same[0]), "firm_up": same[0].firm_up, "address": same[0].address, "count": len(same)} for same in groups.values()]

    def link(self, link: Link, fields: list[Entry]) -> Json:
        """A link of the chain with its form."""
        return {"id": link.id, "kind": link.kind, "title": link.title, "place": link.place, "verdict": str(link.verdict), "verdict_note": link.leading.note,
                "figure": self.term(link.figure), "caption": link.caption, "detail": link.detail,
                "estimates": [f"{t.origin} {t.name[:1].lower()}{t.name[1:]}" for t in link.estimates], "share": link.share, "medium": link.medium, "bar": bar(link),
                "findings": [self.finding(f) for f in link.findings], "remedies": [remedy(r, self) for r in link.remedies], "fields": [self.field(e) for e in fields]}

    def chain(self, c: Chain, forms: Mapping[str, list[Entry]]) -> Json:
        """The chain of one lamp; `forms` gives the entries of each link by its id."""
        return {"load": c.load, "name": c.name, "shot": c.shot, "verdict": str(c.verdict), "headline": c.headline, "sentence": c.sentence,
                "links": [self.link(x, forms.get(x.id, [])) for x in c.links], "problems": [problem(p) for p in c.problems]}

    def node(self, n: Node) -> Json:
        """A place of the rig's tree."""
        return {"id": n.id, "kind": n.kind, "parent": n.parent, "depth": n.depth, "title": n.title, "detail": n.detail, "verdict": str(n.own), "carried": str(n.carried),
                "line": n.line, "says": n.says, "voltage": self.term(n.voltage), "current": self.term(n.current)}

    def line_load(self, x: LineLoad) -> Json:
        """A conductor of the supply against its rating, on a bar whose end is a quarter beyond it."""
        used = x.current.value / x.rating.value if x.rating else 0.0
        return {"conductor": x.conductor, "title": "Neutral" if x.conductor == "N" else x.conductor, "current": self.term(x.current), "rating": self.term(x.rating), "verdict": str(x.verdict),
                "bar": {"fraction": min(1.0, used * 0.8), "limit": 0.8} if x.rating else None}

    def field(self, e: Entry) -> Json:
        """A form field."""
        typical = {"text": e.usual_text, "origin": origin_of(e), "note": e.usual.note if e.usual else ""} if e.usual_text else None
        return {"address": e.address, "label": e.label, "kind": e.kind, "text": e.text, "typical": typical, "unit": e.unit, "units": list(e.units),
                "options": [{"value": v, "label": words} for v, words in e.options], "hint": e.hint,
                "keypad": "decimal" if e.kind == "quantity" and "AWG" not in e.units else "text", "problem": problem(e.problem) if e.problem else None, "more": e.more, "section": e.section}


_drawn: dict[tuple[Line, bool], Json] = {}


def _line(s: Step) -> Line:
    """What tells a line of working from others, of plain values, which are quick to look up."""
    return s.law, tuple([(t.quantity.value, t.quantity.unit, t.name, str(t.origin), (t.cite.source, t.cite.locator) if t.cite else None, t.note, t.address) for t in (*s.given, s.result)])


def _in_feet(found: re.Match[str]) -> str:
    """A length of three figures in metres, in feet."""
    feet = float(f"{from_si(float(found[1]), 'ft'):.3g}")
    return f"{digits(feet)}\u00a0ft"


def bar(link: Link) -> Json | None:
    """The leading finding's use of its limit, on a bar whose end is a quarter beyond the limit."""
    f = link.leading
    if not (f.demand and f.limit) or f.limit.term.value <= 0:
        return None
    used = f.demand.value / f.limit.term.value
    used = used if f.limit.relation == "<=" else 1 / used if used > 0 else 2.0
    return {"fraction": max(0.0, min(1.0, used * 0.8)), "limit": 0.8}


def problem(p: Problem) -> Json:
    """A problem."""
    return {"code": p.code, "address": p.address, "message": p.message, "way_out": p.way_out}


def remedy(r: Remedy, wire: Wire | None = None) -> Json:
    """A remedy with the changes that it would make."""
    return {"text": wire.text(r.text) if wire else r.text, "changes": [{"address": a, "text": t} for a, t in r.changes]}


def cite(c: Cite | None) -> Json | None:
    """A citation with its source's title."""
    if c is None:
        return None
    source = sources()[c.source]
    return {"source": c.source, "title": ", ".join(x for x in (source.title, source.edition) if x), "locator": c.locator, "how_sure": source.how_sure}


@cache
def si_unit(unit: str) -> str:
    """The coherent SI unit in which a quantity of this family is stored."""
    if not unit:
        return ""
    return _SI.get(unit) or base_unit(unit)


_SI = {"V": "V", "A": "A", "W": "W", "VA": "VA", "var": "var", "Ω": "Ω", "m": "m", "mm²": "m²", "Ω/km": "Ω/m", "mΩ/m": "Ω/m", "ms": "s", "µs": "s", "s": "s", "Hz": "Hz", "fps": "1/s",
       "%": "1", "°": "rad", "°C": "K", "K": "K", "stop": "stop", "mired": "1/K", "1/K": "1/K", "lx": "lx"}
