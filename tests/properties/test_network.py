"""What holds for every network: both laws of Kirchhoff, the power balance, the symmetry of the phases, and an honest end."""

from dataclasses import replace
from math import isfinite, nan

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pycore.base.problem import Refused
from pycore.powerflow.faults import open_wire, poor_wire
from pycore.powerflow.flow import State
from pycore.powerflow.fundamental import solve
from pycore.powerflow.harmonics import distort
from pycore.powerflow.network import Branch, Load, Network, wire
from pycore.powerflow.operate import operate
from pycore.powerflow.phasor import wye
from pycore.powerflow.source import supply
from tests.properties.networks import networks

thorough = settings(deadline=None, max_examples=50)


def drawn(load, point):
    """Current of a load that is on, by its law, not by the solver's own function."""
    u = abs(point.voltage)
    power = complex(load.power, load.reactive) * (u / load.voltage) ** load.exponent
    return (power / point.voltage).conjugate()


def meet_kirchhoff(flow):
    """Ohm's law along every wire, and at every node what comes in goes out, all from voltages and the loads' laws."""
    network, volts = flow.network, {n: dict(zip(c, v, strict=True)) for n, c, v in zip(flow.tree.nodes, flow.tree.conductors, flow.volts, strict=True)}
    left = {(n, c): 0j for n, v in volts.items() for c in v}
    for c, e in network.source.emf.items():
        left[network.source.node, c] += flow.current("", c)
        assert abs(e - network.source.z[c] * flow.current("", c) - volts[network.source.node][c]) < 1e-5
    for b in network.branches:
        for w in b.wires:
            i = flow.current(b.id, w.bottom)
            assert abs(volts[b.start][w.top] - complex(w.r + w.joint, w.x) * i - volts[b.end][w.bottom]) < 1e-5
            left[b.start, w.top] -= i
            left[b.end, w.bottom] += i
    for load in network.loads:
        point = flow.loads[load.id]
        i = point.current if point.out else drawn(load, point)
        left[load.node, load.a] -= i
        left[load.node, load.b] += i
    assert max(map(abs, left.values())) < 1e-4


@thorough
@given(networks())
def test_kirchhoff_and_power(network):
    """At every node and along every wire; and the source gives what loads take and wires lose."""
    flow = solve(network)
    assume(flow.solved)
    assume(all(abs(p.voltage) > 0.3 * x.voltage for x in network.loads for p in [flow.loads[x.id]]))  # where no cap on the current acts

    meet_kirchhoff(flow)
    given_ = sum((e * flow.current("", c).conjugate()).real for c, e in network.source.emf.items())
    taken = sum(p.power.real for p in flow.loads.values())
    lost = flow.loss("") + sum(flow.loss(b.id) for b in network.branches)
    assert given_ == pytest.approx(taken + lost, abs=1e-3)


@thorough
@given(networks(), st.data())
def test_kirchhoff_with_a_bad_or_broken_wire(network, data):
    """The same equations with a wire broken or some ohms in it."""
    branch = data.draw(st.sampled_from(network.branches))
    conductor = data.draw(st.sampled_from([w.bottom for w in branch.wires]))
    ohms = data.draw(st.sampled_from([None, 2.0, 30.0]))
    flow = solve(open_wire(network, branch.id, conductor) if ohms is None else poor_wire(network, branch.id, conductor, ohms))

    assert flow.solved or flow.fails
    if flow.solved:
        assert flow.residuals.small
        if all(p.out or abs(p.voltage) > 0.3 * x.voltage for x in network.loads for p in [flow.loads[x.id]]):
            meet_kirchhoff(flow)


@thorough
@given(networks(systems=("three-phase wye",)))
def test_turning_the_phases_turns_the_answer(network):
    """Every load and wire one phase further: the same magnitudes, one phase further."""
    onward = {"L1": "L2", "L2": "L3", "L3": "L1", "N": "N"}
    branches = tuple(replace(b, wires=tuple(replace(w, top=onward[w.top], bottom=onward[w.bottom]) for w in b.wires)) for b in network.branches)
    turned = replace(network, branches=branches, loads=tuple(replace(x, a=onward[x.a], b=onward[x.b]) for x in network.loads))
    first, second = solve(network), solve(turned)

    assert first.state is second.state
    if first.solved:
        assert [d.load for d in first.dropped] == [d.load for d in second.dropped]
        for x in network.loads:
            assert abs(second.loads[x.id].voltage) == pytest.approx(abs(first.loads[x.id].voltage), abs=1e-5)
        for b in network.branches:
            assert abs(second.current(b.id, "N")) == pytest.approx(abs(first.current(b.id, "N")), abs=1e-4)


@thorough
@given(networks(systems=("three-phase wye",)), st.permutations(["L1", "L2", "L3"]))
def test_names_of_phases_mean_nothing(network, order):
    """Renaming the phases, EMFs too, renames the answer."""
    new = dict(zip(["L1", "L2", "L3"], order, strict=True)) | {"N": "N"}
    source = replace(network.source, emf={new[c]: e for c, e in network.source.emf.items()}, z={new[c]: z for c, z in network.source.z.items()})
    branches = tuple(replace(b, wires=tuple(replace(w, top=new[w.top], bottom=new[w.bottom]) for w in b.wires)) for b in network.branches)
    renamed = Network(source=source, branches=branches, loads=tuple(replace(x, a=new[x.a], b=new[x.b]) for x in network.loads), frequency=network.frequency)
    first, second = solve(network), solve(renamed)

    assert first.state is second.state
    if first.solved:
        for x in network.loads:
            assert abs(first.loads[x.id].voltage - second.loads[x.id].voltage) < 1e-5


@thorough
@given(networks(power=st.floats(10, 400)), st.floats(0.3, 3.0))
def test_everything_scales(network, k):
    """All voltages times k and all powers times k²: the same picture, k times as high."""
    def scaled(x: Load) -> Load:
        return replace(x, power=x.power * k**2, reactive=x.reactive * k**2, voltage=x.voltage * k, low=x.low * k, high=x.high * k)

    source = replace(network.source, emf={c: e * k for c, e in network.source.emf.items()})
    first, second = solve(network), solve(replace(network, source=source, loads=tuple(map(scaled, network.loads))))

    assert first.state is second.state
    if first.solved:
        for x in network.loads:
            assert abs(second.loads[x.id].voltage - k * first.loads[x.id].voltage) < 1e-5


@thorough
@given(st.sampled_from([0.0, 1.0, 1.6, 2.0, 2.2]), st.floats(100, 8000), st.floats(0, 1.7), st.floats(1, 200), st.floats(1, 100), st.floats(0, 2e-4))
def test_a_longer_cable_never_raises_the_far_voltage_of_a_lone_load(exponent, power, tangent, length, more, x):
    """Resistive or lagging load, 4 mm² at 4.95 Ω/km out and back."""
    def far(metres):
        wires = (wire("L1", 4.95e-3 * metres, x * metres), wire("N", 4.95e-3 * metres, x * metres))
        load = Load(id="A", node="end", a="L1", b="N", power=power, reactive=tangent * power, voltage=230.0, exponent=exponent)
        flow = solve(Network(source=supply(node="S", system="single-phase", voltage=230, line=0.05, neutral=0.05),
                             branches=(Branch(id="K", start="S", end="end", wires=wires),), loads=(load,)))
        return abs(flow.loads["A"].voltage) if flow.solved else 0.0

    assert far(length + more) <= far(length) + 1e-6


@thorough
@given(networks(power=st.floats(1, 1e6)))
def test_no_silent_failure(network):
    """Whatever the load: voltages that meet the equations, or a named place that fails. Never an exception, never a NaN."""
    flow = solve(network)

    if flow.solved:
        assert flow.residuals.small
        assert all(isfinite(abs(v)) for row in flow.volts for v in row)
        for x in network.loads:
            point = flow.loads[x.id]
            assert point.out or x.low <= abs(point.voltage) <= x.high
            if x.exponent == 0 and not point.out:
                assert point.power.real == pytest.approx(x.power, rel=1e-6)
    else:
        assert flow.state is State.COLLAPSED
        assert not flow.volts and flow.fails.load and 0 <= flow.fails.share < 1


@thorough
@given(networks(power=st.floats(100, 2e4)), st.floats(0.2, 0.95))
def test_less_load_never_collapses_first(network, share):
    """A rig of plain constant-power loads that finds its point finds one with less of everything too."""
    plain = replace(network, loads=tuple(replace(x, exponent=0.0, low=0.0, high=1e9, reactive=abs(x.reactive)) for x in network.loads))
    assume(solve(plain).solved)

    less = replace(plain, loads=tuple(replace(x, power=x.power * share, reactive=x.reactive * share) for x in plain.loads))
    assert solve(less).solved


@thorough
@given(networks(), st.data())
def test_nan_is_refused(network, data):
    """One NaN anywhere among the numbers and there is no answer."""
    n = data.draw(st.integers(0, len(network.loads) - 1))
    key = data.draw(st.sampled_from(["power", "reactive", "voltage", "exponent", "low", "high", "fold"]))
    bad = replace(network, loads=tuple(replace(x, **{key: nan}) if k == n else x for k, x in enumerate(network.loads)))

    with pytest.raises(Refused):
        solve(bad)


@thorough
@given(networks(power=st.floats(10, 400)))
def test_kirchhoff_at_every_order(network):
    """What goes out at an order comes back; Ohm's law along every wire at its own reactance."""
    flow = solve(network)
    assume(flow.solved)
    found = distort(flow)

    for n, h in enumerate(found.orders):
        assert abs(sum(found.current("", c)[h] for c in network.source.emf)) < 1e-6
        for b in network.branches:
            for w in b.wires:
                i = found.current(b.id, w.bottom)[h]
                above = found.volts[flow.tree.number[b.start]][flow.tree.conductors[flow.tree.number[b.start]].index(w.top)][n]
                below = found.volts[flow.tree.number[b.end]][flow.tree.conductors[flow.tree.number[b.end]].index(w.bottom)][n]
                assert abs(above - complex(w.r, h * w.x) * i - below) < 1e-6


@thorough
@given(networks(power=st.floats(10, 400)), st.floats(0, 0.6))
def test_harmonics_are_paid_for(network, third):
    """With every order counted, the source gives what the loads take and what the wires lose, and a load of constant power takes just that."""
    loads = tuple(replace(x, spectrum=((3, third, 0.1), (5, third / 2, 0.2))) if not x.exponent else replace(x, spectrum=()) for x in network.loads)
    found = operate(network.with_loads(loads))
    assume(found.flow.solved)
    source, flow, d = network.source, found.flow, found.distortion

    given_ = sum((e * flow.current("", c).conjugate()).real for c, e in source.emf.items())
    taken = sum(p.power.real - d.returned.get(i, 0.0) for i, p in flow.loads.items())
    of_filaments = sum((v * i.conjugate()).real for x in loads if x.passive and not flow.loads[x.id].out
                       for h in d.orders for v, i in [(d.voltage(x.node, x.a, x.b)[h], d.load_current(x.id)[h])])
    wires = [(z.real, d.current("", c)) for c, z in source.z.items()] + [(w.r + w.joint, d.current(b.id, w.bottom)) for b in network.branches for w in b.wires]
    lost = sum(r * abs(i) ** 2 for r, orders in wires for i in orders.values())

    assert given_ == pytest.approx(taken + of_filaments + lost, rel=1e-4, abs=1e-2)
    for x in loads:
        if x.spectrum and x.power > 0 and not flow.loads[x.id].out:
            assert flow.loads[x.id].power.real - d.returned[x.id] == pytest.approx(x.power, rel=1e-4, abs=1e-3)


def test_wye_adds_to_nothing():
    """The EMFs of a wye."""
    assert abs(sum(wye(230).values())) < 1e-9
