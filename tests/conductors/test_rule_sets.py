"""The two rule sets for cables: factors, what limits, what is refused, and what is never mixed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.base.problem import Refused
from pycore.base.quantity import Quantity
from pycore.base.result import Term
from pycore.base.table import table, tables
from pycore.base.units import awg_area, parse
from pycore.conductors import impedance
from pycore.conductors.ampacity import current_rating, rating
from pycore.conductors.rule_sets import SETS
from pycore.conductors.rules import Laying
from pycore.findings.changes import Change, applied
from pycore.rig.read import read
from pycore.rig.typical import settle
from tests.protection.rigs import IEC, NA, changed

FACTOR_TABLES = ("ambient-60", "ambient-90", "ambient-iec", "ambient-na", "grouping-iec", "conductors-na", "reel-iec", "reel-na")


def run(base=IEC, loaded=2, **entries):
    """A run as laid, with entries changed: `laid__how` for laid/how."""
    document = changed(base, {f"runs/K1/{k.replace('__', '/')}": v for k, v in entries.items()})
    return Laying(settle(read(document).rig).runs["K1"], loaded)


def amps(base=IEC, loaded=2, **entries):
    """What it may carry, A."""
    return rating(run(base, loaded, **entries), SETS[base["rules"]]).allowed.value


@pytest.mark.parametrize("name", FACTOR_TABLES)
def test_factors_never_rise(name):
    """More heat, neighbours, cores or layers never let a cable carry more."""
    of = table(name)
    for column in list(of.columns)[1:]:
        values = [v for _, v in of.pairs(column)]
        assert all(a >= b for a, b in zip(values, values[1:], strict=False)), column


def test_limiting_factor_is_named():
    """The answer says what takes most."""
    hot = {"size": "25 mm²", "ambient": "45 °C"}
    assert rating(run(), SETS["iec"]).limited_by == "the cable itself"
    assert rating(run(**hot), SETS["iec"]).limited_by == "the warm air"
    assert rating(run(**hot, laid__grouped="6"), SETS["iec"]).limited_by == "its neighbours"
    assert rating(run(**hot, laid__how="reel", laid__layers="4"), SETS["iec"]).limited_by == "the reel"
    assert rating(run(size="25 mm²", insulation="90 °C", laid__terminals="70 °C"), SETS["iec"]).limited_by == "its connectors"
    assert rating(run(NA, 4), SETS["na"]).limited_by == "its loaded cores"


@given(st.floats(-20, 55), st.integers(1, 20), st.integers(1, 4))
def test_worse_laying_never_carries_more(celsius, cables, layers):
    """A hotter, fuller, more wound cable carries no more than the plain one."""
    entries = {"size": "16 mm²", "ambient": f"{celsius:.1f} °C", "laid__grouped": str(cables), "laid__how": "reel", "laid__layers": str(layers)}
    for base in (IEC, NA):
        assert amps(base, **entries) <= amps(base, size="16 mm²") + 1e-9


@given(st.sampled_from([*table("copper-class-5").keys()[:-1], *table("copper-awg-75").keys()]), st.sampled_from(("iec", "na")), st.sampled_from(("60 °C", "90 °C")), st.integers(2, 4))
def test_a_size_between_counts_as_the_smaller(size, rules, limit, loaded):
    """Every listed size has a figure in either rule set, no larger than that of the next size up, or is refused."""
    base = {"iec": IEC, "na": NA}[rules]
    text = size if "AWG" in size else f"{size} mm²"
    try:
        here = amps(base, loaded, size=text, insulation=limit)
    except Refused:
        return
    for other in [*table("copper-class-5").keys(), *table("copper-awg-75").keys()]:
        area, text = (parse(other, "mm²"), other if "AWG" in other else f"{other} mm²")
        if area > parse(size, "mm²") * 1.002:
            try:
                assert amps(base, loaded, size=text, insulation=limit) >= here * 0.93, (size, other)  # cords and cables have tables of their own
            except Refused:
                continue


@pytest.mark.parametrize(("entries", "code"), [
    ({"ambient": "57 °C"}, "beyond-table"), ({"laid__grouped": "21"}, "beyond-table"), ({"laid__how": "reel", "laid__layers": "5"}, "beyond-table"), ({"size": "300 mm²"}, "no-rating"),
    ({"size": "0.5 mm²"}, "no-rating"), ({"insulation": "55 °C"}, "no-rating"), ({"laid__how": "reel"}, "entry-missing"), ({"insulation": "90 °C", "laid__terminals": "50 °C"}, "no-rating"),
])
def test_refuses_beyond_its_tables(entries, code):
    """No figure is made up beyond a table."""
    with pytest.raises(Refused) as refused:
        amps(**entries)
    assert refused.value.problems[0].code == code


def test_small_sets_are_not_paralleled_by_the_code():
    """Parallel sets are for 1/0 AWG and larger."""
    with pytest.raises(Refused, match="1/0 AWG"):
        amps(NA, size="2 AWG", laid__parallel="2")
    assert amps(NA, size="2/0 AWG", insulation="90 °C", laid__parallel="2", laid__terminals="90 °C") == pytest.approx(2 * 271)


def test_singles_touching_are_not_column_d():
    """405 A for a single 4/0 holds apart from others only; touching ones count as a three-conductor cable, and lugs for 75 °C hold either to 230 A."""
    single = {"size": "4/0 AWG", "insulation": "90 °C", "cores": "single cores"}
    assert amps(NA, 3, **single, laid__singles="apart", laid__terminals="90 °C") == 405
    assert amps(NA, 3, **single, laid__singles="touching", laid__terminals="90 °C") == 316
    assert amps(NA, 3, **single, laid__singles="apart", laid__terminals="75 °C") == 230


def test_tabled_drop_is_that_of_warm_tinned_copper():
    """The mV/A/m of 60 °C cables are twice the resistance of tinned class 5 at 60 °C, within 3 % up to 95 mm²: two documents agree."""
    for size, figure in table("drop-flexible-60").pairs("dc"):
        if size <= parse("95 mm²", "mm²"):
            cold = table("copper-class-5").cell(size, "tinned").value
            warm = impedance.resistance_at(r_0=cold, α=0.00393, θ=333.15, θ_0=293.15)
            assert figure == pytest.approx(2 * warm, rel=0.03), size


def test_twenty_and_seventy_five_degrees_are_kept_apart():
    """A 20 °C figure holds at 20 °C and a 75 °C one at 75 °C; taken to 20 °C, 12 AWG comes to the 1.62 Ω/kft of the 20 °C tables."""
    def ohms(text, celsius):
        size, temperature = (Term(quantity=Quantity.read(t, unit), name="x") for t, unit in ((text, "mm²"), (celsius, "°C")))
        return impedance.resistance_per_length(size=size, temperature=temperature).result.value
    assert ohms("2.5 mm²", "20 °C") == pytest.approx(parse("7.98 Ω/km", "Ω/km"))
    assert ohms("12 AWG", "75 °C") == pytest.approx(parse("1.98 Ω/kft", "Ω/kft"))
    assert ohms("12 AWG", "20 °C") == pytest.approx(parse("1.62 Ω/kft", "Ω/kft"), rel=0.01)


def test_every_rating_is_of_its_own_rule_set():
    """What a rating cites is the document of its set, whatever the size is written in."""
    own = {"iec": {"bs-7671", "iec-60364-5-52"}, "na": {"nec"}}
    for rules, base in (("iec", IEC), ("na", NA)):
        for size in ("4 mm²", "6 AWG", "35 mm²", "2 AWG"):
            made = rating(run(base, size=size, insulation="90 °C", ambient="40 °C", laid__grouped="3"), SETS[rules])
            cited = {t.cite.source for s in made.steps for t in s.terms if t.cite and t.cite.source != "circuit-theory"}
            assert cited <= own[rules], (rules, size, cited)


def test_a_bare_run_lies_in_free_air():
    """Other parts may ask for the rating of a plain cable."""
    full = run(size="6 mm²").run
    bare = type(full)(id="", size=full.size, cores="multicore", insulation=full.insulation, ambient=full.ambient)

    assert current_rating(bare, american=False).value == 39


def test_the_older_sixty_degree_column_is_not_used():
    """The 2023 column prints 15 and 20 A for 14 and 12 AWG; an older edition's 20 and 25 A stay out."""
    assert table("terminals-na").cell(awg_area("14"), "at_60").value == 15
    assert table("terminals-na").cell(awg_area("12"), "at_60").value == 20


def test_second_readings_are_recorded():
    """Every table of cables and protection was read twice."""
    ours = {"iec-60228", "nec", "bs-7671", "bs-7671-4", "iec-60898", "iec-60364-4-41", "iec-60364-5-54", "iec-61008", "dguv-203-006", "osha-1926-1408", "hse-gs6"}
    once = [t.id for t in tables().values() if t.source in ours and not any("second reading" in r for r in t.readings)]

    assert once == []


def test_an_applied_size_takes_its_earth_along():
    """A trial of a larger cable tries its typical earth conductor, too."""
    rig = settle(read(changed(IEC, {"runs/K1/laid/earth_size": ""})).rig)
    after = applied(rig, Change("10 mm²", (("runs/K1/size", "10 mm²"),)))

    assert after.runs["K1"].laid.earth_size.value == pytest.approx(10e-6)


def test_listed_stage_cords_have_their_own_table():
    """Listed extra-hard usage cords kept off hot gear carry more, and bring their own largest device."""
    stage = run(NA, 3, size="12 AWG", insulation="90 °C", laid__listing="stage", laid__terminals="90 °C")
    plain = run(NA, 3, size="12 AWG", insulation="90 °C", laid__terminals="90 °C")

    assert rating(stage, SETS["na"]).allowed.value == 35 and SETS["na"].largest_device(stage).value == 20
    assert rating(plain, SETS["na"]).allowed.value == 35 and SETS["na"].largest_device(plain).value == 20
    assert rating(run(NA, 3, size="14 AWG", insulation="75 °C", laid__listing="stage"), SETS["na"]).allowed.value == 24
    assert SETS["na"].largest_device(run(NA, 3, size="8 AWG", laid__listing="stage", insulation="90 °C")).value == 35
    assert SETS["na"].largest_device(run(NA, 3, size="8 AWG")) is None
