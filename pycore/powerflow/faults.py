"""Faults of the rig as changes of wires: a broken or poor neutral, a lost phase, neutral and phase swapped.

    after = study(network, open_wire(network, "F1", "N"))
    after.damaged, after.out, after.voltages["A3"]

Electronic loads whose cut-out is not known are taken to go out below 30 % of their voltage: without a window a fault of this
kind has no steady state at all.
"""

from dataclasses import dataclass, replace
from math import inf

from pycore.powerflow.flow import Flow
from pycore.powerflow.fundamental import solve
from pycore.powerflow.network import NEUTRAL, OPEN, Branch, Network

GIVEN_UP = 0.30  # of its voltage: assumed lowest for an electronic load of unknown window


def poor_wire(network: Network, branch: str, conductor: str, ohms: float) -> Network:
    """The network with a bad contact of `ohms` Ω in one wire, named as at the end of the branch. Raises KeyError for what is not there."""
    return network.with_branch(_change(network.branch(branch), conductor, joint=ohms))


def open_wire(network: Network, branch: str, conductor: str = NEUTRAL) -> Network:
    """The network with one wire broken: an open neutral, a lost phase. Raises KeyError for what is not there."""
    return poor_wire(network, branch, conductor, OPEN)


def swapped(network: Network, branch: str, a: str, b: str = NEUTRAL) -> Network:
    """The network with two wires changed over at the end of a branch. Raises KeyError for what is not there."""
    old = network.branch(branch)
    first, second = _wire(old, a), _wire(old, b)
    names = {first.bottom: second.bottom, second.bottom: first.bottom}
    return network.with_branch(replace(old, wires=tuple(replace(w, bottom=names.get(w.bottom, w.bottom)) for w in old.wires)))


def _wire(branch: Branch, conductor: str):
    return {w.bottom: w for w in branch.wires}[conductor]


def _change(branch: Branch, conductor: str, **new: float) -> Branch:
    old = _wire(branch, conductor)
    return replace(branch, wires=tuple(replace(w, **new) if w is old else w for w in branch.wires))


@dataclass(frozen=True, slots=True)
class Suffered:
    """What a fault does to a load: volts before and after, the most it saw on the way, and how far it may go.

    `after` is None where the faulty rig has no steady state. `damaged` is None where nobody knows what the load stands.
    `out` is "", "low" or "high".
    """

    load: str
    before: float
    after: float | None
    highest: float
    stands: float | None
    out: str

    @property
    def damaged(self) -> bool | None:
        """Did it see more than it stands?"""
        return None if self.stands is None else self.highest > self.stands


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault worked out: the flows before and after, and every load's share of it, the hardest hit first."""

    before: Flow
    after: Flow
    loads: tuple[Suffered, ...]

    @property
    def damaged(self) -> tuple[str, ...]:
        """Loads that saw more than they stand."""
        return tuple(x.load for x in self.loads if x.damaged)

    @property
    def uncertain(self) -> tuple[str, ...]:
        """Loads that saw more than a tenth above what they saw before, and nobody knows what they stand."""
        return tuple(x.load for x in self.loads if x.damaged is None and x.highest > 1.1 * x.before)

    @property
    def out(self) -> tuple[str, ...]:
        """Loads that go out."""
        return tuple(x.load for x in self.loads if x.out)


def study(network: Network, faulty: Network) -> Fault:
    """Sound and faulty rig side by side. Raises `Refused` for what is no network, ValueError where already the sound one has no solution."""
    before, after = solve(network), solve(_with_windows(faulty))
    if not before.solved:
        raise ValueError("the sound rig has no operating point")
    found = [_suffered(before, after, load.id, load.stands) for load in network.loads]
    return Fault(before, after, tuple(sorted(found, key=lambda x: x.highest / max(x.before, 1e-9), reverse=True)))


def _with_windows(network: Network) -> Network:
    return network.with_loads(tuple(replace(x, low=GIVEN_UP * x.voltage) if x.exponent <= 1 and not x.low else x for x in network.loads))


def _suffered(before: Flow, after: Flow, load: str, stands: float) -> Suffered:
    then = abs(after.loads[load].voltage) if after.solved else None
    return Suffered(load, abs(before.loads[load].voltage), then, max(after.highest.get(load, 0.0), then or 0.0), None if stands == inf else stands,
                    next((d.side for d in after.dropped if d.load == load), ""))
