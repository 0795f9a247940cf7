"""The voltage drop that the rule set recommends as the most."""

from functools import lru_cache

from pycore.base.law import work
from pycore.base.result import Step, Term
from pycore.conductors.rule_sets import SETS
from pycore.findings.supply_side import Cable
from pycore.powerflow import single_path
from pycore.rig.model import Rig, Run
from pycore.rig.typical import need


def guidance(rig: Rig, cables: tuple[Cable, ...]) -> Step:
    """The limit for lighting at the end of these runs, as a share of nominal voltage, with its working."""
    return _guidance(rig.rules, rig.supply.kind, tuple([c.run for c in cables]))


@lru_cache(maxsize=1024)
def _guidance(rules: str, supply_kind: str, runs: tuple[Run, ...]) -> Step:
    """Kept, since most edits change another way."""
    return SETS[rules].guidance(supply_kind, _length(runs), len(runs))[-1]


def _length(runs: tuple[Run, ...]) -> Term:
    length = need(runs[0], "length", f"runs/{runs[0].id}")
    for run in runs[1:]:
        length = work(single_path.lengths, l_a=length, l_b=need(run, "length", f"runs/{run.id}")).result
    return length
