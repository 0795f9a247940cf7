"""The rule sets that there are."""

from pycore.conductors import iec, na
from pycore.conductors.rules import CableRules
from pycore.rig.model import Rig

SETS: dict[str, CableRules] = {s.id: s for s in (iec.RULES, na.RULES)}


def cable_rules(rig: Rig) -> CableRules:
    """The rig's own rule set for cables. Raises KeyError for one that there is not."""
    return SETS[rig.rules]
