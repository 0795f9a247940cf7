"""Whole rigs against OpenDSS, an independent engine of the electricity supply industry; its answers are stored beside its models."""

import pytest

from pycore.powerflow.fundamental import solve
from tests.outside.reading import CASES, case_names, network, read
from tests.outside.refresh import model


@pytest.fixture(scope="module", params=case_names())
def case(request):
    """Input, our flow, and the other engine's answer."""
    given = read(request.param, "input.json")
    return given, solve(network(given)), read(request.param, "answer.json")


def test_there_are_enough_rigs():
    """Small to 120 loads, and every kind of system."""
    inputs = [read(name, "input.json") for name in case_names()]

    assert len(inputs) >= 8
    assert {i["source"]["system"] for i in inputs} == {"single-phase", "split-phase", "three-phase wye"}
    assert min(len(i["loads"]) for i in inputs) <= 3 and max(len(i["loads"]) for i in inputs) >= 120


def test_the_model_is_that_of_the_input(case, request):
    """model.dss is what refresh.py makes of input.json: nobody changed one without the other."""
    name = request.node.callspec.params["case"]

    assert (CASES / name / "model.dss").read_text("utf-8").splitlines() == model(case[0])


def test_every_voltage_agrees(case):
    """Every conductor of every node within 0.05 % of nominal, as a phasor."""
    given, flow, answer = case
    nominal = given["source"]["voltage"]

    assert flow.solved
    assert set(answer["volts"]) == set(flow.tree.nodes)
    for node, wires in answer["volts"].items():
        for conductor, (re, im) in wires.items():
            ours = flow.volts[flow.tree.number[node]][flow.tree.conductors[flow.tree.number[node]].index(conductor)]
            assert abs(ours - complex(re, im)) <= 0.0005 * nominal, (node, conductor)


def test_every_neutral_current_agrees(case):
    """Within 0.2 %, or 1 mA where next to nothing flows."""
    _, flow, answer = case

    for branch, (re, im) in answer["neutral"].items():
        theirs = complex(re, im)
        assert abs(flow.current(branch, "N") - theirs) <= max(0.002 * abs(theirs), 1e-3), branch
