"""The supply over time while a plan runs: at every strike, just before it, and in between."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil

from pycore.findings.strike_ready import Made
from pycore.rig import graph

POINTS = 40  # moments between first strike and last lamp settled, at most
BEFORE = 0.01  # s that the moment before a strike is drawn ahead of it


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """The supply at one time (s). Currents and voltages by line; `light` by lamp; `dip` is the share that a strike takes off.

    Empty, and None, where the cables cannot carry it.
    """

    at: float
    currents: dict[str, float]
    outlet: dict[str, float]
    apparent: float | None
    active: float | None
    light: dict[str, float]
    voltages: dict[str, float]
    strikes: tuple[str, ...] = ()
    dip: float = 0.0


def course(made: Made, at: Mapping[str, float]) -> tuple[Moment, ...]:
    """The supply over time: at every strike, just before it, and in between until all has settled.

    In between, moments a gap apart are taken where they are not too many: the search has solved most of them.
    """
    end, strikes = made.end(at), sorted(set(at.values()))
    step = max(made.bench.gap, end / POINTS)
    between = {min(end, round(k * step, 3)) for k in range(ceil(end / step) + 1)} - set(strikes)
    at_or_before = [_moment(made, at, t) for t in sorted({*strikes, *between})]
    before = [replace(_moment(made, {i: t for i, t in at.items() if t < now}, now), at=now - BEFORE) for now in strikes if now > BEFORE]
    return tuple(sorted((*at_or_before, *before), key=lambda m: m.at))


def _moment(made: Made, at: Mapping[str, float], now: float) -> Moment:
    bench = made.bench
    ages = {i: min(max(0.0, round(now - t, 6)), made.settled(i)) for i, t in at.items() if t <= now + 1e-6}
    light = {i: bench.lamps[i].run_up.at(a).light for i, a in ages.items()}
    borne = bench.solve(bench.draws(ages, 0.0))
    if not borne.solved:
        return Moment(at=now, currents={}, outlet={}, apparent=None, active=None, light={}, voltages={})
    light |= dict.fromkeys(borne.out, 0.0)
    struck = tuple(i for i, t in at.items() if abs(t - now) < 1e-3)
    lines = {line: amps for (place, line), amps in borne.currents.items() if place == graph.SUPPLY}
    return Moment(at=now, currents=lines, outlet=borne.outlet, apparent=borne.apparent, active=borne.total.real, light=light, voltages=borne.voltages, strikes=struck,
                  dip=max((u.demand for u in bench.uses(ages, 0.0) if u.limit == "dip"), default=0.0) if struck else 0.0)
