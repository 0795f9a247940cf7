"""What must hold for any chain at all, whatever is entered, missing or unreadable."""

import json
from math import isclose, isfinite, sqrt

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pycore.api import door
from pycore.base.result import Verdict
from pycore.findings.chain import chain, settled
from pycore.findings.solved import solve
from pycore.findings.whole_rig import solve_rig
from pycore.rig.read import read
from tests.rigs import BALLAST, HEAD, LAMP, LOAD, RUN, SHOT, answer, finding, rig, value
from tests.strategies import ADDRESSES, ENTRIES, GARBAGE, amounts, clear_rig, rigs, some, unsound_rigs

# A rig on which everything counts that can be entered, so that each entry matters to its chain.
CLEAR = clear_rig()
ELECTRONIC = {k: v for k, v in ENTRIES.items() if k not in (f"{BALLAST}/kind", f"{BALLAST}/output", f"{LOAD}/connection", "supply/system", "supply/fault_current")}


def solved(document):
    """Everything computed for the one lamp."""
    whole = solve_rig(settled(read(document)))
    return solve(whole, whole.rig.loads["A1"], next(iter(whole.rig.shots.values())), advise=False)


def running(document):
    """The solved lamp, where it burns; another example where it does not."""
    s = solved(document)
    assume(s.feed is not None and s.feed.state == "runs" and s.got is not None)
    return s


def first(s, law):
    """The first result of a law in the working of the path, 0 where it was not needed."""
    return next((step.result.value for step in s.feed.steps if step.law.endswith(f".{law}")), 0.0)


def test_the_clear_rig_is_clear():
    """The properties below start from a chain with nothing to object to."""
    assert answer(CLEAR).verdict is Verdict.CLEAR


@given(unsound_rigs())
def test_no_rig_raises_and_no_undefined_number_leaves(document):
    """Any rig is answered in the shape of an answer, in JSON without NaN or infinity, and comes back as it went in."""

    def refuse(name):
        raise AssertionError(f"{name} left the core")

    told = json.loads(door.handle(json.dumps({"method": "check", "params": {"rig": document}})), parse_constant=refuse)

    assert told["ok"] or told["error"]["code"] != "fault", told
    assert not told["ok"] or told["result"]["rig"] == document


@given(rigs())
def test_verdicts_are_carried_up(document):
    """The chain has the worst verdict of its links, a link that of its findings; unknown has reasons; margins have the sign of their verdict."""
    rank = ["clear", "unknown", "tight", "stop"].index
    made = chain(read(document), "A1")

    assert str(made.verdict) == max((str(x.verdict) for x in made.links), key=rank)
    for x in made.links:
        assert str(x.verdict) == max((str(f.verdict) for f in x.findings), key=rank)
        assert 0 <= x.share <= 1 + 1e-9
        for f in x.findings:
            assert f.says and (f.verdict is not Verdict.UNKNOWN or f.problems or f.note)
            assert f.verdict is not Verdict.CLEAR or f.margin is None or f.margin.value >= -1e-9, f.question


@settings(max_examples=100)
@given(st.sampled_from(ADDRESSES), GARBAGE)
def test_no_unreadable_entry_is_passed_over(address, garbage):
    """An entry that is there and cannot be read never leaves the chain clear: nothing else stands in for it."""
    made = answer(CLEAR, {address: garbage})

    assert made.verdict is not Verdict.CLEAR
    assert address in {p.address for p in made.problems}


@pytest.mark.parametrize("address", [a for a in ADDRESSES if "/" in a])
def test_no_missing_entry_is_passed_over(address):
    """An entry that is missing leaves the chain not clear, or stands among the estimates that the answer lists, or is a choice whose usual meaning the form shows."""
    made = answer(CLEAR, {address: ""})
    listed = {t.address for x in made.links for f in x.findings for t in f.assumptions}
    settled_as = settled(read(rig(CLEAR, {address: ""})))
    part = {"supply": settled_as.supply, "runs": settled_as.runs["K1"], "loads": settled_as.loads["A1"], "shots": settled_as.shots["S1"]}[address.split("/")[0]]
    for key in address.split("/")[1:] if address.startswith("supply") else address.split("/")[2:]:
        part = getattr(part, key)
    never_entered = address in ("supply/fault_current", f"{SHOT}/exposure_time")

    assert made.verdict is not Verdict.CLEAR or address in listed or isinstance(part, str) or never_entered or part.note, address


@given(some(ELECTRONIC))
def test_power_balances_along_the_chain(entries):
    """What is drawn at the outlet is what the cables lose, the ballast loses, the head cable loses and the lamp gets."""
    s = running(rig(entries, {f"{BALLAST}/makes_up": "no"}))
    cables = sum(c.loss.value for c in s.feed.cables)
    at_ballast, efficiency = s.feed.power.value, s.load.ballast.efficiency.value

    assert isclose(s.feed.drawn.value, cables + at_ballast, rel_tol=1e-9)
    assert isclose(efficiency * at_ballast, s.got.power.value + s.got.loss.value, rel_tol=1e-6)


@given(some(ELECTRONIC))
def test_the_circuit_closes(entries):
    """Worked out from the ballast's end with complex numbers, current times impedance leads back to the source's voltage."""
    s = running(rig(entries))
    volts, reactive = s.feed.voltage.value, s.feed.power.value * s.draw.ratio.value
    power = first(s, "fundamental_power") or s.feed.power.value
    amps = complex(power, -reactive) / volts
    for_the_supply = first(s, "burden") * abs(amps) ** 2  # what its harmonics lose before the socket
    way = sum(complex(c.resistance.value, c.reactance.value) for c in s.feed.cables)

    assert isclose(abs(volts + amps * way), s.feed.socket.value, rel_tol=1e-6)
    assert isclose(abs(volts + amps * (way + s.feed.impedance.value)), s.feed.no_load.value, rel_tol=1e-6)
    assert isclose(((volts + amps * way) * amps.conjugate()).real, s.feed.drawn.value + for_the_supply, rel_tol=1e-6)


@given(some(ELECTRONIC))
def test_the_lamp_burns_at_the_upper_of_the_two_voltages(entries):
    """The voltage found is never below half of the source's, which is where the two solutions meet."""
    s = running(rig(entries))

    assert s.feed.voltage.value >= 0.5 * s.feed.no_load.value * (1 - 1e-9)
    assert isfinite(s.feed.current.value) and s.feed.current.value > 0


@given(some({k: v for k, v in ELECTRONIC.items() if k not in (f"{RUN}/length", f"{RUN}/size")}), amounts(1, 150, "m"), st.floats(1.01, 3))
def test_a_longer_cable_never_raises_the_voltage(entries, length, factor):
    """More metres of the same cable leave less or the same at the ballast, or no voltage at all."""
    short, long = (solved(rig(entries, {f"{RUN}/size": "6 mm²", f"{RUN}/length": text})) for text in (length, f"{float(length.split()[0]) * factor:.6g} m"))
    assume(short.feed is not None and long.feed is not None and short.feed.voltage is not None)

    assert long.feed.voltage is None or long.feed.voltage.value <= short.feed.voltage.value * (1 + 1e-6)


SIZES = ["2.5 mm²", "4 mm²", "6 mm²", "10 mm²", "16 mm²", "25 mm²", "35 mm²", "50 mm²"]


@given(some({k: v for k, v in ELECTRONIC.items() if k not in (f"{RUN}/size", f"{RUN}/insulation", f"{RUN}/cores", f"{RUN}/ambient", "rules")}), st.integers(0, 6))
def test_a_thicker_cable_never_lowers_the_voltage(entries, k):
    """The next size up leaves as much or more at the ballast."""
    thin, thick = (solved(rig(entries, {f"{RUN}/size": s})) for s in SIZES[k : k + 2])
    assume(thin.feed is not None and thick.feed is not None and thin.feed.voltage is not None)

    assert thick.feed.voltage is not None and thick.feed.voltage.value >= thin.feed.voltage.value * (1 - 1e-6)


@given(some({k: v for k, v in ELECTRONIC.items() if k != f"{LOAD}/dim"}), st.floats(20, 99), st.floats(0.5, 30))
def test_more_light_never_draws_less(entries, dim, more):
    """A higher setting draws as much or more at nominal voltage, and gives the lamp as much or more where both run."""
    low, high = (solved(rig(entries, {f"{LOAD}/dim": f"{d:.4g} %"})) for d in (dim, min(100, dim + more)))
    assume(low.draw is not None and high.draw is not None)

    assert high.draw.power.value >= low.draw.power.value * (1 - 1e-9)
    if low.got is not None and high.got is not None:
        assert high.got.power.value >= low.got.power.value * (1 - 1e-9)


@given(st.floats(1, 60), st.floats(1.01, 3), st.sampled_from(["yes", "no"]))
def test_a_longer_head_cable_never_gives_the_lamp_more(length, factor, makes_up):
    """More head cable leaves the lamp as much or less, and takes as much or more from the supply."""
    short, long = (answer(CLEAR, {f"{HEAD}/length": f"{x:.5g} m", f"{BALLAST}/makes_up": makes_up}) for x in (length, length * factor))

    assert value(finding(long, "lamp-power")) <= value(finding(short, "lamp-power")) * (1 + 1e-9)
    assert value(finding(long, "ballast-draw")) >= value(finding(short, "ballast-draw")) * (1 - 1e-9)


@given(amounts(1, 100, "%"), st.floats(0.5, 3))
def test_the_lamps_own_law(dim, exponent):
    """Light is the power's share to the exponent, never more than all of it."""
    made = answer(CLEAR, {f"{LOAD}/dim": dim, f"{LAMP}/exponent": f"{exponent:.4g}"})
    light = next(x for x in made.links if x.id == "lamp").figure

    assert light is not None and 0 < light.value <= 1 + 1e-9
    assert isclose(light.value, (float(dim.split()[0]) / 100) ** float(f"{exponent:.4g}"), rel_tol=1e-6)


@given(rigs())
def test_a_rig_survives_saving(document):
    """Written as text and opened again, a rig is the same and gets the same answer, word for word."""
    saved = json.dumps(document, ensure_ascii=False, indent=2)
    opened = json.loads(door.answer("open_rig", {"text": saved}))["result"]["rig"]

    assert opened == document
    assert door.answer("check", {"rig": opened}) == door.answer("check", {"rig": document})


@given(st.floats(0.05, 0.999), st.floats(0, 1))
def test_one_power_factor_two_angles(displacement, distortion):
    """However the true power factor divides into displacement and distortion, drawn current and power give it back where nothing is lost on the way."""
    factor = max(0.2, displacement * distortion)
    assume(factor <= displacement and displacement >= 0.2)
    made = answer(CLEAR, {f"{BALLAST}/power_factor": f"{factor:.6g}", f"{BALLAST}/displacement": f"{displacement:.6g}", f"{BALLAST}/low_cut_out": "20 V", f"{RUN}/size": "50 mm²"})
    assume(finding(made, "ballast-draw").demand is not None)
    nothing = {"supply/impedance": "0 Ω", f"{RUN}/size": "300 mm²", f"{RUN}/length": "0.1 m"}
    s = solved(rig(CLEAR, {f"{BALLAST}/power_factor": f"{factor:.6g}", f"{BALLAST}/displacement": f"{displacement:.6g}"} | nothing))

    assert isclose(s.draw.ratio.value, sqrt(1 / float(f"{displacement:.6g}") ** 2 - 1), rel_tol=1e-6, abs_tol=1e-9)
    assert isclose(s.feed.power.value / (s.feed.voltage.value * s.feed.current.value), float(f"{factor:.6g}"), rel_tol=2e-3)
