"""Where is the arc quiet? The log of a sweep of the ballast's frequency, and where the arc tube may ring."""

from dataclasses import dataclass

from pycore.base import units
from pycore.base.law import work
from pycore.base.problem import Problem, Refused, refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Finding, Limit, Origin, Remedy, Step, Term, Verdict, term, unknown
from pycore.camera import arc_light, quiet, resonance
from pycore.camera.quiet import SEEN, Seen, Window
from pycore.findings.common import rule
from pycore.findings.plots import Axis, Band, Mark, Plot
from pycore.rig.fill import listed
from pycore.rig.model import Load
from pycore.rig.typical import need

LAMP_SPECIFIC = "A quiet window belongs to this lamp at its present age and power. Look for it again after a lamp change, and verify it on camera."
NEAR = 0.02  # of the frequency: a disturbed spot so near may wander in as the lamp warms or ages; our own margin
FORCED = 16  # multiples of the power's ripple that are compared with the tube's tones
HEARD = 1e-3  # share of the mean power below which a multiple is taken not to ring


@dataclass(frozen=True, slots=True)
class Tone:
    """A tone of the arc tube: working at the middle estimate, its lowest and highest, and what of the power could ring it."""

    name: str
    step: Step
    low: Term
    high: Term
    rung_by: str


@dataclass(frozen=True, slots=True)
class Log:
    """The log of one lamp's ballast."""

    sweep: tuple[Seen, ...]
    windows: tuple[Window, ...]
    finding: Finding
    tones: tuple[Tone, ...]
    plot: Plot | None
HAPPENS = {"hum": "it hums", "snaking": "the arc snakes", "flicker": "the light flickers", "out": "the arc went out"}


def read(text: str, address: str) -> tuple[Seen, ...]:
    """The readings of a sweep, "900 quiet; 950 hum", in Hz. Raises `Refused` with every one that cannot be read."""
    found, problems = [], []
    for n, entry in enumerate((e.strip() for e in text.split(";") if e.strip()), 1):
        figure, _, what = entry.rpartition(" ")
        try:
            if what not in SEEN:
                raise refuse("seen-unknown", f"Reading {n}: “{what}” is none of {', '.join(SEEN)}", "Choose one of them", address)
            found.append(Seen(units.parse(figure, "Hz"), what))
        except Refused as refused:
            problems += [Problem(p.code, p.message if p.address else f"Reading {n}: {p.message}", p.way_out, address) for p in refused.problems]
    if problems:
        raise Refused(*problems)
    return tuple(found)


def written(sweep: tuple[Seen, ...]) -> str:
    """The text that keeps a sweep."""
    return "; ".join(f"{s.frequency:g} {s.what}" for s in sweep)


def log(load: Load) -> Log:
    """Everything about one lamp's sweep. Raises `Refused` for readings that cannot be read."""
    sweep = read(load.arc.sweep, f"loads/{load.id}/arc/sweep")
    wins = tuple(quiet.windows(sweep))
    return Log(sweep, wins, _finding(load, sweep, wins), _tones(load), _plot(load, sweep, wins))


def _finding(load: Load, sweep: tuple[Seen, ...], wins: tuple[Window, ...]) -> Finding:
    at, title, question = f"loads/{load.id}/arc/sweep", "Is the arc quiet at this setting?", "arc-quiet"
    if not sweep:
        return unknown(question, title, at, Problem("no-sweep", "No frequency has been tried yet", "Sweep the ballast slowly and log what is seen", at))
    now = load.ballast.output_frequency if load.ballast.output != "sine" else None
    if now is None:
        return unknown(question, title, at, Problem("no-setting", "The ballast has no output frequency to set", "Enter its setting", f"loads/{load.id}/ballast/output_frequency"))
    disturbed = quiet.nearest_disturbed(sweep, now.value)
    inside = next((w for w in wins if w.low * (1 - 1e-9) <= now.value <= w.high * (1 + 1e-9)), None)
    away = term(abs(disturbed.frequency - now.value), "Hz", "distance to the nearest disturbed reading", rests_on=(now,)) if disturbed else None
    margin = rule(NEAR * now.value, "Hz", "margin to a disturbed reading", "our own: 2 % of the setting")
    verdict = _verdict(inside, away, margin, now.value, sweep)
    return Finding(question=question, title=title, place=at, verdict=verdict, says=_says(now, inside, disturbed, away), demand=away, limit=Limit(">=", margin) if away else None,
                   cautions=(LAMP_SPECIFIC,), remedies=_advice(load, wins, verdict))


def _verdict(inside: Window | None, away: Term | None, margin: Term, now: float, sweep: tuple[Seen, ...]) -> Verdict:
    if inside is not None:
        return Verdict.CLEAR if inside.readings > 1 and (away is None or away.value >= margin.value) else Verdict.TIGHT
    tried = min(abs(s.frequency - now) for s in sweep if not s.quiet) if any(not s.quiet for s in sweep) else None
    return Verdict.STOP if tried is not None and tried <= margin.value else Verdict.UNKNOWN


def _says(now: Term, inside: Window | None, disturbed: Seen | None, away: Term | None) -> str:
    where = f"{now.quantity} lies in no window that was seen quiet"
    if inside:
        where = f"{now.quantity} lies in the quiet window from {Quantity(inside.low, 'Hz')} to {Quantity(inside.high, 'Hz')}"
        where = where if inside.readings > 1 else f"{now.quantity} was seen quiet, its neighbours were not tried"
    if disturbed is None or away is None:
        return f"{where}; nothing disturbed was seen in the sweep"
    return f"{where}, {away.quantity} from {Quantity(disturbed.frequency, 'Hz')}, where {HAPPENS[disturbed.what]}"


def _advice(load: Load, wins: tuple[Window, ...], verdict: Verdict) -> tuple[Remedy, ...]:
    """The middle of the widest window."""
    if not wins or verdict is Verdict.CLEAR:
        return ()
    best = wins[0]
    if best.readings < 2:
        return (Remedy(f"Only {Quantity(best.low, 'Hz')} was seen quiet: try its neighbours before you trust it"),)
    return (Remedy(f"Set {Quantity(best.middle, 'Hz')}, the middle of the widest quiet window, {Quantity(best.low, 'Hz')} to {Quantity(best.high, 'Hz')}; then verify on camera",
                   ((f"loads/{load.id}/ballast/output_frequency", f"{best.middle:.4g} Hz"),)),)


def _tones(load: Load) -> tuple[Tone, ...]:
    """The tube's lowest tones with their uncertainty; nothing where its size is not known."""
    tube = load.arc
    if tube.diameter is None or tube.length is None:
        return ()
    speeds = [_speed(key) for key in ("gas_coolest", "gas_middle", "gas_hottest")]
    made = []
    for name, mode, along in resonance.MODES:
        low, middle, high = (work(resonance.tone, c=c, α=resonance.root_of(mode), D=tube.diameter, n_z=float(along), l=tube.length) for c in speeds)
        made.append(Tone(name, middle, low.result, high.result, _rung_by(load, low.result.value, high.result.value)))
    return tuple(sorted(made, key=lambda t: t.step.result.value))


def _speed(key: str) -> Term:
    gas = listed()["arc_tube"]
    warmth = term(units.parse(gas[key], "K"), "K", "mean temperature of the gas", origin=Origin.ASSUMED, note="somewhere between arc and wall; from memory", firm_up="It cannot be read off; sweep the ballast instead")
    constant = term(units.parse(gas["gas_constant"], "J/kg/K"), "J/kg/K", "gas constant of mercury", origin=Origin.ASSUMED, note="other fillings differ")
    return work(resonance.sound_speed, γ=float(gas["gas_ratio"]), R_s=constant, T=warmth).result


def _rung_by(load: Load, low: float, high: float) -> str:
    """Which ripple of the arc's power falls between two frequencies (Hz)."""
    ballast = load.ballast
    f = ballast.output_frequency
    if f is None:
        return "Not known"
    if ballast.output == "sine":
        return f"Rung by the ripple of the power at {Quantity(2 * f.value, 'Hz')}" if low <= 2 * f.value <= high else f"Not rung: the power ripples at {Quantity(2 * f.value, 'Hz')}, twice the current's frequency"
    τ, d, e = need(ballast, "commutation_time", f"loads/{load.id}/ballast"), need(ballast, "dip_depth", f"loads/{load.id}/ballast"), need(load.pulse, "edge", f"loads/{load.id}/pulse")
    dips = arc_light.on_square(f=f.value, τ=τ.value, d=d.value, e=e.value)
    hit = [k for k in range(1, FORCED + 1) if low <= k * dips.frequency <= high and abs(dips.component(k)) > HEARD]
    if not hit:
        return f"Not rung: no strong multiple of the dips' {Quantity(dips.frequency, 'Hz')} falls in here, up to the {FORCED}th"
    return "Rung by multiples " + ", ".join(f"{k} ({Quantity(k * dips.frequency, 'Hz')}, {abs(dips.component(k)):.1%} of the power)".replace("%", "\u00a0%") for k in hit[:3]) + " of the dips"


def _plot(load: Load, sweep: tuple[Seen, ...], wins: tuple[Window, ...]) -> Plot | None:
    if not sweep:
        return None
    marks = [Mark(f"{Quantity(s.frequency, 'Hz')}: {SEEN[s.what].lower()}", s.frequency, 0.0 if s.quiet else 1.0, "clear" if s.quiet else "stop") for s in quiet.settled(sweep)]
    now = load.ballast.output_frequency
    if now is not None and load.ballast.output != "sine":
        marks.append(Mark(f"Present setting, {now.quantity}", now.value, 0.5))
    bands = [Band(f"Quiet from {Quantity(w.low, 'Hz')} to {Quantity(w.high, 'Hz')}", w.low, w.high, "clear") for w in wins]
    says = f"{len(sweep)} readings; the widest quiet window is {Quantity(wins[0].width, 'Hz')} wide" if wins else f"{len(sweep)} readings, none of them quiet"
    return Plot(id="sweep", title="What was seen", says=says, x=Axis("Output frequency", "Hz"), y=Axis("0 quiet, 1 disturbed", ""), marks=marks, bands=bands)
