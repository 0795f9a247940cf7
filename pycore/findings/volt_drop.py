"""Where does the voltage go, and does the lamp stand it? Stage by stage, against the lamp's own window."""

from collections.abc import Iterable, Iterator
from itertools import islice

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Remedy, Step, Term, Verdict, estimates
from pycore.conductors.rule_sets import cable_rules
from pycore.conductors.rules import Laying
from pycore.findings import changes, loading
from pycore.findings.changes import Change, applied
from pycore.findings.common import attempt, percent, within
from pycore.findings.recommended import guidance
from pycore.findings.solved import Solved, path_of
from pycore.findings.supply_side import Feed
from pycore.findings.whole_rig import solve_rig
from pycore.powerflow import single_path
from pycore.rig.model import Load, Rig
from pycore.rig.typical import line_voltage, need

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
                   limit=Limit("<=", stands.result), steps=(*(s for _, s in split), whole, stands, books, *(_by_the_books(rig, load, feed) if whole_working else ())), evidence=feed.evidence)


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
            found += attempt(lambda c=c, i=current, f=displacement: cable_rules(rig).drop_by_table(Laying(c.run, loading.loaded(rig, c.run.id)), i, f))[0] or ()
    return tuple(found)


def advice(s: Solved, feed: Feed, finding: Finding) -> tuple[Remedy, ...]:
    """For a lamp short of voltage: the next size, a shorter run, another line, a higher outlet voltage, each with the figure that it would give."""
    if finding.verdict in (Verdict.CLEAR, Verdict.UNKNOWN) or not feed.cables:
        return ()
    thinnest = max(feed.cables, key=lambda c: c.resistance.value)
    offers = [_first(s, offered) for offered in (changes.sizes(s, thinnest), changes.lengths(s, thinnest), changes.other_lines(s, thinnest), _higher_voltages(s))]
    return tuple(r for r in offers if r is not None)


def _first(s: Solved, offered: Iterable[Change]) -> Remedy | None:
    """The first change that leaves the lamp well inside its window, each one solved."""
    for change in islice(offered, 8):
        solved = _solved(s, change)
        if solved is not None and solved[1].verdict is Verdict.CLEAR:
            return Remedy(f"{change.words} gives {solved[0].quantity}", change.entries)
    return None


def _solved(s: Solved, change: Change) -> tuple[Term, Finding] | None:
    rig = applied(s.rig, change)
    load = rig.loads[s.load.id]
    feed = attempt(lambda: path_of(solve_rig(rig), load.id))[0]
    if feed is None or feed.state != "runs" or feed.voltage is None:
        return None
    made = attempt(lambda: stages(rig, load, feed))[0]
    return (feed.voltage, made) if made is not None else None


def _higher_voltages(s: Solved) -> Iterator[Change]:
    """The same lamp between two lines, where its own nameplate says that it stands them."""
    supply, load = s.rig.supply, s.load
    high = load.ballast.high_cut_out
    between = {"split-phase": "L1-L2", "three-phase wye": "L1-L2"}.get(supply.system)
    if between and supply.voltage and high and not estimates((high,)) and load.connection.endswith("N") and high.value >= 1.05 * line_voltage(supply, between, supply.voltage.value):
        yield Change(f"The lamp between {between.replace('-', ' and ')}", ((f"loads/{load.id}/connection", between),))
