"""North American rules for devices and earth: the National Electrical Code."""

from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Term, term
from pycore.base.source import Cite
from pycore.base.table import table
from pycore.protection.rules import Band, DeviceRules, Keeps, Leak, Slow, from_its_curve, kind_of
from pycore.rig.model import Device, Site
from pycore.rig.typical import need, need_choice

CLASS_A = (4e-3, 6e-3)  # A: it may open from the one, it opens from the other
RECEPTACLE = 20.0  # A; 525.23 asks for it on 125 V receptacles of 15 and 20 A


def published(value: float, unit: str, name: str, source: str, locator: str, note: str = "") -> Term:
    """A figure of a document that is no table."""
    return term(value, unit, name, origin=Origin.PUBLISHED, cite=Cite(source, locator), note=note)


def duty(device: Device, at: str) -> Term:
    """125 % of a load that lasts three hours or more."""
    long = need_choice(device, "burns", at) == "long"
    return published(1.25 if long else 1.0, "", "factor for long burns", "nec", "210.20(A), 215.3", "burns of three hours and more" if long else "shorter burns")


def cable_factor(device: Device) -> Term:
    """No larger than the cord's ampacity; the next size up is not taken."""
    return published(1.0, "", "factor for the kind of device", "nec", "240.5")


def band(device: Device, at: str) -> Band:
    """As read off the device's own curve: curve letters belong to the other rule set."""
    if kind_of(device, at) != "other":
        raise refuse("no-rule", "Curve letters and gG belong to IEC devices; this rule set reads each device's own curve", "Choose “Another breaker or a fuse” and enter its currents", f"{at}/kind")
    return from_its_curve(device, at)


def late_trip(device: Device, of: Band, allowed: Term) -> Term:
    """The code names no time; at once is what counts."""
    return of.trips


def slow(device: Device) -> Slow:
    """Molded-case breakers and fuses hold their rating and open within an hour or two at 135 %."""
    return Slow(published(1.0, "", "held", "ul-489", "100 %"), published(1.35, "", "opens in an hour or two", "ul-489", "135 %"))


def time_allowed(system: str, voltage: Term, rating: Term, final: bool) -> Term | None:
    """None: the code wants a fault cleared, without a time."""
    return None


def heating(limit: Term) -> Term | None:
    """None: the table of equipment grounding conductors covers it."""
    return None


def earth_size(rating: Term) -> Term | None:
    """Table 250.122 by the device ahead."""
    sizes = table("earth-size-na")
    key = next((k for k, _ in sizes.pairs("copper") if rating.value <= k * (1 + 1e-9)), None)
    if key is None:
        raise refuse("beyond-table", f"No grounding conductor is listed for {rating.quantity}", "Take the rule of your local code", rating.address)
    return sizes.cell(key, "copper", "least equipment grounding conductor")


def leak(device: Device, at: str) -> Leak:
    """A class A interrupter may open from 4 mA; for others the code gives no share."""
    if need_choice(device, "residual", at) != "GFCI":
        raise refuse("no-rule", "This rule set knows the standing current of class A interrupters only", "Ask the device's maker", f"{at}/residual")
    rating = need(device, "residual_rating", at)
    lowest = published(CLASS_A[0] / rating.value, "%", "may open from", "gfci-article", "4 to 6 mA")
    return Leak(published(0.5 * CLASS_A[0] / rating.value, "%", "share advised", "gfci-article", "half of what may open it"), lowest)


def residual_for_people(rating: Term, voltage: Term) -> Term | None:
    """Class A on 125 V receptacles up to 20 A."""
    if rating.value > RECEPTACLE or voltage.value > 125:
        return None
    return published(CLASS_A[1], "mA", "largest rated residual current", "nec-shows", "525.23: class A")


def line_distance(site: Site) -> Term:
    """By the line's voltage; structures keep a distance of their own from low-voltage lines."""
    voltage = need(site, "line_voltage", "supply/site")
    if voltage.value <= 600:
        return published(4.572, "ft", "least distance from the line", "nec-shows", "525.5(B): 15 ft")
    distances = table("line-clearance-us")
    key = next((k for k, _ in distances.pairs("distance") if voltage.value <= k * (1 + 1e-9)), None)
    if key is None:
        raise refuse("beyond-table", "Above 1000 kV the line's owner sets the distance", "Ask the line's owner", "supply/site/line_voltage")
    return distances.cell(key, "distance", "least distance from the line")


def supply_keeps() -> tuple[Keeps, Keeps]:
    """ANSI C84.1 at the point of use: Range A, and Range B at the worst."""
    return _range("Range A"), _range("Range B")


def _range(name: str) -> Keeps:
    """A range as shares of the 120 V for which it is printed."""
    printed = [table("supply-band-na").cell(name, column, f"{column} share of nominal") for column in ("least", "most")]
    least, most = (Term(quantity=Quantity(t.value / 120.0, "%"), name=t.name, origin=t.origin, cite=t.cite, note=f"{t.quantity} of 120 V") for t in printed)
    return Keeps(least, most, f"in {name}")


RULES = DeviceRules(
    id="na", title="National Electrical Code", duty=duty, cable_factor=cable_factor, band=band, late_trip=late_trip, slow=slow,
    ratings=("15", "20", "25", "30", "35", "40", "45", "50", "60", "70", "80", "90", "100", "110", "125", "150", "175", "200", "225", "250", "300", "350", "400"),
    lowest=term(0.9, "", "voltage factor, lowest", origin=Origin.STATED, note="our own margin for a low supply"),
    highest=term(1.1, "", "voltage factor, highest", origin=Origin.STATED, note="our own margin for a high supply"), least_breaking=None,
    time_allowed=time_allowed, touch_voltage=term(50.0, "V", "touch voltage limit", origin=Origin.STATED, note="our own yardstick"), heating=heating, earth_size=earth_size, leak=leak,
    residual_for_people=residual_for_people, earth_current=None, line_distance=line_distance, supply_keeps=supply_keeps,
    look_up="Look up: stay 10 ft from lines up to 50 kV and farther from higher ones, 15 ft with structures from those up to 600 V.",
    oversize="In buildings used mainly for motion pictures the code lets feeders be protected at up to four times their ampacity, because takes are short: not for long burns.",
)
