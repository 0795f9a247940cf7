"""Which lamp on which line: the proposal, and what it gains by the real solution of the rig before and after."""

from dataclasses import dataclass, replace

from pycore.base.problem import refuse
from pycore.base.result import Remedy, Term
from pycore.findings.common import percent
from pycore.findings.supplied import currents
from pycore.findings.whole_rig import Counted, WholeRig, solve_rig
from pycore.powerflow.balance import Plug, Proposal
from pycore.powerflow.balance import balance as seek
from pycore.rig.model import Rig
from pycore.rig.typical import need

LINES = {"split-phase": ("L1", "L2"), "three-phase wye": ("L1", "L2", "L3")}


@dataclass(frozen=True, slots=True)
class Balanced:
    """Currents of every conductor of the supply before and after, and the re-plugs that lead there."""

    says: str
    before: dict[str, Term]
    after: dict[str, Term]
    moves: tuple[tuple[str, str, str], ...]  # lamp, from, to
    remedy: Remedy
    proven: bool
    gap: float


def balance(whole: WholeRig, most_moves: int | None = None) -> Balanced:
    """Propose lines for the lamps between line and neutral. Raises `Refused` where there is nothing to choose."""
    lines = LINES.get(whole.rig.supply.system)
    if lines is None:
        raise refuse("one-line", "This supply has one line only", "Nothing to balance", "supply/system")
    plugs = [_plug(c) for c in whole.counted.values() if c.load.connection.endswith("-N")]
    if not plugs:
        raise refuse("nothing-to-move", "No lamp is plugged between a line and the neutral", "Add lamps first")
    proposal = seek(plugs, lines, _fixed(whole), most_moves)
    changes = tuple((f"loads/{i}/connection", f"{to}-N") for i, _, to in proposal.moves)
    after = solve_rig(_replugged(whole.rig, proposal)) if changes else whole
    before_amps, after_amps = currents(whole), currents(after)
    return Balanced(_says(before_amps, after_amps, proposal), before_amps, after_amps, proposal.moves, Remedy(f"Re-plug {len(changes)} lamps", changes), proposal.proven, proposal.gap)


def _plug(c: Counted) -> Plug:
    """A lamp's nameplate current, so that alike lamps count alike."""
    nominal = need(c.load, "nominal", f"loads/{c.load.id}").value
    return Plug(id=c.load.id, current=complex(c.draw.power.value, -c.draw.power.value * c.draw.ratio.value) / nominal, now=c.load.connection[:2])


def _fixed(whole: WholeRig) -> dict[str, complex]:
    """What lamps between two lines put on each line, against that line's own voltage."""
    fixed: dict[str, complex] = {}
    for i, c in whole.counted.items():
        a, b = c.load.connection.split("-")
        point = whole.flow.loads.get(i)
        if b != "N" and point is not None:
            emf = whole.flow.network.source.emf
            for line, current in ((a, point.current), (b, -point.current)):
                fixed[line] = fixed.get(line, 0j) + current * emf[line].conjugate() / abs(emf[line])
    return fixed


def _replugged(rig: Rig, proposal: Proposal) -> Rig:
    moved = {i: replace(rig.loads[i], connection=f"{to}-N") for i, _, to in proposal.moves}
    return replace(rig, loads={**rig.loads, **moved})


def _says(before: dict[str, Term], after: dict[str, Term], proposal: Proposal) -> str:
    if not proposal.moves:
        return "Already as even as it gets" + ("" if proposal.proven else f", within {percent(proposal.gap)} of what cannot be beaten")
    worst_before, worst_after = (max(t.value for c, t in amps.items() if c != "N") for amps in (before, after))
    gain = f"Worst line {_fullest(before)} → {_fullest(after)}, neutral {before['N'].quantity} → {after['N'].quantity}"
    sure = "no arrangement is better" if proposal.proven else f"no arrangement gains more than another {percent(proposal.gap)}"
    return f"{gain}; {sure}" if worst_after <= worst_before * 1.001 else f"{gain}: the harmonics do not balance away"


def _fullest(amps: dict[str, Term]) -> str:
    """The fullest line in words."""
    return str(max((t for c, t in amps.items() if c != "N"), key=lambda t: t.value).quantity)
