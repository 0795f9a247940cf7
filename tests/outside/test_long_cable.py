"""Pulses widened by a cable, against a rectifier solved in the time domain (long_cable/simulate.py).

The core is told what the rectifier shows on a stiff supply (power, reactive power, distortion) and the cable; nothing else.
"""

import json
from math import hypot, pi
from pathlib import Path

import pytest

from pycore.powerflow.network import Branch, Load, Network, wire
from pycore.powerflow.operate import operate
from pycore.powerflow.pulse import angle_of, pulse_spectrum
from pycore.powerflow.source import supply

FOLDER = Path(__file__).parent / "long_cable"
ANSWER = json.loads((FOLDER / "answer.json").read_text())
STIFF, *CABLES = ANSWER["cables"]
LEAD = 0.055  # rad, as the typical spectrum has it


def ours(cable):
    """The core's answer behind a cable."""
    pulse = angle_of(STIFF["distortion"])
    load = Load(id="A", node="box", a="L1", b="N", voltage=230.0, power=STIFF["power"], reactive=STIFF["fundamental_reactive"],
                spectrum=pulse_spectrum(pulse, LEAD), pulse=pulse, lead=LEAD)
    half = cable["R"] / 2, pi * 50 * cable["L"]
    branch = Branch(id="F", start="S", end="box", wires=(wire("L1", *half), wire("N", *half)))
    return operate(Network(source=supply(node="S", system="single-phase", voltage=230.0, line=0, neutral=0), branches=(branch,), loads=(load,), frequency=50.0))


def share(found, order):
    """Share of an order in the load's current."""
    amps = found.distortion.load_current("A")
    return abs(amps[order]) / abs(amps[1])


def test_the_simulation_is_of_this_circuit_and_had_come_to_rest():
    """The last two periods differ by less than a milliampere."""
    assert ANSWER["circuit"] == json.loads((FOLDER / "circuit.json").read_text())
    assert all(c["difference_of_last_two_periods"] < 1e-3 for c in ANSWER["cables"])


@pytest.mark.parametrize("cable", CABLES, ids=lambda c: f"{c['R']} Ω")
def test_current_voltage_and_power(cable):
    """Current within 0.5 %, voltage within 0.1 %, power at the fundamental within 1 %, distortion within 2 points, the third within 1.5."""
    found = ours(cable)
    amps = found.distortion.rms_currents("F")["L1"]

    assert amps == pytest.approx(cable["current"], rel=0.005)
    assert abs(found.flow.loads["A"].voltage) == pytest.approx(cable["voltage"], rel=0.001)
    assert found.flow.loads["A"].power.real == pytest.approx(cable["fundamental_power"], rel=0.01)
    assert hypot(*(share(found, h) for h in range(3, 26, 2))) == pytest.approx(cable["distortion"], abs=0.02)
    assert share(found, 3) == pytest.approx(cable["third"], abs=0.015)


def test_a_fixed_spectrum_would_not_do():
    """The distortion on the stiff supply is half as much again as behind the longest cable, and its current a fifth more."""
    fixed = STIFF["power"] * hypot(1, STIFF["distortion"]) / CABLES[-1]["voltage"]

    assert STIFF["distortion"] > 1.5 * CABLES[-1]["distortion"]
    assert fixed > 1.15 * CABLES[-1]["current"]
