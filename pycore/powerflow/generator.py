"""Generating sets: what they may carry here, what they dip, what they burn."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

from pycore.base.law import Var, law, work
from pycore.base.problem import refuse
from pycore.base.result import Origin, Step, Term, term
from pycore.base.source import Cite
from pycore.base.table import table

THEORY = Cite("circuit-theory")
DERATING = Cite("alternator-sizing", "3 % per 500 m above 1000 m, 3 % per 5 °C above 40 °C, multiplied")
_S = Var("rated apparent power", "VA", 0)
_FACTOR = Var("factor", "", 0, 1)
LIGHT = 0.30  # of rated power; below it a diesel engine soots. Memory.
CONTINUOUS = 0.70  # of rated power, average over 24 h: ISO 8528-1 prime power, by way of a set's manual


@law("f_h = 1 - d_h*max(h - h_0, 0*h)/s_h", "Factor for altitude", f_h=Var("factor for altitude", ""), d_h=Var("loss per step", "%", 0, 20), h=Var("altitude", "m", 0, 5000),
     h_0=Var("altitude without loss", "m", 0), s_h=Var("step of altitude", "m", 1), source=DERATING)
def altitude_factor(*, d_h: float, h: float, h_0: float, s_h: float) -> float:
    """Share of rated power left at altitude h (m)."""
    return 1 - d_h * max(h - h_0, 0.0) / s_h


@law("f_t = 1 - d_t*max(t - t_0, 0*t)/s_t", "Factor for ambient temperature", f_t=Var("factor for ambient", ""), d_t=Var("loss per step", "%", 0, 20),
     t=Var("ambient", "K", 220, 340), t_0=Var("ambient without loss", "K", 220, 340), s_t=Var("step of temperature", "K", 0.1), source=DERATING)
def ambient_factor(*, d_t: float, t: float, t_0: float, s_t: float) -> float:
    """Share of rated power left at ambient t (K)."""
    return 1 - d_t * max(t - t_0, 0.0) / s_t


@law("S_a = S*f_h*f_t", "Apparent power available here", S_a=Var("apparent power available", "VA"), S=_S, f_h=_FACTOR, f_t=_FACTOR, source=DERATING)
def available(*, S: float, f_h: float, f_t: float) -> float:
    """Apparent power in VA that is left of S (VA)."""
    return S * f_h * f_t


@law("P_a = S*λ", "Power that the engine gives", P_a=Var("active power available", "W"), S=_S, λ=Var("rated power factor", "", 0.1, 1), source=THEORY)
def active_limit(*, S: float, λ: float) -> float:
    """Active power in W at the rated power factor."""
    return S * λ


@law("I_a = S/(n*V)", "Rated current of each line", I_a=Var("rated current", "A"), S=_S, n=Var("number of lines", "", 1, 3), V=Var("voltage, line to neutral", "V", 1), source=THEORY)
def rated_current(*, S: float, n: float, V: float) -> float:
    """Current in A of each of n lines; the same as S/(√3·V_LL) for three."""
    return S / (n * V)


@law("d = 1 - 1/sqrt(1 + 2*x*s*q + (x*s)**2)", "Dip at a load step", d=Var("dip", "%"), x=Var("transient reactance per unit", "%", 0, 200),
     s=Var("load step over rated apparent power", "", 0, 10), q=Var("sine of the step's phase angle", "", 0, 1),
     source=Cite("circuit-theory", "constant EMF behind X'd onto an impedance"))
def step_dip(*, x: float, s: float, q: float) -> float:
    """Dip as a share, before the regulator acts; q is 0 for a resistive step, 1 for a purely inductive one."""
    return 1 - 1 / sqrt(1 + 2 * x * s * q + (x * s) ** 2)


@law("t = W/q", "Hours on the tank", t=Var("time", "h"), W=Var("fuel in the tank", "L", 0), q=Var("fuel use", "L/h", 1e-6), source=Cite("diesel-chart"))
def fuel_time(*, W: float, q: float) -> float:
    """Time in s on W (m³) at q (m³/s)."""
    return W / q


RULES = {  # loss per step, where it starts, step; by name
    "alternator": (0.03, 1000.0, 500.0),
    "engine of a small set": (0.035, 1500.0, 300.0),  # one maker's manual; follow the set's own where there is one
}


def derate(*, rated: Term, altitude: Term, ambient: Term, rule: str = "alternator") -> tuple[Step, Step, Step]:
    """Apparent power available here in three lines of working, the last being the answer. Raises `Refused` or KeyError."""
    loss, start, step = RULES[rule]
    at_altitude = DERATING if rule == "alternator" else Cite("small-set-manual", "3.5 % per 300 m above 1500 m")
    high = work(altitude_factor, h=altitude, d_h=_published(loss, "%", "loss per step", at_altitude),
                h_0=_published(start, "m", "altitude without loss", at_altitude), s_h=_published(step, "m", "step of altitude", at_altitude))
    hot = work(ambient_factor, t=ambient, d_t=_published(0.03, "%", "loss per step", DERATING),
               t_0=_published(313.15, "°C", "ambient without loss", DERATING), s_t=_published(5.0, "K", "step of temperature", DERATING))
    return high, hot, work(available, S=rated, f_h=high.result, f_t=hot.result)


def _published(value: float, unit: str, name: str, cite: Cite) -> Term:
    return term(value, unit, name, origin=Origin.PUBLISHED, cite=cite)


@dataclass(frozen=True, slots=True, kw_only=True)
class Loading:
    """Shares of what the set may give: engine (kW), windings (kVA), worst phase (A). `leading` and `light` call for a warning."""

    engine: float
    windings: float
    phase: float
    worst_phase: str
    leading: bool
    light: bool

    @property
    def worst(self) -> float:
        """The share that counts: all three limits hold."""
        return max(self.engine, self.windings, self.phase)


def loading(*, apparent: float, power_factor: float, voltage: float, supplied: Mapping[str, complex], currents: Mapping[str, float]) -> Loading:
    """How full a set is.

    `apparent` (VA) available, `voltage` (V) √3 times line to neutral: line to line of a three-phase set, `supplied` P + jQ (W, var) by line, `currents` (A, rms with harmonics) by line.
    """
    total, to_neutral = sum(supplied.values()), voltage / sqrt(3)
    worst = max(supplied, key=lambda c: currents[c])
    engine = total.real / active_limit(S=apparent, λ=power_factor)
    return Loading(engine=engine, windings=sum(currents[c] for c in supplied) * to_neutral / apparent,
                   phase=currents[worst] / rated_current(S=apparent, n=len(supplied), V=to_neutral), worst_phase=worst, leading=total.imag < 0, light=engine < LIGHT)


SHARES = {"quarter": 0.25, "half": 0.5, "three_quarters": 0.75, "full": 1.0}


def fuel_use(*, rated: float, share: float) -> Term:
    """Diesel use (m³/s) of a set of `rated` W at `share` of its power, read between the lines of a chart; typical.

    Below a quarter of load the quarter's use is given: an idling engine burns less, not nothing. Raises `Refused` outside the chart.
    """
    chart = table("diesel-use")
    at_share = [(s, dict(chart.pairs(c))) for c, s in SHARES.items()]
    sizes = sorted(at_share[0][1])
    if not (sizes[0] <= rated <= sizes[-1] and 0 <= share <= 1):
        raise refuse("outside-range", f"The chart runs from {sizes[0] / 1e3:g} to {sizes[-1] / 1e3:g} kW and up to full load", "Read the set's own data sheet")
    by_share = [(s, _between(sorted(column.items()), rated)) for s, column in at_share]
    return term(_between(by_share, max(share, 0.25)), "L/h", "fuel use", origin=Origin.TYPICAL, cite=Cite("diesel-chart", "read between the lines"),
                firm_up="Read the set's own data sheet")


def _between(points: list[tuple[float, float]], x: float) -> float:
    for (x0, y0), (x1, y1) in zip(points, points[1:], strict=False):
        if x0 <= x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    raise ValueError(f"{x} outside the points")
