"""Text to SI and back."""

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.base import units
from pycore.base.problem import Refused
from pycore.base.quantity import Quantity

# Names that only our own definition file has, in the words of pint's default registry.
ABROAD = {"var": "volt*ampere", "kilovar": "kilovolt*ampere", "frame_per_second": "1/second", "stop": "dimensionless", "mired": "1e-6/kelvin", "foot_candle": "lumen/foot**2", "us_gallon": "gallon",
          "us_gallon/hour": "gallon/hour", "percent/metre": "percent/metre", "": "dimensionless"}


@pytest.fixture(scope="module")
def default():
    """Pint's own registry, with all it knows."""
    return pint.UnitRegistry()


@pytest.mark.parametrize("unit", units.SPELLINGS)
def test_our_definitions_agree_with_pint(unit, default):
    """Each unit has the factor and the zero that pint's default registry gives it."""
    abroad = ABROAD.get(units.SPELLINGS[unit], units.SPELLINGS[unit])
    offset = unit in ("°C", "°F")
    expected = [(default.Quantity(x, abroad) if offset else x * default(abroad)).to_base_units().magnitude for x in (0.0, 7.0)]

    assert [units.to_si(x, unit) for x in (0.0, 7.0)] == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("unit", [u for u in units.SPELLINGS if u and not u.startswith("1/")])
def test_each_unit_is_read_as_it_is_shown(unit):
    """Every unit of the list can be written after a number, with and without a space."""
    assert units.parse(f"12.5 {unit}", unit) == units.parse(f"12.5{unit}", unit) == units.to_si(12.5, unit)


@pytest.mark.parametrize(("other", "unit"), units.ALSO.items())
def test_other_spellings(other, unit):
    """Every other spelling means the unit it stands for."""
    assert units.parse(f"3 {other}", unit) == units.to_si(3, unit)


@pytest.mark.parametrize(("text", "unit", "expected"), [
    ("25 m", "m", 25), ("80 ft", "m", 24.384), ("80'", "m", 24.384), ("80′", "m", 24.384), ("80 feet", "m", 24.384), ("25", "m", 25),
    ("2,5 mm²", "mm²", 2.5e-6), ("2.5 mm2", "mm²", 2.5e-6), ("2.5mm^2", "mm²", 2.5e-6), (".5 mm²", "mm²", 0.5e-6),
    ("1 200 m", "m", 1200), ("1\u202f200 m", "m", 1200), ("1'200 m", "m", 1200), ("1,200.5 m", "m", 1200.5), ("1.200,5 m", "m", 1200.5), ("1200 m", "m", 1200),
    ("0,250 Ω", "Ω", 0.25), ("250 mΩ", "Ω", 0.25), ("−5 °C", "°C", 268.15), ("-5 °C", "°C", 268.15), ("86 °F", "°C", 303.15), ("30 C", "°C", 303.15),
    ("4 kW", "W", 4000), ("4e3 W", "W", 4000), ("92 %", "%", 0.92), ("92", "%", 0.92), ("0.98", "", 0.98), ("98 %", "", 0.98), ("172.8°", "°", 3.0159289), ("100 μs", "s", 1e-4),
])  # fmt: skip
def test_what_people_write(text, unit, expected):
    """Point and comma, marks for feet, prefixes, grouped thousands and bare numbers are read."""
    assert units.parse(text, unit) == pytest.approx(expected, rel=1e-7)


@pytest.mark.parametrize(("text", "unit", "code"), [
    ("1,200 m", "m", "number-unclear"), ("12,000", "A", "number-unclear"), ("-1,200", "A", "number-unclear"),
    ("", "m", "number-unreadable"), ("long", "m", "number-unreadable"), ("1.2.3 m", "m", "number-unreadable"), ("1e999 m", "m", "number-unreadable"), ("1,2,3", "m", "number-unreadable"), ("1,2.3,4", "m", "number-unreadable"),
    ("5 furlongs", "m", "unit-unknown"), ("12/3 AWG", "mm²", "unit-unknown"), ("25 m", "V", "unit-wrong"), ("25 m", "", "unit-wrong"), ("2.5 mm", "mm²", "unit-wrong"),
])  # fmt: skip
def test_what_is_refused(text, unit, code):
    """What could be read two ways, is no number, or measures something else is refused with its own code."""
    with pytest.raises(Refused) as caught:
        units.parse(text, unit)

    assert [p.code for p in caught.value.problems] == [code]


@pytest.mark.parametrize("text", ["2 5 m", "12 34 m", "6'3", "1'20 m", "5 10", "1 2345 m", "12'3456"])
def test_digits_apart_are_not_joined(text):
    """Spaces and marks part thousands only; "6'3" is not 63."""
    with pytest.raises(Refused):
        units.parse(text, "m")


@pytest.mark.parametrize(("text", "unit"), [
    ("50 %", "°"), ("45°", "%"), ("45°", ""), ("2 stop", "%"), ("-50 %", "stop"), ("4 kVA", "W"), ("4 kW", "VA"), ("4 kvar", "W"), ("4 kvar", "VA"), ("10 cd", "lm"),
])  # fmt: skip
def test_units_of_like_dimension_are_not_alike(text, unit):
    """Per cent, degrees and stops are different things, and so are W, VA and var, though their dimension is the same."""
    with pytest.raises(Refused) as caught:
        units.parse(text, unit)

    assert caught.value.problems[0].code == "unit-wrong"


@pytest.mark.parametrize(("written", "gauge"), [
    ("12 AWG", "12"), ("12AWG", "12"), ("12 awg", "12"), ("#2", "2"), ("#2 AWG", "2"), ("4/0 AWG", "4/0"), ("#4/0", "4/0"), ("0000 AWG", "4/0"), ("0 AWG", "1/0"), ("00 AWG", "2/0"), ("1 AWG", "1"),
])  # fmt: skip
def test_gauges_are_read(written, gauge):
    """American gauges are read with number sign, letters or noughts."""
    assert units.awg_in(written) == gauge
    assert units.parse(written, "mm²") == units.awg_area(gauge)


@pytest.mark.parametrize("text", ["12", "2.5 mm²", "5/0 AWG", "12 AW", "AWG", "250 kcmil"])
def test_what_is_no_gauge(text):
    """A bare number, a metric size or a gauge that there is not is no gauge."""
    assert units.awg_in(text) is None


def test_kcmil():
    """250 kcmil is 126.7 mm² (NEC, Chapter 9, Table 8, from memory), by either name."""
    assert units.from_si(units.parse("250 kcmil", "mm²"), "mm²") == pytest.approx(126.7, abs=0.05)
    assert units.parse("250 MCM", "mm²") == units.parse("250 kcmil", "mm²")


@pytest.mark.parametrize(("value", "unit", "text"), [
    (206.66, "V", "206.7\u00a0V"), (230.0, "V", "230\u00a0V"), (4347.8, "W", "4.35\u00a0kW"), (999.0, "W", "999\u00a0W"), (0.25, "Ω", "0.25\u00a0Ω"), (0.016, "Ω", "16\u00a0mΩ"), (0.0, "V", "0\u00a0V"),
    (12345.0, "A", "12.3\u00a0kA"), (2.5e-6, "mm²", "2.5\u00a0mm²"), (0.104, "%", "10.4\u00a0%"), (-0.097, "%", "−9.7\u00a0%"), (3.0159289, "°", "172.8°"), (0.02, "s", "20\u00a0ms"), (1e-4, "s", "100\u00a0µs"),
    (1.0, "stop", "1\u00a0stop"), (-1.0, "stop", "−1\u00a0stop"), (0.5, "stop", "0.5\u00a0stops"), (303.15, "°C", "30\u00a0°C"), (20000.0, "K", "20\u202f000\u00a0K"), (-1e-9, "stop", "0\u00a0stops"), (0.98, "", "0.98"),
])  # fmt: skip
def test_figures_as_shown(value, unit, text):
    """A person sees three or four figures, a fitting prefix, a true minus, thin spaces from 10 000, and the right plural."""
    assert str(Quantity(value, unit)) == text


@given(st.floats(-1e9, 1e9, allow_nan=False), st.sampled_from(sorted(units.SPELLINGS)))
def test_out_and_back(value, unit):
    """From SI and to SI are each other's inverse."""
    assert units.from_si(units.to_si(value, unit), unit) == pytest.approx(value, rel=1e-9, abs=1e-6)


@given(st.floats(1e-3, 1e9))
def test_what_is_shown_can_be_read(value):
    """A shown figure is readable again and within half a per cent of the value."""
    figure, unit = units.shown(value, "W")

    assert units.parse(f"{figure} {unit}", "W") == pytest.approx(value, rel=5e-3, abs=1e-6)


@given(st.text(max_size=30), st.sampled_from(sorted(units.SPELLINGS)))
def test_any_text_gives_a_number_or_a_problem(text, unit):
    """Whatever is written, the answer is a finite number or a refusal that says what to do."""
    try:
        assert abs(units.parse(text, unit)) < float("inf")
    except Refused as refused:
        assert refused.problems[0].message and refused.problems[0].way_out
