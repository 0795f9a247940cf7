"""Harmonics against a circuit solved in the time domain: rectifiers that share a neutral (rectifiers/simulate.py)."""

import json
from cmath import phase
from math import pi
from pathlib import Path

import pytest

from pycore.powerflow.distortion import crest_factor, thd
from pycore.powerflow.harmonics import distort
from pycore.powerflow.kinds import constant_impedance
from pycore.powerflow.network import Branch, Load, Network, wire
from pycore.powerflow.operate import operate
from pycore.powerflow.phasor import rms
from pycore.powerflow.source import supply
from pycore.powerflow.spectrum import typical

FOLDER = Path(__file__).parent / "rectifiers"
LINES = ("L1", "L2", "L3")


def phasors(stored):
    """Orders as complex numbers."""
    return {int(h): complex(*z) for h, z in stored.items()}


@pytest.fixture(scope="module")
def measured():
    """The time-domain answer and its circuit."""
    return json.loads((FOLDER / "answer.json").read_text()), json.loads((FOLDER / "circuit.json").read_text())


def network(circuit, loads):
    """The same wires for the solver."""
    ohms = [*zip(circuit["line_R"], circuit["line_L"], strict=True), (circuit["neutral_R"], circuit["neutral_L"])]
    wires = tuple(wire(c, r, 2 * pi * circuit["frequency"] * coil) for c, (r, coil) in zip((*LINES, "N"), ohms, strict=True))
    filaments = tuple(constant_impedance(g * 230**2, id=f"T{k}", node="box", a=c, b="N", voltage=230) for k, (c, g) in enumerate(zip(LINES, circuit["filament_G"], strict=True)) if g)
    source = supply(node="S", system="three-phase wye", voltage=circuit["voltage"], line=0, neutral=0)
    return Network(source=source, branches=(Branch(id="F", start="S", end="box", wires=wires),), loads=(*loads, *filaments), frequency=circuit["frequency"])


def load(k, conductor, found):
    """A load with the power (all orders) and the spectrum that its terminals show."""
    i, v = phasors(found["current"]), phasors(found["voltage"])
    s = v[1] * i[1].conjugate()
    spectrum = tuple((h, abs(z) / abs(i[1]), phase(z) - h * phase(v[1])) for h, z in i.items() if h > 1)
    return Load(id=f"A{k}", node="box", a=conductor, b="N", power=found["power"], reactive=s.imag, voltage=230.0, spectrum=spectrum)


@pytest.fixture(scope="module")
def ours(measured):
    """Our solution with the loads as their terminals show them."""
    answer, circuit = measured
    return distort(operate(network(circuit, [load(k, c, f) for k, (c, f) in enumerate(zip(LINES, answer["loads"], strict=True))])).flow)


def test_the_simulation_had_come_to_rest(measured):
    """Its last two periods differ by less than 1 mV and 1 mA, and it is of this circuit."""
    assert measured[0]["circuit"] == measured[1]
    assert measured[0]["difference_of_last_two_periods"] < 1e-3


def test_neutral_order_by_order(measured, ours):
    """Every order of the neutral current within 0.3 % of the neutral's rms, as a phasor."""
    theirs, total = phasors(measured[0]["neutral"]), measured[0]["neutral_rms"]
    found = ours.current("F", "N")

    assert found.keys() == theirs.keys()
    for h, z in theirs.items():
        assert abs(-found[h] - z) <= 0.003 * total, h  # ours counts away from the source


def test_rms_of_neutral_and_lines(measured, ours):
    """Rms values within 0.2 %; with three equal phases of this kind the neutral would carry 1.7 times a line."""
    found = ours.rms_currents("F")

    assert found["N"] == pytest.approx(measured[0]["neutral_rms"], rel=0.002)
    assert [found[c] for c in LINES] == pytest.approx(measured[0]["lines_rms"], rel=0.002)
    assert found["N"] > 1.6 * found["L1"]


def test_voltage_distortion_at_the_box(measured, ours):
    """Voltage distortion within 1 % of itself, at every load."""
    for c, found in zip(LINES, measured[0]["loads"], strict=True):
        assert thd(ours.voltage("box", c)) == pytest.approx(thd(phasors(found["voltage"])), rel=0.01)


def test_crest_factor(measured, ours):
    """The peak of the rebuilt wave against the simulated one within 2 %: orders above 49 are cut off."""
    for k, found in enumerate(measured[0]["loads"]):
        assert crest_factor(ours.load_current(f"A{k}")) == pytest.approx(found["crest"], rel=0.02)


def test_typical_spectrum_is_good_for_an_estimate(measured):
    """With the typical spectrum and nameplate powers alone, the neutral comes out within 10 %."""
    answer, circuit = measured
    guess = [Load(id=f"A{k}", node="box", a=c, b="N", power=f["power"], voltage=230.0, spectrum=typical()["electronic"].parts)
             for k, (c, f) in enumerate(zip(LINES, answer["loads"], strict=True))]
    found = distort(operate(network(circuit, guess)).flow)

    assert rms(found.current("F", "N").values()) == pytest.approx(answer["neutral_rms"], rel=0.10)
