"""Short cautions, said where the decision is taken; and how near the overhead lines are."""

from pycore.base.result import Finding, Limit, Term, Verdict
from pycore.findings.common import as_entered
from pycore.protection.rule_sets import device_rules
from pycore.rig import graph
from pycore.rig.model import Rig
from pycore.rig.typical import need, need_choice

REEL = "On its reel this cable heats itself: lay it out before it is loaded."
OFF_THE_REEL = "Counted as laid out: take all of it off the reel."
CONNECTORS = "Warm connectors fail first: feel them, or look with a thermal camera, ten minutes after the strike."
LICENSED = "A tie-in or a change at the source is for a licensed person, and the local code decides."
BOND = "Neutral and earth are joined at the source once, and nowhere else: have a licensed person see to it."
WET = "On wet ground: 30 mA residual devices on everything, connectors off the ground, no work on live parts."
TN_C_S = "An earth taken from the neutral turns live when the neutral breaks: ask a licensed person before it serves metal outdoors."
TEST_BUTTON = "Press the residual device's test button before the first strike of the day."
COLD_LOOP = "A loop measured cold must be below 0.8 of the limit: the cable's resistance rises as it warms."
NO_PEOPLE = "A residual device above 30 mA guards against fire, hardly against shock."
LINES = "Stands, lifts and cranes stay outside this distance; lines are live until their operator says in writing that they are not."

QUESTION, TITLE = "supply-overhead", "Are overhead lines far enough?"


def overhead(rig: Rig) -> Finding:
    """Distance to an overhead line against the rule set's. Raises `Refused` where it is not said how far or how high."""
    site = rig.supply.site
    if need_choice(site, "overhead", "supply/site") == "none":
        return Finding(question=QUESTION, title=TITLE, place=graph.SUPPLY, verdict=Verdict.CLEAR, says="No overhead lines near, as entered")
    distance, least = need(site, "line_distance", "supply/site"), device_rules(rig).line_distance(site)
    return _judged(rig, distance, least)


def _judged(rig: Rig, distance: Term, least: Term) -> Finding:
    near = distance.value < least.value
    tight = not near and distance.value < 1.5 * least.value
    verdict = Verdict.STOP if near else Verdict.TIGHT if tight else Verdict.CLEAR
    says = f"{as_entered(distance)} to the nearest conductor; {least.quantity} is the {least.name}"
    return Finding(question=QUESTION, title=TITLE, place=graph.SUPPLY, verdict=verdict, says=says, demand=distance, limit=Limit(">=", least), cautions=(LINES,))


TIE_IN = 63.0  # A; from here on an outlet is hardly a plug and a socket any more


def before_energising(rig: Rig) -> tuple[str, ...]:
    """What to remember at the supply, for this place and this source; that the earth comes first is said with its current."""
    supply = rig.supply
    found = [WET] if supply.site.ground == "wet" else []
    if supply.kind == "battery" or (supply.earth.arrangement == "separate" and supply.kind == "mains"):
        found.append(BOND)
    elif supply.rating is not None and supply.rating.value >= TIE_IN:
        found.append(LICENSED)
    if supply.earth.arrangement == "TN-C-S":
        found.append(TN_C_S)
    return (*found, *(() if supply.site.overhead else (device_rules(rig).look_up,)))
