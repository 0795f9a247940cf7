"""Timers of the day, from time stamps alone: a phone may sleep, be killed or lose its clock in between.

A mark is what someone pressed: "struck", "out", or "hot" (found hot, whenever it went out). Marks stay in the order in
which they were pressed. The wall clock may be set back: then a mark "clock" says by how much, and every later stamp counts
that much later. A clock set forward looks like sleep and cannot be told from it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from pycore.base.law import Var, law
from pycore.base.source import Cite

SLACK = 1.5  # s; below this a clock is only being trimmed


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """`what`: struck, out, hot, clock. `at`: wall clock in s since 1970. `by`: s that the clock went back, for "clock"."""

    what: str
    at: float
    load: str = ""
    by: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Times:
    """What the lamp needs, in s."""

    full_light: float
    full_colour: float
    cooling: float
    strikes_hot: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamp:
    """A lamp now. Instants are wall-clock times as the clock shows them now; None where they do not apply.

    `state`: "cold", "running up", "full", "cooling", "unknown". `unsure`: a clock that went back unnoticed, times are at least these.
    """

    state: str
    since: float | None
    full_at: float | None
    colour_at: float | None
    ready_at: float | None
    hours: float  # s burnt in all
    strikes: int
    unsure: bool


def slip(*, last_seen: float, now: float, steady: float | None = None) -> float:
    """How far (s) the wall clock has gone back since it was last seen, 0 if it has not.

    `steady` is what a clock that nobody can set says has passed; without one (after a restart) the answer is the least it can be.
    """
    back = last_seen + max(0.0, steady or 0.0) - now
    return back if back > SLACK else 0.0


def true_times(marks: Sequence[Mark]) -> tuple[list[float], float, bool]:
    """Each mark's time on a clock that never went back, how far the wall clock is behind that one now, and whether a step back was missed."""
    behind, latest, missed = 0.0, float("-inf"), False
    times = []
    for m in marks:
        if m.what == "clock":
            behind += max(0.0, m.by)
        here = m.at + behind
        if here < latest - SLACK:
            missed, behind, here = True, behind + latest - here, latest
        latest = max(latest, here)
        times.append(latest)
    return times, behind, missed


def lamp(marks: Sequence[Mark], load: str, times: Times, now: float) -> Lamp:
    """The state of one lamp at `now` (wall clock, s)."""
    stamps, behind, missed = true_times(marks)
    present = max(now + behind, stamps[-1] if stamps else now)
    missed = missed or (bool(stamps) and now + behind < stamps[-1] - SLACK)
    mine = [(m.what, t) for m, t in zip(marks, stamps, strict=True) if m.load == load and m.what != "clock"]
    shift = now - present  # from true time to the clock on the wall
    state, since = _state(mine, times, present)
    at = {k: None if t is None else t + shift for k, t in _instants(mine, times, state, since).items()}
    return Lamp(state=state, since=None if since is None else since + shift, hours=burnt(mine, present), strikes=sum(w == "struck" for w, _ in _changes(mine)), unsure=missed, **at)


def _changes(mine: Iterable[tuple[str, float]]) -> list[tuple[str, float]]:
    """The marks that change something: pressing the same twice does not."""
    kept: list[tuple[str, float]] = []
    for what, t in mine:
        if not kept or what == "hot" or kept[-1][0] != what:
            kept.append((what, t))
    return kept


def _state(mine: Sequence[tuple[str, float]], times: Times, now: float) -> tuple[str, float | None]:
    changes = _changes(mine)
    if not changes:
        return "cold", None
    what, t = changes[-1]
    if what == "struck":
        return ("full" if now - t >= times.full_light else "running up"), t
    return ("cold" if now - t >= times.cooling else "cooling"), t


def _instants(mine: Sequence[tuple[str, float]], times: Times, state: str, since: float | None) -> dict[str, float | None]:
    if since is None or state == "cold":
        return {"full_at": None, "colour_at": None, "ready_at": None}
    if state == "cooling":
        return {"full_at": None, "colour_at": None, "ready_at": since if times.strikes_hot else since + times.cooling}
    return {"full_at": since + times.full_light, "colour_at": since + times.full_colour, "ready_at": None}


def burnt(mine: Iterable[tuple[str, float]], now: float) -> float:
    """Seconds burnt in all, the present burning included."""
    total, lit = 0.0, None
    for what, t in mine:
        if what == "struck" and lit is None:
            lit = t
        elif what != "struck" and lit is not None:
            total, lit = total + t - lit, None
    return total + (now - lit if lit is not None else 0.0)


@law("t_b = t_c + t_f", "From going out to full light", t_b=Var("until full light", "min"), t_c=Var("cooling before it strikes", "min", 0), t_f=Var("time to full light", "min", 0),
     source=Cite("arc-run-up", "a warm lamp taken to need its whole run-up"))
def light_back(*, t_c: float, t_f: float) -> float:
    """Time in s until a lamp that went out gives its light again."""
    return t_c + t_f


@dataclass(frozen=True, slots=True, kw_only=True)
class Back:
    """After a lamp went out: when it may be struck, when its light and its colour are back, in s from going out."""

    strike: float
    light: float
    colour: float


def back(times: Times) -> Back:
    """When the light is back at the soonest. A lamp that strikes hot needs no wait; the warm run-up is taken as long as the cold one, at most."""
    wait = 0.0 if times.strikes_hot else times.cooling
    return Back(strike=wait, light=light_back(t_c=wait, t_f=times.full_light), colour=wait + times.full_colour)
