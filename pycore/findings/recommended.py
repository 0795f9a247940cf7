"""The voltage drop that the rule set recommends as the most."""

from pycore.base.law import work
from pycore.base.result import Step, Term
from pycore.conductors.rule_sets import cable_rules
from pycore.findings.supply_side import Cable
from pycore.powerflow import single_path
from pycore.rig.model import Rig
from pycore.rig.typical import need


def guidance(rig: Rig, cables: tuple[Cable, ...]) -> Step:
    """The limit for lighting at the end of these runs, as a share of nominal voltage, with its working."""
    return cable_rules(rig).guidance(rig.supply.kind, _length(cables), len(cables))[-1]


def _length(cables: tuple[Cable, ...]) -> Term:
    length = need(cables[0].run, "length", f"runs/{cables[0].run.id}")
    for c in cables[1:]:
        length = work(single_path.lengths, l_a=length, l_b=need(c.run, "length", f"runs/{c.run.id}")).result
    return length
