"""Which conductors of a run carry current, and how a rule set counts a load."""

from pycore.base.law import work
from pycore.base.result import Step, Term
from pycore.findings.common import TIGHT
from pycore.powerflow.neutral import neutral_counts
from pycore.protection import overcurrent
from pycore.protection.rule_sets import device_rules
from pycore.rig import graph
from pycore.rig.model import Device, Load, Rig


def loads_below(rig: Rig, run_id: str) -> list[Load]:
    """The lamps that a run feeds, through whatever lies between."""
    return [rig.loads[i] for i in graph.below(rig, run_id)]


def counted(rig: Rig, device: Device, at: str, current: Term) -> tuple[Step, float]:
    """The load as the rule set counts it, long burns included, and the share of a rating from which it is tight: where long burns count more, that is the reserve."""
    step = work(overcurrent.least_rating, k=device_rules(rig).duty(device, at), I=current)
    return step, TIGHT if step.terms[0].value == 1 else 1.0


def conductors(rig: Rig, run_id: str) -> frozenset[str]:
    """The conductors that the lamps of a run are plugged to, such as L1 and N."""
    return frozenset(c for load in loads_below(rig, run_id) for c in load.connection.split("-"))


def nonlinear_share(rig: Rig, run_id: str) -> float:
    """Share of the lamps' rated power that draws a distorted current: power factor well below its displacement."""
    below = [load for load in loads_below(rig, run_id) if load.lamp.rated_power]
    bent = [x for x in below if x.ballast.displacement and x.ballast.power_factor and x.ballast.power_factor.value < 0.96 * x.ballast.displacement.value]
    total = sum(x.lamp.rated_power.value for x in below if x.lamp.rated_power)
    return sum(x.lamp.rated_power.value for x in bent if x.lamp.rated_power) / total if total else 0.0


def loaded(rig: Rig, run_id: str) -> int:
    """How many conductors of a run carry current: two of a single-phase run, three of a three-phase one; the neutral where it counts."""
    used = conductors(rig, run_id)
    lines = len([c for c in used if c != "N"])
    if lines <= 1 or "N" not in used:
        return max(2, lines)
    if rig.rules == "na":
        return lines + neutral_counts(system=rig.supply.system, lines=lines, nonlinear=nonlinear_share(rig, run_id)).counts
    return 3
