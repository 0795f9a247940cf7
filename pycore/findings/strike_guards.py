"""What a rig's strikes are held against: its devices by their curves and rule set, its generator or inverter by their sheets."""

from math import inf, sqrt

from pycore.base.result import Origin, Term, estimates, term
from pycore.base.table import table
from pycore.findings.common import attempt
from pycore.findings.source import available
from pycore.findings.strike_supply import Breaker, Set
from pycore.findings.supply_side import line_count
from pycore.powerflow.generator import active_limit
from pycore.protection.rule_sets import device_rules
from pycore.protection.rules import Band
from pycore.rig import graph
from pycore.rig.model import Device, Rig
from pycore.rig.typical import need

CURVES = ("B", "C", "D")


def breakers(rig: Rig) -> tuple[tuple[Breaker, ...], tuple[Term, ...]]:
    """The devices of outlet and runs, and the estimates behind them."""
    found: list[Breaker] = []
    leaning: list[Term] = []
    for place, device in ((graph.SUPPLY, rig.supply.device), *((i, r.device) for i, r in rig.runs.items())):
        if device.rating is None or device.kind == "none":
            continue
        band = _band(rig, device)
        found.append(_breaker(rig, place, device, band, 0.8 if rig.rules == "na" and device.burns != "short" else 1.0))
        leaning += estimates([device.rating])
        if band is None and device.kind not in CURVES and device.holds_to is None:
            why = "none listed for it" if device.kind else "not entered"
            leaning.append(term(1.0, "", f"curve of the device at {place}", note=f"{why}: taken as B, which trips soonest", firm_up="Read it off the device's front",
                                address=f"{'supply' if place == graph.SUPPLY else f'runs/{place}'}/device/kind", origin=Origin.ASSUMED))
    return tuple(found), tuple(leaning)


def _band(rig: Rig, device: Device) -> Band | None:
    """Where its quick part opens, None where that is not known."""
    return attempt(lambda: device_rules(rig).band(device, ""))[0]


def _breaker(rig: Rig, place: str, device: Device, band: Band | None, continuous: float) -> Breaker:
    """A device by its curve and the rule set's slow tripping; an unknown curve counts as B, and unknown slow tripping as none above its rating."""
    assert device.rating is not None
    rated, rules = device.rating.value, device_rules(rig)
    curve = device.kind if device.kind in CURVES else "B"
    edges = (band.holds.value, band.trips.value) if band else tuple(rated * table(t).cell(0.1, curve, "edge").value for t in ("trip-holds", "trip-trips"))
    slow, _ = attempt(lambda: rules.slow(device)) if device.kind in CURVES else (None, ())
    holds = device.holds_to.value if device.holds_to else edges[0]
    return Breaker(place=place, holds=holds, carries=slow.holds.value * rated if slow else rated, long=continuous * rated, trips=max(holds, edges[1]), opens=slow.trips.value * rated if slow else rated)


def machine(rig: Rig) -> tuple[Set | None, tuple[Term, ...]]:
    """The generating set or inverter, None on mains. Raises `Refused` for missing entries."""
    supply = rig.supply
    if supply.kind not in ("generator", "battery"):
        return None, ()
    rated, factor, volts = need(supply, "rated_power", "supply"), need(supply, "rated_power_factor", "supply"), need(supply, "voltage", "supply")
    lines = line_count(supply)
    if supply.kind == "battery":
        most = supply.peak_power
        return Set(apparent=rated.value, active=rated.value * factor.value, line=rated.value / (lines * volts.value), lines=lines, steps=False,
                   peak=sqrt(2) * most.value / (lines * volts.value) if most else inf), estimates((rated, factor, *((most,) if most else ())))
    given, steps = available(supply)[-1].result, supply.steps
    transient, engine = need(supply, "transient", "supply"), need(steps, "engine", "supply/steps")
    sag, slow = need(steps, "voltage", "supply/steps"), need(steps, "frequency", "supply/steps")
    made = Set(apparent=given.value, active=active_limit(S=given.value, λ=factor.value), line=given.value / (lines * volts.value), lines=lines,
               transient=transient.value, engine=engine.value, voltage_dip=sag.value, frequency_dip=slow.value)
    return made, estimates((given, factor, transient, engine, sag, slow))
