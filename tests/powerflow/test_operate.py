"""The rig at its own temperature."""

from dataclasses import replace
from math import pi, sqrt

import pytest

from pycore.powerflow.flow import State
from pycore.powerflow.kinds import constant_current, constant_power
from pycore.powerflow.network import OPEN, Wire
from pycore.powerflow.operate import operate
from pycore.powerflow.pulse import pulse_spectrum
from pycore.powerflow.source import supply
from pycore.rig.harmonics import distortion as total
from tests.powerflow.rigs import one_cable


def heat(branch, amps):
    """Copper that gains 40 K at 20 A."""
    return {w.bottom: w.r * (1 + 0.00393 * 40 * (amps[w.bottom] / 20) ** 2) for w in branch.wires}


def current(amps, **more):
    return constant_current(230 * amps, id="A", node="box", a="L1", b="N", voltage=230, **more)


def test_resistance_follows_the_current():
    """20 A and 40 K: 0.1572 more resistance, 20 A · 2 · 0.25 Ω · 1.1572 of drop."""
    found = operate(one_cable(current(20), r=0.25), heat)

    assert 230 - abs(found.flow.loads["A"].voltage) == pytest.approx(20 * 0.5 * 1.1572, abs=1e-3)
    assert found.unrest < 1e-3 and found.turns >= 1


def test_constant_power_warms_and_draws_more():
    """Self-consistent by hand: R = 0.5·(1 + 0.1572·(I/20)²), V = 230 - R·I, V·I = 4000 W."""
    found = operate(one_cable(constant_power(4000, id="A", node="box", a="L1", b="N", voltage=230), r=0.25), heat)
    v, i = abs(found.flow.loads["A"].voltage), abs(found.flow.loads["A"].current)

    assert v * i == pytest.approx(4000)
    assert v == pytest.approx(230 - 0.5 * (1 + 0.1572 * (i / 20) ** 2) * i, abs=1e-3)


def test_harmonics_heat_as_well():
    """75 % of third harmonic makes 1.25 times the rms."""
    found = operate(one_cable(current(20, spectrum=((3, 0.75, 0.0),)), r=0.25), heat)

    assert 230 - abs(found.flow.loads["A"].voltage) == pytest.approx(20 * 0.5 * (1 + 0.1572 * 1.25**2), abs=1e-3)
    assert found.distortion.rms_currents("F")["L1"] == pytest.approx(20 * sqrt(1 + 0.75**2), rel=1e-6)


def test_bad_contact_does_not_warm_the_wire():
    """A joint keeps its resistance whatever the wire does."""
    found = operate(one_cable(current(20), r=0.25, N=Wire(top="N", bottom="N", r=0.25, joint=1.0)), heat)

    assert 230 - abs(found.flow.loads["A"].voltage) == pytest.approx(20 * (0.5 * 1.1572 + 1), abs=2e-3)


def test_collapse_through_heat():
    """20 kW pass through the cold cable (26 450 W at most), not through the one that they warm."""
    net = one_cable(constant_power(20_000, id="A", node="box", a="L1", b="N", voltage=230), r=0.25)

    assert operate(net).flow.solved
    assert operate(net, heat).flow.state is State.COLLAPSED


def test_temperatures_that_do_not_rest_are_no_answer():
    """A cable that flips between two resistances has no steady state."""
    turn = [0]

    def flips(branch, amps):
        turn[0] += 1
        return {w.bottom: w.r * (1 + turn[0] % 2) for w in branch.wires}

    found = operate(one_cable(current(20)), flips)
    assert found.flow.state is State.UNSETTLED and found.distortion is None


def test_nan_from_the_cable_model_is_no_rest():
    """A NaN resistance never passes for a temperature at rest."""
    found = operate(one_cable(current(20)), lambda branch, amps: {w.bottom: float("nan") for w in branch.wires})

    assert found.flow.state is State.UNSETTLED


def test_break_and_heat():
    """What dropped out on the way stays out when the cable warms."""
    lamps = [constant_power(p, id=f"A{n}", node="box", a=f"L{n}", b="N", voltage=120, low=90, high=250) for n, p in ((1, 1000), (2, 1300))]
    found = operate(one_cable(*lamps, wires=3, voltage=120, N=Wire(top="N", bottom="N", r=0.1, joint=OPEN)), heat)

    assert found.flow.solved and {d.load for d in found.flow.dropped} == {"A1", "A2"}
    assert len(found.flow.dropped) == 2


def rectifiers(*, line, harmonic):
    """Two unlike rectifiers on two phases and one cable, behind a source of `line` Ω that shows `harmonic` Ω to harmonics."""
    made = []
    for n, (watts, angle) in enumerate(((2500, 0.4), (1200, 0.5)), 1):
        made.append(constant_power(watts, id=f"A{n}", node="box", a=f"L{n}", b="N", voltage=230, spectrum=pulse_spectrum(angle, 0.05), pulse=angle, lead=0.05))
    net = one_cable(*made, wires=3, r=0.1)
    return operate(replace(net, source=supply(node=net.source.node, system="three-phase wye", voltage=230.0, line=line, neutral=line, harmonic_line=harmonic)))


def test_without_reactance_pulses_are_even_and_on_time():
    """What another phase returns through the shared neutral is no reactance: the reactive power stays what it was, and every order is at its place."""
    found = rectifiers(line=0.05, harmonic=None)

    assert all(load.reactive == 0 for load in found.flow.network.loads)
    assert all(min(abs(angle - h * 0.05), abs(angle - h * 0.05 - pi)) < 1e-12 for load in found.flow.network.loads for h, _, angle in load.spectrum)


def test_a_reactance_makes_pulses_wider_and_late():
    """0.8 Ω to harmonics alone: a tenth less distortion at the least, a good part of the power as reactive power, and the turns come to rest soon."""
    even, bent = rectifiers(line=0.05, harmonic=None), rectifiers(line=0.05, harmonic=0.8j)

    for a, b in zip(even.flow.network.loads, bent.flow.network.loads, strict=True):
        assert total(b.spectrum) < 0.9 * total(a.spectrum)
        assert 0.15 * b.power < b.reactive < 0.48 * b.power
    assert bent.turns <= 8
