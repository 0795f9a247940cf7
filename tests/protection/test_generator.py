"""Sources with little fault current: judged by what flows at the time that matters, not by impedance alone."""

from math import exp, hypot, sqrt

import pytest

from pycore.protection import earth_fault
from tests.protection.rigs import IEC, changed, findings

D, EARTH = "runs/K1/device", "supply/earth"
SET = {"supply/kind": "generator", "supply/system": "three-phase wye", "supply/impedance": "", f"{EARTH}/arrangement": "separate", f"{EARTH}/bond": "bonded", f"{EARTH}/loop": "",
       "supply/rated_power": "60 kVA", "supply/subtransient": "12 %", "supply/transient": "20 %", f"{EARTH}/sustained": "260 A"}
NO_RESIDUAL = {f"{D}/residual": "none", f"{D}/residual_rating": ""}
CURRENTS = {"I_s2": 700.0, "I_s1": 400.0, "I_st": 250.0, "T_s2": 0.01, "T_s1": 0.06}


def test_current_falls_from_first_to_last():
    """Sub-transient at first, sustained at last, never rising in between."""
    assert earth_fault.decayed(**CURRENTS, t=0) == pytest.approx(700)
    assert earth_fault.decayed(**CURRENTS, t=5) == pytest.approx(250)
    values = [earth_fault.decayed(**CURRENTS, t=t / 1000) for t in range(0, 500, 5)]
    assert all(a > b for a, b in zip(values, values[1:], strict=False))


def test_by_hand():
    """60 kVA, 230/400 V: what flows to earth at the end of 30 m of 6 mm² after a tenth of a second."""
    between = 230 * sqrt(3)
    first, second = (230 / (x * between**2 / 60e3) for x in (0.12, 0.20))
    terminal = (first - second) * exp(-0.1 / 0.01) + (second - 260) * exp(-0.1 / 0.06) + 260
    warm = 3.30e-3 * (1 + 0.00393 * 40)
    expected = 0.95 * 230 / hypot(2 * 30 * warm, 230 / terminal + 2 * 30 * 0.08e-3)
    found = findings(changed(IEC, SET, NO_RESIDUAL))["earth-fault"]

    assert found.demand.value == pytest.approx(expected, rel=1e-6)
    assert found.limit.term.value == 125


def test_impedance_alone_would_mislead():
    """By its sub-transient reactance this set gives far more than the breaker needs; a tenth of a second later it does not."""
    weak = changed(IEC, SET, NO_RESIDUAL, {f"{EARTH}/sustained": "60 A"})
    by_impedance = 0.95 * 230 / hypot(0.229, 0.12 * (230 * sqrt(3)) ** 2 / 60e3)
    found = findings(weak)["earth-fault"]

    assert by_impedance > 125 > found.demand.value
    assert found.verdict == "stop"


def test_a_residual_device_does_where_the_breaker_cannot():
    """With 30 mA on it the same weak set is clear."""
    assert findings(changed(IEC, SET, {f"{EARTH}/sustained": "60 A"}))["earth-fault"].verdict == "clear"


@pytest.mark.parametrize("gone", ["supply/subtransient", "supply/transient", f"{EARTH}/sustained", "supply/rated_power"])
def test_a_breaker_is_not_trusted_to_typical_sets(gone):
    """Sets differ too much: without this set's own figure the breaker is not judged."""
    found = findings(changed(IEC, SET, NO_RESIDUAL, {gone: ""}))

    assert "earth-fault" not in found
    assert gone in {p.address for p in found["protection/runs/K1"].problems}


def test_a_floating_neutral_is_no_earth():
    """Not bonded: no current comes back, so neither breaker nor residual device answers."""
    found = findings(changed(IEC, SET, {f"{EARTH}/bond": "floating"}))

    assert found["earth-fault"].verdict == found["supply-earth"].verdict == "unknown"
    assert "licensed person" in found["earth-fault"].problems[0].way_out


def test_an_inverter_is_left_to_its_residual_device():
    """An inverter limits its own current: a breaker is not judged by a loop, a residual device is."""
    inverter = {"supply/kind": "battery", "supply/rated_power": "5 kVA", f"{EARTH}/arrangement": "separate", f"{EARTH}/bond": "bonded", f"{EARTH}/fault_current_max": "60 A"}
    assert findings(changed(IEC, inverter))["earth-fault"].verdict == "clear"
    alone = findings(changed(IEC, inverter, NO_RESIDUAL))["earth-fault"]
    assert alone.verdict == "unknown" and alone.problems[0].code == "inverter-limits"
