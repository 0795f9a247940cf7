"""The rig as the solver sees it: wires in ohms, loads in watts, no names of makers and no units.

    Source ── wires ── node ── wires ── node        every node but the source's is the end of one branch
                        │                │
                       load             load        between two conductors of a node

Conductors are called L1, L2, L3, N and PE. Voltages count from the source's star point. An open wire is one of 10 MΩ, so
that every fault is a change of wires and the equations stay the same.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import inf

LINES = ("L1", "L2", "L3")
NEUTRAL = "N"
EARTH = "PE"
OPEN = 1e7  # Ω across a break: damp insulation, and far above any load


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """One conductor of a branch.

    `top` is its name where it is fed and `bottom` where it ends; they differ only where wires are swapped. `r` is its
    resistance (Ω) at working temperature, `x` its own reactance (Ω) at the network's frequency, `joint` the resistance (Ω)
    of contacts in series, which no temperature of the wire changes. `r_metre` is the direct-current resistance per length
    (Ω/m) of one strand bundle, for the skin effect; 0 leaves that out.
    """

    top: str
    bottom: str
    r: float
    x: float = 0.0
    joint: float = 0.0
    r_metre: float = 0.0


def wire(conductor: str, r: float, x: float = 0.0, r_metre: float = 0.0) -> Wire:
    """A wire that keeps its name; r and x in Ω, r_metre in Ω/m."""
    return Wire(top=conductor, bottom=conductor, r=r, x=x, r_metre=r_metre)


@dataclass(frozen=True, slots=True, kw_only=True)
class Branch:
    """A cable from one node to the next. `mutual` holds the reactances (Ω) between its wires, as `spacing` gives them."""

    id: str
    start: str
    end: str
    wires: tuple[Wire, ...]
    mutual: tuple[tuple[float, ...], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What a lamp or other load draws between conductors `a` and `b` of a node.

    `power` (W) and `reactive` (var, lagging positive, leading negative) at `voltage` (V) go with the voltage to the power
    `exponent`: 0 constant power, 1 constant current, 1.6 tungsten, 2 constant impedance, 2.2 choke ballast. Outside
    `low`..`high` (V) the load is out; below `fold` (V) it draws its current at `fold` and no more. Above `stands` (V) it is
    damaged; inf: not known. `spectrum`: harmonics of its current as (order, share of the fundamental, angle in rad against
    the load's own voltage). `pulse` (rad) says that the spectrum is that of a rectifier's pulses with this half-angle on a
    stiff supply at `voltage`, `lead` (rad) before its peak: resistance and reactance on the way widen them, and reactance makes them late. 0: the spectrum stays as it is.
    """

    id: str
    node: str
    a: str
    b: str
    power: float
    voltage: float
    reactive: float = 0.0
    exponent: float = 0.0
    low: float = 0.0
    high: float = inf
    fold: float = 0.0
    stands: float = inf
    spectrum: tuple[tuple[int, float, float], ...] = ()
    pulse: float = 0.0
    lead: float = 0.0

    @property
    def passive(self) -> bool:
        """A plain impedance to harmonics: tungsten, heaters, capacitors."""
        return self.exponent > 1 and not self.spectrum


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """EMFs (V) behind impedances (Ω), by conductor; N and PE have an EMF of 0.

    `z_harmonic` (Ω at the network's frequency) counts for harmonics instead of `z` where given: a generator holds its
    voltage at the fundamental and shows its sub-transient reactance to the rest.
    """

    node: str
    emf: Mapping[str, complex]
    z: Mapping[str, complex]
    z_harmonic: Mapping[str, complex] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Network:
    """A tree of branches below a source, with loads; `frequency` in Hz."""

    source: Source
    branches: tuple[Branch, ...]
    loads: tuple[Load, ...]
    frequency: float = 50.0

    def branch(self, branch_id: str) -> Branch:
        """One branch by id. Raises KeyError."""
        return {b.id: b for b in self.branches}[branch_id]

    def with_branch(self, new: Branch) -> "Network":
        """The same network with the branch of this id exchanged."""
        return replace(self, branches=tuple(new if b.id == new.id else b for b in self.branches))

    def with_loads(self, loads: tuple[Load, ...]) -> "Network":
        """The same network with other loads."""
        return replace(self, loads=loads)

    def from_source(self) -> list[Branch]:
        """The branches that the source feeds, each after the one that feeds it."""
        starting: dict[str, list[Branch]] = {}
        for b in self.branches:
            starting.setdefault(b.start, []).append(b)
        found = list(starting.pop(self.source.node, ()))
        for b in found:  # grows while it is walked
            found.extend(starting.pop(b.end, ()))
        return found
