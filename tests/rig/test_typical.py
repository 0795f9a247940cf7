"""What the rig does not say, filled and marked; what cannot be read, never filled."""

from dataclasses import fields, is_dataclass

import pytest

from pycore.base.problem import Refused
from pycore.base.result import Origin, Term
from pycore.rig.fill import listed
from pycore.rig.model import Run
from pycore.rig.read import read
from pycore.rig.typical import need, need_choice, settle
from tests.rigs import BALLAST, HEAD, LAMP, RUN, SHOT, rig

ESTIMATES = (Origin.TYPICAL, Origin.ASSUMED)
BARE = dict.fromkeys((f"{BALLAST}/efficiency", f"{BALLAST}/power_factor", f"{BALLAST}/displacement", f"{BALLAST}/low_cut_out", f"{LAMP}/arc_voltage", f"{HEAD}/size", f"{RUN}/size", f"{RUN}/length", f"{SHOT}/frame_rate", "supply/impedance"), "")  # fmt: skip


def whole(*changes):
    """The settled rig of the plain one, changed."""
    reading = read(rig(*changes))
    return settle(reading.rig, {p.address for p in reading.problems})


def terms(part):
    """Every term of a rig."""
    for f in fields(part):
        value = getattr(part, f.name)
        for inner in value.values() if isinstance(value, dict) else (value,):
            if isinstance(inner, Term):
                yield inner
            elif is_dataclass(inner):
                yield from terms(inner)


def test_what_is_entered_is_left_alone():
    """Settling changes nothing that the user gave."""
    reading = read(rig())
    given = {t.address: t.value for t in terms(reading.rig) if t.address}

    assert {t.address: t.value for t in terms(settle(reading.rig)) if t.address in given} == given


def test_what_is_filled_is_marked():
    """Everything filled in is typical or assumed, or follows from the user's own words; it says where it belongs and how to firm it up."""
    given = {t.address for t in terms(read(rig(BARE)).rig)}
    filled = [t for t in terms(whole(BARE)) if t.address and t.address not in given]

    assert {"loads/A1/ballast/efficiency", "runs/K1/size", "supply/impedance", "shots/S1/frame_rate"} <= {t.address for t in filled}
    for t in filled:
        assert t.origin in ESTIMATES or (t.origin in (Origin.STATED, Origin.COMPUTED, Origin.MEASURED) and t.note), t
        assert t.firm_up or t.origin not in ESTIMATES, t


@pytest.mark.parametrize("address", [*BARE])
def test_an_unreadable_entry_is_never_filled(address):
    """A typical value does not stand in for what the user wrote and nobody can read."""
    assert address not in {t.address for t in terms(whole(BARE, {address: "garbage"}))}


def test_nameplate_overrides_typical():
    """What is read off the nameplate counts, with its origin."""
    assert whole({f"{BALLAST}/efficiency": "85 %"}).loads["A1"].ballast.efficiency.origin is Origin.NAMEPLATE
    assert whole(BARE).loads["A1"].ballast.efficiency.origin is Origin.TYPICAL


def test_the_loop_impedance_follows_from_the_fault_current():
    """230 V over 920 A is 0.25 Ω, and the entered impedance wins over it."""
    from_current = {"supply/impedance": "", "supply/fault_current": "920 A"}

    assert whole(from_current).supply.impedance.value == pytest.approx(0.25)
    assert whole(from_current, {"supply/impedance": "0.4 Ω"}).supply.impedance.value == 0.4


def test_the_true_power_factor_is_displacement_times_distortion():
    """A displacement off the nameplate counts in the typical power factor, which never exceeds it."""
    ballast = whole({f"{BALLAST}/kind": "magnetic", f"{BALLAST}/power_factor": "", f"{BALLAST}/displacement": "0.6"}).loads["A1"].ballast

    assert ballast.power_factor.value == pytest.approx(0.6 * float(listed()["ballast"]["magnetic"]["distortion"]))


@pytest.mark.parametrize(("volts", "connection", "system", "low"), [("230 V", "L1-N", "single-phase", 180), ("120 V", "L1-N", "split-phase", 95), ("120 V", "L1-L2", "split-phase", 185), ("120 V", "L1-L2", "three-phase wye", 160)])
def test_cut_outs_follow_the_nominal_voltage(volts, connection, system, low):
    """The typical low cut-out is a share of the voltage across the connection: line to line counts as such."""
    changed = {"supply/voltage": volts, "supply/system": system, "loads/A1/connection": connection, f"{BALLAST}/low_cut_out": ""}

    assert whole(changed).loads["A1"].ballast.low_cut_out.value == pytest.approx(low)


def test_a_missing_shot_is_made():
    """A rig without a shot gets an assumed one, so that the chain has its end."""
    shot = settle(read(rig() | {"shots": {}}).rig).shots["S1"]

    assert shot.frame_rate.origin is shot.shutter.origin is Origin.ASSUMED


def test_needing_what_is_missing():
    """`need` and `need_choice` refuse with the entry's label and address."""
    with pytest.raises(Refused) as caught:
        need(Run(id="K1"), "length", "runs/K1")
    assert [(p.code, p.address) for p in caught.value.problems] == [("entry-missing", "runs/K1/length")]
    with pytest.raises(Refused):
        need_choice(Run(id="K1"), "cores", "runs/K1")


def test_listed_power_factors():
    """Every listed ballast has a power factor that there can be."""
    for i, usual in listed()["ballast"].items():
        assert 0 < float(usual["displacement"]) <= 1 and 0 < float(usual["distortion"]) <= 1, i
