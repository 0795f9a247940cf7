"""IEC-style rules for cables, with the figures of BS 7671 where it is named."""

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Origin, Step, Term, term
from pycore.base.source import Cite
from pycore.base.table import table
from pycore.base.units import from_si
from pycore.conductors import lookup, voltage_drop
from pycore.conductors.air import factor_for_air
from pycore.conductors.rules import Base, CableRules, Laying, chosen, laid, limit_of, resting, size_of, whole

FLEXIBLE = {60: "flexible-60", 90: "flexible-90"}
AIR = {60: "ambient-60", 90: "ambient-90"}
ARRANGEMENTS = {"bunched": "bunched", "single layer": "single_layer", "tray": "tray", "ladder": "ladder"}
ANNEX_G = Cite("iec-60364-5-52", "Table G.52.1")


def base(laying: Laying) -> Base:
    """Tabled current of one set laid out in free air at 30 °C."""
    limit = max((c for c in FLEXIBLE if c <= limit_of(laying)), default=0)
    if not limit:
        raise refuse("no-rating", f"No table here is for a limit of {limit_of(laying)} °C", "Enter 60 °C or 90 °C", f"{laying.at}/insulation")
    return _at_class(laying, limit)


def _at_class(laying: Laying, limit: int) -> Base:
    """From the flexible cables' table, else from that of cords, whose figures are those of 60 °C."""
    columns = ("two_core", "three_to_five_core") if laying.loaded <= 2 else ("three_to_five_core",)
    if laying.single_cores and laying.loaded <= 2:
        columns = ("two_singles", *columns)
    places = tuple((FLEXIBLE[limit], c) for c in columns) + tuple(("flexible-cords", c) for c in columns if c != "two_singles")
    current, found = lookup.size_down(places, size_of(laying), "tabled current")
    return Base(resting(current, laying.run.insulation), 60 if found == "flexible-cords" else limit)


def air(laying: Laying, limit: int) -> Term:
    """Factor for the air; cooler air than 30 °C is not counted."""
    return factor_for_air(laying, AIR[limit], "factor")


def neighbours(laying: Laying) -> Term:
    """Factor for loaded cables side by side."""
    count, how = laid(laying, "grouped", "Loaded cables side by side"), chosen(laying, "arrangement", "Side by side")
    if count.value < 2:
        return whole("factor for neighbours", "lies alone", count)
    if how == "spaced":
        return whole("factor for neighbours", "two diameters apart", count)
    return lookup.next_above("grouping-iec", count, ARRANGEMENTS[how], "factor for neighbours")


def cores(laying: Laying) -> Term:
    """The columns already tell two loaded cores from three; a loaded neutral is judged by its harmonics instead."""
    return whole("factor for loaded cores", "in the table's column")


def reel(laying: Laying) -> Term:
    """Factor for a cable on its reel."""
    how = chosen(laying, "how", "Cable lies")
    if how == "out":
        return whole("factor for the reel", "laid out")
    if how == "reel":
        return lookup.next_above("reel-iec", laid(laying, "layers", "Layers on the reel"), "factor", "factor for the reel")
    return table("reel-radial-iec").cell(1.0, "ventilated" if how == "spiral" else "unventilated", "factor for the reel")


def terminals(laying: Laying, of: Base) -> Term | None:
    """A hot-running cable into connectors for less is held to the cooler cable's current."""
    limit = laid(laying, "terminals", "Temperature limit of the connectors")
    if limit.value >= from_kelvin(of.limit) - 0.01:
        return None
    if round(from_si(limit.value, "°C")) < 60:
        raise refuse("no-rating", f"No table here is for connectors of {limit.quantity}", "Use connectors for 60 °C or more", f"{laying.at}/laid/terminals")
    cooler = _at_class(laying, 60)
    step = work(voltage_drop.with_factor, I=cooler.current, f=air(laying, cooler.limit))
    return resting(step.result, limit)


def from_kelvin(celsius: int) -> float:
    """K of a whole number of °C."""
    return celsius + 273.15


def largest_device(laying: Laying) -> Term | None:
    """No table of its own: the device must not exceed the cable."""
    return None


def guidance(supply_kind: str, length: Term, runs: int) -> tuple[Step, ...]:
    """Annex G for lighting, with its allowance for long runs."""
    private = supply_kind != "mains"
    base_drop = term(0.06 if private else 0.03, "%", "recommended limit up to 100 m", origin=Origin.PUBLISHED, cite=ANNEX_G,
                     note=f"lighting on a {'private' if private else 'public'} supply; informative")
    return (work(voltage_drop.long_run_limit, d_0=base_drop, L=length, **voltage_drop.LONG_RUN),)


def drop_by_table(laying: Laying, current: Term, displacement: Term) -> tuple[Step, ...]:
    """The mV/A/m of the wiring rules, at the conductor's limit; it knows no power factor."""
    column = "single_phase" if laying.loaded <= 2 else "three_phase"
    limit = _at_class(laying, 60).limit
    if limit_of(laying) > limit and size_of(laying).value > 4.01e-6 or laying.single_cores:
        raise refuse("no-rating", "The drop of this cable is not among the tables here", "", f"{laying.at}/size")
    figure, _ = lookup.size_down((("drop-flexible-60", column), ("drop-cords", column)), size_of(laying), "tabled drop")
    return (work(voltage_drop.tabled_drop, m=figure, I=current, L=_length(laying)),)


def _length(laying: Laying) -> Term:
    if laying.run.length is None:
        raise refuse("entry-missing", "Length is missing or cannot be read", "Enter the length", f"{laying.at}/length")
    return laying.run.length


RULES = CableRules("iec", "IEC 60364 with figures of BS 7671", base, air, neighbours, cores, reel, terminals, largest_device, guidance, drop_by_table)
