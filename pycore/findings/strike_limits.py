"""The limits of a strike plan, and what a moment of it uses of each."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import sqrt

from pycore.base.result import Origin, Term, estimates, term
from pycore.base.table import table
from pycore.findings.common import attempt
from pycore.findings.source import available
from pycore.findings.strike_draws import Striking
from pycore.findings.strike_supply import Active, Borne, Breaker, Set, Solve, dip
from pycore.lamp.strike import Use
from pycore.powerflow.generator import active_limit
from pycore.protection.rule_sets import device_rules
from pycore.rig import graph
from pycore.rig.fill import listed
from pycore.rig.model import Device, Rig
from pycore.rig.typical import need

CURVES = ("B", "C", "D")
NO_WAY = 99.0  # share of a limit that cannot be put in numbers
WORDS = {  # limit: (question, what is demanded, what is allowed, unit)
    "carry": ("Does every device hold while they come up?", "current while they come up", "surely held for an hour", "A"),
    "long": ("Does every device carry them for hours?", "current when all burn", "continuous current", "A"),
    "surge": ("Does every device bear the inrush?", "peak current at a strike", "surely borne at once", "A"),
    "kva": ("Do the windings carry it?", "apparent power", "available here", "VA"),
    "kw": ("Does the engine carry it?", "active power", "available here", "W"),
    "line": ("Does each line of the set carry it?", "current of a line", "rated current of a line", "A"),
    "dip": ("How far does the voltage dip?", "dip at a strike", "allowed dip", "%"),
    "frequency": ("How far does the frequency dip?", "dip of the frequency at a strike", "allowed dip", "%"),
    "hold": ("Do the burning lamps ride through?", "voltage at a burning lamp in the dip", "voltage it holds", "V"),
    "out": ("Does every lamp get its voltage?", "voltage at a lamp", "voltage it holds", "V"),
    "over": ("Is the voltage too high for a lamp?", "voltage at a lamp", "voltage it stands", "V"),
    "collapse": ("Can the cables carry them at all?", "share of a limit", "all", "%"),
    "gap": ("Is there time between the strikes?", "gap between two strikes", "least gap", "s"),
}


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
        return (*_out(borne), *self._breakers(borne, struck, all_on), *(self._machine(borne) if self.machine else ()), *(self._steps(borne, struck) if self.machine else ()))

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


def breakers(rig: Rig) -> tuple[tuple[Breaker, ...], tuple[Term, ...]]:
    """The devices of outlet and runs, and the estimates behind them."""
    found: list[Breaker] = []
    leaning: list[Term] = []
    for place, device in ((graph.SUPPLY, rig.supply.device), *((i, r.device) for i, r in rig.runs.items())):
        if device.rating is None or device.kind == "none":
            continue
        found.append(_breaker(rig, place, device, 0.8 if rig.rules == "na" and device.burns != "short" else 1.0))
        leaning += estimates([device.rating])
        if device.kind not in CURVES and device.holds_to is None:
            leaning.append(term(1.0, "", f"curve of the device at {place}", note="not entered: taken as B, which trips soonest", firm_up="Read it off the device's front",
                                address=f"{'supply' if place == graph.SUPPLY else f'runs/{place}'}/device/kind", origin=Origin.ASSUMED))
    return tuple(found), tuple(leaning)


def _breaker(rig: Rig, place: str, device: Device, continuous: float) -> Breaker:
    """A device by its curve and the rule set's slow tripping; an unknown curve counts as B, and unknown slow tripping as none above its rating."""
    assert device.rating is not None
    rated, rules = device.rating.value, device_rules(rig)
    band, _ = attempt(lambda: rules.band(device, ""))
    curve = device.kind if device.kind in CURVES else "B"
    edges = (band.holds.value, band.trips.value) if band else tuple(rated * table(t).cell(0.1, curve, "edge").value for t in ("trip-holds", "trip-trips"))
    slow, _ = attempt(lambda: rules.slow(device)) if device.kind in CURVES else (None, ())
    holds = device.holds_to.value if device.holds_to else edges[0]
    return Breaker(place=place, holds=holds, carries=slow.holds.value * rated if slow else rated, long=continuous * rated, trips=max(holds, edges[1]), opens=slow.trips.value * rated if slow else rated)


def machine(rig: Rig) -> tuple[Set | None, tuple[Term, ...]]:
    """The generating set or inverter, None on mains. Raises `Refused` for missing entries."""
    supply = rig.supply
    if supply.kind not in ("generator", "battery"):
        return None, ()
    rated, factor, volts = need(supply, "rated_power", "supply"), need(supply, "rated_power_factor", "supply"), need(supply, "voltage", "supply")
    lines = {"single-phase": 1, "split-phase": 2}.get(supply.system, 3)
    if supply.kind == "battery":
        return Set(apparent=rated.value, active=rated.value * factor.value, line=rated.value / (lines * volts.value), lines=lines, steps=False), estimates((rated, factor))
    given, steps = available(supply)[-1].result, supply.steps
    transient, engine = need(supply, "transient", "supply"), need(steps, "engine", "supply/steps")
    sag, slow = need(steps, "voltage", "supply/steps"), need(steps, "frequency", "supply/steps")
    made = Set(apparent=given.value, active=active_limit(S=given.value, λ=factor.value), line=given.value / (lines * volts.value), lines=lines,
               transient=transient.value, engine=engine.value, voltage_dip=sag.value, frequency_dip=slow.value)
    return made, estimates((given, factor, transient, engine, sag, slow))


def behind(rig: Rig, place: str) -> tuple[str, ...]:
    """The lamps that a place feeds."""
    return tuple(graph.below(rig, place))
