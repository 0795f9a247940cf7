"""The working of a strike's limits where a law gives them; what the power flow gives has its evidence instead."""

from collections.abc import Callable
from math import hypot

from pycore.base.law import Var, law, work
from pycore.base.result import Step, Term, term
from pycore.base.source import Cite
from pycore.findings.source import available
from pycore.findings.strike_draws import Striking
from pycore.findings.strike_limits import strike_step
from pycore.findings.strike_ready import Made
from pycore.lamp.strike import Use
from pycore.powerflow import generator
from pycore.rig.typical import need


@law("s = S*n/(k*S_a)", "Step against what its lines may give", s=Var("load step over rated apparent power", ""), S=Var("apparent power of the step", "VA", 0), n=Var("lines of the set", "", 1, 3),
     k=Var("lines that take the step", "", 1, 3), S_a=Var("apparent power available", "VA", 1e-6), source=Cite("circuit-theory"))
def step_part(*, S: float, n: float, k: float, S_a: float) -> float:
    """A step on k of a set's n lines, as a share of what they may give."""
    return S * n / (k * S_a)


@law("d = e*P/P_a", "Dip of the frequency at a load step", d=Var("dip of the frequency", "%"), e=Var("dip at a full step", "%", 0, 100), P=Var("power of the step", "W", 0),
     P_a=Var("active power available", "W", 1e-6), source=Cite("circuit-theory", "an engine's dip taken as proportional to the step"))
def frequency_dip(*, e: float, P: float, P_a: float) -> float:
    """Share of frequency lost at a step of P (W)."""
    return e * P / P_a


def working(made: Made, use: Use) -> tuple[Step, ...]:
    """Lines of working of a limit, none where no law gives it."""
    make = _LAWS.get(use.limit)
    return make(made, made.bench.lamps.get(use.place.removeprefix("loads/"))) if make and made.bench.machine and made.rig.supply.kind == "generator" else ()


def _voltage_dip(made: Made, lamp: Striking | None) -> tuple[Step, ...]:
    assert lamp is not None and made.bench.machine is not None
    step, supply, given = strike_step(lamp, made.bench.frequency), made.rig.supply, available(made.rig.supply)
    size = term(abs(step), "VA", "apparent power of the step", rests_on=lamp.surge_leans_on)
    part = work(step_part, S=size, n=_count(made.bench.machine.lines, "lines of the set"), k=_count(len(lamp.lines), "lines that take the step"), S_a=given[-1].result)
    sine = term(max(0.0, step.imag) / hypot(step.real, step.imag) if step else 0.0, "", "sine of the step's phase angle", rests_on=lamp.leans_on)
    return (*given, part, work(generator.step_dip, x=need(supply, "transient", "supply"), s=part.result, q=sine))


def _frequency(made: Made, lamp: Striking | None) -> tuple[Step, ...]:
    assert lamp is not None
    limit = _engine(made, None)
    power = term(lamp.run_up.at(0.0).power, "W", "power of the step", rests_on=lamp.leans_on)
    return (*limit, work(frequency_dip, e=need(made.rig.supply.steps, "engine", "supply/steps"), P=power, P_a=limit[-1].result))


def _engine(made: Made, _: Striking | None) -> tuple[Step, ...]:
    given = available(made.rig.supply)
    return (*given, work(generator.active_limit, S=given[-1].result, λ=need(made.rig.supply, "rated_power_factor", "supply")))


def _windings(made: Made, _: Striking | None) -> tuple[Step, ...]:
    return available(made.rig.supply)


def _line(made: Made, _: Striking | None) -> tuple[Step, ...]:
    assert made.bench.machine is not None
    given = available(made.rig.supply)
    return (*given, work(generator.rated_current, S=given[-1].result, n=_count(made.bench.machine.lines, "number of lines"), V=need(made.rig.supply, "voltage", "supply")))


def _count(number: int, name: str) -> Term:
    return term(float(number), "", name)


_LAWS: dict[str, Callable[[Made, Striking | None], tuple[Step, ...]]] = {"dip": _voltage_dip, "frequency": _frequency, "kw": _engine, "kva": _windings, "line": _line}
