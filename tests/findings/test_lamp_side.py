"""From the ballast to the light: head cable, ceilings and dims, against closed forms in plain arithmetic."""

from math import log, log2, sqrt

import pytest

from pycore.base.result import Verdict
from tests.findings.by_hand import head_resistance
from tests.rigs import BALLAST, HEAD, LAMP, LOAD, MAGNETIC, RUN, answer, finding, link, result, value

STOUT = {f"{RUN}/size": "16 mm²", f"{RUN}/length": "10 m", "supply/rating": "63 A"}  # a supply that does not get in the way
NOT_MADE_UP = {f"{BALLAST}/makes_up": "no"}


def near(x):
    """Within 0.1 % of a figure worked out by hand."""
    return pytest.approx(x, rel=1e-3)


def head(length, size=4):
    """The entries of a head cable."""
    return {f"{HEAD}/length": f"{length} m", f"{HEAD}/size": f"{size} mm²"}


def shared(output, ohms, volts=200.0):
    """(current, lamp power) of an arc that holds its voltage, when a given output is shared with the cable."""
    amps = (-volts + sqrt(volts**2 + 4 * ohms * output)) / (2 * ohms)
    return amps, volts * amps


@pytest.mark.parametrize("length", [5, 15, 50])
def test_loss_that_is_made_up(length):
    """The lamp keeps 4 kW at 20 A; the ballast gives I²R more, and the supply that over the efficiency."""
    lost = 20**2 * head_resistance(length, 4)
    made = answer(STOUT, head(length))

    assert link(made, "head_cable").figure.value == near(lost)
    assert value(finding(made, "head-cable")) == near(lost / 4000)
    assert value(finding(made, "lamp-power")) == near(1)
    assert result(made, "input_power").value == near((4000 + lost) / 0.92)
    assert finding(made, "head-cable").verdict is finding(made, "lamp-power").verdict is Verdict.CLEAR


@pytest.mark.parametrize(("length", "verdicts"), [(5, ("clear", "clear")), (40, ("tight", "stop")), (15, ("clear", "clear")), (22, ("clear", "clear")), (27, ("tight", "tight"))])
def test_loss_that_is_not_made_up(length, verdicts):
    """The ballast gives 4 kW; arc and cable share it, and the lamp lacks what the cable takes."""
    amps, lamp = shared(4000, head_resistance(length, 4))
    made = answer(STOUT, NOT_MADE_UP, head(length))

    assert link(made, "head_cable").figure.value == near(amps**2 * head_resistance(length, 4))
    assert value(finding(made, "lamp-power")) == near(lamp / 4000)
    assert result(made, "input_power").value == near(4000 / 0.92)
    expected = tuple("clear" if x <= 0.03 else "tight" if x <= 0.1 else "stop" for x in (1 - lamp / 4000,) * 2)
    assert (str(finding(made, "head-cable").verdict), str(finding(made, "lamp-power").verdict)) == expected


@pytest.mark.parametrize(("length", "verdict"), [(130, "tight"), (200, "stop")])
def test_the_ceiling_is_reached(length, verdict):
    """Beyond 108 % of rated power the ballast gives no more: the lamp gets less, whatever it makes up."""
    amps, lamp = shared(1.08 * 4000, head_resistance(length, 4))
    made = answer(STOUT, head(length), {f"{BALLAST}/most_current": "100 A"})
    found = finding(made, "lamp-power")

    assert 20**2 * head_resistance(length, 4) > 0.08 * 4000
    assert link(made, "head_cable").figure.value == near(amps**2 * head_resistance(length, 4))
    assert (value(found), str(found.verdict)) == (near(lamp / 4000), verdict)
    assert result(made, "input_power").value == near(1.08 * 4000 / 0.92)
    assert finding(made, "head-cable").note == "Ceiling reached"
    assert str(finding(made, "head-cable").verdict) == ("stop" if amps**2 * head_resistance(length, 4) > 400 else "tight")


def test_an_arc_on_a_sine_takes_more_current():
    """On a sine the arc's power factor of 0.833 raises the current, and the loss by its square."""
    amps, lamp = shared(4000 * 0.88 / 0.88 * (230 / 230) ** 2.2, head_resistance(15, 4), 200 * 0.833)
    made = answer(MAGNETIC, {**STOUT, "supply/impedance": "0 Ω", f"{RUN}/length": "0.1 m", "supply/rating": "100 A"})

    assert link(made, "head_cable").figure.value == near(amps**2 * head_resistance(15, 4))
    assert value(finding(made, "lamp-power")) == near(lamp / 4000)


@pytest.mark.parametrize("dim", [100, 90, 75, 50])
def test_a_dim(dim):
    """The dim is a share of electrical power; current, loss and drawn power follow, light by the exponent, stops by the light."""
    power = 4000 * dim / 100
    lost = (power / 200) ** 2 * head_resistance(15, 4)
    light = (dim / 100) ** 1.32
    made = answer(STOUT, {f"{LOAD}/dim": f"{dim} %"})

    assert result(made, "input_power").value == near((power + lost) / 0.92)
    assert value(finding(made, "lamp-power")) == near(1)
    assert link(made, "lamp").figure.value == near(light)
    assert result(made, "stops").value == pytest.approx(log2(light), rel=1e-3, abs=1e-9)


def test_half_the_power_gives_about_40_percent_of_the_light():
    """Common practice, no document: with nothing entered, 50 % of electrical power is 40 % of the light, −1.32 stops, and marked typical."""
    made = answer(STOUT, {f"{LOAD}/dim": "50 %", f"{LAMP}/exponent": ""})

    assert link(made, "lamp").figure.value == pytest.approx(0.40, abs=1e-9)
    assert result(made, "stops").value == pytest.approx(log(0.40) / log(2), abs=1e-9)
    assert "Dimming exponent" in {t.name for t in finding(made, "lamp-power").assumptions}


@pytest.mark.parametrize(("dim", "verdict"), [(50, Verdict.CLEAR), (49, Verdict.STOP), (100, Verdict.CLEAR)])
def test_the_floor_of_the_range(dim, verdict):
    """Down to the lowest dim is clear, below it a stop with the way back."""
    found = finding(answer(STOUT, {f"{LOAD}/dim": f"{dim} %"}), "lamp-floor")

    assert found.verdict is verdict
    assert bool(found.remedies) == (verdict is Verdict.STOP)


def test_a_magnetic_ballast_does_not_dim():
    """Its floor is full power; any dim is a stop."""
    assert finding(answer(MAGNETIC, STOUT, {f"{LOAD}/dim": "80 %"}), "lamp-floor").verdict is Verdict.STOP


def test_a_magnetic_ballast_makes_nothing_up():
    """It follows its supply: said to make up the loss, it is refused rather than given power that it does not draw."""
    made = answer(MAGNETIC, STOUT, {f"{BALLAST}/makes_up": "yes"})

    assert made.verdict is Verdict.UNKNOWN
    assert "cannot-make-up" in {p.code for x in made.links for f in x.findings for p in f.problems}


@pytest.mark.parametrize(("entries", "verdict"), [
    ({}, Verdict.CLEAR), ({f"{LOAD}/dim": "75 %"}, Verdict.UNKNOWN), ({f"{LOAD}/dim": "75 %", f"{LAMP}/colour_dimmed": "5700 K"}, Verdict.CLEAR),
    ({f"{LOAD}/dim": "75 %", f"{LAMP}/colour_dimmed": "6400 K"}, Verdict.TIGHT),
])  # fmt: skip
def test_the_colour(entries, verdict):
    """At full power it is the lamp's own; dimmed it is unknown until metered, then judged by its shift: 3.1 and 22.3 mired."""
    found = finding(answer(STOUT, entries), "lamp-colour")

    assert found.verdict is verdict
    if f"{LAMP}/colour_dimmed" in entries:
        dimmed = float(entries[f"{LAMP}/colour_dimmed"].split()[0])
        assert value(found) == near(abs(1 / dimmed - 1 / 5600))


def test_too_much_power_is_not_clear():
    """A choke on 244 V drives its lamp to 114 %: tight, held against the most that it should have."""
    made = answer(MAGNETIC, {**STOUT, "supply/impedance": "0 Ω", f"{RUN}/length": "0.1 m", f"{HEAD}/length": "1 m", "supply/rating": "100 A", "supply/voltage_measured": "244 V"})
    found = finding(made, "lamp-power")

    assert (found.verdict, found.limit.relation, found.limit.term.value) == (Verdict.TIGHT, "<=", pytest.approx(1.10))
    assert value(found) > 1.10 and found.margin.value < 0


@pytest.mark.parametrize("entry", [f"{LAMP}/rated_power", f"{HEAD}/length", f"{HEAD}/size", f"{LAMP}/arc_voltage", f"{BALLAST}/ceiling", f"{BALLAST}/efficiency"])
def test_unknown_where_an_entry_cannot_be_read(entry):
    """Lamp power and head cable are unknown, with the reason at its address."""
    made = answer(STOUT, {entry: "garbage"})
    lamp = finding(made, "lamp-power")

    assert lamp.verdict is Verdict.UNKNOWN
    assert entry in {p.address for p in lamp.problems}
