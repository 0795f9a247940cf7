"""The worst mistake: a check that passes although what it needs is missing or unreadable."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pycore.base.result import Verdict
from pycore.findings.chain import chain
from pycore.rig.read import read
from tests.protection.rigs import IEC, NA, changed, findings

D, LAID, EARTH = "runs/K1/device", "runs/K1/laid", "supply/earth"
CABLE = {"runs/K1/size", "runs/K1/length"}
LOOP = {f"{EARTH}/arrangement", f"{EARTH}/loop", *CABLE}
# What each finding cannot do without; where an outlet's own device stands in for a run's, both must be gone.
NEEDS = {
    "iec": {
        "run-current": {"runs/K1/size"}, "device-rating": {"runs/K1/size"}, "earth-fault": LOOP, "supply-earth": {f"{EARTH}/arrangement", f"{EARTH}/loop"},
        "line-fault": {f"{D}/kind", "supply/impedance", *CABLE}, "cable-fault": {"supply/impedance", *CABLE}, "device-breaking": {"supply/impedance"}, "residual-budget": {f"{D}/residual_rating"}, "residual-device": {f"{D}/residual_rating"},
        "device-strike": {f"{D}/kind"}, "device-order": {f"{D}/rating"}, "earth-conductor": {"runs/K1/size"},
    },
    "na": {
        "line-fault": {f"{D}/trips_from", "supply/impedance", *CABLE},
        "run-current": {"runs/K1/size"}, "device-rating": {"runs/K1/size"}, "earth-fault": {*LOOP, f"{D}/trips_from"}, "device-strike": {f"{D}/holds_to"},
        "device-breaking": {f"{D}/breaking_capacity", "supply/impedance"}, "earth-conductor": {"runs/K1/size"}, "supply-earth": {f"{EARTH}/arrangement", f"{EARTH}/loop"},
    },
}
BASES = {"iec": IEC, "na": NA}
MISSING = [(rules, q, a) for rules, needs in NEEDS.items() for q, wanted in needs.items() for a in sorted(wanted)]
SHOWN_AS_TYPICAL = {f"{LAID}/earth_size"}  # a flexible cable's own, marked as an estimate; single cores have none
GARBLED = ("abc", "12 kg", "1e999", "-3", "NaN", "")
ENTRIES = sorted({f"{D}/{k}" for k in ("kind", "rating", "breaking_capacity", "residual", "residual_rating", "residual_delay", "burns", "trips_from", "holds_to", "let_through")}
                 | {f"{LAID}/{k}" for k in ("how", "layers", "grouped", "arrangement", "parallel", "singles", "earth_size", "terminals", "listing")}
                 | {f"runs/K1/{k}" for k in ("size", "length", "insulation", "ambient", "cores")}
                 | {f"{EARTH}/{k}" for k in ("arrangement", "loop", "bond", "electrode", "fault_current_max", "sustained")}
                 | {f"supply/{k}" for k in ("voltage", "frequency", "rating", "impedance", "device/kind", "device/residual", "site/ground", "site/overhead", "site/line_distance")}
                 | {f"loads/A1/{k}" for k in ("earth_leakage", "inrush", "inrush_time", "run_up", "connection", "lamp/rated_power", "ballast/efficiency", "ballast/power_factor")})
PROTECTION = ("run-current", "device-rating", "device-strike", "device-order", "earth-fault", "line-fault", "residual-device", "residual-budget", "device-breaking", "cable-fault", "earth-conductor",
              "supply-earth", "supply-overhead")


@pytest.mark.parametrize(("rules", "question", "address"), MISSING, ids=["/".join(m) for m in MISSING])
@pytest.mark.parametrize("text", ["", "abc"])
def test_not_clear_without_what_it_needs(rules, question, address, text):
    """Take away or spoil one entry that a finding needs: it is not clear any more."""
    assert findings(BASES[rules])[question].verdict is not Verdict.STOP
    found = findings_or_none(changed(BASES[rules], {address: text}))

    assert question not in found or found[question].verdict is not Verdict.CLEAR


@settings(max_examples=150)
@given(st.sampled_from(("iec", "na")), st.dictionaries(st.sampled_from(ENTRIES), st.sampled_from(GARBLED[:-1]), min_size=1, max_size=4))
def test_a_link_with_a_spoilt_entry_is_never_clear(rules, spoilt):
    """Whatever cannot be read, the link that holds it is not clear, and nothing falls over."""
    reading = read(changed(BASES[rules], spoilt))
    refused = {p.address for p in reading.problems}
    links = chain(reading, "A1").links
    for address in refused:
        for link in links:
            if address == link.place or address.startswith(f"{link.place}/") and link.kind in ("supply", "run"):
                assert link.verdict is not Verdict.CLEAR, (address, link.id)


@settings(max_examples=200)
@given(st.sampled_from(("iec", "na")), st.sets(st.sampled_from([e for e in ENTRIES if e not in SHOWN_AS_TYPICAL]), min_size=1, max_size=6), st.sampled_from(("", "abc")))
def test_no_check_passes_on_less(rules, gone, text):
    """With entries gone or spoilt no finding becomes better than it was."""
    before, after = findings(BASES[rules]), findings_or_none(changed(BASES[rules], dict.fromkeys(gone, text)))
    for question in set(PROTECTION) & set(before) & set(after) - MAY_IMPROVE:
        assert RANK[after[question].verdict] >= RANK[before[question].verdict], question


RANK = {Verdict.CLEAR: 0, Verdict.UNKNOWN: 1, Verdict.TIGHT: 1, Verdict.STOP: 2}
MAY_IMPROVE = {"device-rating", "device-strike", "device-order"}  # without a device of its own a run is under the outlet's larger one


def findings_or_none(document):
    """The findings, or none where the lamp itself cannot be computed any more."""
    try:
        return findings(document)
    except AssertionError:
        return {}


@settings(max_examples=60)
@given(st.sets(st.sampled_from([f"{D}/kind", f"{D}/rating", f"{D}/residual", f"{D}/residual_rating", f"{D}/breaking_capacity", f"{EARTH}/arrangement", f"{EARTH}/loop", "supply/device/kind"]), min_size=3))
def test_what_is_missing_is_named_once(gone):
    """However much is missing, a run has one finding that names it, each entry once, with its address."""
    found = findings(changed(IEC, dict.fromkeys(gone, "")))
    waiting = [f for q, f in found.items() if q == "protection/runs/K1"]

    assert len(waiting) <= 1
    for f in waiting:
        assert len({p.address for p in f.problems}) == len(f.problems) and all(p.address and p.way_out for p in f.problems)


def test_single_cores_have_no_typical_earth():
    """The earth of single cores is a cable of its own: unless it is entered, nothing that needs it passes."""
    found = findings(changed(NA, {"runs/K1/cores": "single cores", "runs/K1/insulation": "90 °C", "runs/K1/laid/earth_size": ""}))

    assert "earth-fault" not in found and "earth-conductor" not in found
    assert found["protection/runs/K1"].verdict is Verdict.UNKNOWN
