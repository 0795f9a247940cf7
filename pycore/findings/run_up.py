"""How does a lamp come up, when does it strike again, and what does age do?"""

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Finding, Limit, Origin, Term, Verdict, term
from pycore.findings.common import as_entered, finding_or_unknown, rule
from pycore.findings.lamp_side import arc_factor, arc_of, source_of
from pycore.findings.strike_draws import Striking, striking
from pycore.findings.strike_words import clock
from pycore.lamp import arc_point
from pycore.lamp import head_cable as cables
from pycore.lamp import run_up as laws
from pycore.lamp.on_the_day import Lamp
from pycore.rig.model import Load, Rig
from pycore.rig.typical import need, need_choice

CAUTIONS = (
    "Striking a hot lamp takes tens of kilovolts: only lamps, igniters and heads made for it, and nobody near.",
    "Never run a head without its ultraviolet glass, with cracked glass, or with its door switch defeated.",
    "Lamps burst most often in the first minutes and near the end of their life: glass shut, nobody close, and change them before.",
    "Never open a lit head. Let it cool at least ten minutes, isolate it, and wear gloves and a face shield to change the lamp.",
    "Ballasts keep a charge after they are switched off: wait, and leave repairs to a qualified person.",
)
POINTS = 60


def one(rig: Rig, load: Load) -> Striking:
    """A lamp as it strikes. Raises `Refused` for missing entries."""
    made, left_out = striking(rig)
    if load.id not in made:
        first = left_out[load.id][0]
        raise refuse(first.code, first.message, first.way_out, first.address)
    return made[load.id]


def curve(rig: Rig, load: Load) -> dict[str, list[float]]:
    """Light, power (W) and current (A, harmonics included) from the strike on."""
    s = one(rig, load)
    end = max(s.run_up.settles, 1.0) * 1.1
    times = [end * k / POINTS for k in range(POINTS + 1)]
    draws = [s.run_up.at(t) for t in times]
    rms = (1 + s.distortion**2) ** 0.5
    return {"t": times, "light": [d.light for d in draws], "power": [d.power for d in draws], "current": [s.amps(d.power, d.reactive) * rms for d in draws]}


def findings(rig: Rig, load: Load, aged: Term | None = None) -> tuple[Finding, ...]:
    """Run-up, restrike, and age where an arc voltage is given."""
    at = f"loads/{load.id}/warm"
    asked = [("warm-up", "How does it come up?", lambda: comes_up(rig, load)), ("restrike", "When does it strike again?", lambda: again(load))]
    if aged is not None and load.kind == "arc lamp":
        asked.append(("age", "What does age do?", lambda: age(load, aged)))
    return tuple(finding_or_unknown(q, title, at, make) for q, title, make in asked)


def comes_up(rig: Rig, load: Load) -> Finding:
    """Time to most of its light, and the supply's part meanwhile."""
    at, s = f"loads/{load.id}/warm", one(rig, load)
    full, colour = need(load.warm, "full_light", at), need(load.warm, "full_colour", at)
    peak = max(s.amps(d.power, d.reactive) for d in (s.run_up.at(full.value * k / 20) for k in range(21)))
    running = s.amps(s.run_up.power, s.run_up.reactive)
    kick = term(peak / running, "%", "most current while it comes up, of running", rests_on=s.leans_on)
    says = (f"Nine tenths of the light after {clock(s.run_up.time_to(0.9))}, all of it after {clock(full.value)}, its colour after {clock(colour.value)}; "
            f"up to {kick.quantity} of its running current meanwhile") if load.kind == "arc lamp" else "Full light at once"
    step = (work(laws.arc_rise, u_0=need(load.warm, "arc_start", at), t=0.0, T=full),) if load.kind == "arc lamp" else ()
    return Finding(question="warm-up", title="How does it come up?", place=at, verdict=Verdict.CLEAR, says=says, demand=kick, steps=step)


def again(load: Load) -> Finding:
    """Cold and hot restrike."""
    at = f"loads/{load.id}/warm"
    cooling = need(load.warm, "cooling", at)
    hot = need_choice(load.warm, "strikes_hot", at) == "yes"
    says = "At once, hot or cold" if hot else f"Cold at once; hot only after cooling for {as_entered(cooling)}"
    return Finding(question="restrike", title="When does it strike again?", place=at, verdict=Verdict.CLEAR, says=says, demand=cooling, cautions=() if load.kind != "arc lamp" else CAUTIONS[:1])


def age(load: Load, aged: Term) -> Finding:
    """Lamp power at a higher arc voltage: an electronic ballast holds it inside its ceilings, a choke lets it rise."""
    at = f"loads/{load.id}/lamp"
    rated, new = need(load.lamp, "rated_power", at), need(load.lamp, "arc_voltage", at)
    magnetic = need_choice(load.ballast, "kind", f"loads/{load.id}/ballast").startswith("magnetic")
    if magnetic:
        ratio = term(aged.value / new.value, "", "arc voltage against new", rests_on=(new,))
        peak = term(laws.AGED_PEAK, "", "arc voltage of most power, against new", origin=Origin.TYPICAL, note="as one choke's published curve has it", firm_up="Meter the lamp's power")
        step = work(laws.aged_choke_power, P_n=rated, a=ratio, a_m=peak)
        power, ceiling = step.result, ""
    else:
        arc = arc_point.Arc(voltage=aged.value, current=cables.arc_current(P_a=rated.value, V_a=aged.value, λ_a=arc_factor(load).value), factor=arc_factor(load).value, slope=arc_of(load).slope)
        point = arc_point.solve(arc=arc, resistance=0.0, source=source_of(load, rated.value))
        step = work(cables.arc_current, P_a=rated, V_a=aged, λ_a=arc_factor(load))
        power, ceiling = term(point.lamp_power, "W", "lamp power", rests_on=(rated, aged)), point.ceiling
    limit = rule(1.10 * rated.value, "W", "most that the lamp should get", "rated power within 10 % once warm")
    gone = not power.value > 0
    verdict = Verdict.STOP if gone or not power.value <= limit.value else Verdict.TIGHT if ceiling or power.value > 1.03 * rated.value else Verdict.CLEAR
    says = "The ballast cannot hold the arc any more: the lamp goes out" if gone else f"{power.quantity} at {aged.quantity} of arc voltage, {rated.quantity} when new at {new.quantity}" + (
        "; the ballast holds the power" if not magnetic and not ceiling else f"; its {ceiling} ceiling holds it back" if ceiling else "; a choke lets the power rise as the lamp ages")
    return Finding(question="age", title="What does age do?", place=at, verdict=verdict, says=says, demand=power, limit=Limit("<=", limit), steps=(step,))


def timer_says(lamp: Lamp, now: float) -> str:
    """One lamp's timer in words."""
    def left(instant: float | None) -> str:
        return clock(max(0.0, (instant or now) - now))

    words = {"cold": "Cold, ready to strike", "running up": f"Full light in {left(lamp.full_at)}",
             "full": "Full light" if lamp.colour_at is None or lamp.colour_at <= now else f"Full light, full colour in {left(lamp.colour_at)}",
             "cooling": "Hot, may be struck" if lamp.ready_at is not None and lamp.ready_at <= now else f"Hot: ready in {left(lamp.ready_at)}"}[lamp.state]
    return f"{words}; the clock was set back, times are at least these" if lamp.unsure else words
