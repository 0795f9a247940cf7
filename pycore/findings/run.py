"""What arrives at the end of a run?"""

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Verdict
from pycore.base.units import awg_in, parse
from pycore.conductors.impedance import sizes
from pycore.findings.common import as_entered, percent
from pycore.findings.recommended import guidance
from pycore.findings.supply_side import Cable, Feed
from pycore.powerflow import single_path
from pycore.rig.model import Rig, Run

QUESTION, TITLE = "run-voltage", "What arrives at the end?"


def arrives(rig: Rig, feed: Feed, cable: Cable, count: int) -> Finding:
    """Voltage drop from the socket to the end of this run, the path's `count`th, against the recommended limit."""
    place = f"runs/{cable.run.id}"
    if feed.state == "collapse":
        return _collapse(feed, cable)
    if cable.arrives is None or feed.socket is None:
        raise refuse("no-voltage", "The voltage at the end is not known", "", place)
    step = work(single_path.drop, V_a=feed.socket, V_b=cable.arrives, V_n=feed.nominal)
    books = guidance(rig, feed.cables[:count])
    limit = books.result
    verdict = Verdict.CLEAR if step.result.value <= limit.value else Verdict.TIGHT
    says = f"{cable.arrives.quantity} arrives, a drop of {percent(step.result.value)}; {percent(limit.value)} is recommended as the most"
    return Finding(question=QUESTION, title=TITLE, place=place, verdict=verdict, says=says, demand=step.result, limit=Limit("<=", limit),
                   steps=(*cable.steps, *feed.steps, *cable.arrival_steps, *feed.socket_steps, step, books), evidence=feed.evidence)


def _collapse(feed: Feed, cable: Cable) -> Finding:
    assert feed.power is not None
    if feed.most is None:
        return Finding(question=QUESTION, title=TITLE, place=f"runs/{cable.run.id}", verdict=Verdict.STOP, says=f"{feed.fails}.", demand=feed.power,
                       steps=(*cable.steps, *feed.steps), evidence=feed.evidence, note="Collapse")
    says = (f"No operating point: the ballast wants {feed.power.quantity}, and this path can carry {feed.most.result.quantity} at the most. "
            "The voltage collapses and the ballast drops out.")
    return Finding(question=QUESTION, title=TITLE, place=f"runs/{cable.run.id}", verdict=Verdict.STOP, says=says, demand=feed.power,
                   limit=Limit("<=", feed.most.result), steps=(*cable.steps, *feed.steps), note="Collapse")


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
