"""Broken and poor neutrals, lost phases, swapped wires."""

import pytest

from pycore.powerflow.faults import open_wire, poor_wire, study, swapped
from pycore.powerflow.fundamental import solve
from pycore.powerflow.kinds import constant_impedance, constant_power, tungsten
from pycore.powerflow.millman import leg_voltage_with_neutral_broken, neutral_shift, voltage_with_neutral_broken
from pycore.powerflow.network import OPEN
from tests.powerflow.rigs import across, load, one_cable


def heaters(*powers, voltage=230.0, **more):
    return tuple(constant_impedance(p, id=f"R{n}", node="box", a=f"L{n}", b="N", voltage=voltage, **more) for n, p in enumerate(powers, 1))


def test_open_neutral_120_240():
    """100 W (144 Ω) and 200 W (72 Ω) on a broken neutral: 160 V and 80 V at 1.111 A. Training slides on open neutrals; end values computed."""
    net = open_wire(one_cable(*heaters(100, 200, voltage=120), wires=3, voltage=120, r=1e-6), "F")
    flow = solve(net)

    assert across(flow) == pytest.approx([160, 80], abs=0.01)
    assert abs(flow.current("F", "L1")) == pytest.approx(1.111, abs=0.0005)
    assert leg_voltage_with_neutral_broken(V_LL=240, R_1=144, R_2=72) == pytest.approx(160)


@pytest.mark.parametrize(("ohms", "voltages"), [((110, 55), (253, 126.5)), ((110, 36.66), (285, 95))])
def test_two_banks_in_series_across_380_v(ohms, voltages):
    """Banks of 110 Ω and 55 Ω (36.66 Ω) on two phases of 220/380 V: 253 V and 126.5 V (285 V and 95 V). Published forum working."""
    banks = [load(f"R{n}", f"L{n}", power=220**2 / r, voltage=220, exponent=2.0) for n, r in enumerate(ohms, 1)]
    flow = solve(open_wire(one_cable(*banks, wires=4, voltage=220, r=1e-6), "F"))

    assert across(flow) == pytest.approx(voltages, rel=0.005)


def test_trap_floating_neutral_three_phases():
    """Conductances 1:2:3 move the neutral by 0.2887 of the phase voltage (Millman): 63.5 V at 220/380 V, not 190 V; 66.4 V at 230 V."""
    assert neutral_shift(V=220, P_1=1000, P_2=2000, P_3=3000) == pytest.approx(63.5, abs=0.05)
    flow = solve(open_wire(one_cable(*heaters(1000, 2000, 3000), wires=4, r=1e-6), "F"))

    assert abs(flow.volts[1][3]) == pytest.approx(66.4, abs=0.05)
    assert across(flow) == pytest.approx([289.4, 239.4, 175.7], abs=0.1)
    by_law = [voltage_with_neutral_broken(V=230, P_1=a, P_2=b, P_3=c) for a, b, c in ((1000, 2000, 3000), (2000, 3000, 1000), (3000, 1000, 2000))]
    assert across(flow) == pytest.approx(by_law, abs=0.01)


@pytest.mark.parametrize("ohms", [0.1, 1.0, 5.0, 50.0, 5000.0])
def test_poor_neutral_is_between_sound_and_open(ohms):
    """Millman with the neutral's own conductance: V_N = Σ V·G / (ΣG + 1/R)."""
    flow = solve(poor_wire(one_cable(*heaters(1000, 2000, 3000), wires=4, r=0.0), "F", "N", ohms))
    g = [p / 230**2 for p in (1000, 2000, 3000)]
    emf = [230, 230 * complex(-0.5, -(3**0.5) / 2), 230 * complex(-0.5, 3**0.5 / 2)]

    assert flow.volts[1][3] == pytest.approx(sum(e * y for e, y in zip(emf, g, strict=True)) / (sum(g) + 1 / ohms), abs=1e-6)


def test_damage_is_named_and_not_knowing_is_not_a_pass():
    """The light phase gets 289 V: above 264 V is damage where the limit is known, uncertain where it is not."""
    known, unknown = heaters(1000, 2000, 3000, stands=264.0), heaters(1000, 2000, 3000)
    for loads, damaged, uncertain in ((known, ("R1",), ()), (unknown, (), ("R1",))):
        net = one_cable(*loads, wires=4, r=1e-3)
        fault = study(net, open_wire(net, "F"))

        assert fault.damaged == damaged and fault.uncertain == uncertain
        assert fault.loads[0].load == "R1" and fault.loads[0].highest == pytest.approx(289.4, abs=0.5)


def test_electronic_loads_do_not_share_a_floating_neutral():
    """Two ballasts in series: one goes out low, then the other has no way back; both saw more than their voltage or none."""
    lamps = [constant_power(p, id=f"A{n}", node="box", a=f"L{n}", b="N", voltage=120, low=90, high=250) for n, p in ((1, 1000), (2, 1300))]
    net = one_cable(*lamps, wires=3, voltage=120, r=0.05)
    fault = study(net, open_wire(net, "F"))

    assert fault.after.solved and set(fault.out) == {"A1", "A2"}
    assert "break" in fault.after.rule
    assert fault.after.dropped[0].load == "A2"  # the larger one sees the lower voltage first: series division of impedances


def test_filament_and_ballast_on_a_floating_neutral_hold():
    """A large filament beside a small ballast gives the neutral point something to stand on."""
    net = one_cable(tungsten(2000, id="T", node="box", a="L1", b="N", voltage=230), tungsten(2000, id="T2", node="box", a="L2", b="N", voltage=230),
                    constant_power(300, id="A", node="box", a="L3", b="N", voltage=230, low=100, high=400), wires=4, r=0.05)
    fault = study(net, open_wire(net, "F"))

    assert fault.after.solved and not fault.out
    assert fault.after.loads["A"].power.real == pytest.approx(300)
    assert fault.after.residuals.small


def test_lost_phase():
    """L1 gone: what hangs on it is dark, the others hardly notice; a load between lines lights it from the other side."""
    dark = one_cable(*heaters(1000, 1000, 1000), wires=4, r=1e-3)
    assert across(solve(open_wire(dark, "F", "L1"))) == pytest.approx([0, 230, 230], abs=0.05)

    # 1000 W to neutral (52.9 Ω) and 3000 W between L1 and L2 (52.9 Ω) in series across L2 to N: 115 V each
    fed_back = one_cable(*heaters(1000), load("B", "L1", "L2", power=3000, voltage=230 * 3**0.5, exponent=2.0), wires=4, r=1e-3)
    assert across(solve(open_wire(fed_back, "F", "L1"))) == pytest.approx([115, 115], abs=0.05)


def test_ballasts_on_a_lost_phase_are_out():
    """They are dark, not 'collapsed'."""
    lamps = [constant_power(1300, id=f"A{n}", node="box", a=f"L{n}", b="N", voltage=230) for n in (1, 2, 3)]
    net = one_cable(*lamps, wires=4)
    fault = study(net, open_wire(net, "F", "L1"))

    assert fault.after.solved and fault.out == ("A1",)
    assert abs(fault.after.loads["A1"].voltage) < 3  # what leaks across the break into its input filter


def test_neutral_and_phase_swapped():
    """L1 and N changed over: loads on L2 and L3 hang between lines (398 V), those on L1 work as before."""
    net = one_cable(*heaters(1000, 1000, 1000, stands=264.0), wires=4, r=1e-3)
    fault = study(net, swapped(net, "F", "L1"))

    assert across(fault.after) == pytest.approx([230, 230 * 3**0.5, 230 * 3**0.5], abs=0.1)
    assert fault.damaged == ("R2", "R3")


def test_what_is_not_there_cannot_break():
    """A wire or a cable that does not exist."""
    net = one_cable(*heaters(1000))
    for branch, conductor in (("F", "L3"), ("K9", "N")):
        with pytest.raises(KeyError):
            open_wire(net, branch, conductor)


def test_open_is_far_above_any_load():
    """The leak across a break passes less than 0.05 mA."""
    assert 400 / OPEN < 5e-5
