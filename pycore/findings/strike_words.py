"""A limit of a strike plan in words: what is demanded, what is allowed, where, when, and what to do about it."""

from pycore.base.result import Finding, Limit, Remedy, Term, Verdict, term
from pycore.findings.common import within
from pycore.findings.strike_ready import Made
from pycore.findings.strike_terms import INVERTER, WORDS
from pycore.findings.strike_working import working
from pycore.lamp.strike import Use
from pycore.rig import graph

WARN = "Warn everybody before a strike: a hot lamp may take tens of kilovolts. Strike from the ballast, glass shut, head closed."
FULL_FIRST = "Lamps are struck and warmed at full power here, about 15 minutes before the first dim."


def clock(seconds: float) -> str:
    """Minutes and seconds: "3:05"."""
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d}"


def _place(made: Made, use: Use) -> str:
    if use.place == graph.SUPPLY:
        return "the outlet"
    group, _, name = use.place.partition("/")
    if group == "loads":
        return made.name(name)
    return made.rig.runs[use.place].name or use.place


def _terms(made: Made, use: Use) -> tuple[Term, Term]:
    words = WORDS[use.limit]
    own = use.place.removeprefix("loads/")
    lamps = [made.bench.lamps[own]] if own in made.bench.lamps else list(made.bench.lamps.values())
    rests = [t for s in lamps for t in (s.surge_leans_on if use.limit in ("surge", "dip", "peak") else s.leans_on)]
    return term(use.demand, words.unit, words.demand, rests_on=rests), term(use.allowed, words.unit, words.allowed, rests_on=made.leans_on)


def sentence(made: Made, use: Use) -> str:
    """Demand, place and limit in one breath."""
    demand, allowed = _terms(made, use)
    if use.limit == "collapse":
        return "the cables or the supply cannot carry this at all: the voltage collapses"
    sign = "of" if not use.broken or WORDS[use.limit].least else "against"
    return f"{demand.quantity} {demand.name}, {_place(made, use)}, {sign} {allowed.quantity} {allowed.name}"


def breach(use: Use) -> str:
    """By how much a limit is broken."""
    words = WORDS[use.limit]
    if use.limit == "collapse":
        return ""
    return f"{term(abs(use.demand - use.allowed), words.unit).quantity} {'too little' if words.least else 'too much'}"


def finding_of(made: Made, use: Use, when: float | None = None, forced: Verdict | None = None) -> Finding:
    """One limit as it is used at one moment, `when` (s) into the plan; `forced` stands in for the verdict."""
    demand, allowed = _terms(made, use)
    words = (INVERTER if made.rig.supply.kind == "battery" else WORDS).get(use.limit, WORDS[use.limit])
    verdict = forced or (Verdict.TIGHT if use.may_hold else Verdict.STOP if use.broken else Verdict.CLEAR if use.limit == "gap" else within(use.share, 1.0, 0.95))
    at = "" if when is None or use.limit in ("gap", "long") else f", at {clock(when)}"
    says = sentence(made, use)
    cautions = (WARN, FULL_FIRST) if use.limit == "surge" else ()
    place = use.place if use.place == graph.SUPPLY or "/" in use.place else f"runs/{use.place}"
    limited = use.limit != "collapse"
    return Finding(question=f"strike-{use.limit}", title=words.question, place=place, verdict=verdict, says=says[:1].upper() + says[1:] + at,
                   demand=demand if limited else None, limit=Limit(WORDS[use.limit].relation, allowed) if limited else None, note="May trip" if use.may_hold else "", steps=working(made, use),
                   cautions=cautions, remedies=(Remedy(words.remedy),) if verdict is not Verdict.CLEAR else ())
