"""gG fuses: the gates of one standard against the loop limits of another, and what is said where none are listed."""

import pytest

from pycore.base.problem import Refused
from pycore.base.table import table
from pycore.protection import iec
from pycore.protection.rule_sets import SETS
from pycore.rig.model import Device
from tests.protection.rigs import IEC, changed, findings

# Largest loops in Ω times 0.8, as an installation tester's manual prints them for fuses to BS 88-2 at 230 V: for 5 s, and up to 32 A for 0.4 s.
FIVE_SECONDS = {16: 3.344, 20: 2.36, 25: 1.84, 32: 1.472, 40: 1.08, 50: 0.832, 63: 0.656, 80: 0.456, 100: 0.368, 125: 0.272, 160: 0.224, 200: 0.152}
QUICK = {16: 2.048, 20: 1.416, 25: 1.08, 32: 0.832}
D = "runs/K1/device"


@pytest.mark.parametrize(("rating", "ohms"), FIVE_SECONDS.items())
def test_five_second_currents_lie_between_the_gates(rating, ohms):
    """BS 88-2 fuses are made to IEC 60269: what opens them in five seconds lies between the gates of 10 s and 5 s."""
    gates, amps = table("fuse-gates"), 0.8 * 230 / ohms

    assert gates.cell(float(rating), "holds_10s").value < amps < gates.cell(float(rating), "melts_5s").value


@pytest.mark.parametrize(("rating", "ohms"), QUICK.items())
def test_quick_currents_lie_between_the_gates(rating, ohms):
    """What opens them in 0.4 s lies between the gates of 5 s and 0.1 s, so judging 0.4 s by the 0.1 s gate is cautious."""
    gates, amps = table("fuse-gates"), 0.8 * 230 / ohms

    assert gates.cell(float(rating), "melts_5s").value < amps < gates.cell(float(rating), "melts_01s").value


def test_gates_leave_no_gap_the_wrong_way():
    """Within a row a longer time needs less current, and what is held is less than what melts."""
    for row in table("fuse-gates").rows:
        held_long, melts_late, held_short, melts_quick = (float(x) for x in row[1:])
        assert held_long < melts_late < melts_quick and held_long < held_short < melts_quick


@pytest.mark.parametrize("rating", ["13 A", "10 A", "35 A", "500 A"])
def test_without_gates_it_says_what_to_do(rating):
    """A fuse without listed gates is refused, with the reason and the way out; no curve is made up for it."""
    found = findings(changed(IEC, {f"{D}/kind": "gG", f"{D}/rating": rating, f"{D}/residual": "none", f"{D}/residual_rating": ""}))["earth-fault"]

    assert found.verdict == "unknown"
    assert "No time gates are listed here" in found.says and "maker's curve" in found.problems[0].way_out


def test_another_device_says_why_its_slow_part_is_unknown():
    """Neither a curve letter nor gG: the slow part is nobody's guess."""
    with pytest.raises(Refused, match="neither a curve letter nor gG"):
        iec.slow(Device(kind="other"))


def test_a_fuse_protects_a_cable_by_its_fusing_current():
    """1.6 times its rating opens a gG fuse, so it may be 1.45/1.6 of the cable's capacity: 39 A carry a 35.3 A fuse."""
    rules = SETS["iec"]

    assert 39 * rules.cable_factor(Device(kind="gG")).value == pytest.approx(35.34, abs=0.01)
    assert findings(changed(IEC, {f"{D}/kind": "gG", f"{D}/rating": "32 A"}))["device-rating"].verdict == "clear"
    assert findings(changed(IEC, {f"{D}/kind": "gG", f"{D}/rating": "40 A"}))["device-rating"].note == "Cable unprotected"
