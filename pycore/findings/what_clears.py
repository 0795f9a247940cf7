"""What would make this clear? The smallest change of each kind that does, found by trying it."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import islice

from pycore.base.problem import Refused
from pycore.base.quantity import Quantity
from pycore.base.result import Finding, Origin, Remedy, Term, Verdict
from pycore.base.units import from_si
from pycore.findings import cable_rating, device, earth, residual, withstand
from pycore.findings.common import as_entered
from pycore.findings.run import larger_sizes
from pycore.findings.solved import Solved, path_of
from pycore.findings.supply_side import Cable, Feed
from pycore.findings.whole_rig import WholeRig, solve_rig
from pycore.protection.rule_sets import device_rules
from pycore.rig.model import Rig, Run, Spec, specs
from pycore.rig.typical import line_voltage

MOST_TRIALS = 12
CURVES = ("B", "C", "D")
Judge = Callable[[WholeRig, Feed, Cable], Finding | None]


@dataclass(frozen=True, slots=True)
class Change:
    """One thing to do: in words, and as entries of the rig."""

    words: str
    entries: tuple[tuple[str, str], ...]

    @property
    def moves_currents(self) -> bool:
        """Does it change what flows: another cable, laying or line, and not only a device?"""
        return any(a.endswith(("/length", "/connection", "/size", "/how", "/arrangement")) for a, _ in self.entries)


def applied(rig: Rig, change: Change) -> Rig:
    """A settled rig with a change made; what leans on it follows."""
    for address, text in change.entries:
        group, part, *way = address.split("/")
        old = getattr(rig, group)[part]
        new = _follow(rig, old, _put(old, way, text, address), way)
        rig = replace(rig, **{group: {**getattr(rig, group), part: new}})
    return rig


def _put(part: object, way: list[str], text: str, address: str) -> object:
    key, *rest = way
    if rest:
        return replace(part, **{key: _put(getattr(part, key), rest, text, address)})  # type: ignore[type-var]
    spec: Spec = specs(type(part))[key]
    entry: object = text
    if spec.kind == "quantity":
        entry = Term(quantity=Quantity.read(text, spec.unit), name=spec.label, origin=spec.origin, note=text, address=address) if text else None
    return replace(part, **{key: entry})  # type: ignore[type-var]


def _follow(rig: Rig, old: object, new: object, way: list[str]) -> object:
    """A typical earth conductor grows with its cable; a lamp on other lines has another nominal voltage."""
    if way == ["size"] and isinstance(new, Run) and isinstance(old, Run) and new.size and old.laid.earth_size and old.laid.earth_size.origin is Origin.TYPICAL:
        return replace(new, laid=replace(new.laid, earth_size=replace(old.laid.earth_size, quantity=new.size.quantity)))
    if way == ["connection"] and rig.supply.voltage and getattr(new, "nominal", None):
        volts = line_voltage(rig.supply, new.connection, rig.supply.voltage.value)  # type: ignore[attr-defined]
        return replace(new, nominal=replace(new.nominal, quantity=Quantity(volts, "V")))  # type: ignore[type-var, attr-defined]
    return new


def advice(s: Solved, feed: Feed, cable: Cable, finding: Finding) -> tuple[Remedy, ...]:
    """The smallest change of each kind that makes a finding of a run clear. None for a clear one."""
    judge = JUDGES.get(finding.question)
    if finding.verdict in (Verdict.CLEAR, Verdict.UNKNOWN) or judge is None:
        return ()
    spoilt = _stopped(s.whole, feed, cable)
    wishes = [Wish(judge, Verdict.CLEAR, spoilt)] + ([Wish(judge, Verdict.TIGHT, spoilt)] if finding.verdict is Verdict.STOP else [])
    found = [next(filter(None, (first_that_clears(s, feed, cable, w, make(s, cable)) for w in wishes)), None) for make in KINDS[finding.question]]
    return tuple(r for r in found if r is not None)


@dataclass(frozen=True, slots=True)
class Wish:
    """What a change is to achieve; `spoilt`: the cable was unprotected before, so no change is blamed for that."""

    judge: Judge
    verdict: Verdict
    spoilt: bool


def first_that_clears(s: Solved, feed: Feed, cable: Cable, wish: Wish, changes: Iterable[Change]) -> Remedy | None:
    """The first change that does it. Each is tried on the present currents, and the one that does is solved again to be sure."""
    for change in islice(changes, MOST_TRIALS):
        rig = applied(s.rig, change)
        if not _granted(wish, replace(s.whole, rig=rig, cables={}, protection={}), feed, replace(cable, run=rig.runs[cable.run.id])):
            continue
        sure = _solved(s, rig, cable.run.id) if change.moves_currents else (replace(s.whole, rig=rig, cables={}, protection={}), feed, replace(cable, run=rig.runs[cable.run.id]))
        if sure and _granted(wish, *sure):
            return Remedy(_text(change, wish.judge(*sure)), change.entries)
    return None


def _text(change: Change, made: Finding | None) -> str:
    """The change with the figures that it gives."""
    does = "would be just enough" if made is not None and made.verdict is Verdict.TIGHT else "would do"
    if made is None or made.demand is None or made.limit is None:
        return f"{change.words} {does}"
    figures = f"{made.demand.quantity} of {made.limit.term.quantity}" if made.limit.relation == "<=" else f"{made.demand.quantity}, where {made.limit.term.quantity} is needed"
    return f"{change.words} {does}: {figures}"


def _granted(wish: Wish, whole: WholeRig, feed: Feed, cable: Cable) -> bool:
    made = _made(wish.judge, whole, feed, cable)
    return made is not None and made.verdict is wish.verdict and (wish.spoilt or wish.judge is device.suits or not _stopped(whole, feed, cable))


def _stopped(whole: WholeRig, feed: Feed, cable: Cable) -> bool:
    """Is the cable unprotected, or does its device open on load? No cure may leave it so."""
    made = _made(device.suits, whole, feed, cable)
    return made is not None and made.verdict is Verdict.STOP


def _made(judge: Judge, whole: WholeRig, feed: Feed, cable: Cable) -> Finding | None:
    try:
        return judge(whole, feed, cable)
    except Refused:
        return None


def _solved(s: Solved, rig: Rig, run_id: str) -> tuple[WholeRig, Feed, Cable] | None:
    try:
        whole = solve_rig(rig)
        feed = path_of(whole, s.load.id)
    except Refused:
        return None
    cable = next((c for c in feed.cables if c.run.id == run_id), None)
    return (whole, feed, cable) if cable else None


def sizes(s: Solved, cable: Cable) -> Iterator[Change]:
    """The listed sizes above."""
    return (Change(size, ((f"runs/{cable.run.id}/size", size),)) for size in larger_sizes(cable.run))


def sizes_with_device(s: Solved, cable: Cable) -> Iterator[Change]:
    """Each listed size above with the device that the load asks for."""
    now = cable.run.device.rating
    at = f"runs/{cable.run.id}"
    above = [r for r in device_rules(s.rig).ratings if now is not None and float(r) > now.value][:3]
    return (Change(f"{size} with a {r} A device", ((f"{at}/size", size), (f"{at}/device/rating", f"{r} A"))) for size in larger_sizes(cable.run)[:4] for r in above)


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
    return (Change(f"A {r} A device", ((at, f"{r} A"),)) for r in device_rules(s.rig).ratings if now is not None and float(r) > now.value)


def ratings_below(s: Solved, cable: Cable) -> Iterator[Change]:
    """Smaller devices at the head of this run, the largest first; one of its own where the upper one is too large."""
    run, of = cable.run, device_rules(s.rig)
    at, above = f"runs/{run.id}/device", s.rig.supply.device
    now = run.device.rating or above.rating
    kind = () if run.device.kind not in ("", "none") else ((f"{at}/kind", above.kind if above.kind not in ("", "none") else "B" if s.rig.rules == "iec" else "other"),)
    return (Change(f"A {r} A device at the head of this run", (*kind, (f"{at}/rating", f"{r} A"))) for r in reversed(of.ratings) if now is not None and float(r) < now.value)


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
    """A residual device for people, at the head of this run."""
    at, iec = f"runs/{cable.run.id}/device", s.rig.rules == "iec"
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


def breaking_capacities(s: Solved, cable: Cable) -> Iterator[Change]:
    """Stronger devices."""
    return (Change(f"A device that breaks {c} kA", ((f"runs/{cable.run.id}/device/breaking_capacity", f"{c} kA"),)) for c in ("3", "4.5", "6", "10", "15", "25", "36", "50"))


def earth_sizes(s: Solved, cable: Cable) -> Iterator[Change]:
    """A protective conductor as large as the lines, or larger."""
    own = replace(cable.run, size=cable.run.laid.earth_size)
    return (Change(f"A protective conductor of {x}", ((f"runs/{cable.run.id}/laid/earth_size", x),)) for x in larger_sizes(own))


JUDGES: dict[str, Judge] = {
    cable_rating.QUESTION: cable_rating.carries,
    device.RATING: device.suits,
    device.STRIKE: lambda whole, feed, cable: device.strike(whole, cable.run.id),
    device.ORDER: lambda whole, feed, cable: device.order(whole, cable.run.id),
    earth.FAULT: lambda whole, feed, cable: earth.fault(whole.rig, cable.run.id),
    residual.DEVICE: lambda whole, feed, cable: residual.guards_people(whole.rig, cable.run.id),
    withstand.BREAKING: lambda whole, feed, cable: withstand.breaking(whole.rig, cable.run.id),
    withstand.HEAT: lambda whole, feed, cable: withstand.heat(whole.rig, cable.run.id),
    withstand.CONDUCTOR: lambda whole, feed, cable: withstand.conductor(whole.rig, cable.run.id),
}
KINDS: dict[str, tuple[Callable[[Solved, Cable], Iterator[Change]], ...]] = {
    cable_rating.QUESTION: (laying, other_lines, sizes),
    device.RATING: (ratings_below, ratings_above, other_lines, sizes, sizes_with_device),
    device.STRIKE: (curves, ratings_above),
    device.ORDER: (ratings_below,),
    earth.FAULT: (residual_device, quicker_curves, sizes, lengths),
    residual.DEVICE: (residual_types, residual_device),
    withstand.BREAKING: (breaking_capacities,),
    withstand.HEAT: (sizes, residual_device),
    withstand.CONDUCTOR: (earth_sizes,),
}
