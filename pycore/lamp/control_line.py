"""The control line: how often levels arrive, how fine they are, and whether a fade shows its steps.

    break  mark  start  slot 1 ... slot n      one packet; every slot keeps its level until the next
"""

from dataclasses import dataclass
from math import ceil, log2

from pycore.base.law import Var, law
from pycore.base.source import Cite

TIMING = Cite("ansi-e1-11", "timing of the sender")
THEORY = Cite("photometry")
_STEPS = Var("steps of the level", "", 1)
STEPS = {"8 bit": 255, "16 bit": 65535}


@law("t = max(t_b + t_m + (1 + n)*t_s, t_0)", "Time of one packet", t=Var("time of a packet", "ms"), t_b=Var("break", "µs", 0), t_m=Var("mark after break", "µs", 0),
     n=Var("slots sent", "", 0, 512), t_s=Var("time of a slot", "µs", 0), t_0=Var("shortest packet", "µs", 0), source=TIMING)
def packet_time(*, t_b: float, t_m: float, n: float, t_s: float, t_0: float) -> float:
    """Time in s of a packet with n slots behind its start code."""
    return max(t_b + t_m + (1 + n) * t_s, t_0)


@law("f = 1/t", "Packets in a second", f=Var("refresh", "Hz"), t=Var("time of a packet", "ms", 1e-6), source=TIMING)
def refresh(*, t: float) -> float:
    """Refresh in Hz."""
    return 1 / t


@law("δ = 1/N", "One step of the level", δ=Var("one step", "%"), N=_STEPS, source=TIMING)
def level_step(*, N: float) -> float:
    """One step as a share of full level; N is 255 in one slot, 65 535 in two."""
    return 1 / N


@law("s = log2(Φ_2/Φ_1)", "Stops between two neighbouring levels", s=Var("step in light", "stop"), Φ_2=Var("light one step up", "%", 1e-9), Φ_1=Var("light", "%", 1e-9), source=THEORY)
def stops_between(*, Φ_2: float, Φ_1: float) -> float:
    """Stops of light from one level to the next."""
    return log2(Φ_2 / Φ_1)


@law("h = T/(abs(x_2 - x_1)*N)", "Time that a fade stays on each level", h=Var("time on each level", "ms"), T=Var("fade time", "s", 0), x_1=Var("level at the start", "%", 0, 100),
     x_2=Var("level at the end", "%", 0, 100), N=_STEPS, source=THEORY)
def hold_time(*, T: float, x_1: float, x_2: float, N: float) -> float:
    """Time in s between two steps of a fade."""
    return T / (abs(x_2 - x_1) * N)


@law("m = max(h, t)", "Time between changes of the light", m=Var("time between changes", "ms"), h=Var("time on each level", "ms", 0), t=Var("time of a packet", "ms", 0), source=THEORY)
def change_time(*, h: float, t: float) -> float:
    """Time in s between two changes: no faster than levels step, nor than packets come."""
    return max(h, t)


@law("j = max(1, t/h)", "Levels taken in one change", j=Var("levels in one change", ""), t=Var("time of a packet", "ms", 0), h=Var("time on each level", "ms", 1e-9), source=THEORY)
def levels_at_once(*, t: float, h: float) -> float:
    """How many levels the light jumps when it changes."""
    return max(1.0, t / h)


@dataclass(frozen=True, slots=True, kw_only=True)
class Receiver:
    """Who listens: first slot, number of slots, unit loads."""

    id: str
    first: int
    slots: int
    load: float = 1.0

    @property
    def last(self) -> int:
        """Its last slot."""
        return self.first + self.slots - 1


def overlaps(receivers: list[Receiver]) -> list[tuple[str, str, int, int]]:
    """Pairs that share slots without being set alike, with the first and last slot they share.

    Receivers of the same start and length are meant to move together.
    """
    found = []
    for k, a in enumerate(receivers):
        for b in receivers[k + 1:]:
            first, last = max(a.first, b.first), min(a.last, b.last)
            if first <= last and (a.first, a.slots) != (b.first, b.slots):
                found.append((a.id, b.id, first, last))
    return found


def free_start(receivers: list[Receiver], slots: int, most: int = 512) -> int | None:
    """The lowest first slot at which `slots` fit between the others, None when the universe is full."""
    start = 1
    for r in sorted(receivers, key=lambda r: r.first):
        if start + slots - 1 < r.first:
            break
        start = max(start, r.last + 1)
    return start if start + slots - 1 <= most else None


def splitters(loads: float, most: float) -> int:
    """Splitter outputs more than one that a line of so many unit loads needs."""
    return max(0, ceil(loads / most - 1e-9) - 1)
