"""Each question with a clear, a tight, a stop and an unknown answer, where it can have them."""

import pytest

from tests.rigs import BALLAST, LAMP, MAGNETIC, RUN, SHOT, UNCORRECTED, answer, finding, rig

STOUT = {f"{RUN}/size": "16 mm²", f"{RUN}/length": "10 m"}
CASES = [
    ("supply-voltage", "clear", {}), ("supply-voltage", "tight", {"supply/impedance": "0.6 Ω"}), ("supply-voltage", "unknown", {"supply/impedance": "x"}),
    ("supply-voltage", "stop", {"supply/voltage_measured": "194 V"}),
    ("drop-stages", "clear", {}), ("drop-stages", "tight", {f"{BALLAST}/low_cut_out": "224 V"}), ("drop-stages", "stop", {f"{BALLAST}/low_cut_out": "228 V"}),
    ("drop-stages", "unknown", {f"{BALLAST}/low_cut_out": "x"}),
    ("supply-current", "clear", {}), ("supply-current", "tight", {"supply/rating": "25 A"}), ("supply-current", "stop", {"supply/rating": "16 A"}), ("supply-current", "unknown", {"supply/rating": ""}),
    ("run-voltage", "clear", {}), ("run-voltage", "tight", {f"{RUN}/length": "150 m"}), ("run-voltage", "stop", {f"{RUN}/length": "200 m", f"{RUN}/size": "2.5 mm²"}),
    ("run-voltage", "unknown", {f"{RUN}/size": "17 mm²"}),
    ("run-current", "clear", {}), ("run-current", "tight", {f"{RUN}/size": "2.5 mm²"}), ("run-current", "stop", {f"{RUN}/size": "1.5 mm²"}), ("run-current", "unknown", {f"{RUN}/size": "300 mm²"}),
    ("ballast-window", "clear", {}), ("ballast-window", "tight", {f"{BALLAST}/low_cut_out": "215 V"}), ("ballast-window", "stop", {f"{BALLAST}/low_cut_out": "228 V"}),
    ("ballast-window", "stop", {f"{BALLAST}/high_cut_out": "225 V"}), ("ballast-window", "unknown", {f"{BALLAST}/low_cut_out": "x"}), ("ballast-window", "unknown", {f"{BALLAST}/high_cut_out": "x"}),
    ("ballast-draw", "clear", {}),
    ("ballast-window", "unknown", {f"{BALLAST}/power_factor": "x"}), ("ballast-window", "unknown", {f"{BALLAST}/displacement": "0.9"}),
    ("shot-steady", "clear", {}), ("shot-steady", "tight", {f"{SHOT}/frame_rate": "400 fps"}), ("shot-steady", "stop", {f"{SHOT}/frame_rate": "2000 fps"}),
    ("shot-steady", "unknown", {f"{SHOT}/frame_rate": "x"}), ("shot-steady", "unknown", {f"{SHOT}/exposure_time": "x"}), ("shot-steady", "unknown", {f"{BALLAST}/dip_depth": "x"}),
]  # fmt: skip


@pytest.mark.parametrize(("question", "verdict", "entries"), CASES)
def test_each_answer(question, verdict, entries):
    """The question gets this verdict; unknown says why, tight and stop do not pass their limit unseen."""
    made = answer(STOUT, entries)
    found = finding(made, question)

    if entries.get(f"{SHOT}/exposure_time"):  # it has a usual meaning when absent, so its own finding says that it cannot be read
        found = finding(made, "entries")
    assert str(found.verdict) == verdict, found.says
    assert found.says
    assert bool(found.problems) == (found.verdict == "unknown")
    if found.verdict == "stop" and found.margin:
        assert found.margin.value <= 0


@pytest.mark.parametrize("question", ["supply-voltage", "supply-current", "run-voltage", "drop-stages", "run-current", "ballast-window", "shot-steady"])
def test_each_is_seen_in_all_four(question):
    """Clear, tight, stop and unknown; the questions of protection have a list of their own."""
    assert {v for q, v, _ in CASES if q == question} == {"clear", "tight", "stop", "unknown"}


def test_a_stop_outweighs_a_tight_and_is_named():
    """A tight run and a stop at the lamp: the chain stops, and its headline is about the lamp."""
    made = answer({f"{RUN}/length": "400 m", f"{RUN}/size": "16 mm²", "loads/A1/dim": "40 %"})

    assert [str(x.verdict) for x in made.links if x.kind in ("run", "lamp")] == ["tight", "stop"]
    assert str(made.verdict) == "stop" and made.headline == "Below its range: lamp"


def test_a_hidden_unknown_does_not_make_a_pass():
    """A missing rating leaves the chain unknown though everything else is clear."""
    made = answer(STOUT, {"supply/rating": ""})

    assert str(made.verdict) == "unknown" and made.headline.startswith("Unknown: supply")


def test_the_plain_clear_chain():
    """With everything entered and in order the chain is clear from supply to shutter, and leans on no typical entry of the lamp."""
    made = answer(STOUT)

    assert str(made.verdict) == "clear" and made.headline == "Clear from supply to shutter"
    assert not {t.address for x in made.links for f in x.findings for t in f.assumptions if t.address.startswith("loads/A1/lamp")}


def test_the_answer_lists_what_was_only_typical():
    """With the nameplate unread, the findings that lean on it say which entries, and how to firm them up; read off, they say no more."""
    names = {f"{BALLAST}/efficiency": "90 %", f"{BALLAST}/power_factor": "0.97", f"{BALLAST}/displacement": "0.98", f"{BALLAST}/low_cut_out": "190 V", f"{LAMP}/arc_voltage": "190 V"}
    bare = answer(STOUT, dict.fromkeys(names, ""))
    firm = answer(STOUT, names)

    def leans(made):
        return {t.address for x in made.links for f in x.findings for t in f.assumptions}

    assert set(names) <= leans(bare)
    assert not set(names) & leans(firm)
    assert all(t.firm_up for x in bare.links for f in x.findings for t in f.assumptions if t.address in names)
    assert set(names) <= {t.address for f in (finding(bare, "ballast-window"), finding(bare, "lamp-power"), finding(bare, "run-voltage")) for t in f.assumptions} | {f"{LAMP}/arc_voltage"}


@pytest.mark.parametrize(("entries", "relation"), [(MAGNETIC, "less"), (UNCORRECTED, "same")])
def test_other_ballasts_get_their_own_answer(entries, relation):
    """The same lamp on another ballast draws another current; a magnetic one gives the lamp less on a long run."""
    made, plain = answer(entries, {f"{RUN}/size": "16 mm²", "supply/rating": "63 A"}), answer({f"{RUN}/size": "16 mm²"})

    assert finding(made, "supply-current").demand.value > 1.4 * finding(plain, "supply-current").demand.value
    assert (finding(made, "lamp-power").demand.value < 1) == (relation == "less")


def test_every_finding_cites_its_formulas():
    """Each line of working names its source; each published limit its place, each one of our own its reason."""
    for f in (f for x in answer(STOUT).links for f in x.findings):
        assert all(s.cite for s in f.steps)
        limit = f.limit and f.limit.term
        assert not limit or limit.origin != "published" or limit.cite, f.question
        assert not limit or limit.origin != "assumed" or limit.note, f.question


def test_a_lamp_that_is_not_there():
    """Asking for another lamp is a mistake of the caller and is not answered for the first."""
    with pytest.raises(KeyError):
        answer(load="A9")
    assert rig()["loads"].keys() == {"A1"}
