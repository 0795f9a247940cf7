"""Where does the voltage go, and does the lamp stand it? Stage by stage, against the lamp's own window."""

from dataclasses import replace
from functools import partial

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Step, Term, Verdict
from pycore.conductors.rule_sets import cable_rules
from pycore.conductors.rules import Laying
from pycore.findings import loading
from pycore.findings.common import attempt, percent, within
from pycore.findings.recommended import guidance
from pycore.findings.supply_side import Feed
from pycore.powerflow import single_path
from pycore.rig.model import Load, Rig
from pycore.rig.typical import need

QUESTION, TITLE = "drop-stages", "Where does the voltage go?"


def stages(rig: Rig, load: Load, feed: Feed, whole_working: bool = True) -> Finding:
    """Each stage's share of the drop from no load to the lamp, and all of it against what the lamp stands."""
    if feed.voltage is None or feed.socket is None or not feed.cables:
        raise refuse("no-operating-point", "No drop can be given: the path cannot carry this load", "See the run above", f"loads/{load.id}")
    low = need(load.ballast, "low_cut_out", f"loads/{load.id}/ballast")
    split = _split(feed)
    whole = work(single_path.drop, V_a=feed.no_load, V_b=feed.voltage, V_n=feed.nominal)
    stands = work(single_path.drop, V_a=feed.no_load, V_b=low, V_n=feed.nominal)
    books = guidance(rig, feed.cables)
    says = ", ".join(f"{name} {percent(step.result.value)}" for name, step in split)
    says += f": {percent(whole.result.value)} in all, of {percent(stands.result.value)} that this lamp stands. The books recommend {percent(books.result.value)} for the wiring"
    return Finding(question=QUESTION, title=TITLE, place=f"runs/{feed.cables[-1].run.id}", verdict=_verdict(whole.result, stands.result), says=says, demand=whole.result,
                   limit=Limit("<=", replace(stands.result, name="drop down to the lowest voltage that the lamp holds", cite=None)), steps=(*(s for _, s in split), whole, stands, books, *(_by_the_books(rig, load, feed) if whole_working else ())), evidence=feed.evidence)


def _verdict(whole: Term, stands: Term) -> Verdict:
    return within(whole.value, stands.value) if stands.value > 0 else Verdict.STOP


def _split(feed: Feed) -> list[tuple[str, Step]]:
    assert feed.socket is not None
    parts = [("supply", work(single_path.drop, V_a=feed.no_load, V_b=feed.socket, V_n=feed.nominal))]
    above = feed.socket
    for c in feed.cables:
        if c.arrives is None:
            raise refuse("no-voltage", "The voltage at the end is not known", "", f"runs/{c.run.id}")
        parts.append((c.run.name or c.run.id, work(single_path.drop, V_a=above, V_b=c.arrives, V_n=feed.nominal)))
        above = c.arrives
    return parts


def _by_the_books(rig: Rig, load: Load, feed: Feed) -> tuple[Step, ...]:
    """The rule set's own reckoning of each run, where it lists one: for comparison in the working."""
    found: list[Step] = []
    for c in feed.cables:
        current, displacement = c.current or feed.current, load.ballast.displacement
        if current and displacement:
            found += attempt(partial(cable_rules(rig).drop_by_table, Laying(c.run, loading.loaded(rig, c.run.id)), current, displacement))[0] or ()
    return tuple(found)
