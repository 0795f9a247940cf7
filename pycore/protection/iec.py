"""IEC-style rules for devices and earth, with the figures of BS 7671 where it is named."""

from functools import lru_cache

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Origin, Term, term
from pycore.base.source import Cite
from pycore.base.table import table
from pycore.protection import overcurrent
from pycore.protection.rules import Band, DeviceRules, Keeps, Leak, Slow, from_its_curve, kind_of
from pycore.rig.model import Device, Site
from pycore.rig.typical import need, need_choice

CLAUSES = "bs-7671-clauses"
FINAL_UP_TO = 63.0  # A; newer editions, from memory; the older 32 A is less strict
FIVE_SECONDS = term(5.0, "s", "opens within", origin=Origin.PUBLISHED, cite=Cite("iec-60364-4-43", "434.5.2"), note="the longest for which all heat is taken to stay in the copper")
AT_ONCE = term(0.1, "s", "opens within", origin=Origin.PUBLISHED, cite=Cite("iec-60898", "instantaneous zone, below 0.1 s"))


@lru_cache(maxsize=256)
def published(value: float, unit: str, name: str, source: str, locator: str, note: str = "") -> Term:
    """A figure of a document that is no table."""
    return term(value, unit, name, origin=Origin.PUBLISHED, cite=Cite(source, locator), note=note)


def duty(device: Device, at: str) -> Term:
    """No factor for long burns: the rating must not be below the design current."""
    return published(1.0, "", "factor for long burns", "iec-60364-4-43", "433.1")


def cable_factor(device: Device) -> Term:
    """Breakers open at 1.45 times their rating, so rating up to capacity; a fuse may need 1.6 times."""
    if device.kind in ("other", "gG"):
        return published(1.45 / 1.6, "", "factor for fuses", "iec-60364-4-43", "433.1", "1.45 over 1.6, the fusing current of gG fuses")
    return published(1.0, "", "factor for breakers", "iec-60364-4-43", "433.1")


def band(device: Device, at: str) -> Band:
    """The instantaneous band of a curve letter, the 0.1 s gates of a gG fuse, or what was entered."""
    kind = kind_of(device, at)
    if kind == "other":
        return from_its_curve(device, at)
    if kind == "gG":
        return _gates(need(device, "rating", at))
    rating = need(device, "rating", at)
    low, high = (table(t).cell(0.1, kind, n) for t, n in (("trip-holds", "lower edge of the band"), ("trip-trips", "upper edge of the band")))
    steps = work(overcurrent.held, h=low, I_n=rating), work(overcurrent.opening, m=high, I_n=rating)
    return Band(steps[0].result, steps[1].result, steps)


def _gates(rating: Term) -> Band:
    """A gG fuse between its gates. Raises `Refused` for a rating without listed gates."""
    gates = table("fuse-gates")
    if not any(abs(k - rating.value) <= 1e-3 * k for k, _ in gates.pairs("melts_01s")):
        raise refuse("no-gates", f"No time gates are listed here for a gG fuse of {rating.quantity}: only from 16 A, in the standard's own steps",
                     "Choose “Another breaker or a fuse” and enter the currents of its maker's curve", rating.address)
    holds, melts, late = (gates.cell(rating.value, c, n) for c, n in (("holds_01s", "does not melt within 0.1 s"), ("melts_01s", "melts within 0.1 s"), ("melts_5s", "melts within 5 s")))
    return Band(holds, melts, (), late)


def late_trip(device: Device, of: Band, allowed: Term) -> Term:
    """With five seconds a D curve needs only its lower edge and a gG fuse its gate for that; B and C are judged at 0.4 s always."""
    if of.late is not None and allowed.value >= 5:
        return of.late
    return of.holds if device.kind == "D" and allowed.value >= 5 else of.trips


def slow(device: Device) -> Slow:
    """Conventional currents of breakers and of gG fuses; those of other devices are not listed here."""
    if device.kind == "other":
        raise refuse("no-rule", "The slow tripping of this device is not listed here: it has neither a curve letter nor gG", "Read its maker's curve")
    points = table("fuse-slow" if device.kind == "gG" else "trip-slow")
    return Slow(points.cell(3600.0, "holds", "held for an hour"), points.cell(3600.0, "trips", "opens within the hour"))


def time_allowed(system: str, voltage: Term, rating: Term, final: bool) -> Term | None:
    """Table 41.1 for final circuits, five seconds and one second for the rest."""
    if final and rating.value <= FINAL_UP_TO:
        key = next((v for v, _ in table("disconnection").pairs(system) if voltage.value <= v * (1 + 1e-9)), None)
        if key is None or voltage.value < 50:
            raise refuse("beyond-table", f"No disconnection time is listed for {voltage.quantity} to earth", "Take the rule of your local code", "supply/voltage")
        return table("disconnection").cell(key, system, "time allowed")
    return table("disconnection-distribution").cell(32.0, system, "time allowed")


def heating(limit: Term) -> Term | None:
    """k of a core by the insulation's limit."""
    return table("withstand-k").cell(limit.value, "core", "heating factor")


def earth_size(rating: Term) -> Term | None:
    """By the heat of the fault, not by the device's rating."""
    return None


def leak(device: Device, at: str) -> Leak:
    """30 % advised; none may open below half of its rating."""
    if need_choice(device, "residual", at) == "GFCI":
        raise refuse("no-rule", "A class A interrupter is no residual device of this rule set", "Choose its type, or the other rule set", f"{at}/residual")
    return Leak(published(0.3, "%", "share advised", "bs-7671-4", "531.3.2"), published(0.5, "%", "may open from", "iec-61008", "non-operating current"))


def residual_for_people(rating: Term, voltage: Term) -> Term | None:
    """30 mA up to 32 A; above, the German rule for sites."""
    limits = table("residual-limits-de")
    key = next((k for k, _ in limits.pairs("residual") if rating.value <= k), None)
    return None if key is None else limits.cell(key, "residual", "largest rated residual current")


def line_distance(site: Site) -> Term:
    """Within this distance the line's operator is asked, by what carries the line."""
    return table("line-distance-gb").cell(1.0, need_choice(site, "overhead", "supply/site"), "distance within which the operator is asked")


def supply_keeps() -> tuple[Keeps, Keeps]:
    """EN 50160, written for public networks; a generator or an inverter is held to it too."""
    return _keeps("95 % of a week", "for 95 % of a week"), _keeps("always", "at any time")


def _keeps(row: str, when: str) -> Keeps:
    least, most = (table("supply-band-iec").cell(row, column, f"{column} share of nominal") for column in ("least", "most"))
    return Keeps(least, most, when)


RULES = DeviceRules(
    id="iec", title="IEC 60364 with figures of BS 7671", duty=duty, cable_factor=cable_factor, band=band, late_trip=late_trip, slow=slow,
    ratings=("6", "10", "13", "16", "20", "25", "32", "40", "50", "63", "80", "100", "125"),
    lowest=published(0.95, "", "voltage factor, lowest", "iec-60909", "cmin; BS 7671 Cmin"), highest=published(1.1, "", "voltage factor, highest", "iec-60909", "cmax"),
    least_breaking=published(1500.0, "A", "least breaking capacity there is", "iec-60898", "5.3.4; from memory"),
    time_allowed=time_allowed, touch_voltage=published(50.0, "V", "touch voltage limit", CLAUSES, "411.5.3"), heating=heating, earth_size=earth_size, leak=leak,
    residual_for_people=residual_for_people,
    earth_current=(published(3.5e-3, "mA", "current that asks for an industrial connector", CLAUSES, "543.7.1.2"),
                   published(10e-3, "mA", "current that asks for a strong protective conductor", "bs-7671-4", "543.7.1.203")),
    line_distance=line_distance, supply_keeps=supply_keeps, look_up="Look up: within 15 m of lines on steel towers, 9 m of lines on poles, ask their operator before a stand goes up (British guidance).",
)
