"""Several lamps dimmed together to a wanted level or balance: the setting, light and supply current of each."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import partial
from math import log2

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Origin, Remedy, Step, Term, Verdict, term
from pycore.camera import light_level
from pycore.findings.common import attempt
from pycore.findings.dimming import Setting, at_power, for_stops
from pycore.findings.whole_rig import WholeRig, feed_of, solve_rig
from pycore.lamp import bank, dimming
from pycore.rig.model import Load, Rig
from pycore.rig.typical import need


@dataclass(frozen=True, slots=True, kw_only=True)
class Lit:
    """One lamp of a bank, set. `left`: stops that its dim cannot give, to be lost by other means; `current` None where the rig has no answer."""

    load: str
    full: Term
    light: Term
    setting: Setting
    current: Term | None
    left: Term | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bank:
    """The answer: each lamp, the sum at the subject, the current of the fullest line with all of it."""

    lit: tuple[Lit, ...]
    total: Term
    supply: Term | None
    finding: Finding
    changes: tuple[tuple[str, str], ...]


def full_light(load: Load) -> Term:
    """Light at the subject at full power, from the lamp's own intensity or reading. Raises `Refused` where neither is entered."""
    beam, at = load.beam, f"loads/{load.id}/beam"
    distance, loss = need(beam, "distance", at), need(beam, "diffusion", at)
    source = beam.intensity or work(light_level.intensity, E_0=need(beam, "reading", at), D_0=need(beam, "reading_distance", at)).result
    return work(light_level.from_intensity, I=source, Φ=term(1.0, "%", "share of full light"), s=loss, D=distance).result


def lowest_light(load: Load) -> float:
    """The lowest share of full light that a lamp can be dimmed to."""
    if load.kind == "tungsten":
        return 0.002  # nine stops: darker than any balance asks for
    return at_power(load, need(load.ballast, "floor", f"loads/{load.id}/ballast")).light.value


def to_level(rig: Rig, lights: Mapping[str, Term], wanted: Term) -> Bank:
    """Dim the lamps alike until they give `wanted` (lx) together; `lights` is each one's light at full. Raises `Refused`."""
    shares = bank.level(_members(rig, lights), wanted.value)
    return _answer(rig, lights, shares, dict.fromkeys(lights, wanted.value / sum(t.value for t in lights.values())), wanted)


def to_balance(rig: Rig, lights: Mapping[str, Term], wanted: Mapping[str, Term]) -> Bank:
    """Dim each lamp to its own wanted light."""
    shares = bank.balance(_members(rig, lights), {i: t.value for i, t in wanted.items()})
    total = term(sum(t.value for t in wanted.values()), "lx", "light wanted", rests_on=wanted.values())
    return _answer(rig, lights, shares, {i: wanted[i].value / lights[i].value for i in lights}, total)


def _members(rig: Rig, lights: Mapping[str, Term]) -> dict[str, bank.Member]:
    if not lights:
        raise refuse("no-lamps", "No lamps are chosen", "Choose the lamps of the bank")
    gone = [i for i in lights if i not in rig.loads]
    if gone:
        raise refuse("lamp-missing", f"{', '.join(gone)} is not in the rig", "Choose lamps of the rig", f"loads/{gone[0]}")
    return {i: bank.Member(full=t.value, lowest=lowest_light(rig.loads[i])) for i, t in lights.items()}


def _answer(rig: Rig, lights: Mapping[str, Term], shares: bank.Sharing, asked: Mapping[str, float], wanted: Term) -> Bank:
    settings = {i: _set(rig.loads[i], share) for i, share in shares.shares.items()}
    whole = solve_rig(replace(rig, loads={i: replace(x, dim=settings[i].power) if i in settings else x for i, x in rig.loads.items()}))
    lit = tuple(_lit(whole, i, lights[i], settings[i], asked[i], i in shares.at_lowest) for i in lights)
    total = term(sum(x.light.value for x in lit), "lx", "light of all", rests_on=[x.light for x in lit])
    changes = tuple((f"loads/{x.load}/dim", f"{100 * x.setting.power.value:.4g} %") for x in lit)
    return Bank(lit=lit, total=total, supply=whole.supply_current if whole.solved else None, finding=_finding(rig, shares, wanted, total, lit, changes), changes=changes)


def _set(load: Load, share: float) -> Setting:
    """The setting for a share of full light."""
    if share >= 1 - 1e-12:
        return at_power(load, term(1.0, "%", "share of rated power", origin=Origin.STATED))
    stops = term(log2(share), "stop", "stops wanted")
    found, _ = attempt(lambda: for_stops(load, stops))
    return found or at_power(load, need(load.ballast, "floor", f"loads/{load.id}/ballast"))


def _lit(whole: WholeRig, load_id: str, full: Term, setting: Setting, asked: float, at_lowest: bool) -> Lit:
    fed, _ = attempt(lambda: feed_of(whole, load_id))
    light = term(full.value * setting.light.value, "lx", "light at the subject", rests_on=(full, setting.light))
    left = work(dimming.stops_left, s=log2(asked), s_f=setting.stops).result if at_lowest and asked < setting.light.value * (1 - 1e-9) else None
    return Lit(load=load_id, full=full, light=light, setting=setting, current=fed.current if fed else None, left=left)


def _finding(rig: Rig, shares: bank.Sharing, wanted: Term, total: Term, lit: tuple[Lit, ...], changes: tuple[tuple[str, str], ...]) -> Finding:
    names = [rig.loads[i].name or i for i in shares.at_lowest]
    steps: tuple[Step, ...] = tuple(s for x in lit for s in x.setting.steps)
    judged = partial(Finding, question="bank", title="Do they give the light together?", place="loads", demand=total, steps=steps)
    if shares.short > 1e-9 * wanted.value:
        return judged(verdict=Verdict.STOP, limit=Limit(">=", wanted), note="Too little",
                      says=f"{total.quantity} at full, {_stops(total.value / wanted.value)} short of {wanted.quantity}", remedies=(Remedy("Add a lamp, come closer or open up"),))
    if shares.over > 1e-9 * wanted.value:
        return judged(verdict=Verdict.TIGHT, limit=Limit("<=", wanted), note="Lowest dim",
                      says=f"{total.quantity} with {', '.join(names)} at the lowest dim, {_stops(total.value / wanted.value)} over {wanted.quantity}",
                      remedies=(Remedy("Lose the rest by scrim, diffusion or distance, or switch a lamp off", changes),))
    held = f"; {', '.join(names)} at the lowest dim" if names else ""
    return judged(verdict=Verdict.CLEAR, limit=Limit(">=", wanted), says=f"{total.quantity}{held}", remedies=(Remedy("Set them so", changes),))


def _stops(ratio: float) -> str:
    return str(term(abs(log2(ratio)), "stop").quantity)
