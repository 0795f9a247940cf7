"""The rig as a tree: who feeds whom."""

from pycore.base.problem import Problem
from pycore.rig.model import Rig, Run

SUPPLY = "supply"


def feeder(rig: Rig, place: str) -> str | None:
    """What feeds a run, box or load; None for what is not there."""
    for group in (rig.runs, rig.boxes, rig.loads):
        if place in group:
            return group[place].fed_by or SUPPLY
    return None


def path(rig: Rig, place: str) -> list[Run]:
    """The runs from the supply to a load, in the order of the current. A loop or a gap ends it."""
    runs: list[Run] = []
    seen: set[str] = set()
    at: str | None = feeder(rig, place)
    while at and at != SUPPLY and at not in seen:
        seen.add(at)
        if at in rig.runs:
            runs.insert(0, rig.runs[at])
        at = feeder(rig, at)
    return runs


def children(rig: Rig, place: str) -> list[str]:
    """What a place feeds: runs, boxes, loads, in the order of the file."""
    return [i for group in (rig.runs, rig.boxes, rig.loads) for i in group if feeder(rig, i) == place and i != place]


def problems(rig: Rig) -> list[Problem]:
    """Feeders that do not exist, loops, and names used twice, each with its address."""
    found = []
    homes: dict[str, str] = {}
    for group in ("runs", "boxes", "loads"):
        for i in getattr(rig, group):
            if i in homes or i == SUPPLY:
                found.append(Problem("id-twice", f"{i} is used twice", "Give each part a name of its own", f"{group}/{i}"))
            homes.setdefault(i, f"{group}/{i}")
    found += [Problem("lamp-missing", f"{i} lights this shot, but is not in the rig", "Choose one of the rig's lamps", f"shots/{s.id}/lit_by/{i}")
              for s in rig.shots.values() for i in s.lit_by if i not in rig.loads]
    for i, address in homes.items():
        fed_by = feeder(rig, i)
        if fed_by != SUPPLY and fed_by not in homes:
            found.append(Problem("feeder-missing", f"{i} is fed by {fed_by}, which is not in the rig", "Choose what feeds it", f"{address}/fed_by"))
        elif fed_by in rig.loads:
            found.append(Problem("feeder-is-load", f"{i} is fed by {fed_by}, which is a lamp", "Choose a cable, a box or the supply", f"{address}/fed_by"))
        elif _loops(rig, i):
            found.append(Problem("loop", f"{i} feeds itself in a circle", "Choose what feeds it", f"{address}/fed_by"))
    return found


def _loops(rig: Rig, start: str) -> bool:
    at, steps = feeder(rig, start), 0
    while at and at != SUPPLY and steps < 1000:
        if at == start:
            return True
        at, steps = feeder(rig, at), steps + 1
    return False
