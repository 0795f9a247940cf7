"""Where ballast, head cable and arc agree, with the ballast's ceilings, in closed form.

Lamp power, output and terminal voltage all rise with the current; so each ceiling is a current, and the least of them counts.
"""

from dataclasses import dataclass
from math import inf, sqrt

from pycore.lamp import head_cable as law


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """An arc: `voltage` (V) at `current` (A), rising by `slope` (Ω) with the current; `factor` its power factor."""

    voltage: float
    current: float
    factor: float = 1.0
    slope: float = 0.0

    @property
    def steady(self) -> float:
        """Power per current at no current, V."""
        return law.steady_part(λ_a=self.factor, V_0=self.voltage, r_a=self.slope, I_0=self.current)

    def at(self, current: float) -> float:
        """Arc voltage (V) at a current (A)."""
        return law.arc_voltage(V_0=self.voltage, r_a=self.slope, I=current, I_0=self.current)

    def current_for(self, power: float, resistance: float = 0.0) -> float:
        """Current (A) at which arc and a resistance (Ω) in series take `power` (W)."""
        return law.current_of_power(P_o=power, b=self.steady, λ_a=self.factor, r_a=self.slope, R=resistance)


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A ballast that holds `power` (W): at its own terminals, or at the lamp when it makes up the loss. The rest are ceilings."""

    power: float
    makes_up: bool
    most_power: float = inf  # at its terminals, W
    most_current: float = inf
    most_voltage: float = inf


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """Where ballast, cable and arc agree. `ceiling` is "" or what holds the ballast back: power, current or voltage."""

    current: float
    arc_voltage: float
    lamp_power: float
    output: float
    terminal_voltage: float
    ceiling: str


def solve(*, arc: Arc, resistance: float, source: Source) -> Point:
    """The operating point behind a head cable of `resistance` (Ω), in closed form.

    A current of 0 means that the voltage ceiling is below what the arc needs: it goes out.
    """
    wanted = arc.current_for(source.power, 0.0 if source.makes_up else resistance)
    ceilings = {"power": arc.current_for(source.most_power, resistance) if source.most_power < inf else inf,
                "current": source.most_current, "voltage": _current_at(arc, resistance, source.most_voltage)}
    tightest = min(ceilings, key=lambda name: ceilings[name])
    held_back = ceilings[tightest] < wanted * (1 - 1e-12)
    current = max(0.0, ceilings[tightest]) if held_back else wanted
    across = arc.at(current)
    power = arc.factor * across * current
    return Point(current=current, arc_voltage=across, lamp_power=power, output=law.output_made_up(P_a=power, I=current, R=resistance),
                 terminal_voltage=law.terminal_voltage(V_a=across, λ_a=arc.factor, I=current, R=resistance), ceiling=tightest if held_back else "")


def _current_at(arc: Arc, resistance: float, most: float) -> float:
    """Current at which the terminals reach `most` volts: the positive root of a·I² + b·I + c = 0."""
    if most == inf:
        return inf
    start = arc.at(0.0)
    a = arc.slope**2 + 2 * arc.factor * arc.slope * resistance + resistance**2
    b, c = 2 * start * (arc.slope + arc.factor * resistance), start**2 - most**2
    if c > 0:
        return 0.0
    return inf if a == 0 else 2 * -c / (b + sqrt(b**2 - 4 * a * c))


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """The largest head-cable resistance (Ω) for a lamp power, and the ceiling that sets it; 0 where no cable is short enough."""

    resistance: float
    ceiling: str


def reach(*, arc: Arc, power: float, source: Source) -> Reach:
    """The largest resistance that still leaves `power` (W) for the lamp.

    For a ballast that senses at its terminals, `source.power` is what it gives there.
    """
    current = arc.current_for(power)
    across = arc.at(current)
    if not current <= source.most_current * (1 + 1e-12):
        return Reach(resistance=0.0, ceiling="current")
    most = source.most_power if source.makes_up else min(source.power, source.most_power)
    offers = {"power": law.resistance_for_output(P_o=most, P_a=power, I=current) if most < inf else inf,
              "voltage": law.resistance_for_voltage(V_t=source.most_voltage, λ_a=arc.factor, V_a=across, I=current) if source.most_voltage < inf else inf}
    tightest = min(offers, key=lambda name: offers[name])
    return Reach(resistance=max(0.0, offers[tightest]), ceiling=tightest)
