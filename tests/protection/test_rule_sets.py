"""Two rule sets, never mixed in one figure, and room for a third."""

from dataclasses import replace

import pytest

from pycore.base.result import Origin, Verdict, term
from pycore.base.source import Cite, sources
from pycore.conductors import rule_sets as cable_sets
from pycore.findings.chain import settled
from pycore.findings.protection import run_findings, supply_findings
from pycore.findings.solved import solve
from pycore.findings.whole_rig import solve_rig
from pycore.protection import rule_sets as device_sets
from pycore.rig.model import RULES
from pycore.rig.read import read
from tests.protection.rigs import IEC, NA, changed, findings

IEC_ONLY = {"bs-7671", "bs-7671-4", "bs-7671-clauses", "iec-60364-5-52", "iec-60364-4-41", "iec-60364-4-43", "iec-60364-5-54", "iec-60898", "iec-61008", "iec-60909", "dguv-203-006", "hse-gs6"}
NA_ONLY = {"nec", "nec-shows", "ul-489", "gfci-article", "osha-1926-1408"}
PHYSICS = ("conductors.impedance", "powerflow", "lamp.", "findings.")  # a conductor's ohms are no rule


def cited(found):
    """The documents behind limits and rules of findings."""
    steps = [s for f in found for s in f.steps if not s.law.startswith(PHYSICS)]
    terms = [t for s in steps for t in s.terms] + [f.limit.term for f in found if f.limit]
    return {t.cite.source for t in terms if t.cite} | {s.cite.source for s in steps if s.cite}


@pytest.mark.parametrize(("base", "foreign"), [(IEC, NA_ONLY), (NA, IEC_ONLY)], ids=["iec", "na"])
def test_never_mixed(base, foreign):
    """No figure of a rig cites a document of the other rule set."""
    more = {"runs/K1/ambient": "40 °C", "runs/K1/laid/grouped": "2", "supply/site/overhead": "poles", "supply/site/line_distance": "60 m", "supply/site/line_voltage": "10 kV"}
    assert cited(findings(base).values()) & foreign == set()
    assert cited(findings(changed(base, more)).values()) & foreign == set()


def test_each_set_cites_its_own():
    """And each cites its own documents."""
    assert {"bs-7671", "iec-60898"} <= cited(findings(IEC).values())
    assert {"nec"} <= cited(findings(NA).values())


def test_every_set_covers_cables_and_devices():
    """The rig file's rule sets, those for cables and those for devices are the same."""
    assert set(RULES) == set(cable_sets.SETS) == set(device_sets.SETS)


def test_a_third_set_needs_no_change_of_the_findings(monkeypatch):
    """A stricter third set, made of the second with two rules of its own, answers through the same findings."""
    house = Cite("nec", "a house rule")
    strict = replace(device_sets.SETS["iec"], id="house", duty=lambda device, at: term(2.0, "", "factor for long burns", origin=Origin.PUBLISHED, cite=house))
    monkeypatch.setitem(device_sets.SETS, "house", strict)
    monkeypatch.setitem(cable_sets.SETS, "house", replace(cable_sets.SETS["iec"], id="house"))
    rig = replace(settled(read(changed(IEC, {"runs/K1/device/rating": "32 A"}))), rules="house")
    whole = solve_rig(rig)
    s = solve(whole, rig.loads["A1"], next(iter(rig.shots.values())))
    found = {f.question: f for f in (*supply_findings(rig), *run_findings(whole, s.feed, s.feed.cables[0]))}

    assert found["device-rating"].verdict is Verdict.STOP  # 20 A counted twice
    assert found["earth-fault"].verdict is Verdict.CLEAR


def test_second_hand_is_marked():
    """Figures from memory or from a text that quotes the document say so, all the way to the answer."""
    sure = {sources()[i].how_sure for i in cited(findings(IEC).values())}

    assert sources()["bs-7671-clauses"].how_sure == "memory" and sources()["bs-7671-4"].how_sure == "second hand"
    assert sure <= {"first hand", "second hand", "memory", "common practice"}


def test_a_typical_earth_size_is_shown_as_an_estimate():
    """What nobody entered stays visible in the answer."""
    found = findings(changed(IEC, {"runs/K1/laid/earth_size": "", "runs/K1/device/residual": "none", "runs/K1/device/residual_rating": ""}))["earth-fault"]

    assert "runs/K1/laid/earth_size" in {t.address for t in found.assumptions}
