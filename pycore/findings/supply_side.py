"""From the supply's no-load voltage down the runs to the ballast: one lamp's path, solved with warm conductors."""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import sqrt

from pycore.base.law import work
from pycore.base.problem import Problem, Refused, refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Evidence, Origin, Step, Term, term
from pycore.base.units import to_si
from pycore.conductors import ampacity, impedance
from pycore.findings import loading
from pycore.findings.lamp_side import Draw
from pycore.lamp import ballast as ballasts
from pycore.powerflow import harmonic_loss, single_path
from pycore.powerflow import pulse as pulses
from pycore.powerflow import source as sources
from pycore.powerflow.skin import mean_rise
from pycore.rig import graph
from pycore.rig.harmonics import distortion as total
from pycore.rig.model import Load, Rig, Run, Supply
from pycore.rig.typical import american, line_voltage, need

ROUNDS = 60
SETTLED = 1e-7  # K
LINES = {"single-phase": 1.0, "split-phase": 2.0}  # voltage between a generator's ends, of that to its neutral; √3 for three phases


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
    burden: Step | None = None  # the resistance that a lone lamp's harmonics feel in it

    def seen(self, arrives: Term, loss: Term) -> "Cable":
        """The run as one lamp of many sees it."""
        return Cable(self.run, self.rating, self.rating_problems, self.resistance, self.reactance, self.temperature, arrives, loss, self.steps, self.arrival_steps, self.current)


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
    runs = graph.path(rig, load.id)
    ends = _source_to_harmonics(rig.supply, source, load.connection)
    settled = _settle(rig, runs, no_load, source, ends, drawn, nominal)
    bare = [cable_at(rig, run, warmth) for run, warmth in zip(runs, settled.warmths, strict=True)]
    resistance, reactance, series = _total(rig.supply, source, bare)
    distorted, drawn = _distortion(drawn, nominal, settled, ends, reactance), _widened(drawn, settled.pulse)
    cables = [_burdened(rig, cable, drawn, distorted[-1].result) for cable in bare]
    late = distorted[-2].result if settled.leaning else None
    burden = _burdens(ends, cables, drawn, distorted)
    way = Way(nominal, no_load, source, cables, resistance, reactance, series, distorted, burden, late)
    point = _point(no_load.value, resistance.value, reactance.value, burden[-1].result.value if burden else 0.0, late.value if late else 0.0, drawn, nominal.value)
    return _collapsed(way, drawn) if point is None else _solved(load, point, way, drawn)


@dataclass(frozen=True, slots=True)
class Way:
    """The path as one resistance and one reactance, with their working.

    `distorted` ends with the distortion of the current, `burden` with the resistance that the harmonics feel, where they are
    counted; `late` is the reactive power per power that a rectifier takes because its pulses are late.
    """

    nominal: Term
    no_load: Term
    source: Term
    cables: list[Cable]
    resistance: Term
    reactance: Term
    series: tuple[Step, ...]
    distorted: tuple[Step, ...]
    burden: tuple[Step, ...]
    late: Term | None = None


@dataclass(frozen=True, slots=True)
class Settled:
    """Where temperatures, pulses and current agree: conductor temperatures (K), the pulse of a load that has any, and what its harmonics feel of resistance (Ω)."""

    warmths: list[float]
    pulse: pulses.Pulse | None
    felt: float

    @property
    def leaning(self) -> bool:
        """Whether a reactance makes its pulses lean."""
        return self.pulse is not None and self.pulse.ratio > 0


@dataclass(frozen=True, slots=True)
class Ends:
    """What harmonics meet in the supply: resistance, and reactance with its working; none of that in mains."""

    resistance: Term
    reactance: Term | None = None
    steps: tuple[Step, ...] = ()


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
    x = impedance.reactance_per_length(run)
    length = need(run, "length", at).value
    reactance = impedance.loop_reactance(x=x.per_length.value, l=length, f=need(rig.supply, "frequency", "supply").value, f_0=x.at.value)
    rating, sets = _rating(rig, run)[0], need(run.laid, "parallel", f"{at}/laid").value
    return Warming(tabled.value, coefficient.value, reference.value, length, reactance / sets, need(run, "ambient", at).value, need(run, "insulation", at).value,
                   rating.value if rating else None, sets)


def _settle(rig: Rig, runs: list[Run], no_load: Term, source: Term, ends: Ends, stiff: Draw, nominal: Term) -> Settled:
    """Conductor temperatures at which current and resistance agree, and the load's pulses as the path leaves them; the last ones before the path collapses."""
    cables = [warming(rig, run) for run in runs]
    warmths = [c.air for c in cables]
    drawn, shape, emf = stiff, None, no_load.value
    coil = sum(c.reactance for c in cables)
    met = coil + (ends.reactance.value if ends.reactance else 0.0)
    for _ in range(ROUNDS):
        ohms = [c.resistance(w) for c, w in zip(cables, warmths, strict=True)]
        felt = ends.resistance.value + sum(r * _rise(rig, drawn, c.per_metre(w)) for r, c, w in zip(ohms, cables, warmths, strict=True))
        distortion = total(drawn.harmonics.parts)
        if stiff.harmonics.pulse:
            shape = pulses.widened(θ=stiff.harmonics.pulse, V_n=nominal.value, P=stiff.power.value, R=felt, X=met, E=emf)
            drawn = _widened(stiff, shape)
        burden = harmonic_loss.burden(R=felt, D=total(drawn.harmonics.parts), s=1.0) if drawn.burdens else 0.0
        point = _point(no_load.value, source.value + sum(ohms), coil, burden, shape.late if shape else 0.0, drawn, nominal.value)
        if point is None:
            return Settled(warmths, shape, felt)
        emf = single_path.sending_voltage(V=point.point.voltage, R=felt, X=met, P=point.power, Q=point.reactive)
        rms = harmonic_loss.rms_current(I_1=point.current, D=_distorts(drawn))
        before, warmths = warmths, [c.temperature(rms) for c in cables]
        if abs(total(drawn.harmonics.parts) - distortion) < SETTLED and all(abs(a - b) < SETTLED for a, b in zip(warmths, before, strict=True)):
            return Settled(warmths, shape, felt)
    raise refuse("not-settled", "The cable's temperature does not settle", "The cable is far too thin for this load", f"runs/{runs[0].id}/size" if runs else "")


@lru_cache(maxsize=64)
def voltages(supply: Supply, connection: str) -> tuple[Term, Term]:
    """Nominal and no-load voltage between the conductors that a lamp is plugged to."""
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
    reactive = _reactive(run, need(rig.supply, "frequency", "supply"))
    sets = need(run.laid, "parallel", f"{at}/laid")
    if sets.value <= 1:
        return Cable(run, rating, problems, loop.result, reactive[-1].result, temperature, None, None, (per_length, loop, *reactive))
    shared = work(impedance.sets_resistance, R=loop.result, n=sets), work(impedance.sets_reactance, X=reactive[-1].result, n=sets)
    return Cable(run, rating, problems, shared[0].result, shared[1].result, temperature, None, None, (per_length, loop, *reactive, *shared))


@lru_cache(maxsize=1024)
def _reactive(run: Run, frequency: Term) -> tuple[Step, ...]:
    """Loop reactance of a run, the last of these steps."""
    x = impedance.reactance_per_length(run)
    return *x.steps, work(impedance.loop_reactance, x=x.per_length, l=need(run, "length", f"runs/{run.id}"), f=frequency, f_0=x.at)


def _total(supply: Supply, source: Term, cables: list[Cable]) -> tuple[Term, Term, tuple[Step, ...]]:
    """Resistance and reactance of source and cables in series."""
    resistance, reactance = source, supply_reactance(supply)
    steps: list[Step] = []
    for c in cables:
        r = work(single_path.in_series, R_a=resistance, R_b=c.resistance)
        x = work(single_path.reactances_in_series, X_a=reactance, X_b=c.reactance)
        steps, resistance, reactance = [*steps, r, x], r.result, x.result
    return resistance, reactance, tuple(steps)


def _point(V_s: float, R: float, X: float, R_h: float, late: float, drawn: Draw, V_n: float) -> harmonic_loss.Burdened | None:
    watts, ratio = drawn.power.value, drawn.ratio.value
    if drawn.holds:
        return harmonic_loss.burdened_point(V_s=V_s, R=R, X=X, R_h=R_h, X_h=harmonic_loss.late_burden(t_h=late, R_h=R_h), P=watts, Q=watts * harmonic_loss.late_ratio(t_0=ratio, t_h=late))

    def power(v: float) -> float:
        return float(watts * (v / V_n) ** drawn.exponent.value)

    point = single_path.operating_point(V_s=V_s, R=R, X=X, t=ratio, power=power)
    if point is None:
        return None
    taken = power(point.voltage)
    return harmonic_loss.Burdened(point, taken, taken * sqrt(1 + ratio**2) / point.voltage, taken * ratio)


def _distorts(drawn: Draw) -> float:
    """Distortion of the current, a share; from the power factor where no spectrum is known."""
    return total(drawn.harmonics.parts) if drawn.harmonics.parts else harmonic_loss.stiff_distortion(λ=drawn.factor.value, t=drawn.ratio.value)


def _widened(stiff: Draw, shape: pulses.Pulse | None) -> Draw:
    """The load with these pulses; as it is where it has none."""
    if shape is None:
        return stiff
    return replace(stiff, harmonics=replace(stiff.harmonics, parts=shape.spectrum(stiff.harmonics.lead)))


def _distortion(stiff: Draw, nominal: Term, settled: Settled, ends: Ends, reactance: Term) -> tuple[Step, ...]:
    """The distortion of the current as working, that of its pulses where the load has any; `reactance` is that of the path at the fundamental."""
    narrow, shape = stiff.harmonics.narrow, settled.pulse
    if narrow is None or shape is None:
        return (work(harmonic_loss.stiff_distortion, λ=stiff.factor, t=stiff.ratio),)
    power = work(pulses.pulse_power, θ=narrow)
    inside = work(pulses.inner_resistance, p=power.result, V_n=nominal, P=stiff.power)
    if settled.leaning:
        return power, inside, *_leaning(shape, settled.felt, inside.result, ends, reactance)
    wide = term(shape.start, "°", "half-angle of its pulses", rests_on=(inside.result,), note="solved for all resistance from source to reservoir")
    return power, inside, work(pulses.pulse_distortion, θ=wide)


def _leaning(shape: pulses.Pulse, felt: float, inside: Term, ends: Ends, reactance: Term) -> tuple[Step, ...]:
    """Lateness and distortion of pulses behind a reactance, as working that ends with the two; `felt` (Ω) is the resistance on the way."""
    nothing = term(0.0, "Ω", "reactance of the supply to harmonics")
    met = work(single_path.reactances_in_series, X_a=ends.reactance or nothing, X_b=reactance)
    outside = term(felt, "Ω", "resistance that its harmonics meet", rests_on=(ends.resistance,), note="of supply and cables, with skin effect")
    whole = work(single_path.in_series, R_a=inside, R_b=outside)
    ratio = work(pulses.reactance_ratio, k=YIELDS, X=met.result, R=whole.result)
    start = term(shape.start, "°", "start of its pulses, before the peak", rests_on=(ratio.result,), note="solved for all resistance and reactance from source to reservoir")
    end = term(shape.end, "°", "end of its pulses, after the peak", rests_on=(start,), note="solved: there the current is back to nothing")
    passes, step, quarter = (work(of, θ=start, β=end) for of in (pulses.leaning_power, pulses.in_step, pulses.out_of_step))
    a, b = step.result, quarter.result
    share = term(felt / whole.result.value, "", "share of the resistance that is outside", rests_on=(whole.result,))
    late = work(pulses.lateness, a=a, b=b, ξ=ratio.result, r=share)
    return *ends.steps, met, whole, ratio, passes, step, quarter, late, work(pulses.leaning_distortion, a=a, b=b, ξ=ratio.result, p=passes.result)


YIELDS = term(pulses.YIELDS, "", "share of a reactance that widens pulses", origin=Origin.TYPICAL, note="fitted to a ballast with a reservoir of 1 µF a watt, solved in the time domain",
              firm_up="Read its harmonics off an analyser, on this supply")


def _rise(rig: Rig, drawn: Draw, per_metre: float) -> float:
    return mean_rise(per_metre, drawn.harmonics.parts, need(rig.supply, "frequency", "supply").value)


def _source_to_harmonics(supply: Supply, source: Term, connection: str) -> Ends:
    """The supply's loop as harmonics see it: a generator with a known sub-transient reactance shows that in its lines, and its neutral."""
    if not shows_subtransient(supply):
        return Ends(source)
    assert supply.rated_power is not None and supply.subtransient is not None and supply.voltage is not None
    line = work(sources.machine_reactance, x=supply.subtransient, V=between_lines(supply, supply.voltage), S=supply.rated_power)
    if "N" in connection.split("-"):
        return Ends(term(source.value / 2, "Ω", "resistance of the generator's neutral", rests_on=(source,), note="half of its loop"), line.result, (line,))
    both = work(single_path.reactances_in_series, X_a=line.result, X_b=line.result)
    return Ends(term(0.0, "Ω", "resistance of the generator's lines", note="small against their reactance"), both.result, (line, both))


def between_lines(supply: Supply, voltage: Term) -> Term:
    """Voltage between the set's ends, of that to its neutral."""
    return term(voltage.value * LINES.get(supply.system, sqrt(3)), "V", "voltage between lines", rests_on=(voltage,))


def line_count(supply: Supply) -> int:
    """How many lines a supply has."""
    return {"single-phase": 1, "split-phase": 2}.get(supply.system, 3)


def shows_subtransient(supply: Supply) -> bool:
    """Whether the supply is a generator of which the harmonics see the sub-transient reactance."""
    return supply.kind == "generator" and None not in (supply.rated_power, supply.subtransient, supply.voltage)


def _burdened(rig: Rig, cable: Cable, drawn: Draw, distortion: Term) -> Cable:
    """The cable with the resistance that the load's harmonics feel in it."""
    if not drawn.burdens:
        return cable
    rise = _rise(rig, drawn, cable.steps[0].result.value)
    skin = term(max(1.0, rise), "", "rise by the skin effect", rests_on=(cable.resistance,), note="over its harmonics, each weighted by its heat")
    return replace(cable, burden=work(harmonic_loss.burden, R=cable.resistance, D=distortion, s=skin))


def _burdens(ends: Ends, cables: list[Cable], drawn: Draw, distorted: tuple[Step, ...]) -> tuple[Step, ...]:
    """What the harmonics feel on the whole path, as working that ends with the resistance; nothing where they are not counted."""
    if not drawn.burdens:
        return ()
    none = term(1.0, "", "rise by the skin effect", note="not counted in the supply")
    first = work(harmonic_loss.burden, R=ends.resistance, D=distorted[-1].result, s=none)
    steps, whole = [*distorted, first], first.result
    for burden in (c.burden for c in cables if c.burden):
        added = work(single_path.in_series, R_a=whole, R_b=burden.result)
        steps, whole = [*steps, burden, added], added.result
    return tuple(steps)


def _most(way: Way, drawn: Draw) -> Step:
    """The most that the path can carry of such a load, with what its harmonics feel where it has any."""
    resistance, reactance, ratio = way.resistance, way.reactance, drawn.ratio
    if way.burden:
        resistance = work(single_path.in_series, R_a=resistance, R_b=way.burden[-1].result).result
    if way.late:
        ratio, late = _lateness(way, way.late, drawn)
        reactance = work(single_path.reactances_in_series, X_a=reactance, X_b=late[-1].result).result
    if resistance.value == 0 and reactance.value == 0:
        resistance = term(1e-6, "Ω", "resistance of the path", rests_on=(resistance,), note="none entered; a trace is counted")
    return work(single_path.most_power, V_s=way.no_load, R=resistance, X=reactance, t=ratio)


def _lateness(way: Way, late: Term, drawn: Draw) -> tuple[Term, tuple[Step, ...]]:
    """Reactive per active power of a load whose pulses are late, and working that ends with the reactance which its harmonics feel."""
    ratio = work(harmonic_loss.late_ratio, t_0=drawn.ratio, t_h=late)
    return ratio.result, (ratio, work(harmonic_loss.late_burden, t_h=late, R_h=way.burden[-1].result))


def _collapsed(way: Way, drawn: Draw) -> Feed:
    most = _most(way, drawn)
    return Feed("collapse", way.nominal, way.no_load, way.source, tuple(way.cables), None, None, drawn.power, None, most, (*drawn.steps, *way.series, *way.burden, most), (), None)


def _solved(load: Load, found: harmonic_loss.Burdened, way: Way, drawn: Draw) -> Feed:
    voltage, power, taken, reactive, steps = _arrival(found, way, drawn)
    first = work(single_path.current, S=(apparent := work(ballasts.apparent_power_of, P=taken, Q=reactive)).result, V=voltage)
    amps = work(harmonic_loss.rms_current, I_1=first.result, D=way.distorted[-1].result)
    arrivals, socket, socket_steps = _arrivals(way.cables, voltage, taken, reactive, (apparent, first))
    total_power = sum(c.loss.value for c in arrivals if c.loss) + power.value
    evidence = Evidence(method="Upper-voltage solution of one load on one path, conductors at the temperature they settle at",
                        equations=(single_path.sending_voltage.law.formula,),  # type: ignore[attr-defined]
                        iterations=found.point.iterations, residuals=(term(found.point.residual, "V", "source voltage missed by"),))
    most = _most(way, drawn)
    return Feed(_state(load, way.no_load, voltage), way.nominal, way.no_load, way.source, arrivals, voltage, socket, power, amps.result, most,
                (*drawn.steps, *way.series, *(() if way.burden else way.distorted), *steps, apparent, first, amps), socket_steps, evidence, term(total_power, "W", "power taken from the socket", rests_on=(power,)))


def _arrival(found: harmonic_loss.Burdened, way: Way, drawn: Draw) -> tuple[Term, Term, Term, Term, tuple[Step, ...]]:
    """Voltage that arrives, power drawn, power and reactive power of the fundamental, and the working."""
    path = {"R": way.resistance, "X": way.reactance}
    if not drawn.holds:
        voltage = term(found.point.voltage, "V", "voltage that arrives", rests_on=(way.no_load, *path.values(), drawn.power, drawn.ratio, drawn.exponent), note="solved, see below")
        exponent = {"k": drawn.exponent} if drawn.follows is ballasts.voltage_following_power else {}
        following = work(drawn.follows, P_n=drawn.power, V=voltage, V_n=way.nominal, **exponent)
        reactive = work(ballasts.reactive_power, P=following.result, t=drawn.ratio)
        check = work(single_path.sending_voltage, V=voltage, **path, P=following.result, Q=reactive.result)
        return voltage, following.result, following.result, reactive.result, (following, reactive, check)
    if way.burden:
        taken, lagging, steps = _with_harmonics(way, drawn)
    else:
        reactive = work(ballasts.reactive_power, P=drawn.power, t=drawn.ratio)
        taken, lagging, steps = drawn.power, reactive.result, (reactive,)
    upper = work(single_path.upper_voltage, V_s=way.no_load, **path, P=taken, Q=lagging)
    return upper.result, drawn.power, taken, lagging, (*steps, upper)


def _with_harmonics(way: Way, drawn: Draw) -> tuple[Term, Term, tuple[Step, ...]]:
    """Power and reactive power at the fundamental of a load that pays for what its harmonics lose on the way."""
    burden, ratio, coil = way.burden[-1].result, drawn.ratio, way.reactance
    late: tuple[Step, ...] = ()
    if way.late:
        ratio, late = _lateness(way, way.late, drawn)
        late = (*late, work(single_path.reactances_in_series, X_a=way.reactance, X_b=late[-1].result))
        coil = late[-1].result
    reactive = work(ballasts.reactive_power, P=drawn.power, t=ratio)
    whole = work(single_path.in_series, R_a=way.resistance, R_b=burden)
    behind = work(harmonic_loss.voltage_behind, V_s=way.no_load, R=whole.result, X=coil, P=drawn.power, Q=reactive.result)
    apparent = work(ballasts.apparent_power_of, P=drawn.power, Q=reactive.result)
    amps = work(single_path.current, S=apparent.result, V=behind.result)
    power = work(harmonic_loss.fundamental_power, P=drawn.power, I=amps.result, R_h=burden)
    steps = (*way.burden, *late, reactive, whole, behind, apparent, amps, power)
    if not late:
        return power.result, reactive.result, steps
    lagging = work(harmonic_loss.fundamental_reactive, Q=reactive.result, I=amps.result, X_h=late[-2].result)
    return power.result, lagging.result, (*steps, lagging)


def _arrivals(cables: list[Cable], voltage: Term, power: Term, reactive: Term, amps: tuple[Step, ...]) -> tuple[tuple[Cable, ...], Term, tuple[Step, ...]]:
    """Voltage at the end of each run and at the socket, from the load upwards; the last of `amps` is the current of the fundamental."""
    arrived: list[Cable] = []
    here = voltage
    steps: tuple[Step, ...] = ()
    below_r, below_x = term(0.0, "Ω", "resistance below"), term(0.0, "Ω", "reactance below")
    for c in reversed(cables):
        felt = (c.burden, work(single_path.in_series, R_a=c.resistance, R_b=c.burden.result)) if c.burden else ()
        lost = work(single_path.loss, I=amps[-1].result, R=felt[-1].result if felt else c.resistance)
        arrived.insert(0, replace(c, arrives=here, loss=lost.result, arrival_steps=(*steps, *amps, *felt, lost)))
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
