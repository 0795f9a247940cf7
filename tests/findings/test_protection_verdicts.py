"""Every finding of protection: a rig that makes it clear, one tight, one stop, and one for which it cannot be made."""

import pytest

from pycore.base.result import Verdict
from tests.protection.rigs import IEC, NA, changed, findings

D, LAID, EARTH, OUT = "runs/K1/device", "runs/K1/laid", "supply/earth", "supply/device"
NO_RESIDUAL = {f"{D}/residual": "none", f"{D}/residual_rating": ""}
GENERATOR = {"supply/kind": "generator", "supply/system": "three-phase wye", "supply/impedance": "", f"{EARTH}/arrangement": "separate", f"{EARTH}/bond": "bonded", f"{EARTH}/loop": "",
             "supply/rated_power": "60 kVA", "supply/subtransient": "12 %", "supply/transient": "20 %", f"{EARTH}/sustained": "260 A"}
OVERHEAD = {"supply/site/overhead": "poles", "supply/site/line_distance": "40 m"}
UNKNOWN = "unknown"

IEC_CASES = [
    ("run-current", "clear", {}),
    ("run-current", "tight", {"runs/K1/size": "2.5 mm²", "runs/K1/length": "10 m"}),
    ("run-current", "stop", {"runs/K1/size": "1.5 mm²", "runs/K1/length": "10 m"}),
    ("run-current", "stop", {f"{LAID}/how": "reel", f"{LAID}/layers": "3"}),
    ("run-current", UNKNOWN, {f"{LAID}/how": "reel"}),
    ("run-current", UNKNOWN, {f"{LAID}/how": "reel", f"{LAID}/layers": "5"}),
    ("run-current", UNKNOWN, {"runs/K1/size": ""}),
    ("run-current", UNKNOWN, {"runs/K1/ambient": "58 °C"}),
    ("device-rating", "clear", {f"{D}/rating": "32 A"}),
    ("device-rating", "tight", {}),
    ("device-rating", "stop", {f"{D}/rating": "40 A"}),
    ("device-rating", "stop", {f"{D}/rating": "16 A"}),
    ("device-rating", UNKNOWN, {f"{D}/rating": "", "supply/rating": ""}),
    ("device-rating", "clear", {f"{D}/kind": "other", f"{D}/rating": "32 A", f"{D}/trips_from": "200 A", f"{D}/holds_to": "100 A"}),
    ("device-rating", "stop", {f"{D}/kind": "other", f"{D}/rating": "36 A", f"{D}/trips_from": "200 A", f"{D}/holds_to": "100 A"}),
    ("device-strike", "clear", {}),
    ("device-strike", "tight", {"loads/A1/inrush": "150 A"}),
    ("device-strike", "stop", {"loads/A1/inrush": "300 A", "loads/A1/inrush_time": "20 ms"}),
    ("device-strike", "tight", {"loads/A1/inrush": "300 A", "loads/A1/inrush_time": "1 ms"}),
    ("device-strike", "stop", {"loads/A1/run_up": "200 %"}),
    ("device-strike", UNKNOWN, {f"{D}/kind": "other"}),
    ("device-order", "clear", {"supply/rating": "63 A"}),
    ("device-order", "tight", {}),
    ("device-order", "stop", {"supply/rating": "25 A"}),
    ("device-order", UNKNOWN, {f"{OUT}/kind": "other"}),
    ("earth-fault", "clear", {}),
    ("earth-fault", "clear", NO_RESIDUAL),
    ("earth-fault", "tight", {**NO_RESIDUAL, f"{EARTH}/loop": "1.3 Ω"}),
    ("earth-fault", "stop", {**NO_RESIDUAL, f"{EARTH}/loop": "2 Ω"}),
    ("earth-fault", "stop", {**NO_RESIDUAL, f"{D}/kind": "D"}),
    ("earth-fault", UNKNOWN, {f"{EARTH}/arrangement": ""}),
    ("earth-fault", UNKNOWN, {f"{EARTH}/loop": ""}),
    ("earth-fault", UNKNOWN, {f"{EARTH}/loop": "2 Ω", f"{D}/residual": "", f"{D}/residual_rating": ""}),
    ("earth-fault", "clear", {f"{EARTH}/arrangement": "TT", f"{EARTH}/loop": "120 Ω"}),
    ("earth-fault", "stop", {**NO_RESIDUAL, f"{EARTH}/arrangement": "TT", f"{EARTH}/loop": "20 Ω"}),
    ("earth-fault", "clear", {**GENERATOR, **NO_RESIDUAL, f"{D}/kind": "B"}),
    ("earth-fault", "stop", {**GENERATOR, **NO_RESIDUAL, f"{EARTH}/sustained": "60 A"}),
    ("earth-fault", "clear", {**GENERATOR, f"{EARTH}/sustained": ""}),
    ("earth-fault", UNKNOWN, {**GENERATOR, f"{EARTH}/bond": "floating"}),
    ("residual-device", "clear", {}),
    ("residual-device", "tight", NO_RESIDUAL),
    ("residual-device", "tight", {f"{D}/residual_rating": "300 mA"}),
    ("residual-device", "stop", {f"{D}/residual": "AC"}),
    ("residual-device", "stop", {**NO_RESIDUAL, "supply/site/ground": "wet"}),
    ("residual-device", UNKNOWN, {f"{D}/residual": "", f"{D}/residual_rating": ""}),
    ("residual-budget", "clear", {}),
    ("residual-budget", "tight", {"loads/A1/earth_leakage": "12 mA"}),
    ("residual-budget", "stop", {"loads/A1/earth_leakage": "16 mA"}),
    ("residual-budget", UNKNOWN, {f"{D}/residual_rating": ""}),
    ("device-breaking", "clear", {}),
    ("device-breaking", "clear", {f"{D}/breaking_capacity": ""}),
    ("device-breaking", "tight", {"supply/impedance": "0.05 Ω"}),
    ("device-breaking", "stop", {"supply/impedance": "0.02 Ω"}),
    ("device-breaking", UNKNOWN, {"supply/impedance": ""}),
    ("device-breaking", UNKNOWN, {"supply/impedance": "0.1 Ω", f"{D}/breaking_capacity": ""}),
    ("cable-fault", "clear", {}),
    ("cable-fault", "tight", {"supply/impedance": "0.1 Ω", f"{D}/let_through": "600000 A²s"}),
    ("cable-fault", "stop", {f"{D}/let_through": "800000 A²s"}),
    ("cable-fault", UNKNOWN, {f"{EARTH}/fault_current_max": "12 kA"}),
    ("cable-fault", UNKNOWN, {"runs/K1/insulation": "85 °C"}),
    ("earth-conductor", "clear", {}),
    ("earth-conductor", "tight", {"loads/A1/earth_leakage": "7 mA"}),
    ("earth-conductor", "stop", {"loads/A1/earth_leakage": "12 mA"}),
    ("earth-conductor", "tight", {"loads/A1/earth_leakage": "12 mA", f"{LAID}/earth_size": "10 mm²"}),
    ("earth-conductor", UNKNOWN, {"loads/A1/earth_leakage": "7 kg"}),
    ("supply-earth", "clear", {}),
    ("supply-earth", "tight", {f"{EARTH}/loop": "3 Ω"}),
    ("supply-earth", "stop", {f"{EARTH}/loop": "30 Ω"}),
    ("supply-earth", UNKNOWN, {f"{EARTH}/loop": ""}),
    ("supply-earth", "clear", {f"{EARTH}/arrangement": "TT", f"{EARTH}/loop": "40 Ω", f"{OUT}/residual": "A", f"{OUT}/residual_rating": "30 mA"}),
    ("supply-earth", "tight", {f"{EARTH}/arrangement": "TT", f"{EARTH}/loop": "300 Ω", f"{OUT}/residual": "A", f"{OUT}/residual_rating": "30 mA"}),
    ("supply-earth", "stop", {f"{EARTH}/arrangement": "TT", f"{EARTH}/loop": "40 Ω"}),
    ("supply-earth", UNKNOWN, {f"{EARTH}/arrangement": "separate", f"{EARTH}/bond": "floating"}),
    ("supply-overhead", "clear", {}),
    ("supply-overhead", "clear", OVERHEAD),
    ("supply-overhead", "tight", {**OVERHEAD, "supply/site/line_distance": "12 m"}),
    ("supply-overhead", "stop", {**OVERHEAD, "supply/site/line_distance": "6 m"}),
    ("supply-overhead", UNKNOWN, {**OVERHEAD, "supply/site/line_distance": ""}),
]
NA_CASES = [
    ("run-current", "clear", {}),
    ("run-current", "stop", {"runs/K1/size": "14 AWG"}),
    ("device-rating", "clear", {}),
    ("device-rating", "stop", {f"{D}/rating": "25 A"}),  # 125 % of a long burn
    ("device-rating", "tight", {f"{D}/rating": "25 A", f"{D}/burns": "short"}),
    ("device-rating", "stop", {f"{D}/rating": "60 A"}),
    ("device-strike", "clear", {}),
    ("device-strike", UNKNOWN, {f"{D}/kind": "C"}),  # a curve letter of the other rule set
    ("device-order", "clear", {}),
    ("earth-fault", "clear", {}),
    ("earth-fault", "tight", {f"{EARTH}/loop": "0.14 Ω"}),
    ("earth-fault", "stop", {f"{EARTH}/loop": "1 Ω"}),
    ("earth-fault", UNKNOWN, {f"{D}/trips_from": ""}),
    ("residual-device", "clear", {f"{D}/residual": "GFCI", f"{D}/residual_rating": "6 mA", f"{D}/rating": "20 A"}),
    ("residual-device", "tight", {f"{D}/rating": "20 A"}),
    ("residual-budget", "clear", {f"{D}/residual": "GFCI", f"{D}/residual_rating": "6 mA"}),
    ("residual-budget", "tight", {f"{D}/residual": "GFCI", f"{D}/residual_rating": "6 mA", "loads/A1/earth_leakage": "3 mA"}),
    ("residual-budget", "stop", {f"{D}/residual": "GFCI", f"{D}/residual_rating": "6 mA", "loads/A1/earth_leakage": "5 mA"}),
    ("residual-budget", UNKNOWN, {f"{D}/residual": "A", f"{D}/residual_rating": "30 mA"}),
    ("device-breaking", "clear", {}),
    ("device-breaking", UNKNOWN, {f"{D}/breaking_capacity": ""}),  # this rule set knows no least one
    ("earth-conductor", "clear", {f"{LAID}/earth_size": "6 AWG"}),
    ("earth-conductor", "tight", {}),
    ("earth-conductor", "stop", {f"{LAID}/earth_size": "12 AWG"}),
    ("supply-overhead", "stop", {"supply/site/overhead": "poles", "supply/site/line_voltage": "33 kV", "supply/site/line_distance": "8 ft"}),
    ("supply-overhead", UNKNOWN, {"supply/site/overhead": "poles", "supply/site/line_distance": "80 ft"}),
]


def verdict(document, question):
    """A finding's verdict; unknown where it only waits for entries, and says so."""
    found = findings(document)
    if question in found:
        return found[question].verdict
    place = "supply" if question.startswith("supply") else "runs/K1"
    waiting = found[f"protection/{place}"]
    assert waiting.problems and waiting.note
    return waiting.verdict


@pytest.mark.parametrize(("question", "expected", "changes"), IEC_CASES, ids=[f"{q}-{v}-{n}" for n, (q, v, _) in enumerate(IEC_CASES)])
def test_by_iec(question, expected, changes):
    """The finding comes out as the rig deserves, IEC-style."""
    assert verdict(changed(IEC, changes), question) == Verdict(expected)


@pytest.mark.parametrize(("question", "expected", "changes"), NA_CASES, ids=[f"{q}-{v}-{n}" for n, (q, v, _) in enumerate(NA_CASES)])
def test_by_the_code(question, expected, changes):
    """The finding comes out as the rig deserves, North American."""
    assert verdict(changed(NA, changes), question) == Verdict(expected)


def test_every_finding_has_all_four():
    """Clear, tight, stop and unknown: each finding is seen in each."""
    questions = {q for q, _, _ in IEC_CASES}
    missing = {(q, v) for q in questions for v in ("clear", "tight", "stop", UNKNOWN) if v not in {x for asked, x, _ in IEC_CASES if asked == q}}

    assert missing == set()


def test_a_stop_says_so_in_its_note():
    """A stop of protection is named in words of its own."""
    for question, expected, changes in IEC_CASES:
        if expected == "stop" and question.startswith(("run", "device", "cable")):
            found = findings(changed(IEC, changes))[question]
            assert found.note, question


def test_not_asked_where_there_is_no_such_rule():
    """The code has no rule of conductor heat, so that finding is not among its answers."""
    assert "cable-fault" not in findings(NA)
    assert "cable-fault" in findings(IEC)
