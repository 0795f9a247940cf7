"""What is no network is refused, with every reason at once; no number that is not finite reaches the solver."""

from dataclasses import replace
from math import inf, nan

import pytest

from pycore.base.problem import Refused
from pycore.powerflow.fundamental import solve
from pycore.powerflow.network import Branch, wire
from tests.powerflow.rigs import load, one_cable

SOUND = one_cable(load(power=1000.0), load("B", power=500.0), r=0.1)


def codes(network):
    """The problems' codes and places."""
    with pytest.raises(Refused) as refused:
        solve(network)
    return [(p.code, p.address) for p in refused.value.problems]


@pytest.mark.parametrize("bad", [nan, inf, -inf])
@pytest.mark.parametrize("key", ["power", "reactive", "voltage", "exponent", "low", "fold"])
def test_load_entries(key, bad):
    """Any entry of a load."""
    assert codes(SOUND.with_loads((replace(SOUND.loads[0], **{key: bad}),))) == [("not-a-number", "loads/A")]


@pytest.mark.parametrize("change", [{"power": -1.0}, {"voltage": 0.0}, {"high": nan}, {"stands": nan}, {"spectrum": ((3, nan, 0.0),)}, {"spectrum": ((1, 0.1, 0.0),)}])
def test_load_entries_out_of_range(change):
    """Power below nothing, no voltage, unknown limits as NaN, spectra with NaN or with a fundamental."""
    assert codes(SOUND.with_loads((replace(SOUND.loads[0], **change),))) == [("not-a-number", "loads/A")]


@pytest.mark.parametrize("bad", [nan, inf, -0.1])
@pytest.mark.parametrize("key", ["r", "joint", "r_metre"])
def test_wire_entries(key, bad):
    """Any resistance of a wire."""
    branch = SOUND.branch("F")
    assert codes(SOUND.with_branch(replace(branch, wires=(replace(branch.wires[0], **{key: bad}), branch.wires[1])))) == [("not-a-number", "runs/F")]


def test_mutual_of_the_wrong_shape():
    """One row for two wires."""
    assert codes(SOUND.with_branch(replace(SOUND.branch("F"), mutual=((0.1, 0.0),)))) == [("not-a-number", "runs/F")]


@pytest.mark.parametrize("source", [{"emf": {"L1": nan, "N": 0j}}, {"z": {"L1": -1.0, "N": 0j}}, {"z_harmonic": {"L1": complex(0, inf), "N": 0j}}])
def test_source_entries(source):
    """EMFs and impedances."""
    assert codes(replace(SOUND, source=replace(SOUND.source, **source))) == [("not-a-number", "supply")]


def test_frequency():
    """0 Hz and NaN."""
    for f in (0.0, nan):
        assert codes(replace(SOUND, frequency=f)) == [("not-a-number", "supply")]


def test_all_at_once():
    """Two bad loads and a bad wire: three problems."""
    bad = SOUND.with_loads(tuple(replace(x, power=nan) for x in SOUND.loads))
    bad = bad.with_branch(replace(bad.branch("F"), wires=(wire("L1", nan), wire("N", 0.1))))

    assert codes(bad) == [("not-a-number", "runs/F"), ("not-a-number", "loads/A"), ("not-a-number", "loads/B")]


def test_names_and_feeding():
    """Names twice, places fed twice, runs fed by nothing, loops, conductors that are not there."""
    pair = (wire("L1", 0.1), wire("N", 0.1))
    run = SOUND.branch("F")

    assert ("id-twice", "loads/A") in codes(SOUND.with_loads((SOUND.loads[0], SOUND.loads[0])))
    assert ("fed-twice", "runs/G") in codes(replace(SOUND, branches=(run, Branch(id="G", start="S", end="box", wires=pair))))
    assert codes(replace(SOUND, branches=(run, Branch(id="G", start="nowhere", end="x", wires=pair)))) == [("not-fed", "runs/G")]
    loop = (run, Branch(id="G", start="x", end="y", wires=pair), Branch(id="H", start="y", end="x", wires=pair))
    assert set(codes(replace(SOUND, branches=loop))) == {("not-fed", "runs/G"), ("not-fed", "runs/H")}
    assert codes(replace(SOUND, branches=(run, Branch(id="G", start="box", end="x", wires=(wire("L2", 0.1),))))) == [("wire-unfed", "runs/G")]
    assert codes(SOUND.with_loads((replace(SOUND.loads[0], b="L3"),))) == [("wire-unfed", "loads/A")]
    assert codes(SOUND.with_loads((replace(SOUND.loads[0], b="L1"),))) == [("wire-unfed", "loads/A")]
    assert codes(SOUND.with_loads((replace(SOUND.loads[0], node="x"),))) == [("not-fed", "loads/A")]
    assert codes(replace(SOUND, source=replace(SOUND.source, z={"L1": 0j}))) == [("supply-wires", "supply")]
