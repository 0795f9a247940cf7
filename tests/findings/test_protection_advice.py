"""What would make it clear: the advice, applied, does what it says."""

import pytest

from pycore.base.result import Verdict
from pycore.findings.chain import chain
from pycore.rig.read import read
from tests.protection.rigs import IEC, NA, changed, findings

D, LAID, EARTH = "runs/K1/device", "runs/K1/laid", "supply/earth"
NO_RESIDUAL = {f"{D}/residual": "none", f"{D}/residual_rating": ""}
TROUBLED = [
    (IEC, "run-current", {"runs/K1/size": "2.5 mm²", "runs/K1/length": "10 m"}, {"4 mm²"}),
    (IEC, "run-current", {f"{LAID}/how": "reel", f"{LAID}/layers": "3"}, {"Taking it off the reel", "16 mm²"}),
    (IEC, "run-current", {f"{LAID}/grouped": "6"}, {"Laying it two diameters from its neighbours"}),
    (IEC, "device-rating", {f"{D}/rating": "40 A"}, {"A 32 A device", "10 mm²"}),
    (IEC, "device-rating", {f"{D}/rating": "16 A"}, {"A 25 A device"}),
    (IEC, "device-strike", {"loads/A1/inrush": "150 A"}, {"Curve C"}),
    (IEC, "earth-fault", {**NO_RESIDUAL, f"{EARTH}/loop": "1.3 Ω", f"{LAID}/earth_size": ""}, {"30 mA residual device", "16 mm²", "A run of"}),
    (IEC, "earth-fault", {**NO_RESIDUAL, f"{D}/kind": "D"}, {"30 mA residual device", "Curve C"}),
    (IEC, "residual-device", {f"{D}/residual": "AC"}, {"Type A"}),
    (IEC, "device-breaking", {"supply/impedance": "0.02 Ω"}, {"breaks 25 kA"}),
    (IEC, "earth-conductor", {"loads/A1/earth_leakage": "12 mA"}, {"10 mm²"}),
    (NA, "earth-conductor", {f"{LAID}/earth_size": "12 AWG"}, {"6 AWG"}),
    (NA, "device-rating", {f"{D}/rating": "60 A"}, {"A 50 A device"}),
    (NA, "run-current", {"runs/K1/size": "14 AWG", "runs/K1/length": "10 ft"}, {"6 AWG"}),
]


def finding(document, question):
    """A finding of the chosen lamp's chain, with advice."""
    return next(f for link in chain(read(document), "A1").links for f in link.findings if f.question == question)


@pytest.mark.parametrize(("base", "question", "changes", "offers"), TROUBLED, ids=[f"{q}-{n}" for n, (_, q, _, _) in enumerate(TROUBLED)])
def test_advice_keeps_its_promise(base, question, changes, offers):
    """Each expected kind of advice is there, and applying any that carries entries makes the finding better."""
    document = changed(base, changes)
    found = finding(document, question)
    assert found.verdict in (Verdict.TIGHT, Verdict.STOP)
    for words in offers:
        assert any(words in r.text for r in found.remedies), (words, [r.text for r in found.remedies])
    for remedy in (r for r in found.remedies if r.changes):
        after = findings(changed(document, dict(remedy.changes)))[question]
        just = "just enough" in remedy.text
        assert after.verdict is (Verdict.TIGHT if just else Verdict.CLEAR), remedy.text
        unmoved = found.demand and (after.demand.value, after.limit.term.value) == (found.demand.value, found.limit.term.value)
        assert after.demand is None or unmoved or after.demand.quantity.unit == "mm²" or f"{after.demand.quantity}" in remedy.text


WEAK = changed(IEC, {**NO_RESIDUAL, f"{EARTH}/loop": "0.9 Ω", "runs/K1/size": "2.5 mm²", f"{D}/rating": "25 A", "runs/K1/length": "40 m", f"{LAID}/earth_size": ""})


def run_link(document):
    """The link of the run, with its advice put together."""
    return next(link for link in chain(read(document), "A1").links if link.id == "K1")


def clear(document):
    """The questions of the run that are clear."""
    return {f.question for f in run_link(document).findings if f.verdict is Verdict.CLEAR}


def test_one_size_for_all_questions_of_a_run():
    """Drop, current, lamp's voltage and fault to earth ask for a larger size: one is offered, and it clears what any size here clears."""
    link = run_link(WEAK)
    sizes = {dict(r.changes).get("runs/K1/size") for f in link.findings for r in f.remedies} - {None}
    offered = [r for r in link.remedies if r.changes and r.changes[0][0] == "runs/K1/size"]

    assert len(sizes) == len(offered) == 1
    assert "clears the drop, the cable's current and the fault to earth" in offered[0].text
    assert clear(changed(WEAK, dict(offered[0].changes))) >= clear(changed(WEAK, {"runs/K1/size": "70 mm²"}))


def test_advice_is_the_smallest_that_does():
    """The size below the one advised leaves something that this one clears."""
    size = next(dict(r.changes)["runs/K1/size"] for r in run_link(WEAK).remedies if r.changes[0][0] == "runs/K1/size")
    sizes = [f"{x} mm²" for x in ("2.5", "4", "6", "10", "16", "25")]
    below = sizes[sizes.index(size) - 1]

    assert clear(changed(WEAK, {"runs/K1/size": below})) < clear(changed(WEAK, {"runs/K1/size": size}))


@pytest.mark.parametrize("document", [WEAK, *(changed(b, c) for b, _, c, _ in TROUBLED)], ids=range(1 + len(TROUBLED)))
def test_nothing_is_advised_twice(document):
    """A link names each thing to do once, and no thing to do stops what was no stop before."""
    link = run_link(document)
    assert len({r.changes or r.text for r in link.remedies}) == len({r.text for r in link.remedies}) == len(link.remedies)
    before = {f.question for f in link.findings if f.verdict is Verdict.STOP}
    for remedy in (r for r in link.remedies if r.changes):
        after = {f.question for f in run_link(changed(document, dict(remedy.changes))).findings if f.verdict is Verdict.STOP}
        assert after <= before, remedy.text


def test_no_cure_leaves_the_cable_unprotected():
    """A larger device is no advice against a surge where the cable would lose its protection."""
    document = changed(IEC, {"loads/A1/inrush": "150 A", f"{D}/kind": "D", f"{D}/rating": "32 A"})
    for question in ("device-strike", "device-rating"):
        for remedy in finding(document, question).remedies:
            assert findings(changed(document, dict(remedy.changes)))["device-rating"].verdict is not Verdict.STOP


def test_voltage_advice_gives_the_figures():
    """Short of voltage: the next size, a shorter run and, where the nameplate allows, two lines instead of one, each with what it gives."""
    weak = changed(IEC, {"runs/K1/size": "2.5 mm²", "runs/K1/length": "80 m", "supply/system": "three-phase wye", "loads/A1/ballast/high_cut_out": "440 V", "loads/A1/ballast/low_cut_out": "190 V"})
    found = finding(weak, "drop-stages")
    texts = [r.text for r in found.remedies]

    assert found.verdict is not Verdict.CLEAR
    assert any(" mm² gives " in t for t in texts)
    assert any(t.startswith("A run of") and "gives" in t for t in texts)
    assert any("between L1 and L2 gives" in t for t in texts)


def test_a_nameplate_that_forbids_it_is_believed():
    """No lamp is advised onto two lines that it is not said to stand."""
    weak = changed(IEC, {"runs/K1/size": "2.5 mm²", "runs/K1/length": "80 m", "supply/system": "three-phase wye", "loads/A1/ballast/low_cut_out": "190 V"})

    assert not any("between L1" in r.text for r in finding(weak, "drop-stages").remedies)


def test_stages_add_up():
    """The stages' shares of the drop are the whole of it."""
    two = changed(IEC, {"runs/K2/fed_by": "K1", "runs/K2/length": "20 m", "runs/K2/size": "4 mm²", "loads/A1/fed_by": "K2"})
    found = finding(two, "drop-stages")
    drops = [s.result.value for s in found.steps if s.law.endswith(".drop")]

    assert drops[3] == pytest.approx(sum(drops[:3])) and found.demand.value == pytest.approx(drops[3])
    assert "supply" in found.says and "recommend" in found.says
