"""The limits of a strike plan, and what a moment of it uses of each."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import inf, sqrt

from pycore.findings.strike_draws import Striking
from pycore.findings.strike_supply import Active, Borne, Breaker, Set, Solve, dip
from pycore.lamp.strike import Use
from pycore.rig import graph
from pycore.rig.fill import listed

NO_WAY = 99.0  # share of a limit that cannot be put in numbers


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """Everything that a plan is judged against. `gap` (s) is one slot of the plan."""

    lamps: dict[str, Striking]
    solve: Solve
    breakers: tuple[Breaker, ...]
    below: dict[str, tuple[str, ...]]  # lamps behind each breaker
    machine: Set | None
    gap: float
    frequency: float
    alike: Mapping[str, str] = field(default_factory=dict)  # lamps with the same text may change places in a plan
    known: dict[tuple[str, float, float], Active] = field(default_factory=dict, compare=False)

    def draws(self, ages: Mapping[str, float], window: float) -> list[Active]:
        """The most that each struck lamp draws from its age (s) on for `window` s."""
        return [self._draw(i, age, window) for i, age in ages.items()]

    def _draw(self, i: str, age: float, window: float) -> Active:
        if (i, age, window) not in self.known:
            most = self.lamps[i].run_up.most(age, window)
            self.known[i, age, window] = Active(load=i, power=most.power, reactive=most.reactive)
        return self.known[i, age, window]

    def uses(self, ages: Mapping[str, float], window: float | None = None) -> tuple[Use, ...]:
        """What a moment, and the slot after it, use of every limit. Lamps of age 0 strike in it."""
        return self.uses_of(self.draws(ages, self.gap if window is None else window), ages) if ages else ()

    def uses_of(self, draws: list[Active], ages: Mapping[str, float]) -> tuple[Use, ...]:
        """The same of lamps whose draws are given."""
        borne = self.solve(draws)
        if not borne.solved:
            return (Use(limit="collapse", place=graph.SUPPLY, demand=NO_WAY, allowed=1.0, share=NO_WAY),)
        struck = [self.lamps[i] for i, age in ages.items() if age <= 0]
        all_on = len(ages) == len(self.lamps) and all(age >= self.lamps[i].run_up.settles for i, age in ages.items())
        return (*_out(borne), *self._breakers(borne, struck, all_on), *(self._machine(borne) if self.machine else ()), *(self._steps(borne, struck) if self.machine else ()), *(self._peaks(borne, struck) if self.machine else ()))

    def _breakers(self, borne: Borne, struck: list[Striking], all_on: bool) -> list[Use]:
        uses = []
        for b in self.breakers:
            amps = max((i for (place, _), i in borne.currents.items() if place == b.place), default=0.0)
            uses.append(_at_most("long", b.place, amps, b.long) if all_on else replace(_at_most("carry", b.place, amps, b.carries), unsure=b.opens / b.carries))
            for line in sorted({x for s in struck if s.id in self.below[b.place] for x in s.lines}):
                peak = sqrt(2) * borne.currents.get((b.place, line), 0.0)
                mine = [s for s in struck if s.id in self.below[b.place] and line in s.lines]
                surge = sum(s.inrush for s in mine)
                borne_at_once = sqrt(2) * b.holds * short_pulse(max(s.inrush_time for s in mine))
                uses.append(replace(_at_most("surge", b.place, peak + surge, borne_at_once), own=surge > borne_at_once, unsure=b.trips / b.holds))
        return uses

    def _machine(self, borne: Borne) -> list[Use]:
        assert self.machine is not None
        total, m = borne.total, self.machine
        amps = max((i for (place, _), i in borne.currents.items() if place == graph.SUPPLY), default=0.0)
        return [_at_most("kva", graph.SUPPLY, borne.apparent, m.apparent), _at_most("kw", graph.SUPPLY, total.real, m.active), _at_most("line", graph.SUPPLY, amps, m.line)]

    def _peaks(self, borne: Borne, struck: list[Striking]) -> list[Use]:
        """The crests on each line of an inverter in the moment of a strike."""
        assert self.machine is not None
        uses, most = [], self.machine.peak
        for line in sorted({x for s in struck for x in s.lines}) if most < inf else ():
            surge = sum(s.inrush for s in struck if line in s.lines)
            uses.append(replace(_at_most("peak", graph.SUPPLY, sqrt(2) * borne.currents.get((graph.SUPPLY, line), 0.0) + surge, most), own=surge > most))
        return uses

    def _steps(self, borne: Borne, struck: list[Striking]) -> list[Use]:
        m, uses = self.machine, []
        if m is None or not m.steps:
            return []
        for s in struck:
            step = strike_step(s, self.frequency)
            sag = dip(m, step, len(s.lines))
            uses.append(replace(_at_most("dip", f"loads/{s.id}", sag, m.voltage_dip), own=True))
            uses.append(replace(_at_most("frequency", f"loads/{s.id}", m.engine * s.run_up.at(0.0).power / m.active, m.frequency_dip), own=True))
            for i, volts in borne.voltages.items():
                other = self.lamps[i]
                if other.low and i != s.id and set(other.lines) & set(s.lines):
                    left = volts * (1 - sag)
                    uses.append(Use(limit="hold", place=f"loads/{i}", demand=left, allowed=other.low, share=other.low / left if left > 0 else NO_WAY))
        return uses


def _out(borne: Borne) -> list[Use]:
    return [Use(limit="out", place=f"loads/{i}", demand=volts, allowed=limit, share=limit / volts if volts > 0 else NO_WAY) if volts < limit else _at_most("over", f"loads/{i}", volts, limit)
            for i, (volts, limit) in borne.out.items()]


def _at_most(limit: str, place: str, demand: float, allowed: float) -> Use:
    return Use(limit=limit, place=place, demand=demand, allowed=allowed, share=demand / allowed if allowed > 0 else NO_WAY)


def short_pulse(lasts: float) -> float:
    """How much more a device bears of a pulse shorter than a half-cycle: the same heat in it. Common practice, from memory."""
    half = float(listed()["breaker"]["half_cycle"].removesuffix(" ms")) / 1000
    return max(1.0, sqrt(half / lasts)) if lasts > 0 else 1.0


def strike_step(s: Striking, frequency: float) -> complex:
    """The step of P + jQ (VA) that a strike is to a generator: the inrush where it lasts a cycle, else what follows it."""
    start = s.run_up.at(0.0)
    step = complex(start.power, start.reactive)
    if s.inrush_time >= 0.999 / frequency:
        surge = s.nominal * s.inrush / sqrt(2)
        angle = step / abs(step) if abs(step) else 1.0
        step = max(step, surge * angle, key=abs)
    return step
