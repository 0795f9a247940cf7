"""Does the supply carry the lamp, and what stands at the socket?"""

from dataclasses import dataclass
from functools import lru_cache

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Remedy, Step, Term, Verdict
from pycore.findings import loading
from pycore.findings.common import by_rule, within
from pycore.findings.supply_side import Feed
from pycore.protection import supply_band
from pycore.protection.rule_sets import SETS
from pycore.rig.model import Rig
from pycore.rig.typical import need

CURRENT, CURRENT_TITLE = "supply-current", "Does the supply carry it?"
VOLTAGE, VOLTAGE_TITLE = "supply-voltage", "What stands at the outlet?"
SAG = 0.05  # of nominal, from no load to load: our own; more is a weak outlet
EARTH_FIRST = "Test the earth before anything is energised; connect earth first and neutral second, and take them off last."
GENERATOR = "Have the generator's neutral and earth bonding checked by a licensed person before it feeds anything."
AT_SOURCE = Remedy("Meter it again with nothing switched on; if it stays so, tell whoever runs the supply, or take another outlet")
NEARER = Remedy("Use an outlet nearer to the supply's origin: this one sags by itself")


def carries(rig: Rig, feed: Feed) -> Finding:
    """Current drawn against the rating of the outlet, long burns counted by the rule set as for any device."""
    current = feed.total or feed.current
    if current is None:
        raise refuse("no-operating-point", "No current can be given: the path cannot carry this load", "See the run")
    rating = need(rig.supply, "rating", "supply")
    least, tight_from = loading.counted(rig, rig.supply.device, "supply/device", current)
    verdict = within(least.result.value, rating.value, tight_from)
    says = f"{current.quantity} of {rating.quantity}" + (f" with all {feed.others + 1} lamps" if feed.others else "") + _counted(least, verdict)
    cautions = (EARTH_FIRST,) + ((GENERATOR,) if rig.supply.kind == "generator" else ())
    remedies = (Remedy("Plug to an outlet with a higher rating, or use a smaller lamp"),) if verdict is Verdict.STOP else ()
    return Finding(question=CURRENT, title=CURRENT_TITLE, place="supply", verdict=verdict, says=says, demand=least.result, limit=Limit("<=", rating),
                   steps=(*feed.steps, least), cautions=cautions, remedies=remedies)


def _counted(least: Step, verdict: Verdict) -> str:
    """What a long burn makes of the current, and what is wrong with it."""
    factor = least.terms[0]
    long = f", counted as {least.result.quantity} for {factor.note}" if factor.value > 1 else ""
    return long + {Verdict.STOP: ": more than the outlet is rated for", Verdict.TIGHT: ": little is left of the rating"}.get(verdict, "")


def socket(rig: Rig, feed: Feed) -> Finding:
    """Voltage that stands at the outlet, loaded and not, against the band that the rule set's supply standard gives.

    What is metered without load may be a stop; what the lamps themselves pull down is tight, and their own windows judge it.
    """
    if feed.socket is None:
        raise refuse("no-operating-point", "No voltage can be given: the path cannot carry this load", "See the run")
    ordinary, worst = _band(rig.rules, feed.nominal)
    loaded, idle = feed.socket.called("V_o", "voltage at the outlet"), feed.no_load
    sags = (idle.value - loaded.value) / feed.nominal.value > SAG
    verdict, edges, at = next(x for x in ((Verdict.STOP, worst, idle), (Verdict.TIGHT, ordinary, idle), (Verdict.TIGHT, ordinary, loaded), (Verdict.CLEAR, ordinary, loaded))
                              if x[0] is Verdict.CLEAR or x[1].outside(x[2]))
    limit, used, words = edges.judged(at)
    remedies = ((AT_SOURCE,) if verdict is not Verdict.CLEAR and at is idle else ()) + ((NEARER,) if sags or (verdict is Verdict.TIGHT and at is loaded) else ())
    return Finding(question=VOLTAGE, title=VOLTAGE_TITLE, place="supply", verdict=Verdict.TIGHT if sags and verdict is Verdict.CLEAR else verdict, demand=at, limit=limit,
                   says=f"{loaded.quantity} at the outlet under load, {idle.quantity} without{words}", steps=(*feed.steps, *feed.socket_steps, used), evidence=feed.evidence,
                   remedies=remedies, note="" if verdict is not Verdict.STOP else "Too high" if limit.relation == "<=" else "Too low")


@lru_cache(maxsize=32)
def _band(rules: str, nominal: Term) -> tuple["Edges", ...]:
    """What a supply keeps to: ordinarily, and at the worst. The same for all lamps between the same conductors."""
    return tuple(Edges(k.when, work(supply_band.edge, k=k.least, V_n=nominal), work(supply_band.edge, k=k.most, V_n=nominal)) for k in SETS[rules].supply_keeps())


@dataclass(frozen=True, slots=True)
class Edges:
    """The two edges of a band, and when a supply keeps within them."""

    when: str
    least: Step
    most: Step

    def outside(self, volts: Term) -> bool:
        """Beyond either edge."""
        return not self.least.result.value <= volts.value <= self.most.result.value

    def judged(self, volts: Term) -> tuple[Limit, Step, str]:
        """The edge that counts for this voltage, its working, and what to say of it."""
        low, high = self.least.result, self.most.result
        if volts.value > high.value:
            return Limit("<=", by_rule(high, *self.most.given, name="most that a supply gives")), self.most, f": above {high.quantity}, the most that a supply gives {self.when}"
        words = f": below {low.quantity}, the least that a supply gives {self.when}" if self.outside(volts) else f"; a supply keeps {low.quantity} to {high.quantity} {self.when}"
        return Limit(">=", by_rule(low, *self.least.given, name="least that a supply gives")), self.least, words
