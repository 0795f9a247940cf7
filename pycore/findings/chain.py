"""The chain of one lamp, supply to shutter: every link with its verdict, its one number, its findings and its share of the power.

    lamp side   what the dim asks for, and what the ballast must give and draw for it
    supply side the path solved for that draw
    delivered   what reaches the arc, the light it makes, and how the shutter cuts it
"""

from dataclasses import dataclass, fields, replace
from functools import cache, cached_property, lru_cache, partial
from typing import Any

from pycore.base.problem import Problem
from pycore.base.result import Finding, Remedy, Step, Term, Verdict, estimates, unknown, worst
from pycore.findings import ballast, dim_supply, filament, head_cable, lamp, led, protection, run, shutter, supply
from pycore.findings.common import as_entered, attempt, finding_or_unknown, percent
from pycore.findings.lamp_side import Delivered, LampSide
from pycore.findings.merged import merged
from pycore.findings.solved import Solved, kept, output, solve
from pycore.findings.source import source_findings
from pycore.findings.supply_side import Cable, Feed
from pycore.findings.whole_rig import WholeRig, count_lamp, solve_rig
from pycore.rig import graph
from pycore.rig.model import SYSTEMS, Load, Picture, Rig, Shot, Supply, specs
from pycore.rig.read import Reading
from pycore.rig.typical import settle

WORDS = {Verdict.CLEAR: "Clear", Verdict.TIGHT: "Tight", Verdict.STOP: "Stop", Verdict.UNKNOWN: "Unknown"}


@dataclass(frozen=True, kw_only=True)  # no slots: its verdict is kept once found
class Link:
    """One link of the chain. `share` is the part of the drawn power that still arrives here; `medium` is "power" or "light"."""

    id: str
    kind: str
    title: str
    place: str
    findings: tuple[Finding, ...]
    figure: Term | None = None
    caption: str = ""
    detail: str = ""
    share: float = 0.0
    medium: str = "power"

    @cached_property
    def verdict(self) -> Verdict:
        """The worst of its findings."""
        return worst(f.verdict for f in self.findings)

    @property
    def leading(self) -> Finding:
        """The finding that gave the verdict."""
        return next(f for f in self.findings if f.verdict is self.verdict)

    @property
    def estimates(self) -> tuple[Term, ...]:
        """The typical and assumed terms that belong to this link's own entries."""
        leaning = estimates(t for f in self.findings for t in f.assumptions)
        return tuple(t for t in leaning if t.address.startswith(self.place + "/"))

    @property
    def remedies(self) -> tuple[Remedy, ...]:
        """What the troubled findings advise."""
        return merged(self.findings)


@dataclass(frozen=True, kw_only=True)
class Chain:
    """The answer for one lamp on one shot."""

    load: str
    name: str
    shot: str
    links: tuple[Link, ...]
    problems: tuple[Problem, ...]

    @cached_property
    def verdict(self) -> Verdict:
        """The worst of its links."""
        return worst(link.verdict for link in self.links)

    @cached_property
    def headline(self) -> str:
        """The verdict and where it comes from."""
        return headline(self)

    @property
    def sentence(self) -> str:
        """What to know in one breath: the trouble, then what can be done."""
        return _sentence(self)


def chain(reading: Reading, load_id: str, shot_id: str = "") -> Chain:
    """The chain of one load. Raises KeyError for a load that the rig does not have."""
    return chain_in(solve_rig(settled(reading)), reading.problems, load_id, shot_id)


def settled(reading: Reading) -> Rig:
    """The rig of a reading with its gaps filled; unreadable entries stay gaps."""
    return settle(reading.rig, {p.address for p in reading.problems})


def chain_in(whole: WholeRig, problems: tuple[Problem, ...], load_id: str, shot_id: str = "", advise: bool = True, source: tuple[Finding, ...] | None = None) -> Chain:
    """The chain of one load of a solved rig; without `advise` no remedies that take solving."""
    rig = whole.rig
    solved = solve(whole, rig.loads[load_id], rig.shots.get(shot_id) or next(iter(rig.shots.values())), advise)
    between = (_ballast(solved), _head_cable(solved)) if solved.load.kind == "arc lamp" else ()
    lit = _lamp(solved)
    of_source = source_findings(whole) if source is None else source
    links = tuple(_with_unreadable(x, load_id, problems) for x in (_supply(solved, of_source), *_runs(solved), *between, lit, _shutter(solved, lit.share)))
    return Chain(load=load_id, name=solved.load.name or load_id, shot=solved.shot.id, links=links, problems=problems)


def _with_unreadable(link: Link, load_id: str, problems: tuple[Problem, ...]) -> Link:
    """The link with a finding for entries of its own that cannot be read; the lamp's has those of the whole load."""
    at, elsewhere = link.place, tuple(f"loads/{load_id}/{k}/" for k in ("ballast", "head_cable"))
    homes = {"lamp": (f"loads/{load_id}",), "supply": (at, "rules")}.get(link.kind, (at,))
    mine = [p for p in problems if p.code != "key-unknown" and any(p.address == h or p.address.startswith(f"{h}/") for h in homes)
            and not (link.kind == "lamp" and p.address.startswith(elsewhere))]
    return replace(link, findings=(*link.findings, unknown("entries", "Can all entries be read?", at, *mine))) if mine else link


def _blocked(solved: Solved, question: str, title: str, place: str) -> Finding:
    """Why a check of this place could not be made."""
    feed_state = solved.feed.state if solved.feed else ""
    if feed_state in ("under", "over", "collapse"):
        words = {"under": "The driver cuts out" if solved.load.kind == "LED" else "The ballast cuts out", "over": "The voltage is too high", "collapse": "The path cannot carry the load"}[feed_state]
        return unknown(question, title, place, Problem("lamp-out", f"{words}: there is no light to judge", "See the links above", place))
    return unknown(question, title, place, *solved.problems)


def _supply(s: Solved, source: tuple[Finding, ...]) -> Link:
    rig, fed = s.rig, s.feed
    system = SYSTEMS.get(rig.supply.system, "").lower()
    words = [rig.supply.name or rig.supply.kind.capitalize(), system, *(str(t.quantity) for t in (rig.supply.voltage, rig.supply.frequency) if t)]
    detail = " · ".join(w for w in words if w)
    if fed is None:
        return Link(id="supply", kind="supply", title="Supply", place="supply", detail=detail, findings=(_blocked(s, "supply-voltage", "What stands at the outlet?", "supply"),))
    findings = [finding_or_unknown("supply-voltage", "What stands at the outlet?", "supply", lambda: supply.socket(rig, fed)),
                finding_or_unknown("supply-current", "Does the supply carry it?", "supply", lambda: supply.carries(rig, fed))]
    findings += protection.outlet_findings(s.whole)
    if len(rig.loads) > 1 or rig.supply.kind != "mains":
        findings += source
    if s.whole.left_out and len(rig.loads) > 1:
        names = ", ".join(rig.loads[i].name or i for i in s.whole.left_out)
        findings.append(unknown("supply-others", "Are all lamps counted?", "supply", Problem("not-counted", f"Not counted: {names}", "Complete the entries of these lamps", f"loads/{next(iter(s.whole.left_out))}")))
    current = fed.total or fed.current
    rating = f"{current.quantity} of {rig.supply.rating.quantity}" if current and rig.supply.rating else str(current.quantity) if current else ""
    return Link(id="supply", kind="supply", title="Supply", place="supply", detail=detail, findings=tuple(findings), figure=fed.socket,
                caption=f"at the outlet, {rating}" if fed.socket else "", share=1.0 if fed.state == "runs" else 0.0)


def _runs(s: Solved) -> tuple[Link, ...]:
    path = graph.path(s.rig, s.load.id)
    if s.feed is None:
        return tuple(Link(id=r.id, kind="run", title=r.name or "Run", place=f"runs/{r.id}", detail=run.detail(r),
                          findings=(_blocked(s, "run-voltage", "What arrives at the end?", f"runs/{r.id}"),)) for r in path)
    return tuple(_run(s, s.feed, c, k + 1) for k, c in enumerate(s.feed.cables))


def _run(s: Solved, fed: Feed, cable: Cable, count: int) -> Link:
    at = f"runs/{cable.run.id}"
    findings = protection.of_run(s, fed, cable, count)
    caption = ""
    if cable.arrives and fed.socket:
        caption = f"arrives, {percent((cable.arrives.value - fed.socket.value) / fed.nominal.value, sign=True)}"
    below = [c.loss.value for c in fed.cables[count:] if c.loss]
    return Link(id=cable.run.id, kind="run", title=cable.run.name or "Run", place=at, detail=run.detail(cable.run), findings=findings, figure=cable.arrives, caption=caption,
                share=_share(fed, fed.power.value + sum(below)) if fed.power else 0.0)


def _share(fed: Feed, watts: float) -> float:
    return watts / fed.drawn.value if fed.state == "runs" and fed.drawn and fed.drawn.value > 0 else 0.0


def _ballast(s: Solved) -> Link:
    at, title = f"loads/{s.load.id}/ballast", "Is the voltage inside its window?"
    words = dict(specs(type(s.load.ballast))["kind"].options).get(s.load.ballast.kind, "")
    low = s.load.ballast.low_cut_out
    detail = f"{words} · holds from {low.quantity}" if low else words
    fed = s.feed
    if fed is None:
        return Link(id="ballast", kind="ballast", title="Ballast", place=at, detail=detail, findings=(_blocked(s, "ballast-window", title, at),))
    findings = (finding_or_unknown("ballast-window", title, at, lambda: ballast.window(s.load, fed)),
                finding_or_unknown("ballast-draw", "What does it draw?", at, lambda: ballast.draws(s.load, fed)))
    apparent = findings[1].demand if fed.state == "runs" else None
    if fed.state == "under":
        return Link(id="ballast", kind="ballast", title="Ballast", place=at, detail=detail, findings=findings, figure=fed.voltage, caption="would arrive: it cuts out")
    given = output(s.load, fed).value if s.side and fed.state == "runs" else 0.0
    return Link(id="ballast", kind="ballast", title="Ballast", place=at, detail=detail, findings=findings, figure=apparent,
                caption=f"for {fed.power.quantity}" if apparent and fed.power else "", share=_share(fed, given))


def _head_cable(s: Solved) -> Link:
    at, title = f"loads/{s.load.id}/head_cable", "What does the head cable take?"
    cable = s.load.head_cable
    detail = f"{as_entered(cable.length)} of {as_entered(cable.size)}" if cable.length and cable.size else ""
    side, got, fed = s.side, s.got, s.feed
    if side is None or got is None or fed is None:
        return Link(id="head_cable", kind="head_cable", title="Head cable", place=at, detail=detail, findings=(_blocked(s, "head-cable", title, at),))
    findings = (finding_or_unknown("head-cable", title, at, lambda: head_cable.takes(s.load, side, got, fed)),
                finding_or_unknown("head-cable-length", "How long may the head cable be?", at, lambda: head_cable.reaches(s.load)))
    made = "lost, the ballast is at its ceiling" if side.limited else "made up by the ballast" if side.made_up else "lost"
    return Link(id="head_cable", kind="head_cable", title="Head cable", place=at, detail=detail, findings=findings,
                figure=replace(got.loss, name="loss in the head cable"), caption=made, share=_share(fed, got.power.value))


def _lamp(s: Solved) -> Link:
    return _arc_lamp(s) if s.load.kind == "arc lamp" else _other_lamp(s)


def _other_lamp(s: Solved) -> Link:
    """A tungsten or LED lamp, which hangs on the run itself."""
    at, is_led, load = f"loads/{s.load.id}", s.load.kind == "LED", s.load
    question, title = ("lamp-light", "What light does it give?") if is_led else ("lamp-voltage", "Does the lamp get its voltage?")
    detail = f"{load.lamp.rated_power.quantity if load.lamp.rated_power else ''} {load.kind}".strip()
    link = Link(id="lamp", kind="lamp", title="Lamp", place=at, detail=detail, medium="light", findings=())
    fed, got = s.feed, s.got
    window = (finding_or_unknown("ballast-window", "Is the voltage inside its window?", at, lambda: ballast.window(load, fed)),) if is_led and fed else ()
    if fed is None or got is None:
        return replace(link, findings=(*window, _blocked(s, question, title, at)))
    glow, lit = cache(partial(filament.glow, load, got)), cache(partial(led.light_steps, load, got))
    if is_led:
        findings = (*window, finding_or_unknown(question, title, at, lambda: led.light(load, lit())),
                    finding_or_unknown("lamp-floor", "Can it be dimmed that far?", at, lambda: lamp.floor(load)),
                    finding_or_unknown("lamp-colour", "What is its colour?", at, lambda: led.colour(load, lit()[1])))
    else:
        findings = (finding_or_unknown(question, title, at, lambda: filament.voltage(load, glow())),
                    finding_or_unknown("lamp-colour", "What is its colour?", at, lambda: filament.colour(load, glow())),
                    finding_or_unknown("lamp-life", "What does that do to its life?", at, lambda: filament.life(load, glow())))
    findings += _dimmed(load, fed)
    steps, _ = attempt(lambda: lit() if is_led else glow().to_light)
    if steps is None:
        return replace(link, findings=findings)
    share, light, stops = steps
    how = f"{percent(share.result.value)} {'power' if is_led else 'voltage'}"
    return replace(link, findings=findings, figure=light.result, caption=f"light at {how}, {stops.result.quantity.shown()[0]} stops",
                   share=_share(fed, got.power.value) * min(1.0, light.result.value / (got.power.value / load.lamp.rated_power.value)) if load.lamp.rated_power else 0.0)


def _dimmed(load: Load, fed: Feed) -> tuple[Finding, ...]:
    """What the dim does to the supply, where there is one."""
    if load.dim is None or load.dim.value >= 1 - 1e-9:
        return ()
    return (finding_or_unknown("dim-supply", "What does the dim change at the supply?", f"loads/{load.id}", lambda: dim_supply.at_supply(load, fed)),)


def _arc_lamp(s: Solved) -> Link:
    at, title = f"loads/{s.load.id}/lamp", "Does the lamp get its power?"
    rated = s.load.lamp.rated_power
    detail = f"{rated.quantity} daylight" if rated else "Daylight lamp"
    side, got, fed = s.side, s.got, s.feed
    if side is None or got is None or fed is None:
        return Link(id="lamp", kind="lamp", title="Lamp", place=at, detail=detail, medium="light", findings=(_blocked(s, "lamp-power", title, at),))
    judged, steps = _arc_kept(s.load) if s.draw and s.draw.holds else _arc_judged(s.load, side, got)
    findings = (*judged, *_dimmed(s.load, fed))
    if steps is None:
        return Link(id="lamp", kind="lamp", title="Lamp", place=at, detail=detail, medium="light", findings=findings)
    share, light, stops = steps
    caption = f"light at {percent(share.result.value)} power, {stops.result.quantity.shown()[0]} stops"
    return Link(id="lamp", kind="lamp", title="Lamp", place=at, detail=detail, medium="light", findings=findings, figure=light.result, caption=caption,
                share=_share(fed, got.power.value) * min(1.0, light.result.value / share.result.value))


Lit = tuple[tuple[Finding, ...], tuple[Step, Step, Step] | None]


def _arc_judged(load: Load, side: LampSide, got: Delivered) -> Lit:
    """What is to be said of the lamp itself, and the steps to its light."""
    at = f"loads/{load.id}/lamp"
    light = cache(partial(lamp.light_steps, load, got))
    findings = (finding_or_unknown("lamp-power", "Does the lamp get its power?", at, lambda: lamp.power(load, side, got, light())),
                finding_or_unknown("lamp-floor", "Can it be dimmed that far?", at, lambda: lamp.floor(load)),
                finding_or_unknown("lamp-colour", "What is its colour?", at, lambda: lamp.colour(load, light()[0])))
    return findings, attempt(light)[0]


@lru_cache(maxsize=1024)
def _arc_kept(load: Load) -> Lit:
    """The same for a lamp that gets the same power at any voltage that its ballast runs on."""
    got, _ = kept(load)
    assert got is not None
    return _arc_judged(load, count_lamp(load).side, got)


def _shutter(s: Solved, share: float) -> Link:
    at, title = f"shots/{s.shot.id}", "Does the camera see steady light?"
    rate, angle, time = s.shot.frame_rate, s.shot.shutter, s.shot.exposure_time
    window = as_entered(time) if time else as_entered(angle) if angle else ""
    ramp = f" to {as_entered(s.shot.ramp_to)}" if s.shot.kind == "ramp" and s.shot.ramp_to else ""
    detail = f"{as_entered(rate) + ramp if rate and s.shot.kind != 'still' else ''} · {window}".strip(" ·")
    if s.got is None:
        return Link(id="shutter", kind="shutter", title="Shutter", place=at, detail=detail, medium="light", findings=(_blocked(s, "shot-steady", title, at),))
    finding, highest = _steady(s.rig, s.load, s.shot) if s.advise else _steady_kept(s.rig.supply, s.rig.picture, s.rig.rules, s.rig.unreadable, s.load, _apart(s.shot))
    if highest is not None:
        finding = replace(finding, steps=(*finding.steps, highest))
        detail += f" · {s.load.ballast.output_frequency.quantity if s.load.ballast.output_frequency else ''} square wave, steady to {shutter.rounded_down(highest.result.value)}"
    findings: tuple[Finding, ...] = (finding,)
    if len(s.shot.lit_by) > 1:
        findings += (_mix(s),)
    return Link(id="shutter", kind="shutter", title="Shutter", place=at, detail=detail, medium="light", findings=findings, figure=finding.demand,
                caption="between frames" if finding.demand else "", share=share)


def _mix(s: Solved) -> Finding:
    """Whether all lamps together are steady; the same for each of them, and found once."""
    key = s.shot.id, s.advise
    if key not in s.whole.mixes:
        s.whole.mixes[key] = finding_or_unknown("mix-steady", "Is the mix of lamps steady?", f"shots/{s.shot.id}", lambda: shutter.mix(s.rig, s.shot, s.advise))
    return s.whole.mixes[key]


def _steady(rig: Rig, load: Load, shot: Shot, advise: bool = True) -> tuple[Finding, Step | None]:
    """Whether the shutter sees one lamp steady, and up to which rate it would."""
    finding = finding_or_unknown("shot-steady", "Does the camera see steady light?", f"shots/{shot.id}", lambda: shutter.steady(rig, load, shot, advise))
    return finding, attempt(lambda: shutter.highest_clean_rate(rig, load, shot))[0]


ShotAlone = tuple[tuple[str, Any], ...]


def _apart(shot: Shot) -> ShotAlone:
    """A shot but for who lights it, as what can be looked up."""
    return tuple((f.name, getattr(shot, f.name)) for f in fields(shot) if f.name != "lit_by")


@lru_cache(maxsize=1024)
def _steady_kept(supply: Supply, picture: Picture, rules: str, unreadable: frozenset[str], load: Load, of: ShotAlone) -> tuple[Finding, Step | None]:
    """The same without advice, from all that it takes: kept, since most edits change none of this."""
    shot = Shot(**dict(of))
    return _steady(Rig(supply=supply, picture=picture, rules=rules, unreadable=unreadable, loads={load.id: load}, shots={shot.id: shot}), load, shot, False)


def trouble(made: Chain) -> Link:
    """The first link with the chain's verdict; of unknown ones, the one that holds the missing entry."""
    troubled = [link for link in made.links if link.verdict is made.verdict]
    wanting = [link for link in troubled for f in link.findings for p in f.problems if p.address.startswith(link.place)]
    return (wanting if made.verdict is Verdict.UNKNOWN and wanting else troubled)[0]


def only_undescribed(made: Chain) -> bool:
    """Whether nothing is amiss but that protection and earth have not been described yet."""
    open_questions = [f for link in made.links for f in link.findings if f.verdict is not Verdict.CLEAR]
    return bool(open_questions) and all(f.question == "protection" for f in open_questions)


def headline(made: Chain) -> str:
    """The verdict and where it comes from."""
    if made.verdict is Verdict.CLEAR:
        return "Clear from supply to shutter"
    if only_undescribed(made):
        return "Power and light clear; protection not described"
    troubled = trouble(made)
    word = troubled.leading.note or WORDS[made.verdict]
    return f"{word}: {troubled.title.lower()}"


def _sentence(made: Chain) -> str:
    """What to know in one breath: the trouble, then what can be done."""
    if made.verdict is Verdict.CLEAR or only_undescribed(made):
        lit = next(link for link in made.links if link.kind == "lamp")
        fine = f"{lit.findings[0].says}. {made.links[-1].findings[0].says}."
        return fine if made.verdict is Verdict.CLEAR else f"{fine} Earth, breakers and residual devices cannot be judged until you enter them."
    troubled = trouble(made)
    offers = troubled.leading.remedies or troubled.remedies
    advice = f" {offers[0].text}." if offers else ""
    return f"{troubled.leading.says}.".replace("..", ".") + advice
