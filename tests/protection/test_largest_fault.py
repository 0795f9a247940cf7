"""The largest fault current: cold, at the highest voltage, between all conductors, at the head of the run."""

import pytest

from tests.protection.rigs import IEC, changed, findings

EARTH = "supply/earth"


def most(**entries):
    """The largest fault current at K1's device, A."""
    return findings(changed(IEC, {k.replace("__", "/"): v for k, v in entries.items()}))["device-breaking"].demand.value


def test_single_phase():
    """1.1 × 230 V over the outlet's loop."""
    assert most() == pytest.approx(1.1 * 230 / 0.25)


@pytest.mark.parametrize("system", ["split-phase", "three-phase wye"])
def test_between_lines_it_is_twice(system):
    """Lines need no neutral to return by."""
    assert most(supply__system=system) == pytest.approx(2 * 1.1 * 230 / 0.25)


def test_a_given_one_is_believed():
    """What was measured or told is the largest at the outlet, whatever the system."""
    assert most(supply__earth__fault_current_max="4 kA", supply__system="three-phase wye") == pytest.approx(4000)


def test_a_feeder_before_it_lowers_it():
    """Twenty metres of 6 mm², cold, stand before the second device."""
    more = {"runs__K0__fed_by": "supply", "runs__K0__length": "20 m", "runs__K0__size": "6 mm²", "runs__K1__fed_by": "K0"}
    resistance, reactance = 0.25 + 2 * 20 * 3.30e-3, 2 * 20 * 0.08e-3

    assert most(**more) == pytest.approx(1.1 * 230 / (resistance**2 + reactance**2) ** 0.5)


def test_a_guessed_supply_gives_none():
    """A typical loop is no basis for a breaking capacity."""
    found = findings(changed(IEC, {"supply/impedance": ""}))

    assert "device-breaking" not in found and "supply/impedance" in {p.address for p in found["protection/runs/K1"].problems}


def test_a_generator_by_its_first_reactance():
    """Sub-transient, and half as much again to neutral."""
    sets = {"supply__kind": "generator", "supply__impedance": "", "supply__earth__arrangement": "separate", "supply__earth__bond": "bonded", "supply__system": "three-phase wye",
            "supply__rated_power": "60 kVA", "supply__subtransient": "12 %"}
    reactance = 0.12 * 3 * 230**2 / 60e3

    assert most(**sets) == pytest.approx(1.5 * 1.1 * 230 / reactance)
