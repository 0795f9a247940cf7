"""Every finding of protection: a rig that makes it clear, one tight, one stop, and one for which it cannot be made."""

import pytest

from pycore.base.result import Verdict
from pycore.findings import cable_rating, cautions, device, earth, protection, residual, short_circuit, withstand
from tests.protection.rigs import IEC, NA, changed, findings

D, LAID, EARTH, OUT = "runs/K1/device", "runs/K1/laid", "supply/earth", "supply/device"
NO_RESIDUAL = {f"{D}/residual": "none", f"{D}/residual_rating": ""}
GENERATOR = {"supply/kind": "generator", "supply/system": "three-phase wye", "supply/impedance": "", f"{EARTH}/arrangement": "separate", f"{EARTH}/bond": "bonded", f"{EARTH}/loop": "",
             "supply/rated_power": "60 kVA", "supply/subtransient": "12 %", "supply/transient": "20 %", f"{EARTH}/sustained": "260 A"}
OVERHEAD = {"supply/site/overhead": "poles", "supply/site/line_distance": "40 m"}
UNKNOWN = "unknown"
MODULES = (cable_rating, cautions, device, earth, residual, short_circuit, withstand, protection)
QUESTIONS = ("run-current", "device-rating", "device-strike", "device-order", "earth-fault", "line-fault", "residual-device", "residual-budget", "device-breaking", "cable-fault", "earth-conductor",
             "supply-earth", "supply-overhead")

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
    ("device-rating", "clear", {f"{D}/kind": "gG", f"{D}/rating": "32 A"}),
    ("device-rating", "stop", {f"{D}/kind": "gG", f"{D}/rating": "40 A"}),
    ("device-rating", "stop", {f"{D}/kind": "other", f"{D}/rating": "36 A", f"{D}/trips_from": "200 A", f"{D}/holds_to": "100 A"}),
    ("device-strike", "clear", {}),
    ("device-strike", "tight", {"loads/A1/inrush": "150 A"}),
    ("device-strike", "stop", {"loads/A1/inrush": "300 A", "loads/A1/inrush_time": "20 ms"}),
    ("device-strike", "tight", {"loads/A1/inrush": "300 A", "loads/A1/inrush_time": "1 ms"}),
    ("device-strike", "stop", {"loads/A1/run_up": "200 %"}),
    ("device-strike", "clear", {f"{D}/kind": "gG"}),
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
    ("earth-fault", "clear", {**NO_RESIDUAL, f"{D}/kind": "gG", f"{D}/rating": "16 A"}),
    ("earth-fault", "stop", {**NO_RESIDUAL, f"{D}/kind": "gG", f"{D}/rating": "32 A", f"{EARTH}/loop": "0.5 Ω"}),
    ("earth-fault", UNKNOWN, {**NO_RESIDUAL, f"{D}/kind": "gG", f"{D}/rating": "13 A"}),
    ("earth-fault", UNKNOWN, {f"{EARTH}/arrangement": ""}),
    ("earth-fault", UNKNOWN, {f"{EARTH}/loop": ""}),
    ("earth-fault", UNKNOWN, {f"{EARTH}/loop": "2 Ω", f"{D}/residual": "", f"{D}/residual_rating": ""}),
    ("earth-fault", "clear", {f"{EARTH}/arrangement": "TT", f"{EARTH}/loop": "120 Ω"}),
    ("earth-fault", "stop", {**NO_RESIDUAL, f"{EARTH}/arrangement": "TT", f"{EARTH}/loop": "20 Ω"}),
    ("earth-fault", "clear", {**GENERATOR, **NO_RESIDUAL, f"{D}/kind": "B"}),
    ("earth-fault", "stop", {**GENERATOR, **NO_RESIDUAL, f"{EARTH}/sustained": "60 A"}),
    ("earth-fault", "clear", {**GENERATOR, f"{EARTH}/sustained": ""}),
    ("earth-fault", UNKNOWN, {**GENERATOR, f"{EARTH}/bond": "floating"}),
    ("line-fault", "clear", {}),
    ("line-fault", "tight", {f"{D}/kind": "C", "supply/impedance": "0.5 Ω"}),  # opens at once, with little to spare
    ("line-fault", "tight", {f"{D}/kind": "C", "supply/impedance": "1 Ω"}),  # opens slowly; the device is no larger than the cable
    ("line-fault", "stop", {f"{D}/kind": "C", f"{D}/rating": "32 A", "runs/K1/size": "2.5 mm²", "supply/impedance": "0.5 Ω"}),  # opens slowly, and is too large
    ("line-fault", "stop", {f"{D}/kind": "C", "supply/impedance": "8 Ω", "loads/A1/lamp/rated_power": "1 kW"}),  # less flows than opens it at all
    ("line-fault", "stop", {"runs/K1/size": "1.5 mm²", "runs/K1/length": "1 m", f"{D}/rating": "10 A", "supply/impedance": "0.03 Ω", f"{D}/let_through": "60000 A²s"}),
    ("line-fault", UNKNOWN, {"runs/K1/size": "1.5 mm²", "runs/K1/length": "1 m", f"{D}/rating": "10 A", "supply/impedance": "0.03 Ω"}),  # the estimate of its heat proves nothing
    ("line-fault", UNKNOWN, {"supply/impedance": ""}),
    ("line-fault", UNKNOWN, {"supply/kind": "battery", "supply/rated_power": "10 kVA"}),
    ("line-fault", "clear", {f"{D}/kind": "gG"}),
    ("line-fault", "clear", {f"{D}/kind": "gG", f"{D}/rating": "32 A", "supply/impedance": "0.8 Ω"}),  # melts within five seconds
    ("line-fault", "tight", {f"{D}/kind": "gG", f"{D}/rating": "32 A", "supply/impedance": "1 Ω"}),
    ("line-fault", UNKNOWN, {f"{D}/kind": "gG", f"{D}/rating": "13 A"}),  # no gates
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
    ("run-current", "tight", {"runs/K1/size": "10 AWG"}),
    ("run-current", UNKNOWN, {"runs/K1/size": ""}),
    ("device-rating", UNKNOWN, {f"{D}/rating": "", "supply/rating": ""}),
    ("device-strike", "tight", {f"{D}/holds_to": "30 A"}),
    ("device-strike", "stop", {f"{D}/holds_to": "30 A", f"{D}/trips_from": "35 A", "loads/A1/inrush_time": "20 ms"}),
    ("device-order", "tight", {"supply/rating": "60 A"}),
    ("device-order", "stop", {"supply/rating": "45 A"}),
    ("device-order", UNKNOWN, {"supply/rating": "", f"{OUT}/kind": "other"}),
    ("residual-device", "stop", {f"{D}/rating": "20 A", "supply/site/ground": "wet"}),
    ("residual-device", UNKNOWN, {f"{D}/rating": "20 A", f"{D}/residual": ""}),
    ("device-breaking", "tight", {f"{D}/breaking_capacity": "6 kA"}),
    ("device-breaking", "stop", {f"{D}/breaking_capacity": "3 kA"}),
    ("earth-conductor", UNKNOWN, {f"{LAID}/earth_size": "8 kg"}),
    ("supply-earth", "clear", {}),
    ("supply-earth", "tight", {f"{EARTH}/loop": "3 Ω"}),
    ("supply-earth", "stop", {f"{EARTH}/loop": "30 Ω"}),
    ("supply-earth", UNKNOWN, {f"{EARTH}/loop": ""}),
    ("supply-overhead", "clear", {}),
    ("supply-overhead", "tight", {"supply/site/overhead": "poles", "supply/site/line_voltage": "33 kV", "supply/site/line_distance": "12 ft"}),
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
    ("line-fault", "clear", {}),
    ("line-fault", "tight", {f"{D}/trips_from": "4 kA"}),  # its slow part ends it
    ("line-fault", "stop", {f"{D}/trips_from": "4 kA", f"{D}/rating": "60 A"}),  # and it is larger than the cable
    ("line-fault", UNKNOWN, {f"{D}/kind": "gG"}),
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


IMPOSSIBLE = {  # (rules, question, verdict): why no rig can give it
    ("na", "cable-fault", "clear"): "the code has no rule of conductor heat: the finding is not asked",
    ("na", "cable-fault", "tight"): "not asked",
    ("na", "cable-fault", "stop"): "not asked",
    ("na", "cable-fault", UNKNOWN): "not asked",
}


@pytest.mark.parametrize(("rules", "cases"), [("iec", IEC_CASES), ("na", NA_CASES)])
def test_every_finding_has_all_four(rules, cases):
    """Clear, tight, stop and unknown: under each rule set every question of cables and protection is seen in each, but for those listed with their reason."""
    seen = {(rules, q, v) for q, v, _ in cases}
    wanted = {(rules, q, v) for q in QUESTIONS for v in ("clear", "tight", "stop", UNKNOWN)}

    assert wanted - seen == {k for k in IMPOSSIBLE if k[0] == rules}
    assert not seen & set(IMPOSSIBLE)


def test_the_list_of_questions_is_whole():
    """The questions looked for are those that the code asks: each module's own, and what runs and supplies come out with."""
    asked = {getattr(m, name) for m in MODULES for name in ("QUESTION", "RATING", "STRIKE", "ORDER", "FAULT", "SUPPLY", "DEVICE", "BUDGET", "BREAKING", "HEAT", "CONDUCTOR") if hasattr(m, name)}
    told = {q.partition("/")[0] for base in (IEC, NA) for q in findings(base)}

    assert set(QUESTIONS) == asked - {"protection"} and told - {"protection"} <= set(QUESTIONS)


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
