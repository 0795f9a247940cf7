"""What would a fault of the rig do: a broken or poor neutral, a lost line, line and neutral changed over?"""

from dataclasses import dataclass, replace

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Evidence, Remedy, Step, Term, Verdict, term, worst
from pycore.findings.whole_rig import WholeRig
from pycore.powerflow import faults, millman
from pycore.powerflow.network import OPEN, Network
from pycore.rig import graph

KINDS = {"open neutral": "The neutral is broken", "poor neutral": "The neutral has a bad contact", "lost line": "A line is lost", "swapped": "Line and neutral are changed over"}
SHOCK = "With line and neutral changed over, switches and fuses break the neutral and leave the line on: danger of shock. Meter every line against earth before use."
CAUTION = "If the voltages on site look like this: everything off at the source, then find the fault. Do not plug on with it."


@dataclass(frozen=True, slots=True)
class Hit:
    """What the fault does to one lamp."""

    load: str
    name: str
    verdict: Verdict
    says: str
    before: Term
    after: Term | None
    highest: Term


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The fault worked out for every lamp, the hardest hit first."""

    title: str
    place: str
    verdict: Verdict
    says: str
    hits: tuple[Hit, ...]
    steps: tuple[Step, ...]
    evidence: Evidence
    cautions: tuple[str, ...]
    remedies: tuple[Remedy, ...] = ()


def what_if(whole: WholeRig, *, kind: str, place: str, line: str = "L1", ohms: float = 1.0) -> WhatIf:
    """Work out a fault at a run's end, or at the supply. Raises `Refused` for a fault that cannot be."""
    if kind not in KINDS:
        raise refuse("fault-unknown", f"There is no fault called {kind}", f"Choose {', '.join(KINDS)}")
    if not whole.flow.solved:
        raise refuse("no-operating-point", "Already the sound rig has no steady state", "See the runs")
    network = whole.flow.network
    fault = faults.study(network, broken(network, kind, place, line, ohms))
    hits = tuple(_hit(whole, x) for x in fault.loads)
    verdict, says = worst(h.verdict for h in hits), _says(hits)
    cautions: tuple[str, ...] = (CAUTION,)
    if kind == "swapped":  # lamps hardly notice, people do
        verdict, says, cautions = Verdict.STOP, f"Gear that is switched off stays live. {says}", (SHOCK, CAUTION)
    return WhatIf(KINDS[kind], place, verdict, says, hits, _simple_case(whole, kind, place), fault.after.evidence(), cautions)


def broken(network: Network, kind: str, place: str, line: str, ohms: float) -> Network:
    """The network with the fault in it."""
    conductor = line if kind in ("lost line", "swapped") else "N"
    try:
        if place == graph.SUPPLY:
            if kind == "swapped":
                raise refuse("fault-unknown", "Changed wires are studied at a run", "Choose a run")
            z = {**network.source.z, conductor: complex(ohms if kind == "poor neutral" else OPEN) + network.source.z[conductor]}
            return replace(network, source=replace(network.source, z=z))
        if kind == "swapped":
            return faults.swapped(network, place, line)
        return faults.poor_wire(network, place, conductor, ohms) if kind == "poor neutral" else faults.open_wire(network, place, conductor)
    except KeyError:
        raise refuse("fault-unknown", f"{place} has no {conductor}", "Choose another place or line") from None


def _hit(whole: WholeRig, x: faults.Suffered) -> Hit:
    name = whole.rig.loads[x.load].name or x.load
    before, highest = term(x.before, "V", "voltage before"), term(x.highest, "V", "highest voltage on the way")
    after = term(x.after, "V", "voltage after") if x.after is not None else None
    high = x.highest > 1.1 * x.before
    if x.damaged:
        return Hit(x.load, name, Verdict.STOP, f"Sees {highest.quantity}, more than the {term(x.stands or 0.0, 'V').quantity} it stands: damaged", before, after, highest)
    if x.damaged is None and high:
        return Hit(x.load, name, Verdict.UNKNOWN, f"Sees {highest.quantity}; nobody entered what it stands", before, after, highest)
    if x.out:
        return Hit(x.load, name, Verdict.TIGHT, "Goes out: too little voltage" if x.out == "low" else "Goes out: too much voltage", before, after, highest)
    if after is None:
        return Hit(x.load, name, Verdict.UNKNOWN, "No steady voltage: it flickers between on and off", before, after, highest)
    moved = abs(after.value - before.value) > 0.05 * before.value
    return Hit(x.load, name, Verdict.TIGHT if moved else Verdict.CLEAR, f"Sees {after.quantity}" if moved else "Hardly notices", before, after, highest)


def _says(hits: tuple[Hit, ...]) -> str:
    damaged, out = [h for h in hits if h.verdict is Verdict.STOP], [h for h in hits if h.says.startswith("Goes out")]
    parts = [f"{len(damaged)} of {len(hits)} lamps damaged" if damaged else "No lamp is seen to be damaged", f"{len(out)} go out" if out else ""]
    return ", ".join(p for p in parts if p) + (f". Hardest hit: {hits[0].name}, {hits[0].highest.quantity}" if hits else "")


def _simple_case(whole: WholeRig, kind: str, place: str) -> tuple[Step, ...]:
    """Millman's working for a neutral broken ahead of lamps on all three lines, each taken as a plain resistance."""
    supply = whole.rig.supply
    if kind != "open neutral" or supply.system != "three-phase wye" or supply.voltage is None:
        return ()
    powers = dict.fromkeys(("L1", "L2", "L3"), 0.0)
    for i, c in whole.counted.items():
        if i in graph.below(whole.rig, place) and c.load.connection.endswith("-N"):
            powers[c.load.connection[:2]] += c.draw.power.value
    if not all(powers.values()):
        return ()
    lines = {f"P_{k}": term(p, "W", f"power on {line}") for k, (line, p) in enumerate(powers.items(), 1)}
    turned = [work(millman.voltage_with_neutral_broken, V=supply.voltage, **{f"P_{k}": lines[f"P_{(k + shift - 1) % 3 + 1}"] for k in (1, 2, 3)}) for shift in range(3)]
    return (work(millman.neutral_shift, V=supply.voltage, **lines), *turned)
