"""Does the cable carry the current, the way it is laid?"""

from functools import lru_cache

from pycore.base.law import Var, law, work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Step, Term, Verdict, term
from pycore.base.source import Cite
from pycore.conductors.ampacity import Rating, rating
from pycore.conductors.rule_sets import SETS
from pycore.conductors.rules import Laying
from pycore.findings import cautions, loading
from pycore.findings.circuit import stated
from pycore.findings.common import by_rule, percent, within
from pycore.findings.supply_side import Cable, Feed
from pycore.findings.whole_rig import WholeRig
from pycore.powerflow.neutral import size_neutral
from pycore.powerflow.phasor import rms
from pycore.rig.model import Rig, Run

QUESTION, TITLE = "run-current", "Does the cable carry it?"


@law("h_3 = I_3/I", "Third harmonic of the line current", h_3=Var("third harmonic, share of line current", "%"), I_3=Var("third harmonic", "A", 0), I=Var("line current", "A", 1e-9),
     source=Cite("circuit-theory"))
def third_share(*, I_3: float, I: float) -> float:  # noqa: E741
    """Share of the line current."""
    return I_3 / I


def rated(rig: Rig, run: Run) -> Rating:
    """What a run may carry as it is laid and loaded. Raises `Refused` where its size is a guess or no figure is listed."""
    stated(run, "size", f"runs/{run.id}")
    return _rated(run, loading.loaded(rig, run.id), rig.rules)


@lru_cache(maxsize=2048)
def _rated(run: Run, loaded: int, rules: str) -> Rating:
    """Kept, since most edits change another run."""
    return rating(Laying(run, loaded), SETS[rules])


def current_of(feed: Feed, cable: Cable) -> Term:
    """Current of a run's fullest conductor. Raises `Refused` where there is no operating point."""
    current = cable.current or feed.current
    if current is None:
        raise refuse("no-operating-point", "No current can be given: the path cannot carry this load", "Use a larger cable", f"runs/{cable.run.id}")
    return current


def carries(whole: WholeRig, feed: Feed, cable: Cable) -> Finding:
    """Current against what the rule set allows this cable as it is laid. The current of several lamps comes from the whole rig and not from the working of one."""
    of, current = rated(whole.rig, cable.run), current_of(feed, cable)
    steps, demand, why = _with_neutral(whole, cable, current)
    verdict = within(demand.value, of.allowed.value)
    where = " in its neutral" if current.name.endswith("neutral") else ""
    says = f"{current.quantity}{where} of {of.allowed.quantity} that this cable may carry as it is laid; the limit is {of.limited_by}"
    return Finding(question=QUESTION, title=TITLE, place=f"runs/{cable.run.id}", verdict=verdict, says=says + why, demand=demand, limit=Limit("<=", by_rule(of.allowed, *(t for s in reversed(of.steps) for t in s.given))),
                   steps=(*(() if feed.others else feed.steps), *steps, *of.steps), evidence=feed.evidence, cautions=_cautions(cable.run, of, verdict), note="" if verdict is not Verdict.STOP else "Cable overloaded")


def _with_neutral(whole: WholeRig, cable: Cable, current: Term) -> tuple[tuple[Step, ...], Term, str]:
    """By Annex E a neutral full of third harmonics asks for more cable than the lines do. The other rule set counts it as a conductor."""
    run, operation = cable.run, whole.operation
    used = loading.conductors(whole.rig, run.id)
    if whole.rig.rules != "iec" or run.cores == "single cores" or len(used) < 4 or operation is None or operation.distortion is None:
        return (), current, ""
    parts = {c: operation.distortion.current(run.id, c) for c in used if c != "N"}
    line = max(parts, key=lambda c: rms(parts[c].values()))
    amps = term(rms(parts[line].values()), "A", f"current of {line}", rests_on=(current,))
    share = work(third_share, I_3=term(abs(parts[line].get(3, 0j)), "A", "third harmonic", rests_on=(current,)), I=amps)
    sizing = size_neutral(line=amps, third=share.result)
    if sizing.required.value <= current.value:
        return (share, *sizing.steps), current, ""
    return (share, *sizing.steps), sizing.required, f". With {percent(share.result.value)} third harmonic its neutral asks for a cable of {sizing.required.quantity}"


def _cautions(run: Run, of: Rating, verdict: Verdict) -> tuple[str, ...]:
    found = [cautions.REEL] if run.laid.how != "out" else [cautions.OFF_THE_REEL]
    if of.limited_by == "its connectors" or verdict is not Verdict.CLEAR:
        found.append(cautions.CONNECTORS)
    return tuple(found)
