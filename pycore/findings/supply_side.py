"""From the supply's no-load voltage down the runs to the ballast: one lamp's path, solved with warm conductors."""

from dataclasses import dataclass, replace

from pycore.base.law import work
from pycore.base.problem import Problem, Refused, refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Evidence, Origin, Step, Term, term
from pycore.base.units import to_si
from pycore.conductors import ampacity, impedance
from pycore.findings.lamp_side import Draw
from pycore.lamp import ballast as ballasts
from pycore.powerflow import single_path
from pycore.rig import graph
from pycore.rig.model import Load, Rig, Run, Supply
from pycore.rig.typical import american, line_voltage, need

ROUNDS = 60
SETTLED = 1e-7  # K


@dataclass(frozen=True, slots=True)
class Cable:
    """One run of the path with its impedance at the temperature it settles at."""

    run: Run
    rating: Term | None
    rating_problems: tuple[Problem, ...]
    resistance: Term
    reactance: Term
    temperature: Term
    arrives: Term | None  # voltage at its far end
    loss: Term | None
    steps: tuple[Step, ...]
    arrival_steps: tuple[Step, ...] = ()


@dataclass(frozen=True, slots=True)
class Feed:
    """The solved path. `state` is "runs", "under" (below cut-out), "over" (above cut-out) or "collapse"."""

    state: str
    nominal: Term
    no_load: Term
    impedance: Term
    cables: tuple[Cable, ...]
    voltage: Term | None  # at the ballast
    socket: Term | None
    power: Term | None  # drawn by the ballast
    current: Term | None  # rms, harmonics included
    most: Step  # the most that the path can carry
    steps: tuple[Step, ...]
    socket_steps: tuple[Step, ...]
    evidence: Evidence | None
    drawn: Term | None = None  # taken from the socket, cables included


def feed(rig: Rig, load: Load, drawn: Draw) -> Feed:
    """Solve the path of one load. Raises `Refused` for missing entries and where the temperatures do not settle."""
    at = f"loads/{load.id}/ballast"
    nominal, no_load = _voltages(rig.supply, load.connection)
    source = _source_impedance(rig.supply)
    factor = need(load.ballast, "power_factor", at)
    runs = graph.path(rig, load.id)
    cables = [_cable(rig, run, _first_guess(rig, run)) for run in runs]
    for _ in range(ROUNDS):
        resistance, reactance, series = _total(source, cables)
        point = _point(no_load, resistance, reactance, drawn, nominal)
        if point is None:
            return _collapsed(nominal, no_load, source, cables, series, resistance, reactance, drawn)
        amps = drawn.power.value * (point.voltage / nominal.value) ** drawn.exponent.value / (factor.value * point.voltage)
        warmer = [_cable(rig, run, _temperature(rig, run, amps, c)) for run, c in zip(runs, cables, strict=True)]
        moved = [abs(a.temperature.value - b.temperature.value) for a, b in zip(warmer, cables, strict=True)]
        cables = warmer
        if all(m < SETTLED for m in moved):
            return _solved(load, nominal, no_load, source, cables, drawn, factor)
    raise refuse("not-settled", "The cable's temperature does not settle", "The cable is far too thin for this load", f"runs/{runs[0].id}/size" if runs else "")


def _voltages(supply: Supply, connection: str) -> tuple[Term, Term]:
    given = need(supply, "voltage", "supply")
    nominal = replace(given, quantity=Quantity(line_voltage(supply, connection, given.value), "V"), name="nominal voltage")
    measured = supply.voltage_measured
    if measured is None:
        return nominal, replace(nominal, name="voltage at no load", origin=Origin.ASSUMED, note="taken as nominal", address="supply/voltage_measured",
                                firm_up="Measure it at the outlet, nothing switched on")
    return nominal, replace(measured, quantity=Quantity(line_voltage(supply, connection, measured.value), "V"), name="voltage at no load")


def _source_impedance(supply: Supply) -> Term:
    return replace(need(supply, "impedance", "supply"), name="loop impedance of the supply")


def _first_guess(rig: Rig, run: Run) -> Term:
    return need(run, "ambient", f"runs/{run.id}")


def _rating(rig: Rig, run: Run) -> tuple[Term | None, tuple[Problem, ...]]:
    try:
        return ampacity.current_rating(run, american=american(rig)), ()
    except Refused as refused:
        return None, refused.problems


def _temperature(rig: Rig, run: Run, amps: float, cable: Cable) -> Term:
    """Where the conductor settles at a current; the limit itself when no table rates the cable."""
    limit, air = need(run, "insulation", f"runs/{run.id}"), need(run, "ambient", f"runs/{run.id}")
    if cable.rating is None:
        return replace(limit, name="conductor temperature", origin=Origin.ASSUMED, note="taken at its limit: no table rates this cable",
                       firm_up="Take the rating from the cable's own data", address=f"runs/{run.id}/size")
    warm = ampacity.conductor_temperature(θ_a=air.value, θ_m=limit.value, I=min(amps, 2 * cable.rating.value), I_z=cable.rating.value)
    return term(min(warm, to_si(200, "°C")), "°C", "conductor temperature", rests_on=(air, limit, cable.rating), note="settled with the current")


def _cable(rig: Rig, run: Run, temperature: Term) -> Cable:
    at = f"runs/{run.id}"
    rating, problems = _rating(rig, run)
    per_length = impedance.resistance_per_length(size=need(run, "size", at), temperature=temperature)
    loop = work(impedance.loop_resistance, r=per_length.result, l=need(run, "length", at))
    x, reference = impedance.reactance_per_length(run)
    reactive = work(impedance.loop_reactance, x=x, l=need(run, "length", at), f=need(rig.supply, "frequency", "supply"), f_0=reference)
    return Cable(run, rating, problems, loop.result, reactive.result, temperature, None, None, (per_length, loop, reactive))


def _total(source: Term, cables: list[Cable]) -> tuple[Term, Term, tuple[Step, ...]]:
    """Resistance and reactance of source and cables in series."""
    resistance, reactance = source, term(0.0, "Ω", "reactance of the supply", origin=Origin.ASSUMED, note="small against its resistance at an outlet", address="supply/impedance",
                                         firm_up="Measure the loop with a tester that shows both parts")
    steps: list[Step] = []
    for c in cables:
        r = work(single_path.in_series, R_a=resistance, R_b=c.resistance)
        x = work(single_path.reactances_in_series, X_a=reactance, X_b=c.reactance)
        steps, resistance, reactance = [*steps, r, x], r.result, x.result
    return resistance, reactance, tuple(steps)


def _point(no_load: Term, resistance: Term, reactance: Term, drawn: Draw, nominal: Term) -> single_path.Point | None:
    return single_path.operating_point(
        V_s=no_load.value, R=resistance.value, X=reactance.value, t=drawn.ratio.value,
        power=lambda v: drawn.power.value * (v / nominal.value) ** drawn.exponent.value)


def _most(no_load: Term, resistance: Term, reactance: Term, drawn: Draw) -> Step:
    if resistance.value == 0 and reactance.value == 0:
        resistance = term(1e-6, "Ω", "resistance of the path", rests_on=(resistance,), note="none entered; a trace is counted")
    return work(single_path.most_power, V_s=no_load, R=resistance, X=reactance, t=drawn.ratio)


def _collapsed(nominal: Term, no_load: Term, source: Term, cables: list[Cable], series: tuple[Step, ...], resistance: Term, reactance: Term, drawn: Draw) -> Feed:
    most = _most(no_load, resistance, reactance, drawn)
    return Feed("collapse", nominal, no_load, source, tuple(cables), None, None, drawn.power, None, most, (*drawn.steps, *series, most), (), None)


def _solved(load: Load, nominal: Term, no_load: Term, source: Term, cables: list[Cable], drawn: Draw, factor: Term) -> Feed:
    resistance, reactance, series = _total(source, cables)
    point = _point(no_load, resistance, reactance, drawn, nominal)
    assert point is not None
    power, steps = drawn.power, []
    if drawn.exponent.value:
        voltage = term(point.voltage, "V", "voltage that arrives", rests_on=(no_load, resistance, reactance, drawn.power, drawn.ratio, drawn.exponent), note="solved, see below")
        following = work(ballasts.voltage_following_power, P_n=drawn.power, V=voltage, V_n=nominal, k=drawn.exponent)
        power, steps = following.result, [following]
    reactive = work(ballasts.reactive_power, P=power, t=drawn.ratio)
    if drawn.exponent.value:
        check = work(single_path.sending_voltage, V=voltage, R=resistance, X=reactance, P=power, Q=reactive.result)
        steps += [reactive, check]
    else:
        upper = work(single_path.upper_voltage, V_s=no_load, R=resistance, X=reactance, P=power, Q=reactive.result)
        voltage, steps = upper.result, [reactive, upper]
    amps = work(ballasts.rms_current, P=power, λ=factor, V=voltage)
    arrivals, socket, socket_steps = _arrivals(cables, voltage, power, reactive.result)
    total = sum(c.loss.value for c in arrivals if c.loss) + power.value
    evidence = Evidence(method="Upper-voltage solution of one load on one path, conductors at the temperature they settle at",
                        equations=(single_path.sending_voltage.law.formula,),  # type: ignore[attr-defined]
                        iterations=point.iterations, residuals=(term(point.residual, "V", "source voltage missed by"),))
    state = _state(load, no_load, voltage)
    return Feed(state, nominal, no_load, source, arrivals, voltage, socket, power, amps.result, _most(no_load, resistance, reactance, drawn),
                (*drawn.steps, *series, *steps, amps), socket_steps, evidence, term(total, "W", "power taken from the socket", rests_on=(power,)))


def _arrivals(cables: list[Cable], voltage: Term, power: Term, reactive: Term) -> tuple[tuple[Cable, ...], Term, tuple[Step, ...]]:
    """Voltage at the end of each run and at the socket, from the load upwards."""
    arrived: list[Cable] = []
    here, steps = voltage, ()
    below_r, below_x = term(0.0, "Ω", "resistance below"), term(0.0, "Ω", "reactance below")
    for c in reversed(cables):
        apparent = work(ballasts.apparent_power_of, P=power, Q=reactive)
        amps = work(single_path.current, S=apparent.result, V=voltage)
        lost = work(single_path.loss, I=amps.result, R=c.resistance)
        arrived.insert(0, replace(c, arrives=here, loss=lost.result, arrival_steps=(*steps, apparent, amps, lost)))
        below_r = work(single_path.in_series, R_a=c.resistance, R_b=below_r).result
        below_x = work(single_path.reactances_in_series, X_a=c.reactance, X_b=below_x).result
        up = work(single_path.sending_voltage, V=voltage, R=below_r, X=below_x, P=power, Q=reactive)
        here, steps = up.result, (up,)
    return tuple(arrived), here, steps


def _state(load: Load, no_load: Term, voltage: Term) -> str:
    low, high = load.ballast.low_cut_out, load.ballast.high_cut_out
    if low and voltage.value < low.value:
        return "under"
    return "over" if high and max(voltage.value, no_load.value) > high.value else "runs"
