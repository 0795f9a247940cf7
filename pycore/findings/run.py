"""What arrives at the end of a run, and does the cable carry the current?"""

from collections.abc import Callable

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Remedy, Term, Verdict
from pycore.base.source import Cite
from pycore.base.units import awg_in, parse
from pycore.conductors.impedance import sizes
from pycore.findings.common import as_entered, percent, rule, within
from pycore.findings.supply_side import Cable, Feed
from pycore.powerflow import single_path
from pycore.rig.model import Rig, Run

REEL = "These figures hold for a cable laid out: on the reel it carries far less and can burn."
ANY = 1.0  # any voltage at all is better than none
Resolve = Callable[[str, str], Feed | None]  # run id, size → the path solved with that size


def guidance(rig: Rig, runs: int) -> Term:
    """The drop that the rule set recommends as the most for lighting, as a share of nominal voltage."""
    if rig.rules == "na":
        single = runs <= 1
        return rule(0.03 if single else 0.05, "%", "recommended limit", "a note of the code, not mandatory", Cite("nec", "210.19 note" if single else "215.2(A)(2) note"))
    if rig.supply.kind == "generator":
        return rule(0.06, "%", "recommended limit", "lighting on a private supply; informative", Cite("iec-60364-5-52", "Table G.52.1"))
    return rule(0.03, "%", "recommended limit", "lighting on a public supply; informative", Cite("iec-60364-5-52", "Table G.52.1"))


def arrives(rig: Rig, feed: Feed, cable: Cable, count: int, resolve: Resolve) -> Finding:
    """Voltage drop from the socket to the end of this run against the recommended limit."""
    place, title = f"runs/{cable.run.id}", "What arrives at the end?"
    if feed.state == "collapse":
        return _collapse(feed, cable, resolve)
    if cable.arrives is None or feed.socket is None:
        raise refuse("no-voltage", "The voltage at the end is not known", "", place)
    step = work(single_path.drop, V_a=feed.socket, V_b=cable.arrives, V_n=feed.nominal)
    limit = guidance(rig, count)
    verdict = Verdict.CLEAR if step.result.value <= limit.value else Verdict.TIGHT
    says = f"{cable.arrives.quantity} arrives, a drop of {percent(step.result.value)}; {percent(limit.value)} is recommended as the most"
    remedies = () if verdict is Verdict.CLEAR else _larger(feed, cable, limit.value, resolve)
    return Finding(question="run-voltage", title=title, place=place, verdict=verdict, says=says, demand=step.result, limit=Limit("<=", limit),
                   steps=(*cable.steps, *feed.steps, *cable.arrival_steps, *feed.socket_steps, step), evidence=feed.evidence, remedies=remedies)


def carries(feed: Feed, cable: Cable) -> Finding:
    """Current against what the cable may carry, laid out in free air."""
    place = f"runs/{cable.run.id}"
    current = cable.current or feed.current
    if current is None:
        raise refuse("no-operating-point", "No current can be given: the path cannot carry this load", "Use a larger cable", place)
    if cable.rating is None:
        raise refuse(cable.rating_problems[0].code, cable.rating_problems[0].message, cable.rating_problems[0].way_out, cable.rating_problems[0].address)
    verdict = within(current.value, cable.rating.value)
    says = f"{current.quantity} of {cable.rating.quantity} that the table allows this cable, laid out in air at 30 °C"
    remedies = (Remedy("Use a larger cable or split the load"),) if verdict is Verdict.STOP else ()
    return Finding(question="run-current", title="Does the cable carry it?", place=place, verdict=verdict, says=says, demand=current,
                   limit=Limit("<=", cable.rating), steps=feed.steps, cautions=(REEL,), remedies=remedies)


def _collapse(feed: Feed, cable: Cable, resolve: Resolve) -> Finding:
    assert feed.power is not None
    if feed.most is None:
        return Finding(question="run-voltage", title="What arrives at the end?", place=f"runs/{cable.run.id}", verdict=Verdict.STOP, says=f"{feed.fails}.", demand=feed.power,
                       steps=(*cable.steps, *feed.steps), evidence=feed.evidence, remedies=_larger(feed, cable, ANY, resolve), note="Collapse")
    says = (f"No operating point: the ballast wants {feed.power.quantity}, and this path can carry {feed.most.result.quantity} at the most. "
            "The voltage collapses and the ballast drops out.")
    return Finding(question="run-voltage", title="What arrives at the end?", place=f"runs/{cable.run.id}", verdict=Verdict.STOP, says=says, demand=feed.power,
                   limit=Limit("<=", feed.most.result), steps=(*cable.steps, *feed.steps), remedies=_larger(feed, cable, ANY, resolve), note="Collapse")


def _larger(feed: Feed, cable: Cable, limit: float, resolve: Resolve) -> tuple[Remedy, ...]:
    """The next size up, and the first one within the limit, each with the figure it would give."""
    offers: list[Remedy] = []
    for size in larger_sizes(cable.run):
        solved = resolve(cable.run.id, size)
        end = _end(solved, cable.run) if solved else None
        if solved is None or end is None or solved.socket is None:
            continue
        drop = (solved.socket.value - end.value) / solved.nominal.value
        if not offers or drop <= limit:
            offers.append(Remedy(f"{size} gives {end.quantity}, {percent(-drop, sign=True)}", ((f"runs/{cable.run.id}/size", size),)))
        if drop <= limit:
            break
    return tuple(offers)


def _end(feed: Feed, run: Run) -> Term | None:
    return next((c.arrives for c in feed.cables if c.run.id == run.id), None) if feed.state == "runs" else None


def larger_sizes(run: Run) -> list[str]:
    """The listed sizes above a run's own, in the style in which it was written."""
    if run.size is None:
        return []
    if awg_in(as_entered(run.size)) or "AWG" in run.size.note:
        return [s for s in sizes("AWG") if parse(s, "mm²") > run.size.value * 1.001]
    return [f"{s} mm²" for s in sizes("mm²") if parse(s, "mm²") > run.size.value * 1.001]


def detail(run: Run) -> str:
    """The run in words: "60 m of 2.5 mm²"."""
    if run.length is None or run.size is None:
        return run.name
    words = f"{as_entered(run.length)} of {as_entered(run.size)}"
    return f"{words}, single cores" if run.cores == "single cores" else words
