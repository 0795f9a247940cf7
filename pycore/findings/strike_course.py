"""The supply over time while a plan runs: at every strike, just before it, and in between."""

from collections.abc import Mapping
from dataclasses import dataclass

from pycore.findings.strike_ready import Made
from pycore.rig import graph

POINTS = 40  # moments between first strike and last lamp settled


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
    """The supply over time: at every strike, just before it, and evenly in between until all has settled."""
    end = made.end(at)
    even = [end * k / POINTS for k in range(POINTS + 1)]
    strikes = sorted(set(at.values()))
    times = sorted({round(t, 3) for t in (*even, *strikes, *(t - 0.01 for t in strikes if t > 0))})
    return tuple(_moment(made, at, t) for t in times)


def _moment(made: Made, at: Mapping[str, float], now: float) -> Moment:
    bench = made.bench
    ages = {i: now - t for i, t in at.items() if t <= now + 1e-6}
    light = {i: bench.lamps[i].run_up.at(max(0.0, a)).light for i, a in ages.items()}
    borne = bench.solve(bench.draws({i: max(0.0, a) for i, a in ages.items()}, 0.0))
    if not borne.solved:
        return Moment(at=now, currents={}, outlet={}, apparent=None, active=None, light={}, voltages={})
    light |= dict.fromkeys(borne.out, 0.0)
    struck = tuple(i for i, t in at.items() if abs(t - now) < 1e-3)
    lines = {line: amps for (place, line), amps in borne.currents.items() if place == graph.SUPPLY}
    return Moment(at=now, currents=lines, outlet=borne.outlet, apparent=borne.apparent, active=borne.total.real, light=light, voltages=borne.voltages, strikes=struck,
                  dip=max((u.demand for u in bench.uses(ages, 0.0) if u.limit == "dip"), default=0.0) if struck else 0.0)
