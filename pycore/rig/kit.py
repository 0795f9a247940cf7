"""The generic kit that "add a lamp" offers, and new rigs made from it."""

from copy import deepcopy
from typing import Any

from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.units import parse
from pycore.rig.edit import free_id
from pycore.rig.model import FORMAT, SCHEMA, Ballast, specs
from pycore.rig.typical import listed

Document = dict[str, Any]
NO_BALLAST = "none"  # its place in the kit's list where there is nothing to choose
KIND_OF = {"arc": "arc lamp", "tungsten": "tungsten", "led": "LED"}


def lamps() -> list[dict[str, Any]]:
    """Lamps with the ballasts they are offered with."""
    kinds = dict(specs(Ballast)["kind"].options)
    offered = []
    for lamp in listed()["arc_lamp"]:
        watts = str(Quantity.read(lamp["power"], "W"))
        offered.append({"id": f"arc-{parse(lamp['power'], 'W'):.0f}", "label": f"{watts} daylight", "group": "Daylight arc",
                        "ballasts": [{"id": k, "label": words, "typical_line": _line(k)} for k, words in kinds.items()]})
    return offered + _others("tungsten", "Tungsten", "a plain resistance") + _others("led", "LED", _line("LED driver"))


def _others(kind: str, group: str, line: str) -> list[dict[str, Any]]:
    """Lamps that have no ballast to choose."""
    return [{"id": f"{kind}-{parse(p, 'W'):.0f}", "label": f"{Quantity.read(p, 'W')} {_word(kind)}", "group": group,
             "ballasts": [{"id": NO_BALLAST, "label": group, "typical_line": line}]} for p in listed()["offered"][kind]]


def _word(kind: str) -> str:
    return "LED" if kind == "led" else kind


def _line(kind: str) -> str:
    usual = listed()["ballast"][kind]
    factor = float(usual["displacement"]) * float(usual["distortion"])
    if kind not in dict(specs(Ballast)["kind"].options):
        return f"power factor {factor:.2f}: typical"
    return f"power factor {factor:.2f}, efficiency {usual['efficiency']}, {usual['output']} wave: typical"


def supplies() -> list[dict[str, str]]:
    """Supplies by group."""
    return [{k: s[k] for k in ("id", "label", "group")} for s in listed()["supply"]]


def new_rig(name: str = "") -> Document:
    """An empty rig."""
    return {"format": FORMAT, "schema": SCHEMA, "name": name or "New rig", "rules": "iec", "supply": {}, "runs": {}, "boxes": {}, "loads": {}, "shots": {"S1": {}}}


def add_lamp(document: Document | None, *, lamp: str, ballast: str, supply: str = "") -> tuple[Document, str]:
    """The rig with one more lamp on a run of its own, and the lamp's id. Raises `Refused` for what the kit does not have."""
    rig = _sound(document) if document else new_rig()
    found_lamp = next((x for x in lamps() if x["id"] == lamp), None)
    if found_lamp is None or ballast not in [b["id"] for b in found_lamp["ballasts"]]:
        raise refuse("not-in-kit", f"The kit has no {lamp} with ballast {ballast}", "Choose one of the kit's")
    if supply:
        found = next((s for s in listed()["supply"] if s["id"] == supply), None)
        if found is None:
            raise refuse("not-in-kit", f"The kit has no supply {supply}", "Choose one of the kit's")
        rig["supply"] = {**found["entries"]}
        rig["rules"] = "na" if found["entries"]["frequency"] == "60 Hz" else "iec"
    taken = [i for g in ("runs", "boxes", "loads") for i in rig.setdefault(g, {})]
    run, load = free_id(taken, "K"), free_id(taken, "A")
    rig["runs"][run] = {"fed_by": "supply"}
    family, _, watts = lamp.partition("-")
    parts: dict[str, dict[str, dict[str, str]]] = {"arc": {"ballast": {"kind": ballast}, "head_cable": {}}, "led": {"ballast": {}}, "tungsten": {}}
    rig["loads"][load] = {"name": found_lamp["label"].replace("\u00a0", " "), "kind": KIND_OF[family], "fed_by": run, "connection": _connection(rig),
                          "lamp": {"rated_power": f"{watts} W"}, **parts[family]}
    return rig, load


def _sound(document: Document) -> Document:
    """A copy of a document whose parts are where they belong. Raises `Refused` otherwise."""
    groups = [document.get(g, {}) for g in ("runs", "boxes", "loads")]
    whole = all(isinstance(g, dict) for g in (document.get("supply", {}), *groups))
    if not whole or not all(isinstance(part, dict) for g in groups for part in g.values()):
        raise refuse("not-a-rig", "Parts of this rig are not where they belong", "Open the rig, and correct what is listed there first")
    return deepcopy(document)


def _connection(rig: Document) -> str:
    """The live conductor that feeds the fewest lamps so far."""
    system = rig.get("supply", {}).get("system", "single-phase")
    ways = {"split-phase": ("L1-N", "L2-N"), "three-phase wye": ("L1-N", "L2-N", "L3-N")}.get(system, ("L1-N",))
    used = [x.get("connection", "L1-N") for x in rig["loads"].values()]
    return min(ways, key=used.count)


def remove_lamp(document: Document, load: str) -> Document:
    """The rig without a lamp and without the runs that fed only it."""
    rig = _sound(document)
    gone = rig.get("loads", {}).pop(load, None)
    at = (gone or {}).get("fed_by", "")
    while at in rig.get("runs", {}) and not any(p.get("fed_by") == at for g in ("runs", "boxes", "loads") for p in rig.get(g, {}).values()):
        at = rig["runs"].pop(at).get("fed_by", "")
    return rig
