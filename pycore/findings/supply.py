"""Does the supply carry the lamp, and what stands at the socket?"""

from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Remedy, Verdict
from pycore.findings.common import TIGHT, within
from pycore.findings.supply_side import Feed
from pycore.rig.model import Supply
from pycore.rig.typical import need

EARTH_FIRST = "Test the earth before anything is energised; connect earth first and neutral second, and take them off last."
GENERATOR = "Have the generator's neutral and earth bonding checked by a licensed person before it feeds anything."


def carries(supply: Supply, feed: Feed) -> Finding:
    """Current drawn against the rating of the outlet."""
    question, title = "supply-current", "Does the supply carry it?"
    current = feed.total or feed.current
    if current is None:
        raise refuse("no-operating-point", "No current can be given: the path cannot carry this load", "See the run")
    rating = need(supply, "rating", "supply")
    verdict = within(current.value, rating.value)
    says = f"{current.quantity} of {rating.quantity}" + (f" with all {feed.others + 1} lamps" if feed.others else "")
    if verdict is Verdict.STOP:
        says += ": more than the outlet is rated for"
    elif verdict is Verdict.TIGHT:
        says += f": above {TIGHT:.0%} of the rating; long burns count as continuous load".replace("%", " %")
    cautions = (EARTH_FIRST,) + ((GENERATOR,) if supply.kind == "generator" else ())
    remedies = (Remedy("Plug to an outlet with a higher rating, or use a smaller lamp"),) if verdict is Verdict.STOP else ()
    return Finding(question=question, title=title, place="supply", verdict=verdict, says=says, demand=current, limit=Limit("<=", rating),
                   steps=feed.steps, cautions=cautions, remedies=remedies)


def socket(feed: Feed) -> Finding:
    """Voltage that stands at the outlet under load."""
    if feed.socket is None:
        raise refuse("no-operating-point", "No voltage can be given: the path cannot carry this load", "See the run")
    sag = (feed.no_load.value - feed.socket.value) / feed.nominal.value
    verdict = Verdict.CLEAR if sag <= 0.05 else Verdict.TIGHT
    says = f"{feed.socket.quantity} at the outlet under load, {feed.no_load.quantity} without"
    remedies = () if verdict is Verdict.CLEAR else (Remedy("Use an outlet nearer to the supply's origin: this one sags by itself"),)
    return Finding(question="supply-voltage", title="What stands at the outlet?", place="supply", verdict=verdict, says=says, demand=feed.socket,
                   steps=(*feed.steps, *feed.socket_steps), evidence=feed.evidence, remedies=remedies)
