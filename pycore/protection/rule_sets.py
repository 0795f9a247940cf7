"""The rule sets that there are."""

from pycore.protection import iec, na
from pycore.protection.rules import DeviceRules
from pycore.rig.model import Rig

SETS: dict[str, DeviceRules] = {s.id: s for s in (iec.RULES, na.RULES)}


def device_rules(rig: Rig) -> DeviceRules:
    """The rig's own rule set for devices. Raises KeyError for one that there is not."""
    return SETS[rig.rules]
