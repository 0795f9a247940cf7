"""Resistance and reactance of cables."""

import pytest

from pycore.base.problem import Refused
from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Term
from pycore.conductors import impedance
from pycore.rig.model import Laid, Run


def size(text, origin=Origin.STATED):
    """A conductor size as a rig has it."""
    return Term(quantity=Quantity.read(text, "mm²"), origin=origin, address="runs/K1/size", note=text)


def warm(celsius):
    """A conductor temperature."""
    return Term(quantity=Quantity.of(celsius, "°C"))


@pytest.mark.parametrize(("text", "celsius", "ohm_per_km"), [("2.5 mm²", 20, 7.98), ("2.5 mm²", 60, 7.98 * 1.1572), ("16 mm²", 90, 1.21 * 1.2751), ("4/0 AWG", 75, 0.0608 / 0.3048), ("12 AWG", 75, 1.98 / 0.3048)])
def test_each_table_is_warmed_from_its_own_temperature(text, celsius, ohm_per_km):
    """Metric sizes start at 20 °C with 0.00393, American ones at 75 °C with 0.00323: the two are never mixed."""
    assert impedance.resistance_per_length(size=size(text), temperature=warm(celsius)).result.value == pytest.approx(ohm_per_km / 1000, rel=1e-4)


def test_the_working_names_table_and_coefficient():
    """The line of working cites the row that was read and where the coefficient is from."""
    cited = {t.symbol: t.cite for t in impedance.resistance_per_length(size=size("2.5 mm²"), temperature=warm(60)).terms if t.cite}

    assert cited["r_0"].source == "iec-60228" and "2.5" in cited["r_0"].locator
    assert cited["α"].source == "iec-60287"


@pytest.mark.parametrize("text", ["3 mm²", "2.6 mm²", "400 mm²", "20 AWG"])
def test_a_size_that_no_table_has(text):
    """Refused at the entry's address, with the sizes that there are; nothing is interpolated."""
    with pytest.raises(Refused) as caught:
        impedance.tabled_resistance(size(text))

    assert caught.value.problems[0].address == "runs/K1/size" and "2.5" in caught.value.problems[0].way_out


def test_an_assumed_size_stays_an_estimate():
    """A resistance looked up for a size that nobody entered leans on that guess."""
    guessed, stated = (impedance.tabled_resistance(size("2.5 mm²", o))[0] for o in (Origin.ASSUMED, Origin.STATED))

    assert [t.address for t in guessed.leans_on] == ["runs/K1/size"]
    assert stated.leans_on == ()


def test_out_and_back():
    """Twice the length counts, and reactance grows with frequency."""
    assert impedance.loop_resistance(r=8e-3, l=50) == pytest.approx(0.8)
    assert impedance.loop_reactance(x=8e-5, l=50, f=60, f_0=50) == pytest.approx(0.0096)


@pytest.mark.parametrize(("cores", "milliohm"), [("multicore", 0.08), ("single cores", 0.1)])
def test_typical_reactance(cores, milliohm):
    """0.08 mΩ/m for a multicore cable, 0.1 for single cores laid close; typical, and said to be from memory."""
    found = impedance.reactance_per_length(Run(id="K1", cores=cores))

    assert (found.per_length.value, found.per_length.origin, found.at.value) == (pytest.approx(milliohm / 1000), Origin.TYPICAL, 50)
    assert "memory" in found.per_length.note


def test_single_cores_laid_apart_have_the_reactance_of_their_distance():
    """BS 7671 Table 4F2B gives 0.105 mΩ/m a core for touching cores of 50 mm², 15 mm apart; at a quarter of a metre it is nearly three times that. A multicore cable does not care."""
    def at(spacing, cores="single cores"):
        return impedance.reactance_per_length(Run(id="K1", cores=cores, size=size("50 mm²"), laid=Laid(spacing=Term(quantity=Quantity.read(spacing, "mm")))))

    assert at("15 mm").per_length.value == pytest.approx(0.105e-3, rel=0.10)
    assert at("25 cm").per_length.value == pytest.approx(2.6 * 0.105e-3, rel=0.15)
    assert [s.result for s in at("25 cm").steps] == [at("25 cm").per_length]
    assert at("25 cm", "multicore").per_length.value == pytest.approx(0.08e-3)


def test_sizes_rise():
    """Both lists of sizes rise, each in its own style."""
    assert impedance.sizes("mm²")[:3] == ["1.5", "2.5", "4"]
    assert impedance.sizes("AWG")[-1] == "4/0 AWG"
