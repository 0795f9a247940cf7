"""What arrives at the end of a run?"""

from collections.abc import Callable

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Remedy, Term, Verdict
from pycore.base.units import awg_in, parse
from pycore.conductors.impedance import sizes
from pycore.findings.common import as_entered, percent
from pycore.findings.recommended import guidance
from pycore.findings.supply_side import Cable, Feed
from pycore.powerflow import single_path
from pycore.rig.model import Rig, Run

ANY = 1.0  # any voltage at all is better than none
Resolve = Callable[[str, str], Feed | None]  # run id, size → the path solved with that size


def arrives(rig: Rig, feed: Feed, cable: Cable, count: int, resolve: Resolve) -> Finding:
    """Voltage drop from the socket to the end of this run against the recommended limit."""
    place, title = f"runs/{cable.run.id}", "What arrives at the end?"
    if feed.state == "collapse":
        return _collapse(feed, cable, resolve)
    if cable.arrives is None or feed.socket is None:
        raise refuse("no-voltage", "The voltage at the end is not known", "", place)
    step = work(single_path.drop, V_a=feed.socket, V_b=cable.arrives, V_n=feed.nominal)
    books = guidance(rig, feed.cables[:count])
    limit = books.result
    verdict = Verdict.CLEAR if step.result.value <= limit.value else Verdict.TIGHT
    says = f"{cable.arrives.quantity} arrives, a drop of {percent(step.result.value)}; {percent(limit.value)} is recommended as the most"
    remedies = () if verdict is Verdict.CLEAR else _larger(feed, cable, limit.value, resolve)
    return Finding(question="run-voltage", title=title, place=place, verdict=verdict, says=says, demand=step.result, limit=Limit("<=", limit),
                   steps=(*cable.steps, *feed.steps, *cable.arrival_steps, *feed.socket_steps, step, books), evidence=feed.evidence, remedies=remedies)


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
