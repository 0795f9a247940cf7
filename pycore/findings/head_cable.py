"""What does the head cable take, and is it made up?"""

from dataclasses import dataclass, replace
from functools import lru_cache, partial

from pycore.base.law import Var, law, work
from pycore.base.quantity import Quantity
from pycore.base.result import Finding, Limit, Origin, Remedy, Step, Term, Verdict, term
from pycore.base.source import Cite
from pycore.conductors import ampacity, impedance
from pycore.findings.common import as_entered, attempt, percent, rule
from pycore.findings.lamp_side import WARM, Delivered, LampSide, arc_current_steps, arc_factor, arc_of, lamp_voltage, source_of
from pycore.findings.supply_side import Feed
from pycore.lamp import arc_point
from pycore.lamp import head_cable as cables
from pycore.rig.model import Load, Run
from pycore.rig.typical import need

LIVE = "Never part a head cable while the ballast is on: striking voltage can be tens of kilovolts."


@law("p = P_v/P_n", "Share lost in the head cable", p=Var("share lost", "%"), P_v=Var("loss", "W", 0), P_n=Var("lamp power that is set", "W", 1e-6), source=Cite("circuit-theory"))
def share_lost(*, P_v: float, P_n: float) -> float:
    """Loss as a share of the lamp power that is set."""
    return P_v / P_n


CEILING = {"power": "its most power", "current": "its most current", "voltage": "its most voltage"}
ENOUGH = 150.0  # m; no head cable is longer
KEEPS = 0.97  # share of the lamp's power that a head cable should leave; the lamp's own check is tight below it


def takes(load: Load, side: LampSide, got: Delivered, feed: Feed | None = None) -> Finding:
    """Loss of the head cable, made up or not, and what the making up costs at the supply."""
    share = work(share_lost, P_v=got.loss, P_n=side.wanted)
    limit = rule(0.10, "%", "most to lose", "lamps want their rated power within 10 % once warm", Cite("arc-rating"))
    at = f"loads/{load.id}/head_cable"
    extra = _extra(load, got, feed)
    judged = partial(Finding, question="head-cable", title="What does the head cable take?", place=at, demand=share.result,
                     steps=(*side.steps, *got.steps, share, *((extra,) if extra else ())), cautions=(LIVE,))
    if side.made_up and not side.limited:
        more = f", {extra.result.quantity} of its current" if extra else ""
        return judged(verdict=Verdict.CLEAR, says=f"{got.loss.quantity}, made up by the ballast: the lamp keeps its power and the supply gives more{more}")
    if side.limited:
        return judged(verdict=Verdict.TIGHT if share.result.value <= limit.value else Verdict.STOP, limit=Limit("<=", limit), note="Ceiling reached",
                      says=f"{got.loss.quantity}: the ballast is at {CEILING[side.ceiling]}, so the lamp gets less", remedies=(Remedy("Shorter or thicker head cable"),))
    verdict = Verdict.CLEAR if share.result.value <= 0.03 else Verdict.TIGHT if share.result.value <= limit.value else Verdict.STOP
    says = f"{got.loss.quantity}, {percent(share.result.value)} of the lamp's power, and the ballast does not make it up"
    remedies = () if verdict is Verdict.CLEAR else (Remedy("Shorter or thicker head cable"),)
    return judged(verdict=verdict, says=says, limit=Limit("<=", limit), remedies=remedies)


def _extra(load: Load, got: Delivered, feed: Feed | None) -> Step | None:
    """The supply current that only makes up the loss."""
    ballast = load.ballast
    if feed is None or feed.voltage is None or ballast.efficiency is None or ballast.power_factor is None or ballast.makes_up != "yes":
        return None
    return work(cables.extra_current, P_v=got.loss, η=ballast.efficiency, λ=ballast.power_factor, V=feed.voltage)


@dataclass(frozen=True, slots=True, kw_only=True)
class Longest:
    """How long a head cable of one size may be for a share of the lamp's power; `ceiling` says what ends it."""

    size: str
    length: Term | None  # None: not even the shortest
    ceiling: str
    current: Term
    rating: Term | None  # what the tables allow the size, None where no table has it
    steps: tuple[Step, ...]

    @property
    def too_thin(self) -> bool:
        """Whether the arc's current is more than the size may carry, whatever its length."""
        return self.rating is not None and not self.current.value <= self.rating.value


def longest(load: Load, share: float, size: Term) -> Longest:
    """The longest head cable of a listed size that leaves `share` of rated power at full setting. Raises `Refused` for missing entries."""
    at = f"loads/{load.id}"
    rated = need(load.lamp, "rated_power", f"{at}/lamp")
    arc, source = arc_of(load), source_of(load, rated.value)
    wanted = term(share * rated.value, "W", "lamp power wanted", rests_on=(rated,))
    found = arc_point.reach(arc=arc, power=wanted.value, source=source)
    amps = arc_current_steps(load, wanted, arc_factor(load))
    reach = partial(Longest, size=as_entered(size), ceiling=found.ceiling, current=amps[-1].result, rating=_rating(size))
    if not found.resistance > 0:
        return reach(length=None, steps=amps)
    resistance = _resistance_step(load, source, found.ceiling, wanted, amps[-1].result)
    per_length = impedance.resistance_per_length(size=size, temperature=WARM)
    length = work(cables.length_of, R=resistance.result, r=per_length.result)
    return reach(length=length.result, steps=(*amps, resistance, per_length, length))


def _rating(size: Term) -> Term | None:
    """What the tables allow a heat-resistant cable (90 °C) of this size with two cores loaded, in air at 30 °C."""
    run = Run(id="", size=size, cores="multicore", insulation=Term(quantity=Quantity.of(90, "°C"), name="limit"), ambient=Term(quantity=Quantity.of(30, "°C"), name="air"))
    return attempt(lambda: ampacity.current_rating(run, american=False))[0]


def _resistance_step(load: Load, source: arc_point.Source, ceiling: str, wanted: Term, amps: Term) -> Step:
    at = f"loads/{load.id}"
    if ceiling == "voltage":
        arc = lamp_voltage(load, amps)
        return work(cables.resistance_for_voltage, V_t=need(load.ballast, "most_voltage", f"{at}/ballast"), λ_a=arc_factor(load), V_a=arc, I=amps)
    rated, most = need(load.lamp, "rated_power", f"{at}/lamp"), need(load.ballast, "ceiling", f"{at}/ballast")
    watts = source.most_power if source.makes_up else min(source.power, source.most_power)
    output = term(watts, "W", "most power at the ballast's output", rests_on=(rated, most) if source.makes_up else (rated,))
    return work(cables.resistance_for_output, P_o=output, P_a=wanted, I=amps)


def sizes(load: Load, american: bool) -> list[Term]:
    """The listed sizes, metric or American, as head-cable sizes."""
    names = impedance.sizes("AWG") if american else [f"{s} mm²" for s in impedance.sizes("mm²")]
    return [Term(quantity=Quantity.read(s, "mm²"), name="conductor size", origin=Origin.STATED, address=f"loads/{load.id}/head_cable/size", note=s) for s in names]


def lengths(load: Load, share: float, american: bool) -> list[Longest]:
    """The longest head cable of each size that may carry the arc's current, up to the first that is longer than any rig wants."""
    listed: list[Longest] = []
    for size in sizes(load, american):
        found = longest(load, share, size)
        if not found.too_thin:
            listed.append(found)
        if found.length is not None and found.length.value > ENOUGH:
            break
    return listed


@lru_cache(maxsize=512)
def reaches(load: Load, share: float = KEEPS) -> Finding:
    """The present head cable against the longest of its size that leaves the wanted share of power."""
    at, size = f"loads/{load.id}/head_cable", need(load.head_cable, "size", f"loads/{load.id}/head_cable")
    length = need(load.head_cable, "length", at)
    found = longest(load, share, size)
    judged = partial(Finding, question="head-cable-length", title="How long may the head cable be?", place=at, demand=length, steps=found.steps)
    if found.length is None:
        return judged(verdict=Verdict.TIGHT, note="Ceiling reached",
                      says=f"No head cable leaves {percent(share)} of the lamp's power: the ballast is at {CEILING[found.ceiling]} without any")
    most = replace(found.length, origin=Origin.COMPUTED)
    held_by = "" if load.ballast.makes_up != "yes" and found.ceiling == "power" else f"; beyond that it is at {CEILING[found.ceiling]}"
    if found.too_thin:
        return judged(verdict=Verdict.STOP, note="Too thin", remedies=_larger(load, share, length.value),
                      says=f"{as_entered(size)} may carry {found.rating.quantity if found.rating else ''} when heat-resistant, and the arc takes {found.current.quantity}")
    says = f"Up to {most.quantity} of {as_entered(size)} leave {percent(share)} of the lamp's power{held_by}"
    verdict = Verdict.CLEAR if length.value <= most.value else Verdict.TIGHT
    return judged(verdict=verdict, says=says, limit=Limit("<=", most), remedies=() if verdict is Verdict.CLEAR else _larger(load, share, length.value))


def _larger(load: Load, share: float, length: float) -> tuple[Remedy, ...]:
    """The first size up that is long enough."""
    assert load.head_cable.size is not None
    for size in sizes(load, "AWG" in load.head_cable.size.note):
        found = longest(load, share, size) if size.value > load.head_cable.size.value * 1.001 else None
        if found and found.length is not None and found.length.value >= length and not found.too_thin:
            return (Remedy(f"{size.note} may be up to {found.length.quantity} long", ((f"loads/{load.id}/head_cable/size", size.note),)),)
    return ()
