"""The whole rig at a glance: the tree with the worst verdict carried up, and the load of each line of the supply."""

from dataclasses import dataclass
from itertools import chain as joined

from pycore.base.problem import Refused
from pycore.base.result import Finding, Term, Verdict, term, worst
from pycore.findings import run as runs
from pycore.findings.chain import Chain
from pycore.findings.common import within
from pycore.findings.supplied import currents
from pycore.findings.whole_rig import WholeRig, cable, fullest, lamp_current
from pycore.rig import graph
from pycore.rig.model import Rig


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """One place of the tree. `own` is its own verdict, `carried` the worst of it and everything that it feeds."""

    id: str
    kind: str  # supply, run, box, lamp
    parent: str
    depth: int
    title: str
    detail: str
    own: Verdict
    carried: Verdict
    line: str = ""  # of a lamp: where it is plugged
    says: str = ""
    voltage: Term | None = None  # the lowest that stands here
    current: Term | None = None  # of the fullest conductor


@dataclass(frozen=True, slots=True, kw_only=True)
class LineLoad:
    """The load of one conductor of the supply against its rating."""

    conductor: str
    current: Term
    rating: Term | None
    verdict: Verdict


def tree(whole: WholeRig, chains: dict[str, Chain], source: tuple[Finding, ...]) -> tuple[Node, ...]:
    """Every place, feeders before what they feed."""
    rig, own = whole.rig, verdicts(chains, source)
    below = graph.all_children(rig)

    def visit(place: str, parent: str, depth: int) -> list[Node]:
        under = [visit(c, place, depth + 1) for c in below[place] if depth < 40]
        carried = worst([v for v in (own.get(place), *(nodes[0].carried for nodes in under)) if v is not None])
        return [_node(whole, place, parent, depth, own.get(place), carried, chains), *joined.from_iterable(under)]

    return tuple(visit(graph.SUPPLY, "", 0))


def verdicts(chains: dict[str, Chain], source: tuple[Finding, ...]) -> dict[str, Verdict]:
    """The worst own verdict of each place: supply and runs over all lamps that they serve, a lamp's over its own links."""
    found: dict[str, list[Verdict]] = {graph.SUPPLY: [f.verdict for f in source]}
    for i, chain in chains.items():
        for link in chain.links:
            found.setdefault(link.id if link.kind in ("supply", "run") else i, []).append(link.verdict)
    return {place: worst(v) for place, v in found.items() if v}


def _node(whole: WholeRig, place: str, parent: str, depth: int, own: Verdict | None, carried: Verdict, chains: dict[str, Chain]) -> Node:
    kind, title, detail = words(whole.rig, place)
    voltage, current = _figures(whole, place, kind)
    return Node(id=place, kind=kind, parent=parent, depth=depth, title=title, detail=detail, own=own or Verdict.CLEAR, carried=carried,
                line=whole.rig.loads[place].connection if kind == "lamp" else "", says=chains[place].headline if place in chains else "", voltage=voltage, current=current)


def words(rig: Rig, place: str) -> tuple[str, str, str]:
    """Kind, title and detail of a place."""
    if place in rig.runs:
        return "run", rig.runs[place].name or place, runs.detail(rig.runs[place])
    if place in rig.boxes:
        return "box", rig.boxes[place].name or place, ""
    if place in rig.loads:
        load = rig.loads[place]
        return "lamp", load.name or place, str(load.lamp.rated_power.quantity) if load.lamp.rated_power else ""
    return "supply", rig.supply.name or rig.supply.kind.capitalize() or "Supply", ""


def _figures(whole: WholeRig, place: str, kind: str) -> tuple[Term | None, Term | None]:
    """Lowest line-to-neutral voltage and fullest current of a place."""
    if not whole.solved:
        return None, None
    flow = whole.flow
    if kind == "lamp":
        point = flow.loads.get(place)
        return (term(abs(point.voltage), "V", "voltage at the lamp"), term(lamp_current(whole, place), "A", "current, harmonics included")) if point else (None, None)
    if kind == "box" or (kind == "run" and place not in flow.tree.number):
        return None, None
    k = flow.tree.number[place]
    lines = [abs(flow.voltage(place, c)) for c in flow.tree.conductors[k] if c.startswith("L")]
    voltage = term(min(lines), "V", "lowest voltage, line to neutral") if lines else None
    try:
        return voltage, cable(whole, whole.rig.runs[place]).current if kind == "run" else _fullest(currents(whole))
    except Refused:
        return voltage, None


def _fullest(amps: dict[str, Term]) -> Term:
    return amps[fullest({c: t.value for c, t in amps.items()})]


def line_loads(whole: WholeRig) -> tuple[LineLoad, ...]:
    """Each conductor of the supply with its rms current and the rating; nothing without a steady state."""
    try:
        amps = currents(whole)
    except Refused:
        return ()
    rating = whole.rig.supply.rating
    return tuple(LineLoad(conductor=c, current=t, rating=rating, verdict=within(t.value, rating.value) if rating else Verdict.UNKNOWN) for c, t in amps.items())
