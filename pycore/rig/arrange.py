"""Moving parts of a rig about: another of the same, elsewhere, a box on a feeder. Documents in, changed copies out."""

from copy import deepcopy
from typing import Any

from pycore.base.problem import refuse
from pycore.rig.edit import free_id

Document = dict[str, Any]


def duplicate(document: Document, load: str) -> tuple[Document, str]:
    """Another lamp like this one, on a run like its own, and its id. Raises `Refused` for a lamp that is not there."""
    rig = deepcopy(document)
    if load not in rig.get("loads", {}):
        raise refuse("lamp-unknown", f"The rig has no lamp {load}", "Choose one of the rig's lamps")
    copy = deepcopy(rig["loads"][load])
    own_run = copy.get("fed_by", "")
    if own_run in rig.get("runs", {}) and _alone_on(rig, own_run, load):
        run = free_id(_taken(rig), "K")
        rig["runs"][run] = deepcopy(rig["runs"][own_run])
        copy["fed_by"] = run
    new = free_id(_taken(rig), "A")
    copy["name"] = _next_name(copy.get("name") or load, {x.get("name") for x in rig["loads"].values()})
    rig["loads"][new] = copy
    return rig, new


def move(document: Document, part: str, to: str) -> Document:
    """A run, box or lamp fed by another place; a lamp alone on its run takes the run along. Raises `Refused` for what is not there or loops."""
    rig = deepcopy(document)
    group = next((g for g in ("loads", "boxes", "runs") if part in rig.get(g, {})), None)
    if group is None or (to != "supply" and not any(to in rig.get(g, {}) for g in ("runs", "boxes"))):
        raise refuse("part-unknown", f"The rig has no {part if group is None else to}", "Choose a part of the rig")
    moved = rig[group][part]
    run = moved.get("fed_by", "")
    if group == "loads" and run in rig.get("runs", {}) and run != to and _alone_on(rig, run, part):
        part, moved = run, rig["runs"][run]
    if _is_below(rig, to, part):
        raise refuse("loop", f"{part} would feed itself in a circle", "Choose a place that it does not feed")
    moved["fed_by"] = to
    return rig


def add_box(document: Document, fed_by: str = "supply", name: str = "") -> tuple[Document, str]:
    """A distribution box at the end of a new feeder, and its id."""
    rig = deepcopy(document)
    run = free_id(_taken(rig), "F")
    rig.setdefault("runs", {})[run] = {"name": "Feeder", "fed_by": fed_by}
    box = free_id(_taken(rig), "B")
    rig.setdefault("boxes", {})[box] = {"name": name or f"Box {box[1:]}", "fed_by": run}
    return rig, box


def remove_part(document: Document, part: str) -> Document:
    """The rig without a run or box; what it fed hangs on its feeder. Raises `Refused` for what is not there."""
    rig = deepcopy(document)
    group = next((g for g in ("boxes", "runs") if part in rig.get(g, {})), None)
    if group is None:
        raise refuse("part-unknown", f"The rig has no run or box {part}", "Choose a part of the rig")
    feeder = rig[group].pop(part).get("fed_by", "supply")
    for g in ("runs", "boxes", "loads"):
        for fed in rig.get(g, {}).values():
            if fed.get("fed_by") == part:
                fed["fed_by"] = feeder
    return rig


def _alone_on(rig: Document, run: str, part: str) -> bool:
    fed = [i for g in ("runs", "boxes", "loads") for i, p in rig.get(g, {}).items() if p.get("fed_by") == run]
    return fed == [part]


def _is_below(rig: Document, place: str, top: str) -> bool:
    seen: set[str] = set()
    while place and place != "supply" and place not in seen:
        if place == top:
            return True
        seen.add(place)
        place = next((rig[g][place].get("fed_by", "") for g in ("runs", "boxes", "loads") if place in rig.get(g, {})), "")
    return False


def _taken(rig: Document) -> list[str]:
    return [i for g in ("runs", "boxes", "loads") for i in rig.get(g, {})]


def _next_name(name: str, taken: set[str | None]) -> str:
    stem = name.rsplit(" ", 1)[0] if name.rsplit(" ", 1)[-1].isdigit() else name
    return next(candidate for n in range(2, len(taken) + 3) if (candidate := f"{stem} {n}") not in taken)
