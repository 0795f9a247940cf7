"""Exercises: solvable for every code, marked fairly, and true."""

from functools import cache
from math import log, log2, pi, sin

import pytest

from pycore.base.problem import Refused
from pycore.base.units import from_si, shown
from pycore.drills import play
from pycore.drills.scenario import START, scenario, scenarios
from pycore.findings.chain import chain
from pycore.rig.read import read
from tests.rigs import rig

CODES = [START, *(f"C{n}" for n in range(49))]
QUESTIONS = [(s.id, q["id"]) for s in scenarios().values() for q in s.content["question"]]
EACH = pytest.mark.parametrize(("drill", "question"), QUESTIONS)
ANSWER = play.answer_chain


@cache
def made(drill, code, load=""):
    """The chain of an exercise."""
    return ANSWER(scenario(drill), code, load)


@pytest.fixture(autouse=True)
def once(monkeypatch):
    """Each exercise is computed once, however often it is marked."""
    monkeypatch.setattr(play, "answer_chain", lambda what, code, load="": made(what.id, code, load))


def asked(drill, question):
    """A question as its file has it."""
    return next(q for q in scenario(drill).content["question"] if q["id"] == question)


def truth(drill, code, question):
    """The expected answer in SI."""
    return play.solution(scenario(drill), code, asked(drill, question))[0].value


def written(drill, question, si):
    """An SI value in the question's unit, with more figures than anybody writes."""
    unit = asked(drill, question)["unit"]
    return f"{from_si(si, unit):.9g} {unit}".strip()


@pytest.mark.parametrize("drill", scenarios())
def test_a_scenario_keeps_its_promises(drill):
    """With START's numbers the chain and its links have the verdicts that the file promises."""
    promise, found = scenario(drill).content["promise"], made(drill, START)

    assert str(found.verdict) == promise["verdict"]
    assert {x.id: str(x.verdict) for x in found.links} == promise["links"]


def test_a_strike_keeps_its_promise():
    """Where a file says how the strike plan comes out, it does, with every lamp in it."""
    told = [(i, s.content["promise"]["strike"]) for i, s in scenarios().items() if "strike" in s.content["promise"]]

    assert told
    for drill, verdict in told:
        plan = play.answer_strike(drill, START)
        assert str(plan.verdict) == verdict and set(plan.at) == set(scenario(drill).content["rig"]["loads"])


@pytest.mark.parametrize("code", CODES[:12])
def test_a_lamp_that_drops_out_by_hand(code):
    """Cooling and run-up follow each other; the engine gives 0.8 of the kVA; the dip is the step's part of it."""
    drawn = {k: float(v.split()[0]) for k, v in scenario("lamp_drops").values(code).items()}

    assert truth("lamp_drops", code, "back") == pytest.approx(60 * (drawn["cooling"] + drawn["warm"]))
    assert truth("lamp_drops", code, "engine") == pytest.approx(800 * drawn["power"])
    assert truth("lamp_drops", code, "frequency") == pytest.approx(drawn["engine"] / 100 * 2 / (0.8 * drawn["power"]), rel=1e-6)


@EACH
def test_every_question_can_be_solved_for_every_code(drill, question):
    """For fifty codes there is an answer, it is marked right as given and as the tool itself would show it, with the working behind it."""
    for code in CODES:
        expected = truth(drill, code, question)
        assert play.mark(drill, code, question, written(drill, question, expected)).outcome == "right"
        assert play.mark(drill, code, question, " ".join(shown(expected, asked(drill, question)["unit"]))).outcome == "right", code
        assert play.solution(scenario(drill), code, asked(drill, question))[1].steps


@EACH
def test_marking_by_size(drill, question):
    """At the edge of the tolerance right, a little beyond close, far off wrong, each with a word on why."""
    tolerance, expected = float(asked(drill, question)["tolerance"].split()[0]) / 100, truth(drill, START, question)
    for factor, outcome in ((1 + 0.99 * tolerance, "right"), (1 - 0.99 * tolerance, "right"), (1 + 1.5 * tolerance, "close"), (1 - 2.5 * tolerance, "close"), (1.77, "wrong"), (0.31, "wrong")):
        marked = play.mark(drill, START, question, written(drill, question, factor * expected))
        assert marked.outcome == outcome, factor
        assert marked.says
    high, low = (play.mark(drill, START, question, written(drill, question, f * abs(expected))) for f in (1.77, 0.31))
    assert expected < 0 or ("high" in high.says and "low" in low.says)


@EACH
def test_a_known_slip_is_named(drill, question):
    """An answer that is wrong in a foreseen way is told which way."""
    for slip in asked(drill, question).get("slip", ()):
        marked = play.mark(drill, START, question, written(drill, question, slip["factor"] * truth(drill, START, question)))
        assert (marked.outcome, marked.says) == ("wrong", slip["says"])


@EACH
def test_a_slip_of_the_prefix_is_named(drill, question):
    """A thousand times too much or too little: the figures are right, the unit is not."""
    for factor in (1000, 0.001):
        marked = play.mark(drill, START, question, written(drill, question, factor * truth(drill, START, question)))
        assert marked.outcome == "wrong" and "thousands" in marked.says


@EACH
@pytest.mark.parametrize(("answer", "outcome"), [("12 kg", "unit"), ("12 H/m", "unit"), ("about ten", "unreadable"), ("", "unreadable"), ("1,234", "unreadable"), ("1e999", "unreadable")])
def test_answers_of_another_kind(drill, question, answer, outcome):
    """Another kind of unit, or no number: said so, not marked wrong."""
    assert play.mark(drill, START, question, answer).outcome == outcome


def test_apparent_power_is_no_answer_to_a_question_for_watts():
    """kVA in the place of kW is another kind of unit, as any electrician will say."""
    assert play.mark("long_run", START, "draw", written("long_run", "draw", truth("long_run", START, "draw")).replace("W", "VA")).outcome == "unit"


@EACH
def test_a_bare_number_counts_in_the_units_asked_for(drill, question):
    """Without a unit the number counts in the question's."""
    unit = asked(drill, question)["unit"]

    assert play.mark(drill, START, question, f"{from_si(truth(drill, START, question), unit):.9g}").outcome == "right"


@pytest.mark.parametrize("code", CODES[:12])
def test_the_dim_against_plain_arithmetic(code):
    """Light is the power's share to the power ln 0.40 / ln 0.50, stops its logarithm; the supply gives power and head-cable loss over 92 %."""
    dim = float(scenario("dim_costs").values(code)["dim"].split()[0]) / 100
    light = dim ** (log(0.40) / log(0.50))
    loss = (2500 * dim / 115) ** 2 * 2 * 15 * 4.95e-3 * (1 + 0.00393 * 40)

    assert truth("dim_costs", code, "light") == pytest.approx(light, rel=1e-6)
    assert truth("dim_costs", code, "stops") == pytest.approx(log2(light), rel=1e-6)
    assert truth("dim_costs", code, "supply") == pytest.approx((2500 * dim + loss) / 0.92, rel=1e-3)


@pytest.mark.parametrize("code", CODES[:12])
def test_the_mix_against_plain_arithmetic(code):
    """Exposure time, the sinc of the pulses in it, the nearest angle of whole pulses; the mix is the wall's part and a little more."""
    values = scenario("mixed_light").values(code)
    rate, angle, share = (float(values[k].rstrip("° fps%")) for k in ("rate", "shutter", "share"))
    time = angle / 360 / rate
    wall = 1.6 * abs(sin(100 * pi * time) / (100 * pi * time))
    whole = min((360 * rate * n / 100 for n in range(1, 20) if 360 * rate * n / 100 <= 360), key=lambda a: abs(a - angle))

    assert truth("mixed_light", code, "time") == pytest.approx(time, rel=1e-6)
    assert truth("mixed_light", code, "wall") == pytest.approx(wall, rel=0.02)
    assert from_si(truth("mixed_light", code, "angle"), "°") == pytest.approx(whole, rel=1e-6)
    assert wall * share / 100 * 0.97 <= truth("mixed_light", code, "mix") <= wall * share / 100 + 0.01


@pytest.mark.parametrize("code", CODES[:12])
def test_the_plate_against_plain_arithmetic(code):
    """One dip more or less in an exposure shorter than a dip period, against the mean of the light; the limit is where that is 2 %."""
    rate, angle = (float(scenario("breaking_plate").values(code)[k].rstrip("° fps")) for k in ("rate", "shutter"))
    time, lost, mean = angle / 360 / rate, 0.40 * 60e-6, 1 - 0.40 * 60e-6 * 600

    assert truth("breaking_plate", code, "time") == pytest.approx(time, rel=1e-6)
    assert truth("breaking_plate", code, "key") == pytest.approx(lost / time / mean, rel=1e-6)
    assert truth("breaking_plate", code, "both") == pytest.approx(0.02 * mean * angle / 360 / lost, rel=1e-6)
    assert truth("breaking_plate", code, "fill") == pytest.approx(0.02 * (1 - 0.20 * 16e-6 * 2000) * angle / 360 / (0.20 * 16e-6), rel=1e-6)
    assert from_si(truth("breaking_plate", code, "angle"), "°") == pytest.approx(360 * rate / 600, rel=1e-6)


@pytest.mark.parametrize("code", CODES)
def test_the_plate_teaches_what_it_says(code):
    """With every code the key sets the limit, the shot is beyond it, the fill could go on, and the angle found is clean under both lamps."""
    drawn = scenario("breaking_plate").values(code)
    assert truth("breaking_plate", code, "both") < float(drawn["rate"].split()[0]) < truth("breaking_plate", code, "fill")
    degrees = from_si(truth("breaking_plate", code, "angle"), "°")
    rig_then = play.rig_of(scenario("breaking_plate"), code)
    rig_then["shots"]["S1"]["shutter"] = f"{degrees:g}°"

    assert degrees <= 360
    for load in ("A1", "A2"):
        assert next(link for link in chain(read(rig_then), load, "S1").links if link.id == "shutter").findings[0].verdict == "clear"


def test_posing_an_exercise():
    """What is posed has the code's numbers in story, rig and prompts, and not the answers."""
    posed = play.drill("long_run", "c 7")
    length = scenario("long_run").values("C7")["length"]

    assert posed["code"] == "C7"
    assert posed["rig"]["runs"]["K1"]["length"] == length and any(length in p for p in posed["story"])
    assert not {"vary", "derive", "promise"} & set(posed)
    assert all(set(q) == {"id", "prompt", "unit", "tolerance", "hints"} for q in posed["questions"])


def test_the_list_of_exercises():
    """Title, what it teaches, time and level, in their order."""
    assert [d["id"] for d in play.drills()] == list(scenarios())
    assert all(set(d) == {"id", "title", "teaches", "minutes", "level"} for d in play.drills())


def test_the_demo_rig_is_the_first_exercises():
    """The rig one tap away is that of the first exercise with its first numbers, and no copy that could drift from it."""
    assert play.demo_rig() == play.drill("long_run")["rig"]
    assert play.demo_rig() != rig()


def test_a_question_that_there_is_not():
    """Refused, not marked."""
    with pytest.raises(Refused) as caught:
        play.mark("long_run", START, "weather", "wet")

    assert caught.value.problems[0].code == "question-unknown"
