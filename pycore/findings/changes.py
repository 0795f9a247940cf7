"""Things that may be done about a run, smallest first, and the rig with one of them done."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from pycore.base.quantity import Quantity
from pycore.base.result import Origin, Term, estimates
from pycore.base.units import from_si
from pycore.findings.common import as_entered
from pycore.findings.run import larger_sizes
from pycore.findings.solved import Solved
from pycore.findings.supply_side import Cable
from pycore.protection.rule_sets import device_rules
from pycore.rig.model import Rig, Run, Spec, specs
from pycore.rig.typical import line_voltage

CURVES = ("B", "C", "D")
FOR_PEOPLE = 0.0301  # A; 30 mA and what rounds to it


@dataclass(frozen=True, slots=True)
class Change:
    """One thing to do: in words, and as entries of the rig."""

    words: str
    entries: tuple[tuple[str, str], ...]

    @property
    def moves_currents(self) -> bool:
        """Does it change what flows: another cable, laying or line, and not only a device?"""
        return any(a.endswith(("/length", "/connection", "/size", "/how", "/arrangement")) for a, _ in self.entries)


def article(number: str) -> str:
    """"An" before eight, eleven, eighteen and eighty."""
    return "An" if number.startswith("8") or number in ("11", "18") else "A"


def applied(rig: Rig, change: Change) -> Rig:
    """A settled rig with a change made; what leans on it follows."""
    for address, text in change.entries:
        group, part, *way = address.split("/")
        old = getattr(rig, group)[part]
        new = _follow(rig, old, _put(old, way, text, address), way)
        parts: dict[str, Any] = {group: {**getattr(rig, group), part: new}}
        rig = replace(rig, **parts)
    return rig


def _put(part: Any, way: list[str], text: str, address: str) -> object:
    key, *rest = way
    if rest:
        return replace(part, **{key: _put(getattr(part, key), rest, text, address)})
    spec: Spec = specs(type(part))[key]
    entry: object = text
    if spec.kind == "quantity":
        entry = Term(quantity=Quantity.read(text, spec.unit), name=spec.label, origin=spec.origin, note=text, address=address) if text else None
    return replace(part, **{key: entry})


def _follow(rig: Rig, old: Any, new: Any, way: list[str]) -> Any:
    """A typical earth conductor grows with its cable; a lamp on other lines has another nominal voltage."""
    if way == ["size"] and isinstance(new, Run) and isinstance(old, Run) and new.size and old.laid.earth_size and old.laid.earth_size.origin is Origin.TYPICAL:
        return replace(new, laid=replace(new.laid, earth_size=replace(old.laid.earth_size, quantity=new.size.quantity)))
    if way == ["connection"] and rig.supply.voltage and getattr(new, "nominal", None):
        volts = line_voltage(rig.supply, new.connection, rig.supply.voltage.value)
        return replace(new, nominal=replace(new.nominal, quantity=Quantity(volts, "V")))
    return new


def sizes(s: Solved, cable: Cable) -> Iterator[Change]:
    """The listed sizes above."""
    return (Change(size, ((f"runs/{cable.run.id}/size", size),)) for size in larger_sizes(cable.run))


def sizes_with_device(s: Solved, cable: Cable) -> Iterator[Change]:
    """Each listed size above with the device that the load asks for."""
    now = cable.run.device.rating
    at = f"runs/{cable.run.id}"
    above = [r for r in device_rules(s.rig).ratings if now is not None and float(r) > now.value][:3]
    return (Change(f"{size} with {article(r).lower()} {r} A device", ((f"{at}/size", size), (f"{at}/device/rating", f"{r} A"))) for size in larger_sizes(cable.run)[:4] for r in above)


def lengths(s: Solved, cable: Cable) -> Iterator[Change]:
    """Shorter by tenths, in the unit in which the length was written."""
    if cable.run.length is None:
        return
    unit = "ft" if "ft" in as_entered(cable.run.length) or "'" in as_entered(cable.run.length) else "m"
    for tenth in range(9, 0, -1):
        text = f"{int(from_si(cable.run.length.value, unit) * tenth / 10)} {unit}"
        if not text.startswith("0 "):
            yield Change(f"A run of {text}", ((f"runs/{cable.run.id}/length", text),))


def laying(s: Solved, cable: Cable) -> Iterator[Change]:
    """Off the reel, and apart from its neighbours."""
    at, lies = f"runs/{cable.run.id}/laid", cable.run.laid
    if lies.how != "out":
        yield Change("Taking it off the reel", ((f"{at}/how", "out"),))
    if lies.grouped and lies.grouped.value > 1 and lies.arrangement != "spaced":
        yield Change("Laying it two diameters from its neighbours", ((f"{at}/arrangement", "spaced"),))


def ratings_above(s: Solved, cable: Cable) -> Iterator[Change]:
    """Larger devices."""
    now = cable.run.device.rating
    at = f"runs/{cable.run.id}/device/rating"
    return (Change(f"{article(r)} {r} A device", ((at, f"{r} A"),)) for r in device_rules(s.rig).ratings if now is not None and float(r) > now.value)


def ratings_below(s: Solved, cable: Cable) -> Iterator[Change]:
    """Smaller devices at the head of this run, the largest first; one of its own where the upper one is too large."""
    run, of = cable.run, device_rules(s.rig)
    at, above = f"runs/{run.id}/device", s.rig.supply.device
    now = run.device.rating or above.rating
    kind = () if run.device.kind not in ("", "none") else ((f"{at}/kind", above.kind if above.kind not in ("", "none") else "B" if s.rig.rules == "iec" else "other"),)
    return (Change(f"{article(r)} {r} A device at the head of this run", (*kind, (f"{at}/rating", f"{r} A"))) for r in reversed(of.ratings) if now is not None and float(r) < now.value)


def curves(s: Solved, cable: Cable) -> Iterator[Change]:
    """Slower curves for a surge."""
    now = cable.run.device.kind
    later = CURVES[CURVES.index(now) + 1:] if now in CURVES else ()
    return (Change(f"Curve {c}", ((f"runs/{cable.run.id}/device/kind", c),)) for c in later)


def quicker_curves(s: Solved, cable: Cable) -> Iterator[Change]:
    """Quicker curves for a weak fault."""
    now = cable.run.device.kind
    sooner = reversed(CURVES[: CURVES.index(now)]) if now in CURVES else ()
    return (Change(f"Curve {c}", ((f"runs/{cable.run.id}/device/kind", c),)) for c in sooner)


def residual_device(s: Solved, cable: Cable) -> Iterator[Change]:
    """A residual device for people, at the head of this run, unless one of that rating is there already."""
    at, iec, now = f"runs/{cable.run.id}/device", s.rig.rules == "iec", cable.run.device
    if now.residual not in ("", "none") and now.residual_rating is not None and now.residual_rating.value <= FOR_PEOPLE:
        return
    kind, size = ("A", "30 mA") if iec else ("GFCI", "6 mA")
    words = "A 30 mA residual device, type A, at the head of this run" if iec else "A class A ground-fault interrupter at the head of this run"
    yield Change(words, ((f"{at}/residual", kind), (f"{at}/residual_rating", size)))


def residual_types(s: Solved, cable: Cable) -> Iterator[Change]:
    """A type that sees more."""
    return (Change(f"Type {t}", ((f"runs/{cable.run.id}/device/residual", t),)) for t in ("A", "F", "B") if cable.run.device.residual not in ("", "none"))


def other_lines(s: Solved, cable: Cable) -> Iterator[Change]:
    """This lamp on another line."""
    lines = {"split-phase": ("L1-N", "L2-N"), "three-phase wye": ("L1-N", "L2-N", "L3-N")}.get(s.rig.supply.system, ())
    if s.load.connection in lines and len(s.rig.loads) > 1:
        yield from (Change(f"This lamp on {c[:2]}", ((f"loads/{s.load.id}/connection", c),)) for c in lines if c != s.load.connection)


def higher_voltages(s: Solved, cable: Cable) -> Iterator[Change]:
    """The same lamp between two lines, where its own nameplate says that it stands them."""
    supply, load = s.rig.supply, s.load
    high = load.ballast.high_cut_out
    between = {"split-phase": "L1-L2", "three-phase wye": "L1-L2"}.get(supply.system)
    if between and supply.voltage and high and not estimates((high,)) and load.connection.endswith("N") and high.value >= 1.05 * line_voltage(supply, between, supply.voltage.value):
        yield Change(f"The lamp between {between.replace('-', ' and ')}", ((f"loads/{load.id}/connection", between),))


def breaking_capacities(s: Solved, cable: Cable) -> Iterator[Change]:
    """Stronger devices."""
    return (Change(f"A device that breaks {c} kA", ((f"runs/{cable.run.id}/device/breaking_capacity", f"{c} kA"),)) for c in ("3", "4.5", "6", "10", "15", "25", "36", "50"))


def earth_sizes(s: Solved, cable: Cable) -> Iterator[Change]:
    """A protective conductor as large as the lines, or larger."""
    own = replace(cable.run, size=cable.run.laid.earth_size)
    return (Change(f"A protective conductor of {x}", ((f"runs/{cable.run.id}/laid/earth_size", x),)) for x in larger_sizes(own))
