"""Is the voltage inside the ballast's window, and what does the ballast draw?"""

from functools import partial

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Remedy, Verdict
from pycore.findings.common import as_entered
from pycore.findings.supply_side import Feed
from pycore.lamp import ballast as ballasts
from pycore.rig.model import Load
from pycore.rig.typical import need

NEAR = 1.05  # within 5 % of either cut-out is tight: a sag of the supply takes the lamp out, a rise harms the ballast
STORED = "A ballast stays dangerous after it is switched off: let its capacitors discharge, and leave repairs to a qualified person."
FLAT = "Its pulses flatten the voltage's peak, which charges the ballast: near the cut-out it may go out at a higher reading than this."
OTHER = 0.03  # a power factor that differs by more from the nameplate's is said
BENT = 0.9  # distortion factor below which that is worth saying; our own choice


def _bends(load: Load) -> bool:
    """Whether the ballast draws a current far from a sine, by its power factor against its displacement."""
    factor, displacement = load.ballast.power_factor, load.ballast.displacement
    return factor is not None and displacement is not None and factor.value < BENT * displacement.value


def window(load: Load, feed: Feed) -> Finding:
    """Voltage that arrives against the low and the high cut-out."""
    at = f"loads/{load.id}/ballast"
    low, high = need(load.ballast, "low_cut_out", at), need(load.ballast, "high_cut_out", at)
    if feed.voltage is None:
        raise refuse("no-operating-point", "There is no voltage at which this ballast could run here", "Use a larger cable", at)
    most = max((feed.voltage, feed.no_load), key=lambda t: t.value)
    title = "Is the voltage inside its window?"
    judged = partial(Finding, question="ballast-window", title=title, place=at, steps=feed.steps, evidence=feed.evidence, cautions=(*((FLAT,) if _bends(load) else ()), STORED))
    if not most.value <= high.value:
        return judged(verdict=Verdict.STOP, says=f"{most.quantity} is above the {high.quantity} it stands", demand=most, limit=Limit("<=", high),
                      remedies=(Remedy("Do not connect it to this supply"),), note="Too high")
    if feed.forced:
        return judged(verdict=Verdict.STOP, says=f"It drops out at {feed.voltage.quantity}: with it burning, the rig has no steady voltage", demand=feed.voltage,
                      limit=Limit(">=", low), note="Drops out", remedies=(Remedy("Larger cables, a stiffer supply or fewer lamps: see the runs"),))
    if not feed.voltage.value >= low.value or feed.state == "under":
        return judged(verdict=Verdict.STOP, says=f"{feed.voltage.quantity} would arrive, below the {low.quantity} where it cuts out: the lamp goes out or never strikes",
                      demand=feed.voltage, limit=Limit(">=", low), note="Cuts out", remedies=(Remedy("Larger cable, shorter run or a stiffer supply: see the run"),))
    if NEAR * most.value > high.value:
        return judged(verdict=Verdict.TIGHT, says=f"{most.quantity} is close to the {high.quantity} it stands: a rise of the supply, or other lamps going out, may pass it",
                      demand=most, limit=Limit("<=", high))
    verdict = Verdict.TIGHT if feed.voltage.value < NEAR * low.value else Verdict.CLEAR
    says = f"{feed.voltage.quantity} arrives; it holds from {low.quantity} to {high.quantity}"
    return judged(verdict=verdict, says=says, demand=feed.voltage, limit=Limit(">=", low))


def draws(load: Load, feed: Feed) -> Finding:
    """Apparent power, current and power factor."""
    at = f"loads/{load.id}/ballast"
    if feed.voltage is None or feed.current is None or feed.power is None:
        raise refuse("no-operating-point", "Nothing can be given: the path cannot carry this load", "See the run", at)
    apparent = work(ballasts.apparent_power, V=feed.voltage, I=feed.current)
    factor = need(load.ballast, "power_factor", at)
    here = work(ballasts.factor_of, P=feed.power, S=apparent.result)
    says = f"{apparent.result.quantity} for {feed.power.quantity}, power factor {as_entered(factor)}"
    if abs(here.result.value / factor.value - 1) > OTHER:
        says = f"{apparent.result.quantity} for {feed.power.quantity}: power factor {here.result.quantity} at the end of this cable, {as_entered(factor)} on a stiff supply"
    cautions: tuple[str, ...] = ()
    if factor.value < 0.9:
        says += ": watts alone mislead here"
        cautions = ("Size supply and cables by amperes, not by watts. On three phases its harmonics add up in the neutral.",)
    return Finding(question="ballast-draw", title="What does it draw?", place=at, verdict=Verdict.CLEAR, says=says, demand=apparent.result,
                   steps=(*feed.steps, apparent, here), evidence=feed.evidence, cautions=cautions)
