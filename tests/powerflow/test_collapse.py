"""Where there is no operating point, and what goes out before."""

from dataclasses import replace
from math import sqrt

import pytest

from pycore.powerflow.flow import State
from pycore.powerflow.fundamental import solve
from pycore.powerflow.kinds import constant_power, tungsten
from pycore.powerflow.network import Branch, Network, wire
from pycore.powerflow.newton import newton
from pycore.powerflow.source import supply
from pycore.powerflow.tree import Tree
from tests.powerflow.rigs import across, load, one_cable


def lamp(power, name="A", **more):
    return constant_power(power, id=name, node=more.pop("node", "box"), a=more.pop("a", "L1"), b="N", voltage=230.0, **more)


def test_just_below_the_most_a_path_carries():
    """V²/4R = 26 450 W through 0.5 Ω from 230 V (maximum power, textbook): one watt less stands near half the voltage, on the upper side."""
    flow = solve(one_cable(lamp(26_449.0), r=0.25))

    assert flow.solved
    assert across(flow)[0] == pytest.approx(115 + sqrt(115**2 - 26_449 * 0.5), abs=1e-4)


def test_just_above_there_is_none():
    """One watt more: collapsed, no voltages, the load and the cable named, and how much would be carried."""
    flow = solve(one_cable(lamp(26_451.0), r=0.25))

    assert flow.state is State.COLLAPSED
    assert not flow.volts and not flow.loads
    assert (flow.fails.load, flow.fails.branch) == ("A", "F")
    assert flow.fails.share == pytest.approx(26_450 / 26_451, abs=0.003)


@pytest.mark.parametrize("power", [30_000, 60_000, 1e6, 1e9])
def test_far_above_there_is_none_either(power):
    """However absurd the load, the answer is a state."""
    flow = solve(one_cable(lamp(power), r=0.25))

    assert flow.state is State.COLLAPSED
    assert flow.fails.share <= 26_450 / power + 1e-9
    assert flow.fails.share == pytest.approx(26_450 / power, abs=0.003)


def test_the_worst_run_is_named_among_sound_ones():
    """Of three lamps the one on the long thin cable fails, and that cable is named, not the feeder."""
    net = one_cable(lamp(2000.0), lamp(3000.0, "B"), lamp(9000.0, "C", node="far"), r=0.05)
    net = replace(net, branches=(*net.branches, Branch(id="K", start="box", end="far", wires=(wire("L1", 1.0), wire("N", 1.0)))))
    flow = solve(net)

    assert flow.state is State.COLLAPSED
    assert (flow.fails.load, flow.fails.branch) == ("C", "K")


def test_two_runs_past_their_most_are_not_taken_for_sound():
    """Both runs beyond their limit at once: an even number of wrong turns must not pass for a right one."""
    net = one_cable(lamp(30_000.0, "B", node="b"), lamp(30_000.0, "C", node="c"), r=0.0)
    runs = tuple(Branch(id=f"K{n}", start="box", end=n, wires=(wire("L1", 0.25), wire("N", 0.25))) for n in ("b", "c"))

    assert solve(replace(net, branches=(*net.branches, *runs))).state is State.COLLAPSED


def test_filaments_never_collapse():
    """A load whose current falls with its voltage always finds a point."""
    flow = solve(one_cable(tungsten(100_000, id="A", node="box", a="L1", b="N", voltage=230), r=1.0))

    assert flow.solved and across(flow)[0] < 60


def test_ballast_below_its_cut_out_is_out():
    """At 208.6 V a ballast that needs 210 V is out, not running at a lower root; its cable then carries nothing."""
    flow = solve(one_cable(lamp(4000.0, low=210.0), r=0.56))

    assert flow.loads["A"].out == "low"
    assert flow.loads["A"].current == 0 and across(flow)[0] == pytest.approx(230)
    assert [(d.load, d.side, d.limit) for d in flow.dropped] == [("A", "low", 210.0)]
    assert flow.dropped[0].voltage == pytest.approx(115 + sqrt(115**2 - 4000 * 1.12), abs=1e-6)


def test_the_furthest_outside_goes_first_and_may_save_the_rest():
    """Two ballasts below their cut-out: the more demanding one goes, the other then has voltage enough."""
    flow = solve(one_cable(lamp(3000.0, "A", low=215.0), lamp(3000.0, "B", low=213.0), r=0.35))

    assert [d.load for d in flow.dropped] == ["A"]
    assert flow.loads["B"].out == "" and abs(flow.loads["B"].voltage) > 213
    assert "stays out" in flow.rule


def test_too_high_a_voltage_is_out_too():
    """250 V into ballasts that stand up to 240 V."""
    flow = solve(one_cable(lamp(1000.0, high=240.0), voltage=250.0))

    assert flow.loads["A"].out == "high"


def test_ballasts_drop_out_before_the_rig_collapses():
    """With input windows the same overload ends in a steady state: one lamp out, the other on."""
    flow = solve(one_cable(lamp(20_000.0, "A", low=150.0), lamp(12_000.0, "B", low=140.0), r=0.25))

    assert flow.solved
    assert [d.load for d in flow.dropped] == ["A"] and flow.loads["B"].out == ""


def test_fold_back_keeps_the_current():
    """Below 200 V this ballast holds its current of 20 A: 230 V - 20 A · 2 Ω = 190 V."""
    flow = solve(one_cable(lamp(4000.0, fold=200.0), r=1.0))

    assert across(flow)[0] == pytest.approx(190.0, abs=1e-6)
    assert abs(flow.loads["A"].current) == pytest.approx(20.0, abs=1e-6)


def test_fold_back_does_not_bite_above():
    """At 220.95 V it is a constant-power load like any other."""
    assert across(solve(one_cable(lamp(4000.0, fold=200.0), r=0.25)))[0] == pytest.approx(220.948, abs=0.001)


def test_dead_line_of_a_filament():
    """A filament between two conductors of the same voltage draws nothing."""
    flow = solve(one_cable(load("A", power=500.0, exponent=1.6), voltage=0.0))

    assert flow.solved and across(flow)[0] == 0


def lower_root(power, r):
    """The voltage at which the numbers agree but no lamp works."""
    return 115 - sqrt(115**2 - power * r)


@pytest.mark.parametrize("low", [("L1",), ("L1", "L2"), ("L1", "L2", "L3")])
def test_lower_roots_are_known_for_what_they_are(low):
    """Newton's method started at the lower root of one, two or three phases: it stays there, and it does not count as an operating point."""
    net = one_cable(*(lamp(24_000.0, line, a=line) for line in ("L1", "L2", "L3")), wires=4, r=0.5, N=0.0)
    tree = Tree(net)
    volts = tree.no_load()
    for k, line in enumerate(("L1", "L2", "L3")):
        volts[1][k] *= (lower_root(24_000, 0.5) if line in low else 230 - lower_root(24_000, 0.5)) / 230
    trial = newton(tree, volts, tree.demands)

    assert max(abs(a - b) for a, b in zip(trial.volts[1], volts[1], strict=True)) < 1e-6
    assert not trial.holds
    assert solve(net).solved and min(across(solve(net))) > 115


def test_the_lamp_on_the_thin_cable_goes_out_not_its_neighbour():
    """One lamp behind more ohms than can carry it; the other, on a stout cable, cuts out at a higher voltage and yet stays."""
    weak = constant_power(4000, id="weak", node="far", a="L1", b="N", voltage=230, low=100)
    sound = constant_power(2000, id="sound", node="near", a="L1", b="N", voltage=230, low=205)
    ends = [("far", 2.0), ("near", 0.05)]
    branches = tuple(Branch(id=n, start="S", end=n, wires=(wire("L1", r), wire("N", r))) for n, r in ends)
    found = solve(Network(source=supply(node="S", system="single-phase", voltage=230, line=0.05, neutral=0.05), branches=branches, loads=(weak, sound)))

    assert found.solved and [d.load for d in found.dropped] == ["weak"] and found.dropped[0].forced
