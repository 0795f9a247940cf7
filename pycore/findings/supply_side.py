"""From the supply's no-load voltage down the runs to the ballast: one lamp's path, solved with warm conductors."""

from dataclasses import dataclass, replace

from pycore.base.law import work
from pycore.base.problem import Problem, Refused, refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Evidence, Origin, Step, Term, term
from pycore.base.units import to_si
from pycore.conductors import ampacity, impedance
from pycore.findings import loading
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
    current: Term | None = None  # of its fullest conductor, where more than one lamp hangs on it


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
    most: Step | None  # the most that the path can carry, where one lamp is alone on it
    steps: tuple[Step, ...]
    socket_steps: tuple[Step, ...]
    evidence: Evidence | None
    drawn: Term | None = None  # taken from the socket, cables included
    total: Term | None = None  # current of the supply's fullest line, all lamps
    others: int = 0  # lamps that burn besides this one
    forced: bool = False  # out although inside its window: no steady voltage was left with it
    fails: str = ""  # where a collapse of the whole rig starts


def feed(rig: Rig, load: Load, drawn: Draw) -> Feed:
    """Solve the path of one load. Raises `Refused` for missing entries and where the temperatures do not settle."""
    nominal, no_load = voltages(rig.supply, load.connection)
    source = replace(need(rig.supply, "impedance", "supply"), name="loop impedance of the supply")
    factor = drawn.factor
    runs = graph.path(rig, load.id)
    warmths = _settle(rig, runs, no_load, source, drawn, nominal, factor)
    cables = [cable_at(rig, run, warmth) for run, warmth in zip(runs, warmths, strict=True)]
    resistance, reactance, series = _total(rig.supply, source, cables)
    point = _point(no_load.value, resistance.value, reactance.value, drawn, nominal.value)
    if point is None:
        return _collapsed(nominal, no_load, source, cables, series, resistance, reactance, drawn)
    return _solved(rig.supply, load, nominal, no_load, source, cables, drawn, factor)


@dataclass(frozen=True, slots=True)
class Warming:
    """What a run's temperature and loop resistance follow from, in floats."""

    r_0: float
    coefficient: float
    reference: float
    length: float
    reactance: float
    air: float
    limit: float
    rating: float | None
    sets: float

    def per_metre(self, temperature: float) -> float:
        """Resistance of one set's conductor in Ω/m at a temperature in K."""
        return impedance.resistance_at(r_0=self.r_0, α=self.coefficient, θ=temperature, θ_0=self.reference)

    def resistance(self, temperature: float) -> float:
        """Loop resistance in Ω of all sets together at a temperature in K."""
        return impedance.loop_resistance(r=self.per_metre(temperature), l=self.length) / self.sets

    def temperature(self, amps: float) -> float:
        """Where the conductor settles; the limit itself when no table rates the cable."""
        if self.rating is None:
            return self.limit
        warm = ampacity.conductor_temperature(θ_a=self.air, θ_m=self.limit, I=min(amps, 2 * self.rating), I_z=self.rating)
        return min(warm, to_si(200, "°C"))


def supply_reactance(supply: Supply) -> Term:
    """Loop reactance of the supply, taken as nothing."""
    return term(0.0, "Ω", "reactance of the supply", origin=Origin.ASSUMED, note="small against its resistance at an outlet", address="supply/impedance",
                firm_up="Measure the loop with a tester that shows both parts")


def warming(rig: Rig, run: Run) -> Warming:
    at = f"runs/{run.id}"
    tabled, (reference, coefficient) = impedance.tabled_resistance(need(run, "size", at))
    x, x_frequency = impedance.reactance_per_length(run)
    length = need(run, "length", at).value
    reactance = impedance.loop_reactance(x=x.value, l=length, f=need(rig.supply, "frequency", "supply").value, f_0=x_frequency.value)
    rating, sets = _rating(rig, run)[0], need(run.laid, "parallel", f"{at}/laid").value
    return Warming(tabled.value, coefficient.value, reference.value, length, reactance / sets, need(run, "ambient", at).value, need(run, "insulation", at).value,
                   rating.value if rating else None, sets)


def _settle(rig: Rig, runs: list[Run], no_load: Term, source: Term, drawn: Draw, nominal: Term, factor: Term) -> list[float]:
    """Conductor temperatures at which current and resistance agree, or the last ones before the path collapses."""
    cables = [warming(rig, run) for run in runs]
    warmths = [c.air for c in cables]
    for _ in range(ROUNDS):
        resistance = source.value + sum(c.resistance(w) for c, w in zip(cables, warmths, strict=True))
        point = _point(no_load.value, resistance, sum(c.reactance for c in cables), drawn, nominal.value)
        if point is None:
            return warmths
        amps = drawn.power.value * (point.voltage / nominal.value) ** drawn.exponent.value / (factor.value * point.voltage)
        before, warmths = warmths, [c.temperature(amps) for c in cables]
        if all(abs(a - b) < SETTLED for a, b in zip(warmths, before, strict=True)):
            return warmths
    raise refuse("not-settled", "The cable's temperature does not settle", "The cable is far too thin for this load", f"runs/{runs[0].id}/size" if runs else "")


def voltages(supply: Supply, connection: str) -> tuple[Term, Term]:
    given = need(supply, "voltage", "supply")
    nominal = replace(given, quantity=Quantity(line_voltage(supply, connection, given.value), "V"), name="nominal voltage")
    measured = supply.voltage_measured
    if measured is None:
        return nominal, replace(nominal, name="voltage at no load", origin=Origin.ASSUMED, note="taken as nominal", address="supply/voltage_measured",
                                firm_up="Measure it at the outlet, nothing switched on")
    return nominal, replace(measured, quantity=Quantity(line_voltage(supply, connection, measured.value), "V"), name="voltage at no load")


def _rating(rig: Rig, run: Run) -> tuple[Term | None, tuple[Problem, ...]]:
    try:
        return ampacity.current_rating(run, american=american(rig), loaded=loading.loaded(rig, run.id)), ()
    except Refused as refused:
        return None, refused.problems


def cable_at(rig: Rig, run: Run, warmth: float) -> Cable:
    at = f"runs/{run.id}"
    rating, problems = _rating(rig, run)
    limit, air = need(run, "insulation", at), need(run, "ambient", at)
    if rating is None:
        temperature = replace(limit, name="conductor temperature", origin=Origin.ASSUMED, note="taken at its limit: no table rates this cable",
                              firm_up="Take the rating from the cable's own data", address=f"{at}/size")
    else:
        temperature = term(warmth, "°C", "conductor temperature", rests_on=(air, limit, rating), note="settled with the current")
    per_length = impedance.resistance_per_length(size=need(run, "size", at), temperature=temperature)
    loop = work(impedance.loop_resistance, r=per_length.result, l=need(run, "length", at))
    x, reference = impedance.reactance_per_length(run)
    reactive = work(impedance.loop_reactance, x=x, l=need(run, "length", at), f=need(rig.supply, "frequency", "supply"), f_0=reference)
    sets = need(run.laid, "parallel", f"{at}/laid")
    if sets.value <= 1:
        return Cable(run, rating, problems, loop.result, reactive.result, temperature, None, None, (per_length, loop, reactive))
    shared = work(impedance.sets_resistance, R=loop.result, n=sets), work(impedance.sets_reactance, X=reactive.result, n=sets)
    return Cable(run, rating, problems, shared[0].result, shared[1].result, temperature, None, None, (per_length, loop, reactive, *shared))


def _total(supply: Supply, source: Term, cables: list[Cable]) -> tuple[Term, Term, tuple[Step, ...]]:
    """Resistance and reactance of source and cables in series."""
    resistance, reactance = source, supply_reactance(supply)
    steps: list[Step] = []
    for c in cables:
        r = work(single_path.in_series, R_a=resistance, R_b=c.resistance)
        x = work(single_path.reactances_in_series, X_a=reactance, X_b=c.reactance)
        steps, resistance, reactance = [*steps, r, x], r.result, x.result
    return resistance, reactance, tuple(steps)


def _point(V_s: float, R: float, X: float, drawn: Draw, V_n: float) -> single_path.Point | None:
    if not drawn.exponent.value:
        return single_path.constant_power_point(V_s=V_s, R=R, X=X, P=drawn.power.value, Q=drawn.power.value * drawn.ratio.value)
    return single_path.operating_point(V_s=V_s, R=R, X=X, t=drawn.ratio.value, power=lambda v: drawn.power.value * (v / V_n) ** drawn.exponent.value)


def _most(no_load: Term, resistance: Term, reactance: Term, drawn: Draw) -> Step:
    if resistance.value == 0 and reactance.value == 0:
        resistance = term(1e-6, "Ω", "resistance of the path", rests_on=(resistance,), note="none entered; a trace is counted")
    return work(single_path.most_power, V_s=no_load, R=resistance, X=reactance, t=drawn.ratio)


def _collapsed(nominal: Term, no_load: Term, source: Term, cables: list[Cable], series: tuple[Step, ...], resistance: Term, reactance: Term, drawn: Draw) -> Feed:
    most = _most(no_load, resistance, reactance, drawn)
    return Feed("collapse", nominal, no_load, source, tuple(cables), None, None, drawn.power, None, most, (*drawn.steps, *series, most), (), None)


def _solved(supply: Supply, load: Load, nominal: Term, no_load: Term, source: Term, cables: list[Cable], drawn: Draw, factor: Term) -> Feed:
    resistance, reactance, series = _total(supply, source, cables)
    point = _point(no_load.value, resistance.value, reactance.value, drawn, nominal.value)
    assert point is not None
    power, steps = drawn.power, []
    if drawn.exponent.value:
        voltage = term(point.voltage, "V", "voltage that arrives", rests_on=(no_load, resistance, reactance, drawn.power, drawn.ratio, drawn.exponent), note="solved, see below")
        exponent = {"k": drawn.exponent} if drawn.follows is ballasts.voltage_following_power else {}
        following = work(drawn.follows, P_n=drawn.power, V=voltage, V_n=nominal, **exponent)
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
