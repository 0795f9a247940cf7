"""Methods for what a lamp is set to: dims, a lamp's own law, banks, head cables."""

from typing import Any

from pycore.api.asked import Asked, Show, changes_of
from pycore.api.method import Json, method
from pycore.api.wire import Wire, remedy
from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Term, term
from pycore.base.units import parse
from pycore.findings import bank as banks
from pycore.findings import dimming, head_cable
from pycore.findings import refit as refits
from pycore.lamp.refit import Reading
from pycore.rig.model import Load
from pycore.rig.typical import american


@method("{rig, load, stops?, level?, power?, distance?, show?}",
        "{setting: Setting|null, table: [Setting], below: {floor: Setting, left: Term, transmission: Term, distance: Term|null, doubles, singles, left_over: Term}|null, colour_known, cautions: [text], changes: "
        "[{address, text}], steps: [Step], fields: [Field]}; Setting = {level: Term|null, power: Term, light: Term, stops: Term, kelvin: text, kelvin_low: Term, kelvin_high: Term}")
def dim(rig: Json, load: str, stops: str = "", level: str = "", power: str = "", distance: str = "", show: Show = None) -> Json:
    """From wanted stops, a control level or a power to everything else, and what to lose by other means below the lowest dim."""
    asked = Asked(rig, show=show)
    lamp = asked.load(load)
    below, setting = None, None
    away = term(parse(distance, "m"), "m", "distance now") if distance else None
    if stops:
        wanted = term(-abs(parse(stops, "stop")), "stop", "stops wanted")
        if lamp.kind != "tungsten" and _too_low(lamp, wanted):
            below = dimming.below_floor(lamp, wanted, away)
            setting = below.floor
        else:
            setting = dimming.for_stops(lamp, wanted)
    elif level:
        setting = dimming.at_level(lamp, term(parse(level, "%"), "%", "control level"))
    elif power:
        setting = dimming.at_power(lamp, term(parse(power, "%"), "%", "share of rated power"))
    wire = asked.wire
    return {"setting": _setting(wire, setting) if setting else None, "table": [_setting(wire, s) for s in dimming.table(lamp)],
            "below": {"floor": _setting(wire, below.floor), "left": wire.term(below.left), "transmission": wire.term(below.transmission), "distance": wire.term(below.distance),
                      "doubles": below.scrims[0], "singles": below.scrims[1], "left_over": wire.term(term(below.scrims[2], "stop", "stops left over"))} if below else None,
            "colour_known": dimming.COLOUR_KNOWN[lamp.kind], "cautions": [dimming.WARM_FIRST, dimming.LESS_STRAIGHT] if lamp.kind == "arc lamp" else [],
            "changes": changes_of([(f"loads/{load}/dim", f"{100 * setting.power.value:.4g} %")]) if setting else [],
            "steps": [wire.step(s) for s in (below.steps if below else setting.steps if setting else ())],
            "fields": asked.fields(lamp.control, f"loads/{load}/control", only=("curve", "resolution"))}


def _too_low(load: Load, wanted: Term) -> bool:
    lowest = banks.lowest_light(load)
    return 2**wanted.value < lowest * (1 - 1e-9)


def _setting(wire: Wire, s: dimming.Setting) -> Json:
    return {"level": wire.term(s.level), "power": wire.term(s.power), "light": wire.term(s.light), "stops": wire.term(s.stops), "kelvin": dimming.shown_kelvin(s.kelvin),
            "kelvin_low": wire.term(s.kelvin[0]), "kelvin_high": wire.term(s.kelvin[1])}


@method("{rig, load, readings: [{setting, light}], of: power|level, stops?, setting?, show?}",
        "{exponent: Term, residual: Term, finding: Finding, points: [Point], wanted: Point|null, the setting for the stops, given: Point|null, the stops at the setting, "
        "changes: [{address, text}]}; Point = {setting: Term, light: Term|null, stops: Term}")
def refit(rig: Json, load: str, readings: list[Json], of: str = "power", stops: str = "", setting: str = "", show: Show = None) -> Json:
    """A lamp's own law from light readings at known powers, or at positions of a knob or levels of a control; both ways between settings and stops."""
    asked = Asked(rig, show=show)
    lamp = asked.load(load)
    listed = [Reading(setting=parse(str(r.get("setting", "")), "%"), light=parse(str(r.get("light", "")), "lx")) for r in readings]
    found, wire = refits.refitted(lamp, listed, of == "power"), asked.wire
    name = "share of rated power" if of == "power" else "setting"

    def point(at: float, lost: float, light: float | None = None) -> Json:
        return {"setting": wire.term(term(at, "%", name)), "light": wire.term(term(light, "lx", "light read")) if light else None, "stops": wire.term(term(lost, "stop", "stops"))}

    own, wanted, given = found.own, -abs(parse(stops, "stop")) if stops else None, parse(setting, "%") if setting else None
    return {"exponent": wire.term(found.exponent), "residual": wire.term(found.residual), "finding": wire.finding(found.finding),
            "points": [point(r.setting, own.stops(r.setting), r.light) for r in own.readings],
            "wanted": point(own.setting(wanted), wanted) if wanted is not None else None, "given": point(given, own.stops(given)) if given is not None else None,
            "changes": [c for r in found.finding.remedies for c in remedy(r)["changes"]]}


@method("{rig, lamps: [{load, light?: at full, wanted?}], wanted?: of all together, show?}",
        "{lamps: [{load, name, full: Term, light: Term, setting: Setting, current: Term|null, left: Term|null}], total: Term, supply: Term|null, finding: Finding, changes: [{address, text}]}")
def bank(rig: Json, lamps: list[Json], wanted: str = "", show: Show = None) -> Json:
    """Dim several lamps to a level together, or each to its own; the light and the supply current of each."""
    asked = Asked(rig, show=show)
    chosen = {str(x.get("load")): x for x in lamps}
    lights = {i: _lux(x["light"], f"{asked.load(i).name or i} at full") if x.get("light") else banks.full_light(asked.load(i)) for i, x in chosen.items()}
    if wanted:
        found = banks.to_level(asked.rig, lights, _lux(wanted, "light wanted"))
    elif all(x.get("wanted") for x in chosen.values()):
        found = banks.to_balance(asked.rig, lights, {i: _lux(x["wanted"], "light wanted") for i, x in chosen.items()})
    else:
        raise refuse("nothing-wanted", "No light is wanted", "Enter the light of all together, or of each lamp")
    wire = asked.wire
    return {"lamps": [{"load": x.load, "name": asked.rig.loads[x.load].name or x.load, "full": wire.term(x.full), "light": wire.term(x.light), "setting": _setting(wire, x.setting),
                       "current": wire.term(x.current), "left": wire.term(x.left)} for x in found.lit],
            "total": wire.term(found.total), "supply": wire.term(found.supply), "finding": wire.finding(found.finding), "changes": changes_of(found.changes)}


def _lux(text: Any, name: str) -> Term:
    return term(parse(str(text), "lx"), "lx", name)


@method("{rig, load, share?, show?}", "{share, sizes: [{size, length: Term|null, ceiling: power|current|voltage, rating: Term|null, current: Term, changes: [{address, text}]}], finding: Finding}")
def head_cables(rig: Json, load: str, share: str = "", show: Show = None) -> Json:
    """The longest head cable of each size that leaves a share of the lamp's power."""
    asked = Asked(rig, show=show)
    lamp = asked.load(load)
    if lamp.kind != "arc lamp":
        raise refuse("no-head-cable", "This lamp has no head cable", "Choose an arc lamp")
    keep = parse(share, "%") if share else head_cable.KEEPS
    wire = asked.wire
    sizes = [{"size": x.size, "length": wire.term(x.length), "ceiling": x.ceiling, "rating": wire.term(x.rating), "current": wire.term(x.current),
              "changes": changes_of([(f"loads/{load}/head_cable/size", x.size)])} for x in head_cable.lengths(lamp, keep, american(asked.rig) or (show or {}).get("size") == "AWG")]
    return {"share": wire.quantity(Quantity(keep, "%")), "sizes": sizes, "finding": wire.finding(head_cable.reaches(lamp, keep))}
