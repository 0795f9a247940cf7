"""Harmonics through the wires: what adds, what cancels, what distorts."""

from cmath import phase
from dataclasses import replace
from math import hypot, pi, sqrt

import pytest

from pycore.powerflow.distortion import k_of, thd, triplen_rms
from pycore.powerflow.fundamental import solve
from pycore.powerflow.harmonics import distort
from pycore.powerflow.kinds import capacitor, constant_impedance, constant_power
from pycore.powerflow.network import Branch, Wire, wire
from pycore.powerflow.orders import impedances
from pycore.powerflow.phasor import rms
from pycore.powerflow.source import supply
from pycore.powerflow.spectrum import typical
from pycore.powerflow.tree import Tree
from tests.powerflow.rigs import load, one_cable

# University power-quality course, solution 3-1: currents by order in A, from a load of 10 kW at 118 V.
TEXTBOOK = {1: 118, 3: 60, 5: 20, 7: 19, 9: 12, 11: 12, 13: 9, 15: 9, 17: 6}
SPECTRUM = tuple((h, i / 118, 0.0) for h, i in TEXTBOOK.items() if h > 1)


def lamp(name, a, b="N", voltage=118.0, spectrum=SPECTRUM, power=10_000.0):
    return constant_power(power, 0.7182, id=name, node="box", a=a, b=b, voltage=voltage, spectrum=spectrum)


def test_textbook_neutral():
    """Three such loads on a wye: neutral 185.54 A, 1.354 times the phase's 137.007 A. THD 59 %, K 7.75 (K computed)."""
    found = distort(solve(one_cable(*(lamp(c, c) for c in ("L1", "L2", "L3")), wires=4, voltage=118.0, r=1e-7)))
    line, neutral = found.current("F", "L1"), found.current("F", "N")

    assert abs(line[1]) == pytest.approx(118, abs=0.05)
    assert rms(line.values()) == pytest.approx(137.007, rel=5e-4)
    assert rms(neutral.values()) == pytest.approx(185.54, rel=5e-4)
    assert thd(line) == pytest.approx(0.590, abs=0.001)
    assert k_of(line) == pytest.approx(7.75, rel=0.002)
    assert rms(neutral.values()) == pytest.approx(3 * triplen_rms(line))
    assert rms(z for h, z in neutral.items() if h % 3) < 1e-6


def test_split_phase_cancels_odd_orders_and_adds_even_ones():
    """Equal legs half a turn apart: odd orders, triplens too, subtract in the neutral; even ones add."""
    both = ((2, 0.2, 0.3), (3, 0.5, 0.1))
    found = distort(solve(one_cable(lamp("A", "L1", spectrum=both), lamp("B", "L2", spectrum=both), wires=3, voltage=118.0, r=1e-7)))
    neutral, leg = found.current("F", "N"), found.current("F", "L1")

    assert abs(neutral[1]) < 1e-6 and abs(neutral[3]) < 1e-6
    assert abs(neutral[2]) == pytest.approx(2 * abs(leg[2]))


def test_line_to_line_loads_send_no_triplens_to_the_neutral():
    """Three equal loads between lines: no harmonic in the neutral, and triplens cancel in the lines too."""
    loads = [lamp(a, a, b, voltage=118 * sqrt(3)) for a, b in (("L1", "L2"), ("L2", "L3"), ("L3", "L1"))]
    found = distort(solve(one_cable(*loads, wires=4, voltage=118.0, r=1e-7)))

    assert rms(found.current("F", "N").values()) < 1e-6
    assert abs(found.current("F", "L1")[3]) < 1e-6
    assert abs(found.current("F", "L1")[5]) == pytest.approx(20, rel=1e-3)  # 20/√3 A a load, √3 times that in a line


def test_angles_turn_with_the_load_voltage():
    """A part of order h turns h times as far as the load's own voltage does."""
    found = distort(solve(one_cable(lamp("A", "L2", spectrum=((5, 0.2, 0.4),)), wires=4, voltage=118.0, r=1e-7)))

    turned = phase(found.load_current("A")[5]) - (5 * (-2 * pi / 3) + 0.4)
    assert (turned + pi) % (2 * pi) - pi == pytest.approx(0, abs=1e-6)


def test_voltage_distortion_behind_a_reactance():
    """20 A of the 5th order through R and five times X of line and neutral."""
    found = distort(solve(one_cable(lamp("A", "L1", spectrum=((5, 20 / 118, 0.0),)), voltage=118.0, r=0.01, x=0.02)))
    amps = abs(found.current("F", "L1")[5])

    assert abs(found.voltage("box", "L1")[5]) == pytest.approx(amps * 2 * hypot(0.01, 5 * 0.02), rel=1e-9)
    assert thd(found.voltage("box", "L1")) == pytest.approx(abs(found.voltage("box", "L1")[5] / found.voltage("box", "L1")[1]))


def test_generator_shows_its_subtransient_reactance_to_harmonics_only():
    """The fundamental is held by the regulator; the 3rd order drops over three times the reactance."""
    net = one_cable(lamp("A", "L1", spectrum=((3, 0.5, 0.0),)), wires=4, voltage=118.0, r=0.0)
    net = replace(net, source=supply(node="S", system="three-phase wye", voltage=118.0, line=0, neutral=0, harmonic_line=0.1j))
    found = distort(solve(net))

    assert abs(found.voltage("box", "L1")[1]) == pytest.approx(118)
    assert abs(found.voltage("box", "L1")[3]) == pytest.approx(0.3 * abs(found.current("F", "L1")[3]))


def test_filament_takes_its_share_of_the_distortion():
    """A plain resistance of 10 Ω beside the source of a harmonic: current divides as the conductances do."""
    heater = constant_impedance(118**2 / 10, id="R", node="box", a="L1", b="N", voltage=118.0)
    found = distort(solve(one_cable(lamp("A", "L1", spectrum=((3, 0.5, 0.0),), power=1000.0), heater, voltage=118.0, r=0.5)))

    own, shared = found.load_current("A")[3], found.load_current("R")[3]
    assert shared == pytest.approx(-own * 1.0 / 11.0)  # loop of 1 Ω beside 10 Ω
    assert found.current("F", "L1")[3] == pytest.approx(own * 10 / 11)


def test_coil_and_capacitor_by_order():
    """At the 5th order a coil has five times its reactance, a capacitor a fifth."""
    coil = constant_impedance(0.001, 1e-6, id="L", node="box", a="L1", b="N", voltage=118.0)
    cap = capacitor(118**2 / 10, id="C", node="box", a="L1", b="N", voltage=118.0)
    found = distort(solve(one_cable(lamp("A", "L1", spectrum=((5, 0.2, 0.0),), power=1000.0), coil, cap, voltage=118.0, r=0.1)))
    v = found.voltage("box", "L1")[5]

    assert found.load_current("C")[5] == pytest.approx(v * 5j / 10)
    assert found.load_current("L")[5] == pytest.approx(v / (5j * 118**2 / 1000), rel=1e-4)


def test_skin_effect_raises_the_resistance():
    """0.1 mΩ/m at the 13th order of 60 Hz: x_s = 4.43, y_s = 0.835, against 0.012 at 60 Hz (IEC 60287-1-1, by hand); a thin one has none."""
    def wires(r_metre):
        return {c: Wire(top=c, bottom=c, r=0.1, x=0.0, r_metre=r_metre) for c in ("L1", "N")}

    thick = impedances(Tree(one_cable(**wires(0.1e-3), frequency=60.0)), [13])[1][0][0].real
    thin = impedances(Tree(one_cable(**wires(8e-3), frequency=60.0)), [13])[1][0][0].real

    assert thick == pytest.approx(0.1 * 1.835 / 1.012, rel=2e-3)
    assert thin == pytest.approx(0.1, rel=1e-3)


def test_a_spectrum_that_no_longer_holds_is_said():
    """Behind 20 Ω the rectifier's harmonics would leave a voltage on which it draws quite another current."""
    uncorrected = typical()["electronic"].parts
    stiff = one_cable(lamp("A", "L1", spectrum=uncorrected, power=500.0), voltage=118.0, r=0.05)
    weak = one_cable(lamp("A", "L1", spectrum=uncorrected, power=300.0), voltage=118.0, r=3.0)

    assert distort(solve(stiff)).beyond == ()
    assert distort(solve(weak)).beyond == ("A",)


def test_what_is_out_draws_no_harmonics():
    """A ballast below its cut-out."""
    flow = solve(one_cable(replace(lamp("A", "L1"), low=117.0), load("B", power=10.0, voltage=118.0, spectrum=SPECTRUM), voltage=118.0, r=0.1))
    found = distort(flow)

    assert flow.loads["A"].out == "low"
    assert rms(found.load_current("A").values()) == 0
    assert rms(found.current("F", "L1").values()) < 0.2


def test_no_flow_no_harmonics():
    """A collapsed network has none."""
    with pytest.raises(ValueError, match="solved"):
        distort(solve(one_cable(lamp("A", "L1"), voltage=118.0, r=10.0)))


def test_kirchhoff_at_every_order():
    """Source currents of each order come back through the neutral."""
    found = distort(solve(one_cable(*(lamp(c, c, power=p) for c, p in (("L1", 900.0), ("L2", 500.0), ("L3", 100.0))), wires=4, voltage=118.0, r=0.05, x=0.02)))

    for h in found.orders:
        assert abs(sum(found.current("F", c)[h] for c in ("L1", "L2", "L3", "N"))) < 1e-9


def test_a_wire_on_its_own_carries_nothing():
    """A run of which only the neutral is there."""
    net = one_cable(lamp("A", "L1"), voltage=118.0, r=0.05)
    net = replace(net, branches=(*net.branches, Branch(id="K", start="box", end="far", wires=(wire("N", 0.1),))))
    found = distort(solve(net))

    assert rms(found.current("K", "N").values()) == 0
    assert found.volts[found.flow.tree.number["far"]][0] == found.volts[found.flow.tree.number["box"]][1]


@pytest.mark.parametrize("ohms", [0.05, 3.0])
def test_reactances_between_all_wires_alike_take_from_their_own(ohms):
    """What goes out comes back, so 0.03 Ω between every two wires leaves 0.02 of each one's 0.05 Ω, at every order, with heaters and coils behind."""
    coil = constant_impedance(200.0, 0.5, id="L", node="box", a="L2", b="N", voltage=118.0)
    heater = constant_impedance(500.0, id="R", node="box", a="L1", b="L3", voltage=204.0)
    loads = [lamp("A", "L1", power=300.0), lamp("B", "L2", power=200.0), coil, heater]
    plain = one_cable(*loads, wires=4, voltage=118.0, r=0.05, x=0.02, N=wire("N", ohms, 0.02))
    coupled = one_cable(*loads, wires=4, voltage=118.0, r=0.05, x=0.05, N=wire("N", ohms, 0.05))
    coupled = coupled.with_branch(replace(coupled.branch("F"), mutual=tuple(tuple(0.05 if i == j else 0.03 for j in range(4)) for i in range(4))))
    first, second = distort(solve(plain)), distort(solve(coupled))

    for h in (1, *first.orders):
        for c in ("L1", "L2", "L3"):
            assert second.voltage("box", c)[h] == pytest.approx(first.voltage("box", c)[h], rel=1e-9, abs=1e-9)
        assert second.current("F", "N")[h] == pytest.approx(first.current("F", "N")[h], rel=1e-9, abs=1e-9)
