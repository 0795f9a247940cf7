"""North American rules for cables: the National Electrical Code."""

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Origin, Step, Term, term
from pycore.base.source import Cite
from pycore.base.units import awg_area, from_si
from pycore.conductors import lookup, voltage_drop
from pycore.conductors.air import factor_for_air
from pycore.conductors.rules import Base, CableRules, Laying, chosen, laid, limit_of, resting, size_of, whole

PORTABLE = {60: "portable-power-60-na", 75: "portable-power-75-na", 90: "portable-power-90-na"}
SMALLEST_PARALLEL = awg_area("1/0")  # 310.10(G), from memory


def base(laying: Laying) -> Base:
    """Tabled current of one set: portable power cable by its temperature, cords by theirs."""
    limit = max((c for c in PORTABLE if c <= limit_of(laying)), default=0)
    if not limit:
        raise refuse("no-rating", f"No table here is for a limit of {limit_of(laying)} °C", "Enter 60, 75 or 90 °C", f"{laying.at}/insulation")
    if laid(laying, "parallel", "Equal sets in parallel").value > 1 and size_of(laying).value < SMALLEST_PARALLEL * 0.999:
        raise refuse("parallel-too-small", "Sets in parallel are for 1/0 AWG and larger", "Use one larger cable", f"{laying.at}/laid/parallel")
    current, found = lookup.size_down(_places(laying, limit), size_of(laying), "tabled current")
    return Base(resting(current, laying.run.insulation), 60 if found == "cords-na" else limit)


def _places(laying: Laying, limit: int) -> tuple[tuple[str, str], ...]:
    """Singles that touch count as a three-conductor cable; ordinary 60 °C gear is a cord."""
    if laying.single_cores:
        return ((PORTABLE[limit], "singles_apart" if chosen(laying, "singles", "Single cores lie") == "apart" else "three_to_five_core"),)
    if chosen(laying, "listing", "Cord") == "stage" and limit >= 75:
        return (("stage-cords-na", f"at_{limit}"),)
    column = "two_core" if laying.loaded <= 2 else "three_to_five_core"
    cords = ("cords-na", column)
    return (cords,) if limit == 60 else ((PORTABLE[limit], column), cords)


def air(laying: Laying, limit: int) -> Term:
    """Factor for the air; cooler air than 30 °C is not counted."""
    return factor_for_air(laying, "ambient-na", f"at_{limit}")


def neighbours(laying: Laying) -> Term:
    """Cables side by side are counted by their conductors, see `cores`."""
    return whole("factor for neighbours", "counted by conductors")


def cores(laying: Laying) -> Term:
    """Factor for more than three conductors that carry current, in the cable or in the bunch."""
    count = laid(laying, "grouped", "Loaded cables side by side")
    together = count.value if chosen(laying, "arrangement", "Side by side") != "spaced" else 1.0
    all_of_them = term(laying.loaded * together, "", "current-carrying conductors together", rests_on=(count,), address=f"{laying.at}/laid/grouped")
    if all_of_them.value <= 3:
        return whole("factor for loaded cores", "three or fewer", count)
    return lookup.next_below("conductors-na", all_of_them, "factor", "factor for loaded cores")


def reel(laying: Laying) -> Term:
    """Factor for a cable on its reel."""
    if chosen(laying, "how", "Cable lies") == "out":
        return whole("factor for the reel", "laid out")
    return lookup.next_above("reel-na", laid(laying, "layers", "Layers on the reel"), "factor", "factor for the reel")


def terminals(laying: Laying, of: Base) -> Term | None:
    """110.14(C): connectors not marked for the cable hold it to the building wire's column at their own temperature."""
    limit = laid(laying, "terminals", "Temperature limit of the connectors")
    degrees = round(from_si(limit.value, "°C"))
    if degrees >= of.limit:
        return None
    if degrees < 60:
        raise refuse("no-rating", f"No table here is for connectors of {limit.quantity}", "Use connectors for 60 °C or more", f"{laying.at}/laid/terminals")
    column = "at_75" if degrees >= 75 else "at_60"
    return resting(lookup.size_down((("terminals-na", column),), size_of(laying), "most that the connectors allow")[0], limit)


def largest_device(laying: Laying) -> Term | None:
    """Small conductors and listed stage cords have a largest device of their own."""
    size = size_of(laying)
    if chosen(laying, "listing", "Cord") == "stage" and not laying.single_cores and limit_of(laying) >= 75:
        return lookup.size_down((("stage-cords-na", "largest_device"),), size, "largest device")[0]
    if size.value > awg_area("10") * 1.001:
        return None
    return lookup.size_down((("small-conductors-na", "largest_device"),), size, "largest device")[0]


def guidance(supply_kind: str, length: Term, runs: int) -> tuple[Step, ...]:
    """The code's notes: 3 % for a branch circuit, 5 % with its feeder."""
    branch = term(0.03 if runs <= 1 else 0.05, "%", "recommended limit", origin=Origin.PUBLISHED, note="a note of the code, not mandatory",
                  cite=Cite("nec", "210.19 note" if runs <= 1 else "215.2(A)(2) note"))
    return (work(voltage_drop.flat_limit, d_0=branch),)


def drop_by_table(laying: Laying, current: Term, displacement: Term) -> tuple[Step, ...]:
    """Chapter 9, Table 9: effective impedance to neutral at 75 °C in plastic conduit; singles apart have more reactance."""
    size = size_of(laying)
    if laying.run.length is None:
        raise refuse("entry-missing", "Length is missing or cannot be read", "Enter the length", f"{laying.at}/length")
    r, x = (lookup.size_down((("conduit-impedance-na", c),), size, c)[0] for c in ("resistance", "reactance"))
    effective = work(voltage_drop.effective_impedance, R=r, X=x, λ_1=displacement)
    drop = voltage_drop.out_and_back if laying.loaded <= 2 else voltage_drop.one_way
    return effective, work(drop, Z=effective.result, I=current, L=laying.run.length)


RULES = CableRules("na", "National Electrical Code", base, air, neighbours, cores, reel, terminals, largest_device, guidance, drop_by_table)
