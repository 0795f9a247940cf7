"""From the dim setting back to what the ballast must give and draw: the side of the chain that the supply does not change."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from math import inf

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Step, Term, term
from pycore.conductors import impedance
from pycore.findings.load_spectrum import Harmonics, harmonics_of
from pycore.lamp import arc_point, tungsten
from pycore.lamp import ballast as ballasts
from pycore.lamp import head_cable as cables
from pycore.powerflow import distortion
from pycore.powerflow.single_path import loss
from pycore.rig.harmonics import distortion as total
from pycore.rig.harmonics import read_harmonics
from pycore.rig.model import Load
from pycore.rig.typical import listed, need, need_choice


@dataclass(frozen=True, slots=True)
class LampSide:
    """What the lamp wants, what the head cable takes and what the ballast must give for it."""

    wanted: Term  # lamp power that the dim asks for
    resistance: Term  # of the head cable, out and back
    arc_factor: Term
    made_up: bool
    limited: bool  # a ceiling of the ballast is reached
    output: Term  # at the ballast, at nominal supply voltage
    steps: tuple[Step, ...]
    ceiling: str = ""  # which one: power, current, voltage


def lamp_side(load: Load) -> LampSide:
    """Solve the lamp side. Raises `Refused` for missing entries and for an arc that the ballast cannot hold."""
    at = f"loads/{load.id}"
    rated, dim = need(load.lamp, "rated_power", f"{at}/lamp"), need(load, "dim", at)
    wanted = term(rated.value * dim.value, "W", "lamp power that is set", rests_on=(rated, dim), address=f"{at}/dim")
    if load.kind != "arc lamp":
        return _without_head_cable(load, wanted)
    cable = head_resistance(load)
    resistance, factor = cable[-1].result, arc_factor(load)
    made_up = need_choice(load.ballast, "makes_up", f"{at}/ballast") == "yes"
    if made_up and load.ballast.kind.startswith("magnetic"):
        raise refuse("cannot-make-up", "A magnetic ballast follows its supply: it cannot make up what the head cable takes", "Choose “not made up”", f"{at}/ballast/makes_up")
    point = arc_point.solve(arc=arc_of(load), resistance=resistance.value, source=source_of(load, wanted.value))
    if point.ceiling == "voltage" and point.current <= 0:
        raise refuse("arc-not-held", "The arc needs more voltage than the ballast can give", "Check arc voltage and the ballast's most voltage", f"{at}/ballast/most_voltage")
    if point.ceiling:
        return _held_back(load, LampSide(wanted, resistance, factor, made_up, True, wanted, cable, point.ceiling), point)
    if not made_up:
        return LampSide(wanted, resistance, factor, False, False, wanted, cable)
    arc = arc_current_steps(load, wanted, factor)
    output = work(cables.output_made_up, P_a=wanted, I=arc[-1].result, R=resistance)
    return LampSide(wanted, resistance, factor, True, False, output.result, (*cable, *arc, output))


CEILINGS = {"power": "ceiling", "current": "most_current", "voltage": "most_voltage"}


def _held_back(load: Load, side: LampSide, point: arc_point.Point) -> LampSide:
    """The ballast at its ceiling: what it gives, and the working that shows why."""
    at = f"loads/{load.id}/ballast"
    rated, limit = need(load.lamp, "rated_power", f"loads/{load.id}/lamp"), need(load.ballast, CEILINGS[side.ceiling], at)
    output = term(point.output, "W", "most that the ballast can give", rests_on=(rated, limit, side.resistance), address=f"{at}/{CEILINGS[side.ceiling]}",
                  note=f"its {side.ceiling} ceiling")
    arc = arc_current_steps(load, side.wanted, side.arc_factor)
    steps: tuple[Step, ...] = (*side.steps, *arc)
    if side.ceiling != "current":
        steps += (work(cables.output_made_up, P_a=side.wanted, I=arc[-1].result, R=side.resistance),)
    if side.ceiling == "voltage":
        steps += (work(cables.terminal_voltage, V_a=need(load.lamp, "arc_voltage", f"loads/{load.id}/lamp"), λ_a=side.arc_factor, I=arc[-1].result, R=side.resistance),)
    return replace(side, output=output, steps=steps)


def arc_of(load: Load) -> arc_point.Arc:
    """The arc in floats. Raises `Refused` for missing entries."""
    at = f"loads/{load.id}/lamp"
    voltage, factor = need(load.lamp, "arc_voltage", at).value, arc_factor(load).value
    current = cables.arc_current(P_a=need(load.lamp, "rated_power", at).value, V_a=voltage, λ_a=factor)
    return arc_point.Arc(voltage=voltage, current=current, factor=factor, slope=load.lamp.arc_slope.value if load.lamp.arc_slope else 0.0)


def source_of(load: Load, power: float) -> arc_point.Source:
    """The ballast in floats, set to `power` (W); a ceiling that nobody entered is none."""
    at, ballast = f"loads/{load.id}", load.ballast
    rated = need(load.lamp, "rated_power", f"{at}/lamp").value
    return arc_point.Source(power=power, makes_up=need_choice(ballast, "makes_up", f"{at}/ballast") == "yes",
                         most_power=rated * need(ballast, "ceiling", f"{at}/ballast").value, most_current=ballast.most_current.value if ballast.most_current else inf,
                         most_voltage=ballast.most_voltage.value if ballast.most_voltage else inf)


def arc_current_steps(load: Load, power: Term, factor: Term, resistance: Term | None = None) -> tuple[Step, ...]:
    """Arc current at which the arc (and a resistance in series) takes `power`, as working; the last step is the current."""
    at = f"loads/{load.id}/lamp"
    voltage, slope = need(load.lamp, "arc_voltage", at), load.lamp.arc_slope
    if slope is None or not slope.value:
        if resistance is None:
            return (work(cables.arc_current, P_a=power, V_a=voltage, λ_a=factor),)
        return (work(cables.arc_current_from_output, P_o=power, R=resistance, V_a=voltage, λ_a=factor),)
    rated = work(cables.arc_current, P_a=need(load.lamp, "rated_power", at), V_a=voltage, λ_a=factor)
    steady = work(cables.steady_part, λ_a=factor, V_0=voltage, r_a=slope, I_0=rated.result)
    nothing = term(0.0, "Ω", "nothing in series")
    return rated, steady, work(cables.current_of_power, P_o=power, b=steady.result, λ_a=factor, r_a=slope, R=resistance or nothing)


def _without_head_cable(load: Load, wanted: Term) -> LampSide:
    """A tungsten lamp's power at nominal supply voltage, or what an LED's driver holds."""
    none, whole = term(0.0, "Ω", "head cable"), term(1.0, "", "arc power factor")
    if load.kind == "LED":
        return LampSide(wanted, none, whole, False, False, wanted, ())
    rated = need(load.lamp, "rated_voltage", f"loads/{load.id}/lamp")
    if load.nominal is None:
        raise refuse("entry-missing", "Voltage of the supply is missing or cannot be read", "Enter the voltage", "supply/voltage")
    there = work(tungsten.power_at, P_n=wanted, V=load.nominal, V_n=rated)
    return LampSide(wanted, none, whole, False, False, there.result, (there,))


WARM = Term(quantity=Quantity.of(60, "°C"), name="conductor temperature", origin=Origin.ASSUMED, note="as warm as ordinary rubber may get",
            firm_up="Hardly matters: 10 °C is 4 % of the resistance")


def head_resistance(load: Load) -> tuple[Step, ...]:
    """Resistance of the head cable, taken as warm as ordinary rubber may get."""
    at = f"loads/{load.id}/head_cable"
    warm = replace(WARM, address=at)
    per_length = impedance.resistance_per_length(size=need(load.head_cable, "size", at), temperature=warm)
    return per_length, work(impedance.loop_resistance, r=per_length.result, l=need(load.head_cable, "length", at))


def arc_factor(load: Load) -> Term:
    """Power factor of the arc: 1 on a square wave, less on a sine."""
    at = f"loads/{load.id}"
    if need_choice(load.ballast, "output", f"{at}/ballast") == "sine":
        return need(load.lamp, "power_factor", f"{at}/lamp")
    return term(1.0, "", "arc power factor", origin=Origin.COMPUTED, note="1 on a square wave into a constant arc voltage")


@dataclass(frozen=True, slots=True)
class Delivered:
    """What reaches the lamp when the ballast gives its output."""

    power: Term
    current: Term
    loss: Term
    steps: tuple[Step, ...]


def delivered(load: Load, side: LampSide, output: Term) -> Delivered:
    """Arc current, head-cable loss and lamp power for an output of the ballast in W."""
    if load.kind != "arc lamp":
        return Delivered(output, term(0.0, "A", "arc current"), term(0.0, "W", "loss"), ())
    if side.made_up and not side.limited:
        arc = arc_current_steps(load, side.wanted, side.arc_factor)
        lost = work(loss, I=arc[-1].result, R=side.resistance)
        return Delivered(side.wanted, arc[-1].result, lost.result, (*arc, lost))
    arc = arc_current_steps(load, output, side.arc_factor, side.resistance)
    power = lamp_power_steps(load, arc[-1].result, side.arc_factor)
    lost = work(loss, I=arc[-1].result, R=side.resistance)
    return Delivered(power[-1].result, arc[-1].result, lost.result, (*arc, *power, lost))


def lamp_voltage(load: Load, current: Term) -> Term:
    """Arc voltage at a current."""
    return next(t for t in lamp_power_steps(load, current, arc_factor(load))[-1].terms if t.symbol == "V_a")


def lamp_power_steps(load: Load, current: Term, factor: Term) -> tuple[Step, ...]:
    """Lamp power at an arc current, as working."""
    at = f"loads/{load.id}/lamp"
    voltage, slope = need(load.lamp, "arc_voltage", at), load.lamp.arc_slope
    if slope is None or not slope.value:
        return (work(cables.lamp_power, I=current, V_a=voltage, λ_a=factor),)
    rated = work(cables.arc_current, P_a=need(load.lamp, "rated_power", at), V_a=voltage, λ_a=factor)
    across = work(cables.arc_voltage, V_0=voltage, r_a=slope, I=current, I_0=rated.result)
    return across, work(cables.lamp_power, I=current, V_a=across.result, λ_a=factor)


@dataclass(frozen=True, slots=True)
class Draw:
    """The load that the ballast is to its supply."""

    power: Term  # at nominal voltage
    ratio: Term  # reactive per active power
    factor: Term  # true power factor
    exponent: Term  # 0: constant power
    steps: tuple[Step, ...]
    follows: Callable[..., float] = ballasts.voltage_following_power  # the law behind the exponent
    harmonics: Harmonics = Harmonics()

    @property
    def holds(self) -> bool:
        """Whether it draws the same power at any voltage that it runs on."""
        return not self.exponent.value

    @property
    def burdens(self) -> bool:
        """Whether it pays at the fundamental for what its harmonics lose on the way."""
        return self.holds and bool(self.harmonics.parts)

    @property
    def leans_on(self) -> tuple[Term, ...]:
        """What its current rests on."""
        return self.power, self.factor, *((self.harmonics.narrow,) if self.harmonics.narrow else ())


def draw(load: Load, side: LampSide) -> Draw:
    """What the ballast draws for its output, how that follows its voltage, and its harmonics."""
    found = _filament_draw(load, side) if load.kind == "tungsten" else _ballast_draw(load, side)
    return replace(found, harmonics=harmonics_of(load, found.factor, found.ratio))


def _ballast_draw(load: Load, side: LampSide) -> Draw:
    at = f"loads/{load.id}/ballast"
    kind = need_choice(load.ballast, "kind", at)
    factor, of_factor = _power_factor(load, at)
    power = work(ballasts.input_power, P_o=side.output, η=need(load.ballast, "efficiency", at))
    displacement = need(load.ballast, "displacement", at)
    ratio = work(ballasts.reactive_ratio, λ_1=displacement if displacement.value >= factor.value else replace(factor, name="displacement factor"))
    slope = float(listed()["ballast"][kind].get("voltage_exponent", 0))
    exponent = term(slope, "", "voltage exponent", origin=Origin.TYPICAL, note="from memory", firm_up="Meter the lamp's power at two supply voltages",
                    address=f"{at}/kind") if slope else term(0.0, "", "voltage exponent", note="holds its power")
    return Draw(power.result, ratio.result, factor, exponent, (*side.steps, power, ratio, *of_factor))


def _power_factor(load: Load, at: str) -> tuple[Term, tuple[Step, ...]]:
    """True power factor: the one metered at this dim, the nameplate's, or from the harmonics where they were read off an analyser."""
    dimmed = load.ballast.power_factor_dimmed
    if dimmed is not None and load.dim is not None and load.dim.value < 1 - 1e-9:
        return dimmed, ()
    if not load.ballast.harmonics:
        factor, displacement = need(load.ballast, "power_factor", at), need(load.ballast, "displacement", at)
        if factor.value > displacement.value * (1 + 1e-9):
            raise refuse("power-factor-too-high", f"A power factor of {factor.quantity} cannot be above the displacement factor of {displacement.quantity}", "Correct one of them", f"{at}/displacement")
        return factor, ()
    thd = term(total(read_harmonics(load.ballast.harmonics)), "%", "distortion of the current", origin=Origin.MEASURED, address=f"{at}/harmonics")
    purity = work(distortion.distortion_factor, THD=thd)
    whole = work(distortion.power_factor, λ_1=need(load.ballast, "displacement", at), λ_d=purity.result)
    return whole.result, (purity, whole)


def _filament_draw(load: Load, side: LampSide) -> Draw:
    """A filament, behind a phase-cut dimmer when dimmed."""
    exponent = term(tungsten.POWER, "", "voltage exponent", origin=Origin.PUBLISHED, cite=tungsten.RERATING)
    dim = need(load, "dim", f"loads/{load.id}")
    if dim.value >= 1:
        whole = term(1.0, "", "power factor", note="a filament is a resistance")
        ratio = work(ballasts.reactive_ratio, λ_1=whole)
        return Draw(side.output, ratio.result, whole, exponent, side.steps, tungsten.power_at)
    share = work(tungsten.voltage_for_power, p=dim)
    angle = term(tungsten.firing_angle(share.result.value), "°", "firing angle", origin=Origin.ASSUMED, rests_on=(share.result,), address=f"loads/{load.id}/dim",
                 note="taken as a phase-cut dimmer that cuts the front of each half-cycle", firm_up="See what the dimmer is")
    factor, displacement = work(tungsten.dimmer_factor, v=share.result), work(tungsten.dimmer_displacement, α=angle)
    ratio = work(ballasts.reactive_ratio, λ_1=displacement.result)
    return Draw(side.output, ratio.result, factor.result, exponent, (*side.steps, share, factor, displacement, ratio), tungsten.power_at)
