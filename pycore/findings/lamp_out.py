"""A lamp went out while the others burn: when is its light back, and what to do with the others?"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations

from pycore.base.law import work
from pycore.base.result import Finding, Term, Verdict, estimates, term
from pycore.findings.strike_ready import Made, make_ready
from pycore.findings.strike_supply import Active
from pycore.findings.strike_words import WARN, clock, finding_of
from pycore.lamp.on_the_day import Back, Times, back, light_back
from pycore.lamp.strike import Use
from pycore.rig.model import Load, Rig
from pycore.rig.typical import need, need_choice

KEEP = "Leave the other arc lamps burning: whatever is switched off must cool as well."
HOT = "A hot lamp that is not made for it does not strike, and tries wear lamp and igniter. Do not open the head: hot, under pressure, ultraviolet."
MOST_OFF = 2  # lamps whose switching off is tried


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """Something to do with the others, and whether the strike then keeps every limit."""

    text: str
    verdict: Verdict
    says: str
    off: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Out:
    """The answer: times in s after it went out."""

    back: Back
    says: str
    findings: tuple[Finding, ...]
    options: tuple[Option, ...]
    cautions: tuple[str, ...]


def times_of(load: Load) -> Times:
    """Run-up and cooling of a settled load, in s. Raises `Refused` for missing entries."""
    at = f"loads/{load.id}/warm"
    return Times(full_light=need(load.warm, "full_light", at).value, full_colour=need(load.warm, "full_colour", at).value, cooling=need(load.warm, "cooling", at).value,
                 strikes_hot=need_choice(load.warm, "strikes_hot", at) == "yes")


def went_out(rig: Rig, lamp: str, made: Made | None = None) -> Out:
    """What to do when `lamp` goes out and everything else burns; `made`: the rig made ready, where it is at hand. Raises `Refused`, or KeyError for a lamp that is not there."""
    load = rig.loads[lamp]
    times = times_of(load)
    made, when = made or make_ready(rig), back(times)
    name = load.name or lamp
    others = [i for i in made.bench.lamps if i != lamp]
    listed = _options(made, lamp, others)
    hot = "It strikes hot: at once" if times.strikes_hot else f"Strike it {clock(when.strike)} after it went out, when it has cooled"
    says = f"{name}: {hot}. Full light {clock(when.light)} and full colour {clock(when.colour)} after it went out"
    return Out(back=when, says=says, findings=(_when(load, when, says), *_limits(made, lamp, others)), options=listed, cautions=(KEEP, *(() if times.strikes_hot else (HOT,)), WARN))


def _when(load: Load, when: Back, says: str) -> Finding:
    rests = estimates(t for t in (load.warm.full_light, load.warm.cooling, load.warm.full_colour) if t)
    light = Term(quantity=term(when.light, "min").quantity, name="from going out to full light", rests_on=rests)
    waits = term(when.strike, "min", "cooling before it strikes", rests_on=[load.warm.cooling] if load.warm.cooling else [])
    step = work(light_back, t_c=waits, t_f=need(load.warm, "full_light", f"loads/{load.id}/warm"))
    return Finding(question="lamp-back", title="When is the light back?", place=f"loads/{load.id}", verdict=Verdict.CLEAR, says=says, demand=light, steps=(step,), cautions=(HOT,))


def _limits(made: Made, lamp: str, others: Iterable[str]) -> tuple[Finding, ...]:
    """The limits that the strike with everything else burning comes nearest to."""
    uses = sorted(_uses(made, lamp, dict.fromkeys(others)), key=lambda u: -u.share)
    seen: set[str] = set()
    return tuple(finding_of(made, u) for u in uses if not (u.limit in seen or seen.add(u.limit)))  # type: ignore[func-returns-value]


def _uses(made: Made, lamp: str, others: dict[str, float | None]) -> list[Use]:
    """Every use of every limit from the strike of `lamp` to its full light; `others` burn at a share of power, None for what is set."""
    bench = made.bench
    settled = {i: made.settled(i) for i in others}
    found: list[Use] = []
    age, end = 0.0, made.settled(lamp)
    while age <= end + 1e-9:
        draws = [_at_share(a, others[a.load]) if a.load in others else a for a in bench.draws({**settled, lamp: age}, bench.gap)]
        found += bench.uses_of(draws, {**settled, lamp: age})
        age += bench.gap
    return found


def _at_share(a: Active, share: float | None) -> Active:
    return a if share is None else Active(load=a.load, power=a.power * share, reactive=a.reactive * share)


def _options(made: Made, lamp: str, others: list[str]) -> tuple[Option, ...]:
    """Keep all burning; dim the rest; switch some off: the first that works ends the list."""
    burning = _judged(made, lamp, dict.fromkeys(others), "Keep the others burning and strike it when it is ready")
    if burning.verdict is Verdict.CLEAR or not others:
        return (burning,)
    found = [burning]
    floors = {i: _floor(made.rig.loads[i]) for i in others}
    if any(f is not None and f < 1 for f in floors.values()):
        found.append(_judged(made, lamp, floors, "Dim the others to their lowest while it comes up"))
    if found[-1].verdict is not Verdict.CLEAR:
        found += _switched_off(made, lamp, others)
    return tuple(found)


def _floor(load: Load) -> float | None:
    """The lowest share of power that a lamp can be dimmed to for a while, None where it cannot."""
    if load.kind == "tungsten":
        return 0.3
    return load.ballast.floor.value if load.ballast.floor and load.ballast.floor.value < 1 else None


def _switched_off(made: Made, lamp: str, others: list[str]) -> list[Option]:
    """The fewest lamps whose switching off lets it strike; those that come back at once first."""
    order = sorted(others, key=lambda i: times_of(made.rig.loads[i]).cooling)
    for count in range(1, MOST_OFF + 1):
        for off in combinations(order, count):
            left: dict[str, float | None] = {i: None for i in others if i not in off}
            names = " and ".join(made.name(i) for i in off)
            waits = [f"{made.name(i)} is back {clock(back(times_of(made.rig.loads[i])).light)} after it is switched off" for i in off if times_of(made.rig.loads[i]).cooling]
            tried = _judged(made, lamp, left, f"Switch off {names}, strike it, then bring them back one by one", off)
            if tried.verdict is Verdict.CLEAR:
                return [Option(text=tried.text, verdict=tried.verdict, says="; ".join([tried.says, *waits]), off=off)]
    return []


def _judged(made: Made, lamp: str, others: dict[str, float | None], text: str, off: tuple[str, ...] = ()) -> Option:
    broken = [u for u in _uses(made, lamp, others) if u.broken]
    if not broken:
        return Option(text=text, verdict=Verdict.CLEAR, says="Keeps every limit", off=off)
    worst_of = finding_of(made, max(broken, key=lambda u: (not u.may_hold, u.share)))
    return Option(text=text, verdict=worst_of.verdict, says=f"{worst_of.note}: {worst_of.says}" if worst_of.note else worst_of.says, off=off)

