"""What the rig does not say, filled with what such gear usually has, and marked so.

A term made here is `typical` (such gear usually has it) or `assumed` (nobody said so), with what to do to firm it up.
An entry that could not be read is never replaced: it stays empty, and whatever needs it is unknown.
"""

from collections.abc import Callable, Collection
from dataclasses import replace
from functools import lru_cache
from math import log, sqrt
from typing import Any

from pycore.base import units
from pycore.base.problem import refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Term, term
from pycore.base.source import Cite
from pycore.rig import typical_lamp, typical_light
from pycore.rig.fill import Filler, listed
from pycore.rig.model import Ballast, Device, HeadCable, Laid, Lamp, Load, Rig, Run, Shot, Supply, specs


def settle(rig: Rig, bad: Collection[str] = ()) -> Rig:
    """The rig with every gap filled; `bad` are addresses of entries that could not be read."""
    supply = _supply(rig.supply, _at("supply", bad))
    loads = _settling(supply, rig.rules)
    return replace(
        rig, supply=supply, unreadable=frozenset(bad),
        runs={i: _settled_run(r, rig.rules, _at(f"runs/{i}", bad)) for i, r in rig.runs.items()},
        loads={i: loads(x, _at(f"loads/{i}", bad)) for i, x in rig.loads.items()},
        shots={i: _shot(s, rig, bad) for i, s in rig.shots.items()} or {"S1": _shot(Shot(id="S1"), rig, bad)},
        picture=typical_light.picture(rig.picture, bad),
        control_lines={i: typical_lamp.line(x, bad) for i, x in rig.control_lines.items()},
    )


def _at(place: str, bad: Collection[str]) -> frozenset[str]:
    """Those of the unreadable entries that belong to a place."""
    return frozenset(a for a in bad if a == place or a.startswith(f"{place}/"))


@lru_cache(maxsize=2048)
def _settled_run(run: Run, rules: str, bad: frozenset[str]) -> Run:
    """A run with its gaps filled; kept, since most edits change another part."""
    return _run(run, Rig(rules=rules), bad)


@lru_cache(maxsize=8)
def _settling(supply: Supply, rules: str) -> Callable[[Load, frozenset[str]], Load]:
    """What fills the gaps of the lamps on a settled supply; it keeps what it has filled."""

    @lru_cache(maxsize=1024)
    def settled(load: Load, bad: frozenset[str]) -> Load:
        return typical_lamp.lamp(typical_light.light(_surge(_load(load, Rig(rules=rules), supply, bad), bad), bad), bad)

    return settled


def need(part: Any, key: str, address: str) -> Term:
    """A quantity that the answer cannot do without. Raises `Refused` where it is missing or unreadable."""
    value = getattr(part, key)
    if value is None:
        label = specs(type(part))[key].label
        raise refuse("entry-missing", f"{label} is missing or cannot be read", f"Enter {label[0].lower()}{label[1:]}", f"{address}/{key}")
    return value


def need_choice(part: Any, key: str, address: str) -> str:
    """A choice that the answer cannot do without. Raises `Refused` where it is missing or unreadable."""
    if not getattr(part, key):
        label = specs(type(part))[key].label
        raise refuse("entry-missing", f"{label} is not chosen", f"Choose {label[0].lower()}{label[1:]}", f"{address}/{key}")
    return str(getattr(part, key))


def line_voltage(supply: Supply, connection: str, voltage: float) -> float:
    """Voltage across a connection such as "L1-N" or "L1-L2" when line to neutral has `voltage`."""
    if connection.endswith("N"):
        return voltage
    return voltage * (2 if supply.system == "split-phase" else sqrt(3))


def american(rig: Rig) -> bool:
    """Whether sizes are usually named by American gauge here."""
    return rig.rules == "na"


@lru_cache(maxsize=32)
def _supply(supply: Supply, bad: frozenset[str]) -> Supply:
    """The supply with its gaps filled; kept, since most edits change another part."""
    fill = Filler(supply, "supply", bad)
    fill.choose("kind", "mains")
    fill.choose("system", "single-phase")
    typical_light.clock(fill, supply)
    system = supply.system or "single-phase"
    fill.found["device"] = _outlet(supply, bad)
    if supply.kind in ("generator", "battery"):
        fill.quantity("impedance", 0.0, Origin.ASSUMED, "its regulator is taken to hold the voltage at its terminals")
        for key, written in {**listed()["generator"], **(listed()["battery"] if supply.kind == "battery" else {})}.items():
            fill.text(key, written)
    elif supply.fault_current and (volts := supply.voltage_measured or supply.voltage):
        fill.found["impedance"] = supply.impedance or term(
            volts.value / supply.fault_current.value, "Ω", "loop impedance from the fault current", rests_on=(supply.fault_current,),
            note="voltage over prospective fault current", address="supply/impedance")
    else:
        fill.text("impedance", listed()["impedance"].get(system), Origin.ASSUMED)
    fill.found["steps"] = typical_lamp.steps(supply.steps, bad)
    return fill.done()


def _outlet(supply: Supply, bad: Collection[str]) -> Device:
    """The outlet's own device is rated as the outlet."""
    device = _device(supply.device, "supply/device", bad)
    return replace(device, rating=supply.rating) if device.rating is None and "supply/device/rating" not in bad else device


def _run(run: Run, rig: Rig, bad: Collection[str]) -> Run:
    usual = listed()["run"]
    fill = Filler(run, f"runs/{run.id}", bad)
    fill.text("length", usual["length"], Origin.ASSUMED, "not entered yet")
    fill.text("size", usual["size"]["awg" if american(rig) else "mm2"], Origin.ASSUMED, "not entered yet")
    fill.text("ambient", usual["ambient"], Origin.ASSUMED, "the tables' own ambient")
    fill.text("insulation", usual["insulation"], Origin.TYPICAL, "ordinary rubber")
    fill.choose("cores", "multicore")
    settled: Run = fill.done()
    return replace(settled, device=_device(run.device, f"runs/{run.id}/device", bad), laid=_laid(settled, rig, bad))


def _device(device: Device, at: str, bad: Collection[str]) -> Device:
    fill = Filler(device, at, bad)
    fill.choose("residual_delay", "at once")
    fill.choose("burns", "long")
    return fill.done()


def _laid(run: Run, rig: Rig, bad: Collection[str]) -> Laid:
    fill = Filler(run.laid, f"runs/{run.id}/laid", bad)
    for key, value in (("how", "out"), ("arrangement", "bunched"), ("singles", "touching"), ("listing", "ordinary")):
        fill.choose(key, value)
    fill.text("grouped", "1", Origin.ASSUMED, "taken as lying alone")
    fill.text("parallel", "1", Origin.STATED, "one set")
    fill.text("terminals", listed()["terminals"][rig.rules], Origin.TYPICAL)
    if run.size and run.cores == "multicore":
        fill.quantity("earth_size", run.size.value, Origin.TYPICAL, "as large as the lines, as flexible cables have it")
    return fill.done()


def _surge(load: Load, bad: Collection[str]) -> Load:
    """What the lamp draws at and after the strike, and what its filters send to earth."""
    usual = listed()["surge"].get(load.ballast.kind, {})
    fill = Filler(load, f"loads/{load.id}", bad)
    for key in ("earth_leakage", "inrush_time", "run_up"):
        fill.text(key, usual.get(key))
    power, efficiency, factor = load.lamp.rated_power, load.ballast.efficiency, load.ballast.power_factor
    if usual and power and efficiency and factor and load.nominal:
        full = power.value / (efficiency.value * factor.value * load.nominal.value)
        fill.quantity("inrush", float(usual["inrush"]) * full, note=f"{usual['inrush']} times its current at full power, from memory")
    return fill.done()


def _load(load: Load, rig: Rig, supply: Supply, bad: Collection[str]) -> Load:
    at = f"loads/{load.id}"
    fill = Filler(load, at, bad)
    fill.quantity("dim", 1.0, Origin.STATED, "not dimmed")
    fill.choose("kind", "arc lamp")
    fill.choose("connection", "L1-N")
    settled: Load = fill.done()
    if supply.voltage:
        across = line_voltage(supply, settled.connection, supply.voltage.value)
        settled = replace(settled, nominal=replace(supply.voltage, quantity=Quantity(across, "V"), name="nominal voltage"))
    if settled.kind != "arc lamp":
        return _other(settled, supply, at, bad)
    kin = nearest_lamp(load.lamp.rated_power.value) if load.lamp.rated_power else None
    ballast = _ballast(load.ballast, f"{at}/ballast", supply, settled.connection, bad)
    lamp = _lamp(load.lamp, f"{at}/lamp", kin, bad)
    return replace(settled, lamp=lamp, ballast=_most_current(ballast, lamp, f"{at}/ballast", bad), head_cable=_head_cable(load.head_cable, f"{at}/head_cable", kin, rig, bad))


def _most_current(ballast: Ballast, lamp: Lamp, at: str, bad: Collection[str]) -> Ballast:
    """The current ceiling, as a share of what the lamp takes at rated power."""
    fill, share = Filler(ballast, at, bad), listed()["ballast"].get(ballast.kind, {}).get("most_current")
    if share and lamp.rated_power and lamp.arc_voltage:
        fill.quantity("most_current", units.parse(share, "%") * lamp.rated_power.value / lamp.arc_voltage.value, note="as a share of the lamp's own current, from memory")
    return fill.done()


def _other(load: Load, supply: Supply, at: str, bad: Collection[str]) -> Load:
    """A tungsten or LED lamp: no arc, no head cable; the ballast of an LED is its driver, that of a filament is nothing."""
    fill = Filler(load.lamp, f"{at}/lamp", bad)
    for key, written in listed()["led" if load.kind == "LED" else "filament"].items():
        fill.text(key, written)
    if load.kind == "LED":
        driver = replace(load.ballast, kind="LED driver", efficiency=term(1.0, "%", "efficiency", note="rated power is what the lamp draws"))
        return replace(load, lamp=fill.done(), ballast=_ballast(driver, f"{at}/ballast", supply, load.connection, bad))
    if load.nominal:
        fill.quantity("rated_voltage", load.nominal.value, Origin.ASSUMED, "taken as the supply's nominal voltage")
    return replace(load, lamp=fill.done(), ballast=_no_ballast(supply))


def _no_ballast(supply: Supply) -> Ballast:
    """A filament hangs on the supply itself."""
    whole = term(1.0, "", "power factor", note="a filament is a resistance")
    return Ballast(kind="none", efficiency=term(1.0, "%", "efficiency", note="nothing between supply and lamp"), power_factor=whole, displacement=whole,
                   makes_up="no", output="sine", output_frequency=supply.frequency, floor=term(0.0, "%", "lowest dim"))


def nearest_lamp(power: float) -> dict[str, Any]:
    """The listed lamp nearest in power."""
    lamps: list[dict[str, Any]] = listed()["arc_lamp"]
    return min(lamps, key=lambda lamp: abs(log(units.parse(lamp["power"], "W") / power)))


def _lamp(lamp: Lamp, at: str, kin: dict[str, Any] | None, bad: Collection[str]) -> Lamp:
    fill, usual = Filler(lamp, at, bad), listed()["lamp"]
    if kin:
        fill.text("arc_voltage", kin["arc_voltage"], note=f"as a {kin['power']} lamp has, from memory")
        fill.text("power_factor", kin["power_factor"], note=f"as a {kin['power']} lamp has, from memory")
    fill.quantity("exponent", log(0.40) / log(0.50), note="half the electrical power gives about 40 % of the light", cite=Cite("arc-dimming"))
    for key in ("colour_temperature", "ripple", "asymmetry", "arc_slope", "bluer_at_half"):
        fill.text(key, usual[key])
    return fill.done()


def _head_cable(cable: HeadCable, at: str, kin: dict[str, Any] | None, rig: Rig, bad: Collection[str]) -> HeadCable:
    fill = Filler(cable, at, bad)
    fill.text("length", listed()["head_cable"]["length"], Origin.ASSUMED, "not entered yet")
    if kin:
        fill.text("size", kin["head_cable"]["awg" if american(rig) else "mm2"], note=f"as a {kin['power']} head has, from memory")
    return fill.done()


def _ballast(ballast: Ballast, at: str, supply: Supply, connection: str, bad: Collection[str]) -> Ballast:
    fill = Filler(ballast, at, bad)
    fill.choose("kind", "electronic corrected")
    kind = ballast.kind or fill.found.get("kind")
    usual = listed()["ballast"].get(kind, {})
    for key in ("efficiency", "ceiling", "floor", "standby", "pulse_frequency"):
        fill.text(key, usual.get(key))
    for key in ("makes_up", "output", "drive"):
        fill.choose(key, usual.get(key, ""))
    if supply.voltage and usual:
        nominal = line_voltage(supply, connection, supply.voltage.value)
        for key in ("low_cut_out", "high_cut_out"):
            fill.quantity(key, 5.0 * round(nominal * float(usual[key]) / 5), note="from memory, as a share of nominal voltage")
    _power_factor(fill, usual)
    if kind != "LED driver":
        _output(fill, usual, supply)
    return fill.done()


def _power_factor(fill: Filler, usual: dict[str, Any]) -> None:
    if not usual:
        return
    given = fill.part.power_factor
    displacement = float(usual["displacement"])
    fill.quantity("displacement", max(displacement, given.value) if given else displacement, note="from memory")
    stated = fill.part.displacement
    fill.quantity("power_factor", (stated.value if stated else displacement) * float(usual["distortion"]), note="from memory")


def _output(fill: Filler, usual: dict[str, Any], supply: Supply) -> None:
    output = fill.part.output or usual.get("output")
    if output == "sine":
        if supply.frequency:
            fill.quantity("output_frequency", supply.frequency.value, Origin.STATED, "the supply's own")
        return
    fill.text("output_frequency", usual.get("output_frequency", "75 Hz"), Origin.TYPICAL, "the usual setting for ordinary frame rates; common practice")
    frequency = fill.part.output_frequency or fill.found.get("output_frequency")
    if frequency:
        kin = next(c for c in listed()["commutation"] if frequency.value < units.parse(c["below"], "Hz"))
        fill.text("commutation_time", kin["time"])
        fill.text("dip_depth", kin["dip"])


def _shot(shot: Shot, rig: Rig, bad: Collection[str]) -> Shot:
    fill = Filler(shot, f"shots/{shot.id}", bad)
    typical_light.shot(fill, shot, rig)
    return fill.done()
