"""What arrives: a 4 kW daylight head on 230 V, against plain arithmetic, within 0.1 %."""

import pytest

from pycore.base.result import Verdict
from tests.findings.by_hand import Circuit, head_resistance
from tests.rigs import BALLAST, RUN, UNCORRECTED, answer, finding, link, result, value

WITHIN = 1e-3
OUTPUT = 4000 + (4000 / 200) ** 2 * head_resistance(15, 4)  # the ballast makes up 15 m of 4 mm²
DRAWN = OUTPUT / 0.92


def near(x):
    """Within 0.1 % of a figure worked out by hand."""
    return pytest.approx(x, rel=WITHIN)


def run(size, length="60 m"):
    """The entries of a run."""
    return {f"{RUN}/size": f"{size} mm²", f"{RUN}/length": length}


@pytest.mark.parametrize(("size", "volts", "drop"), [(2.5, 200.3, 10.49), (4, 211.0, 5.98), (10, 220.1, 2.13)])
def test_a_corrected_head(size, volts, drop):
    """60 m of 2.5 mm² leave 200 V, 4 mm² 211 V, 10 mm² 220 V; current, outlet, loss and power agree with the hand computation."""
    hand = Circuit(DRAWN, size=size)
    made = answer(run(size))

    assert hand.volts == pytest.approx(volts, abs=0.06)  # the figures in the title, as a check on the hand computation itself
    assert (hand.outlet - hand.volts) / 2.30 == pytest.approx(drop, abs=0.006)
    assert value(finding(made, "ballast-window")) == near(hand.volts)
    assert value(finding(made, "supply-voltage")) == near(hand.outlet)
    assert value(finding(made, "run-voltage")) == near((hand.outlet - hand.volts) / 230)
    assert value(finding(made, "run-current")) == value(finding(made, "supply-current")) == near(hand.amps)
    assert value(finding(made, "ballast-draw")) == near(hand.volts * hand.amps)
    assert result(made, "input_power").value == near(DRAWN)


def test_the_shares_of_the_drawn_power():
    """What the ribbon shows is the drawn power less the cable's loss, the ballast's and the head cable's."""
    hand = Circuit(DRAWN, size=2.5)
    made = answer(run(2.5))
    whole = DRAWN + hand.lost

    assert [link(made, i).share for i in ("supply", "K1", "ballast", "head_cable")] == [near(s) for s in (1, DRAWN / whole, OUTPUT / whole, 4000 / whole)]


def test_an_uncorrected_head():
    """Power factor 0.63 on a stiff supply, 0.85 at the end of this cable: 28 A in place of 22 A, a warmer cable, and a stop where 2.5 mm² carries 25 A."""
    hand = Circuit(DRAWN, size=2.5, displacement=0.97, factor=0.63, pulses=True)
    made = answer(UNCORRECTED, run(2.5), {f"{BALLAST}/low_cut_out": "170 V"})

    assert 27 < hand.amps < 29
    assert value(finding(made, "ballast-window")) == near(hand.volts)
    assert value(finding(made, "run-current")) == near(hand.amps)
    assert value(finding(made, "ballast-draw")) == near(hand.volts * hand.amps)
    assert (finding(made, "run-current").verdict, finding(made, "supply-current").verdict) == (Verdict.STOP, Verdict.TIGHT)


def test_below_the_low_cut_out():
    """100 m of 2.5 mm² would leave 160 V: the ballast is out, and nothing is said of the light."""
    hand = Circuit(DRAWN, size=2.5, length=100)
    made = answer(run(2.5, "100 m"))
    window = finding(made, "ballast-window")

    assert hand.volts < 180
    assert (window.verdict, window.note, window.demand.value) == (Verdict.STOP, "Cuts out", near(hand.volts))
    assert window.limit.term.value == 180 and window.margin.value == near((hand.volts - 180) / 180)
    assert made.verdict is Verdict.STOP
    assert [finding(made, q).verdict for q in ("head-cable", "lamp-power", "shot-steady")] == [Verdict.UNKNOWN] * 3
    assert link(made, "lamp").share == link(made, "shutter").share == 0


def test_no_operating_point():
    """180 m of 2.5 mm² cannot carry it at any voltage: a stop that says how much it could carry, and which size would do."""
    hand = Circuit(DRAWN, size=2.5, length=180)
    made = answer(run(2.5, "180 m"))
    found = finding(made, "run-voltage")

    assert hand.volts is None
    assert (found.verdict, found.note, found.demand.value, found.limit.term.value) == (Verdict.STOP, "Collapse", near(DRAWN), near(hand.most))
    assert finding(made, "ballast-window").verdict is Verdict.UNKNOWN
    assert made.verdict is Verdict.STOP and "collapse" in made.headline.lower()
    assert all(Circuit(DRAWN, size=float(text.split()[0]), length=180).volts for r in found.remedies for _, text in r.changes if float(text.split()[0]) <= 16)


def test_the_edge_of_collapse():
    """Just inside the most that the path can carry there is a voltage, just outside there is none; both agree with the hand computation."""
    states = {}
    for length in range(104, 140, 4):
        hand = Circuit(DRAWN, size=2.5, length=length)
        window = finding(answer(run(2.5, f"{length} m"), {f"{BALLAST}/low_cut_out": "40 V"}), "ballast-window")
        assert (hand.volts is None) == (window.demand is None), length
        assert hand.volts is None or value(window) == near(hand.volts)
        states[hand.volts is None] = length
    assert set(states) == {True, False}


def test_a_magnetic_ballast_on_sagging_voltage():
    """A choke's power falls with the 2.2nd power of its voltage: less is drawn, less reaches the lamp."""
    magnetic = {f"{BALLAST}/kind": "magnetic", f"{BALLAST}/efficiency": "88 %", f"{BALLAST}/power_factor": "0.48", f"{BALLAST}/displacement": "0.5", f"{BALLAST}/makes_up": "no",
                f"{BALLAST}/output": "sine", f"{BALLAST}/floor": "100 %"}  # fmt: skip
    hand = Circuit(4000 / 0.88, size=16, length=50, displacement=0.5, factor=0.48, follows=2.2)
    made = answer(magnetic, run(16, "50 m"))
    output, ohms, arc = 0.88 * hand.drawn, head_resistance(15, 4), 200 * 0.833
    amps = (-arc + (arc**2 + 4 * ohms * output) ** 0.5) / (2 * ohms)

    assert value(finding(made, "ballast-window")) == near(hand.volts)
    assert value(finding(made, "run-current")) == near(hand.amps)
    assert result(made, "voltage_following_power").value == near(hand.drawn)
    assert value(finding(made, "lamp-power")) == near(amps * arc / 4000)
    assert hand.drawn < 0.97 * 4000 / 0.88


@pytest.mark.parametrize(("measured", "volts"), [("215 V", 215), ("244 V", 244)])
def test_the_measured_voltage_counts(measured, volts):
    """What was metered at no load stands in the place of the nominal voltage; the drop is still a share of the nominal one."""
    hand = Circuit(DRAWN, size=4, source=volts)
    made = answer(run(4), {"supply/voltage_measured": measured})

    assert value(finding(made, "ballast-window")) == near(hand.volts)
    assert value(finding(made, "run-voltage")) == near((hand.outlet - hand.volts) / 230)


def test_two_runs_in_a_row():
    """A feeder and a run add up, and each link says what arrives at its own end."""
    both = {**run(4, "20 m"), "runs/K2/fed_by": "K1", "runs/K2/length": "40 m", "runs/K2/size": "4 mm²", "runs/K2/ambient": "30 °C", "runs/K2/insulation": "60 °C", "loads/A1/fed_by": "K2"}
    hand = Circuit(DRAWN, size=4)
    made = answer(both)

    assert link(made, "K2").figure.value == near(hand.volts)
    assert link(made, "K1").figure.value == near(hand.outlet - (hand.outlet - hand.volts) / 3)
