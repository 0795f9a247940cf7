"""What does a dim change at the supply?"""

from dataclasses import replace

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Term, Verdict, term
from pycore.findings.common import as_entered
from pycore.findings.lamp_side import draw, lamp_side
from pycore.findings.supply_side import Feed
from pycore.lamp import ballast as ballasts
from pycore.rig.model import Load

METER = "Dimmed, many ballasts and drivers have a lower power factor: the current falls less than the power. Meter it and enter it."
CHOPPED = "A phase-cut dimmer makes harmonics: on three phases they add up in the neutral, and the current falls less than the power."


def at_supply(load: Load, feed: Feed) -> Finding:
    """Power and current that the dimmed lamp draws against full. Raises `Refused` for missing entries or without an operating point."""
    at = f"loads/{load.id}"
    if feed.current is None or feed.power is None or feed.voltage is None:
        raise refuse("no-operating-point", "Nothing can be given: the path cannot carry this load", "See the run", at)
    whole = replace(load, dim=term(1.0, "%", "dim"))
    full = draw(whole, lamp_side(whole))
    amps = work(ballasts.rms_current, P=full.power, λ=full.factor, V=feed.voltage)
    guess = load.kind == "tungsten" or load.ballast.power_factor_dimmed is None
    says = f"{feed.power.quantity} and {feed.current.quantity}, against {full.power.quantity} and {amps.result.quantity} at full"
    if load.kind != "tungsten":
        says += f", power factor {as_entered(load.ballast.power_factor_dimmed)}" if not guess and load.ballast.power_factor_dimmed else ", if its power factor stays as at full"
    cautions = (CHOPPED,) if load.kind == "tungsten" else (METER,) if guess else ()
    demand = Term(quantity=feed.current.quantity, name="current while dimmed", rests_on=feed.current.rests_on)
    return Finding(question="dim-supply", title="What does the dim change at the supply?", place=at, verdict=Verdict.CLEAR, says=says, demand=demand, steps=(*full.steps, amps),
                   cautions=cautions)
