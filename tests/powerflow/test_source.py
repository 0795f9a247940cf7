"""Supplies: mains, generators, inverters."""

from math import sqrt

import pytest

from pycore.base.problem import Refused
from pycore.base.result import Origin, term
from pycore.powerflow import generator, inverter, source
from pycore.powerflow.fundamental import solve
from pycore.powerflow.kinds import constant_impedance
from pycore.powerflow.network import Branch, Network, wire


def test_impedance_from_fault_current():
    """1 kA at 230 V is 0.23 Ω; with X/R = 1 both parts are 0.163 Ω."""
    z = source.loop_from_fault_current(V=230, I_k=1000)

    assert z == pytest.approx(0.23)
    assert source.resistive_part(Z=z, n=1) == pytest.approx(0.23 / sqrt(2)) == source.reactive_part(Z=z, n=1)
    assert source.resistive_part(Z=z, n=0) == z


def test_short_circuit_at_the_supply_gives_the_fault_current_back():
    """A load of next to no impedance draws what was entered."""
    loop = source.loop_from_fault_current(V=230, I_k=1000)
    net = Network(source=source.supply(node="S", system="single-phase", voltage=230, line=loop / 2, neutral=loop / 2), branches=(),
                  loads=(constant_impedance(230**2 / 1e-6, id="A", node="S", a="L1", b="N", voltage=230),))

    assert abs(solve(net).loads["A"].current) == pytest.approx(1000, rel=1e-5)


def test_machine_reactance():
    """20 % of 60 kVA at 400 V: 0.2 · 400²/60 000 Ω."""
    assert source.machine_reactance(x=0.2, V=400, S=60e3) == pytest.approx(0.5333, abs=1e-4)


def test_earth_is_bonded_at_the_star_point():
    """PE through a run carries a fault back: 230 V over line, fault and PE."""
    supply = source.supply(node="S", system="three-phase wye", voltage=230, line=0, neutral=0, earth=0.1)
    net = Network(source=supply, branches=(Branch(id="F", start="S", end="box", wires=(wire("L1", 0.4), wire("N", 0.4), wire("PE", 0.4))),),
                  loads=(constant_impedance(230**2 / 0.1, id="fault", node="box", a="L1", b="PE", voltage=230),))

    assert abs(solve(net).current("F", "PE")) == pytest.approx(230, rel=1e-9)


def test_generator_derating():
    """125 kVA at 2000 m and 50 °C: 0.94 · 0.94 = 0.8836, 110.5 kVA, 88.4 kW (alternator sizing rule)."""
    high, hot, left = generator.derate(rated=term(125e3, "VA"), altitude=term(2000, "m"), ambient=term(323.15, "°C"))

    assert (high.result.value, hot.result.value) == pytest.approx((0.94, 0.94))
    assert left.result.value == pytest.approx(110_450)
    assert generator.active_limit(S=left.result.value, λ=0.8) == pytest.approx(88_360)
    assert generator.rated_current(S=125e3, n=3, V=400 / sqrt(3)) == pytest.approx(180.4, abs=0.05)


def test_no_derating_in_the_lowlands():
    """Nothing is lost up to 1000 m and 40 °C, and nothing is gained."""
    assert generator.derate(rated=term(60e3, "VA"), altitude=term(300, "m"), ambient=term(263.15, "°C"))[-1].result.value == pytest.approx(60e3)


def test_engine_rule():
    """A small set's manual: 3.5 % per 300 m above 1500 m."""
    assert generator.derate(rated=term(60e3, "VA"), altitude=term(2100, "m"), ambient=term(293.15, "°C"), rule="engine of a small set")[-1].result.value == pytest.approx(60e3 * 0.93)


def test_dip_against_the_circuit():
    """EMF behind X'd onto an impedance, solved as a circuit: per unit 25 % reactance, half the rating at 0.6 lagging."""
    z = 1 / 0.5 * complex(0.6, 0.8)

    assert generator.step_dip(x=0.25, s=0.5, q=0.8) == pytest.approx(1 - abs(z / (z + 0.25j)))
    assert generator.step_dip(x=0.25, s=0.5, q=1.0) == pytest.approx(0.125 / 1.125)  # the usual formula for an inductive step
    assert generator.step_dip(x=0.25, s=0, q=1.0) == 0


def loading(**change):
    given = {"apparent": 60e3, "power_factor": 0.8, "voltage": 400.0, "supplied": dict.fromkeys(("L1", "L2", "L3"), 10e3 + 2e3j),
             "currents": {"L1": 50.0, "L2": 45.0, "L3": 45.0}}
    return generator.loading(**(given | change))


def test_all_three_limits_of_a_set():
    """60 kVA at 0.8: 48 kW, 86.6 A a phase. 30 kW is 62.5 %; 50 A is 57.7 %."""
    found = loading()

    assert found.engine == pytest.approx(0.625)
    assert found.phase == pytest.approx(50 / 86.60, abs=1e-3) and found.worst_phase == "L1"
    assert found.windings == pytest.approx(140 * 230.94 / 60e3, rel=1e-4)
    assert found.worst == pytest.approx(0.625) and not found.leading and not found.light


def test_harmonics_fill_the_windings_before_the_engine():
    """The same power at 80 A a phase: the windings are the limit."""
    found = loading(currents=dict.fromkeys(("L1", "L2", "L3"), 80.0))

    assert found.windings > 0.9 > found.engine and found.worst == pytest.approx(found.windings)


def test_split_phase_set():
    """10 kVA at 120/240 V gives 41.7 A a leg."""
    found = loading(apparent=10e3, voltage=120.0 * sqrt(3), supplied={"L1": 4e3 + 0j, "L2": 1e3 + 0j}, currents={"L1": 34.0, "L2": 9.0})

    assert found.phase == pytest.approx(34 / 41.67, abs=1e-3) and found.engine == pytest.approx(5 / 8)


def test_warnings_of_a_set():
    """Leading load, and a load that soots the engine (below 30 %: memory)."""
    found = loading(supplied=dict.fromkeys(("L1", "L2", "L3"), 3e3 - 1e3j))

    assert found.leading and found.light


def test_fuel():
    """Chart: 100 kW set at half load 15.5 L/h, 124 L in 8 h; 60 kW set at full load 18.2 L/h."""
    half = generator.fuel_use(rated=100e3, share=0.5)

    assert half.value * 3600e3 == pytest.approx(15.5, abs=0.05)
    assert half.value * 8 * 3600 * 1e3 == pytest.approx(124, rel=0.02)
    assert generator.fuel_use(rated=60e3, share=1.0).value * 3600e3 == pytest.approx(18.2, abs=0.05)
    assert half.origin is Origin.TYPICAL
    assert generator.fuel_time(W=0.124, q=half.value) == pytest.approx(8 * 3600, rel=0.01)


def test_fuel_between_the_lines():
    """80 kW at 62.5 % lies between its neighbours; at no load a quarter's use is told."""
    low, high = generator.fuel_use(rated=60e3, share=0.5).value, generator.fuel_use(rated=100e3, share=0.75).value

    assert low < generator.fuel_use(rated=80e3, share=0.625).value < high
    assert generator.fuel_use(rated=60e3, share=0.0).value == generator.fuel_use(rated=60e3, share=0.25).value


@pytest.mark.parametrize(("rated", "share"), [(6e3, 0.5), (500e3, 0.5), (60e3, 1.1), (60e3, float("nan"))])
def test_outside_the_chart(rated, share):
    """No figure is made up."""
    with pytest.raises(Refused):
        generator.fuel_use(rated=rated, share=share)


def test_battery():
    """2 kWh, 90 % of it usable, 90 % efficiency, 500 W and 20 W of its own: 3.115 h."""
    assert inverter.battery_time(E=2000 * 3600, u=0.9, η=0.9, P=500, P_0=20) / 3600 == pytest.approx(3.115, abs=0.001)
    assert inverter.peak_share(S=3000, S_p=4000) == 0.75
    assert inverter.crest_share(I_p=10 * sqrt(2), I=10) == pytest.approx(1)
