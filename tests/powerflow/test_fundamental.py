"""The power flow against closed forms, each from outside the core."""

from math import sqrt

import pytest

from pycore.powerflow.flow import State
from pycore.powerflow.fundamental import solve
from pycore.powerflow.kinds import choke, constant_current, constant_impedance, constant_power, tungsten
from tests.powerflow.rigs import across, load, one_cable

KFT = 0.3048 * 1000  # m


def place(name, line="L1", voltage=230.0, b="N"):
    return {"id": name, "node": "box", "a": line, "b": b, "voltage": voltage}


def test_constant_power_on_one_path():
    """4 kW behind 0.5 Ω from 230 V: 220.95 V and 18.10 A, the upper root of V² - 230·V + 2000 = 0 (computed by hand)."""
    flow = solve(one_cable(constant_power(4000, **place("A")), r=0.25))

    assert across(flow)[0] == pytest.approx((230 + sqrt(230**2 - 4 * 4000 * 0.5)) / 2, abs=1e-9)
    assert across(flow)[0] == pytest.approx(220.95, abs=0.005)
    assert abs(flow.current("F", "L1")) == pytest.approx(18.10, abs=0.005)
    assert flow.current("F", "N") == pytest.approx(-flow.current("F", "L1"))


@pytest.mark.parametrize(("kind", "expected"), [
    (constant_current(2300, **place("A")), 230 - 10 * 0.5),  # 10 A whatever the voltage
    (constant_impedance(2300, **place("A")), 230 * 23 / 23.5),  # 23 Ω
])
def test_constant_current_and_impedance(kind, expected):
    """A load of 10 A and one of 23 Ω behind 0.5 Ω: Ohm's law."""
    assert across(solve(one_cable(kind, r=0.25)))[0] == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(("kind", "exponent"), [(tungsten(2000, **place("A")), 1.6), (choke(1400, 0.5, **place("A")), 2.2)])
def test_power_follows_the_voltage(kind, exponent):
    """Tungsten: power as V^1.6 (lamp rerating, IES Handbook by way of public pages); choke: V^2.2 (memory)."""
    flow = solve(one_cable(kind, r=0.5))
    point = flow.loads["A"]

    assert point.power.real == pytest.approx(kind.power * (abs(point.voltage) / 230) ** exponent, rel=1e-9)
    assert abs(point.voltage) < 229


def test_leading_load_behind_a_reactance_raises_the_voltage():
    """A capacitor of 1 kvar (52.9 Ω) behind a coil of 1 Ω: 230·52.9/51.9 V, above the source."""
    flow = solve(one_cable(load("C", power=0.0, reactive=-1000.0, exponent=2.0), r=0.0, x=0.5))

    assert across(flow)[0] == pytest.approx(230 * 52.9 / 51.9, abs=1e-6)


def test_trap_three_phase_feeder_400_ft():
    """100 A a leg, 400 ft. NEC Chapter 9 Table 8 at 75 °C: #2 drops 13.44 V line to line (7.76 V to neutral), 4/0 4.21 V (2.43 V).

    A much-read page takes 17.82 for √3·10.8 and a lower resistivity and lets 4/0 pass 3 % of 120 V; it does not pass.
    """
    for ohms_per_kft, line_to_line, to_neutral in ((0.194, 13.44, 7.76), (0.0608, 4.21, 2.43)):
        loads = tuple(constant_current(12_000, **place(c, c, 120)) for c in ("L1", "L2", "L3"))
        flow = solve(one_cable(*loads, wires=4, voltage=120, r=ohms_per_kft * 0.4))
        drop = 120 - abs(flow.voltage("box", "L1"))

        assert drop == pytest.approx(to_neutral, abs=0.005)
        assert 120 * sqrt(3) - abs(flow.voltage("box", "L1", "L2")) == pytest.approx(line_to_line, abs=0.005)
    assert line_to_line > 0.03 * 120


def test_trap_neutral_current_of_unequal_phases():
    """Neutral of 10/15/20 A is 8.66 A, of 10/10/5 A 5.0 A (published worked lines); of 10/8/6 A 3.46 A, not 15.1 A."""
    for amps, neutral in (((10, 15, 20), 8.66), ((10, 10, 5), 5.0), ((10, 8, 6), 3.46)):
        loads = tuple(constant_current(230 * i, **place(c, c)) for c, i in zip(("L1", "L2", "L3"), amps, strict=True))
        flow = solve(one_cable(*loads, wires=4, r=1e-6))

        assert abs(flow.current("F", "N")) == pytest.approx(neutral, abs=0.005)


def test_trap_annex_g_three_phase_counts_to_neutral():
    """IEC 60364-5-52 Annex G with b = 1: 63 A at 0.8, 60 m of 25 mm² drop 2.903 V to neutral, 1.26 % of 230 V, not of 400 V.

    The formula is the projection on the voltage, so the exact drop differs by some hundredths of a volt.
    """
    loads = tuple(constant_current(63 * 230 * 0.8, 0.8, **place(c, c)) for c in ("L1", "L2", "L3"))
    flow = solve(one_cable(*loads, wires=4, r=0.0225 * 60 / 25, x=0.00008 * 60))

    drop = 230 - abs(flow.voltage("box", "L1"))
    assert drop == pytest.approx(2.903, abs=0.02)
    assert drop / 230 == pytest.approx(0.0126, abs=0.0001)
    assert abs(flow.current("F", "N")) < 1e-9


def test_light_phase_rises_with_the_neutral():
    """L1 carries 20 A alone: the neutral point moves 2 V towards it, and L2 rises above 230 V."""
    flow = solve(one_cable(constant_current(4600, **place("A")), wires=4, r=0.1))

    # 20 A shifts the neutral by 0.1 Ω · 20 A = 2 V (along L1, which itself is 2 V down)
    assert abs(flow.voltage("box", "L2")) == pytest.approx(abs(230 * complex(-0.5, -sqrt(3) / 2) - 2), abs=1e-9)
    assert abs(flow.voltage("box", "L2")) > 230.9


def test_split_phase_neutral_carries_the_difference():
    """15 A and 10 A on two legs: 5 A come back in the neutral; a load between the legs adds nothing to it."""
    flow = solve(one_cable(constant_current(1800, **place("A", "L1", 120)), constant_current(1200, **place("B", "L2", 120)),
                           constant_power(2400, **place("C", "L1", 240, "L2")), wires=3, voltage=120, r=1e-6))

    assert abs(flow.current("F", "N")) == pytest.approx(5, abs=1e-4)
    assert abs(flow.loads["C"].voltage) == pytest.approx(240, abs=1e-3)


def test_line_to_line_load_leaves_the_neutral_alone():
    """10 kW between lines of 400 V: 25 A in both lines, none in the neutral."""
    flow = solve(one_cable(constant_power(10_000, **place("A", "L1", 400, "L2")), wires=4, r=1e-6))

    assert abs(flow.current("F", "L1")) == pytest.approx(10_000 / (230 * sqrt(3)), abs=1e-3)
    assert abs(flow.current("F", "N")) < 1e-9 and abs(flow.current("F", "L3")) < 1e-9


def test_zero_impedance_and_no_load():
    """Nothing in the way and nothing drawn is a network too."""
    flow = solve(one_cable(constant_power(1000, **place("A")), load("B", power=0.0), r=0.0))

    assert across(flow) == pytest.approx([230, 230])
    assert solve(one_cable(r=0.1)).state is State.SOLVED


def test_mutual_reactance_of_a_pair():
    """Self 0.5 Ω, mutual 0.2 Ω: a pair shows 2·(0.5 - 0.2) Ω. 230 V onto 23 Ω and j0.6 Ω."""
    from dataclasses import replace

    net = one_cable(constant_impedance(2300, **place("A")), r=0.0, x=0.5)
    net = net.with_branch(replace(net.branch("F"), mutual=((0.5, 0.2), (0.2, 0.5))))

    assert across(solve(net))[0] == pytest.approx(abs(230 * 23 / complex(23, 0.6)), abs=1e-9)


def test_answer_brings_its_residuals():
    """Kirchhoff and the power balance come with every answer, with the way it was found."""
    flow = solve(one_cable(constant_power(4000, **place("A")), r=0.25))

    assert flow.residuals.current < 1e-9 and flow.residuals.voltage < 1e-9 and flow.residuals.power < 1e-6
    assert flow.residuals.supplied == pytest.approx(4000 + flow.loss("F"))
    assert flow.iterations > 0 and flow.method
    assert [t.name for t in flow.evidence().residuals]
    assert sum(flow.supplied().values()).real == pytest.approx(4000 + flow.loss("F"))
