"""The rig as a tree: who feeds whom."""

from pycore.base.problem import Problem, Refused
from pycore.rig.model import Rig, Run

SUPPLY = "supply"
# Entries that shape a lamp's path and for which nothing may stand in where they cannot be read.
SHAPE = {"supply": ("kind", "system", "voltage_measured", "impedance", "fault_current"), "runs": ("fed_by", "cores"), "boxes": ("fed_by",), "loads": ("fed_by", "connection", "kind")}


def feeder(rig: Rig, place: str) -> str | None:
    """What feeds a run, box or load; None for what is not there."""
    for group in (rig.runs, rig.boxes, rig.loads):
        if place in group:
            return group[place].fed_by or SUPPLY
    return None


def path(rig: Rig, place: str) -> list[Run]:
    """The runs from the supply to a load, in the order of the current. A loop or a gap ends it."""
    walked: dict[str, list[Run]] = rig.__dict__.setdefault("_paths", {})
    if place not in walked:
        walked[place] = _walk(rig, place)
    return walked[place]


def below(rig: Rig, run_id: str) -> list[str]:
    """The loads that a run feeds, through whatever lies between; all of them below the supply."""
    sorted_by_run: dict[str, list[str]] | None = rig.__dict__.get("_below")
    if sorted_by_run is None:
        sorted_by_run = rig.__dict__["_below"] = {SUPPLY: list(rig.loads)}
        for i in rig.loads:
            for run in path(rig, i):
                sorted_by_run.setdefault(run.id, []).append(i)
    return sorted_by_run.get(run_id, [])


def _walk(rig: Rig, place: str) -> list[Run]:
    runs: list[Run] = []
    seen: set[str] = set()
    at: str | None = feeder(rig, place)
    while at and at != SUPPLY and at not in seen:
        seen.add(at)
        if at in rig.runs:
            runs.insert(0, rig.runs[at])
        at = feeder(rig, at)
    return runs


def way(rig: Rig, place: str) -> list[str]:
    """Addresses of a place and of all that feeds it, up to and with the supply. A loop or a gap ends it."""
    found: list[str] = []
    at: str | None = place
    while at and at != SUPPLY:
        home = next((f"{g}/{at}" for g in ("runs", "boxes", "loads") if at in getattr(rig, g)), None)
        if home is None or home in found:
            break
        found.append(home)
        at = feeder(rig, at)
    return [*found, SUPPLY]


def check_way(rig: Rig, place: str) -> None:
    """Raise `Refused` where an entry that shapes the path of a settled rig's lamp is there but cannot be used."""
    shape = ["rules", *(a for home in way(rig, place) for a in (home, *(f"{home}/{k}" for k in SHAPE[home.partition("/")[0]])))]
    wrong = [a for a in shape if a in rig.unreadable]
    if wrong:
        raise Refused(*(Problem("entry-unreadable", "An entry on the way to the lamp cannot be used", "Correct it", a) for a in wrong))


def children(rig: Rig, place: str) -> list[str]:
    """What a place feeds: runs, boxes, loads, in the order of the file."""
    return all_children(rig).get(place, [])


def all_children(rig: Rig) -> dict[str, list[str]]:
    """The same for every place at once; nothing for a lamp."""
    found: dict[str, list[str]] = {SUPPLY: []}
    places = [i for group in (rig.runs, rig.boxes, rig.loads) for i in group]
    found |= {i: [] for i in places}
    for i in places:
        if (by := feeder(rig, i)) in found and by != i:
            found[by].append(i)
    return found


def problems(rig: Rig) -> list[Problem]:
    """Feeders that do not exist, loops, and names used twice, each with its address."""
    found = []
    homes: dict[str, str] = {}
    for group in ("runs", "boxes", "loads"):
        for i in getattr(rig, group):
            if i in homes or i == SUPPLY:
                found += [Problem("id-twice", f"{i} is used twice", "Give each part a name of its own", a) for a in dict.fromkeys((homes.get(i, f"{group}/{i}"), f"{group}/{i}"))]
            homes.setdefault(i, f"{group}/{i}")
    found += [Problem("lamp-missing", f"{i} lights this shot, but is not in the rig", "Choose one of the rig's lamps", f"shots/{s.id}/lit_by/{i}")
              for s in rig.shots.values() for i in s.lit_by if i not in rig.loads]
    found += [Problem("line-missing", f"{i} hangs on control line {x.control.line}, which is not in the rig", "Choose one of the rig's control lines", f"loads/{i}/control/line")
              for i, x in rig.loads.items() if x.control.line and x.control.line not in rig.control_lines]
    for i, address in homes.items():
        fed_by = feeder(rig, i)
        if not next(getattr(rig, g)[i].fed_by for g in ("runs", "boxes", "loads") if i in getattr(rig, g)):
            found.append(Problem("feeder-missing", f"{i} does not say what feeds it", "Choose what feeds it", f"{address}/fed_by"))
        elif fed_by != SUPPLY and fed_by not in homes:
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
