"""Does the control line work: loads, length, ends, addresses, refresh, and the steps of a fade?"""

from collections.abc import Callable
from dataclasses import dataclass

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Remedy, Step, Term, Verdict, term, worst
from pycore.base.table import table
from pycore.findings.common import as_entered, finding_or_unknown, rule
from pycore.findings.dimming import light_at_level
from pycore.lamp import control_line as dmx
from pycore.rig.model import ControlLine, Load, Rig
from pycore.rig.typical import need, need_choice

ISOLATE = "Between different supplies or generators put an isolated splitter: a control cable must not join their earths."
NO_Y = "Never branch a control line with a plain Y: use a splitter."
SHOWS = 0.02  # stops; a step that begins to show in the picture, our own threshold


@dataclass(frozen=True, slots=True)
class OnLine:
    """A control line with the lamps that listen to it."""

    line: ControlLine
    lamps: dict[str, Load]

    @property
    def at(self) -> str:
        """Its address in the rig."""
        return f"control_lines/{self.line.id}"


def on_line(rig: Rig, line_id: str) -> OnLine:
    """A line of a settled rig. Raises KeyError for one that is not there."""
    return OnLine(rig.control_lines[line_id], {i: x for i, x in rig.loads.items() if x.control.line == line_id})


def findings(rig: Rig, line_id: str, frame_rate: Term | None = None) -> tuple[Finding, ...]:
    """Everything to be said of one control line."""
    it = on_line(rig, line_id)
    asked: list[tuple[str, str, Callable[[], Finding]]] = [
        ("line-loads", "Are there too many on the line?", lambda: unit_loads(it)), ("line-length", "Is it too long?", lambda: length(it)),
        ("line-end", "Is its end terminated?", lambda: end(it)), ("line-shape", "Is it one chain?", lambda: shape(it)),
        ("line-addresses", "Do addresses overlap?", lambda: addresses(rig, it)), ("line-refresh", "How often do levels arrive?", lambda: rate(it))]
    asked += [(f"line-fade-{i}", f"Does the fade step on {x.name or i}?", lambda x=x: fade(it, x, frame_rate)) for i, x in it.lamps.items()]  # type: ignore[misc]
    return tuple(finding_or_unknown(q, title, it.at, make) for q, title, make in asked)


def unit_loads(it: OnLine) -> Finding:
    """Unit loads of all receivers against what one line drives."""
    loads = [need(x.control, "unit_load", f"loads/{i}/control") for i, x in it.lamps.items()]
    total = term(sum(t.value for t in loads), "", "unit loads", rests_on=loads)
    most, cautious = table("dmx-limits").cell("unit loads", "most", "unit loads on one line"), table("dmx-limits").cell("unit loads, cautious", "most").value
    verdict = Verdict.STOP if not total.value <= most.value else Verdict.TIGHT if total.value > cautious else Verdict.CLEAR
    more = dmx.splitters(total.value, most.value)
    remedies = (Remedy(f"Split it: {more} more line{'s' if more > 1 else ''} behind a splitter"),) if more else ()
    return Finding(question="line-loads", title="Are there too many on the line?", place=it.at, verdict=verdict, says=f"{total.quantity} of {most.quantity} unit loads", demand=total,
                   limit=Limit("<=", most), remedies=remedies)


def length(it: OnLine) -> Finding:
    """Length against recommended practice."""
    given = need(it.line, "length", it.at)
    most, quoted = (table("dmx-lengths").cell(k, "length", "recommended length") for k in ("recommended", "often quoted"))
    verdict = Verdict.CLEAR if given.value <= most.value else Verdict.TIGHT if given.value <= quoted.value else Verdict.STOP
    remedies = () if verdict is Verdict.CLEAR else (Remedy("Put a splitter on the way: each of its outputs counts anew"),)
    return Finding(question="line-length", title="Is it too long?", place=it.at, verdict=verdict, says=f"{as_entered(given)}; {most.quantity} is recommended as the most", demand=given,
                   limit=Limit("<=", most), remedies=remedies)


def end(it: OnLine) -> Finding:
    """A line ends in 120 Ω."""
    ended = need_choice(it.line, "terminated", it.at) == "yes"
    return Finding(question="line-end", title="Is its end terminated?", place=it.at, verdict=Verdict.CLEAR if ended else Verdict.TIGHT,
                   says="120 Ω at the end" if ended else "An open end sends the signal back: lamps may flicker or obey at random",
                   remedies=() if ended else (Remedy("Plug a 120 Ω terminator into the last receiver", ((f"{it.at}/terminated", "yes"),)),))


def shape(it: OnLine) -> Finding:
    """One chain, data cable, no joined earths."""
    branched, microphone, joined = it.line.shape == "branches", it.line.cable == "microphone", it.line.earths == "several"
    verdict = worst([Verdict.STOP if branched or joined else Verdict.CLEAR, Verdict.TIGHT if microphone else Verdict.CLEAR])
    words = [w for w, bad in (("it branches without a splitter", branched), ("it joins the earths of several supplies", joined), ("microphone cable has the wrong impedance", microphone)) if bad]
    fixes = [Remedy("Make it one chain, or branch with a splitter", ((f"{it.at}/shape", "chain"),)) if branched else None,
             Remedy("Isolate it with a splitter between the supplies", ((f"{it.at}/earths", "isolated"),)) if joined else None,
             Remedy("Use data cable", ((f"{it.at}/cable", "data"),)) if microphone else None]
    says = "; ".join(words) or "One chain of data cable"
    return Finding(question="line-shape", title="Is it one chain?", place=it.at, verdict=verdict, says=says[:1].upper() + says[1:], cautions=(NO_Y, ISOLATE), remedies=tuple(f for f in fixes if f))


def receivers(rig: Rig, universe: str) -> list[dmx.Receiver]:
    """Every lamp of a universe that has an address."""
    lines = {i for i, line in rig.control_lines.items() if line.universe == universe}
    return [dmx.Receiver(id=i, first=round(x.control.address.value), slots=round(x.control.slots.value)) for i, x in rig.loads.items()
            if x.control.line in lines and x.control.address and x.control.slots]


def addresses(rig: Rig, it: OnLine) -> Finding:
    """Slots that two lamps share without being meant to, and slots beyond the universe or beyond what is sent."""
    wanting = [i for i, x in it.lamps.items() if x.control.address is None]
    if wanting or not it.lamps:
        names = ", ".join(it.lamps[i].name or i for i in wanting)
        raise refuse("address-missing", f"No address: {names}" if wanting else "No lamp is on this line", "Enter the first slot", f"loads/{wanting[0]}/control/address" if wanting else f"{it.at}/name")
    listed = receivers(rig, it.line.universe)
    most, sent = table("dmx-limits").cell("slots", "most", "slots of a universe"), need(it.line, "slots_sent", it.at)
    last = max(listed, key=lambda r: r.last)
    clashes = dmx.overlaps(listed)
    words = [f"{_name(rig, a)} and {_name(rig, b)} share slots {f} to {t}" if f != t else f"{_name(rig, a)} and {_name(rig, b)} share slot {f}" for a, b, f, t in clashes]
    words += [f"{_name(rig, r.id)} ends at slot {r.last}, beyond the {round(min(most.value, sent.value))} that are sent" for r in listed if r.last > min(most.value, sent.value)]
    demand = term(float(last.last), "", "last slot used", rests_on=[t for x in it.lamps.values() for t in (x.control.slots,) if t])
    says = "; ".join(words) or f"No overlap, {last.last} of {round(most.value)} slots used"
    return Finding(question="line-addresses", title="Do addresses overlap?", place=it.at, verdict=Verdict.STOP if words else Verdict.CLEAR, says=says, demand=demand, limit=Limit("<=", most),
                   remedies=_moved(rig, listed, clashes))


def _name(rig: Rig, load: str) -> str:
    return rig.loads[load].name or load


def _moved(rig: Rig, listed: list[dmx.Receiver], clashes: list[tuple[str, str, int, int]]) -> tuple[Remedy, ...]:
    """A free place for the second of each clashing pair."""
    offers = []
    for moved in dict.fromkeys(b for _, b, _, _ in clashes):
        mine = next(r for r in listed if r.id == moved)
        start = dmx.free_start([r for r in listed if r.id != moved], mine.slots)
        if start is not None:
            offers.append(Remedy(f"Set {_name(rig, moved)} to slot {start}", ((f"loads/{moved}/control/address", str(start)),)))
    return tuple(offers)


def timing(it: OnLine) -> tuple[Step, Step]:
    """Time of a packet and packets a second."""
    fixed = {k: table("dmx-timing").cell(name, "time", words) for k, name, words in (("t_s", "slot", "time of a slot"), ("t_0", "shortest packet", "shortest packet"))}
    packet = work(dmx.packet_time, t_b=need(it.line, "break_time", it.at), t_m=need(it.line, "mark_time", it.at), n=need(it.line, "slots_sent", it.at), **fixed)
    return packet, work(dmx.refresh, t=packet.result)


def rate(it: OnLine) -> Finding:
    """Packets in a second for the slots that are sent."""
    packet, refresh = timing(it)
    says = f"{refresh.result.quantity}: a level is at most {packet.result.quantity} old when the next one comes"
    return Finding(question="line-refresh", title="How often do levels arrive?", place=it.at, verdict=Verdict.CLEAR, says=says, demand=refresh.result, steps=(packet, refresh))


def fade(it: OnLine, load: Load, frame_rate: Term | None) -> Finding:
    """The steps of a fade as light, and whether the picture shows them: a step that lasts longer than a frame and is larger than shows."""
    title = f"Does the fade step on {load.name or load.id}?"
    start, stop, lasts = (need(it.line, k, it.at) for k in ("fade_from", "fade_to", "fade_time"))
    steps = float(dmx.STEPS[need_choice(load.control, "resolution", f"loads/{load.id}/control")])
    if abs(start.value - stop.value) < 1e-9:
        raise refuse("no-fade", "The fade starts where it ends", "Enter two levels", f"{it.at}/fade_to")
    packet, _ = timing(it)
    count = term(steps, "", "steps of the level")
    hold = work(dmx.hold_time, T=lasts, x_1=start, x_2=stop, N=count)
    change, at_once = work(dmx.change_time, h=hold.result, t=packet.result), work(dmx.levels_at_once, t=packet.result, h=hold.result)
    low, jump = min(start.value, stop.value), at_once.result.value / steps
    worst_step = _largest_step(load, low, max(start.value, stop.value), jump)
    between = work(dmx.stops_between, Φ_2=worst_step[1], Φ_1=worst_step[0])
    frame = 1 / frame_rate.value if frame_rate else 1 / 24
    shows = change.result.value > frame * (1 + 1e-9) and between.result.value > SHOWS
    limit = rule(SHOWS, "stop", "step that does not show", "our own threshold")
    says = f"{between.result.quantity} at the coarsest step, a change every {change.result.quantity}: " + ("it shows as steps" if shows else "smooth")
    remedies = (Remedy("Send the level in two slots, if the lamp can", ((f"loads/{load.id}/control/resolution", "16 bit"),)), Remedy("Fade faster, or end the fade higher")) if shows else ()
    return Finding(question=f"line-fade-{load.id}", title=title, place=it.at, verdict=Verdict.TIGHT if shows else Verdict.CLEAR, says=says, demand=between.result, limit=Limit("<=", limit),
                   steps=(packet, hold, change, at_once, between), remedies=remedies)


def _largest_step(load: Load, low: float, high: float, jump: float) -> tuple[Term, Term]:
    """Light before and after the coarsest step of a fade; the one out of darkness is left out, since any light is endlessly more than none."""
    count = max(1, min(400, round((high - low) / jump)))
    levels = [low + (high - low) * k / count for k in range(count)]
    pairs = [(light_at_level(load, x), light_at_level(load, min(1.0, x + jump)), x) for x in levels]
    lit = [(b / a, a, b) for a, b, x in pairs if a > 1e-4]
    if not lit:
        raise refuse("fade-dark", "The fade stays dark", "Enter higher levels", f"loads/{load.id}/control")
    _, a, b = max(lit)
    return term(a, "%", "light"), term(b, "%", "light one step up")


def verdict_of(found: tuple[Finding, ...]) -> Verdict:
    """The worst of a line's findings."""
    return worst(f.verdict for f in found)
