"""A battery with its inverter: does it carry the lamps, stand their peaks, and for how long?"""

from math import sqrt

from pycore.base.law import Var, law, work
from pycore.base.result import Finding, Limit, Step, Term, Verdict, term, worst
from pycore.base.source import Cite
from pycore.findings.common import percent, rule, within
from pycore.findings.supplied import currents, distorted
from pycore.findings.supply_side import line_count
from pycore.findings.whole_rig import WholeRig, fullest, resting
from pycore.powerflow import distortion, inverter
from pycore.protection import overcurrent
from pycore.rig import graph
from pycore.rig.model import Supply
from pycore.rig.typical import need

LOAD, LOAD_TITLE = "inverter-load", "Does the inverter carry it?"
PEAK, PEAK_TITLE = "inverter-peak", "Does the inverter stand the peaks?"
TIME, TIME_TITLE = "battery", "How long does the battery last?"
LONG = 4.0  # h; our own: less is worth planning for
CLIPS = "An inverter that clips switches off or gives a flat-topped voltage; strike one lamp after the other, the largest first."


@law("u = S/S_a", "Share of what the inverter gives", u=Var("share used", "%"), S=Var("apparent power of the fullest line", "VA", 0), S_a=Var("rated for one line", "VA", 1e-6), source=Cite("circuit-theory"))
def share_used(*, S: float, S_a: float) -> float:
    """Demand over what is available."""
    return S / S_a


def _line(whole: WholeRig) -> tuple[str, Term]:
    """The fullest line and its current."""
    lines = {c: t for c, t in currents(whole).items() if c.startswith("L")}
    most = fullest({c: t.value for c, t in lines.items()})
    return most, lines[most]


def _of_one_line(supply: Supply, key: str, name: str) -> Term:
    """A rating of the set for one of its lines."""
    given, lines = need(supply, key, "supply"), line_count(supply)
    return given if lines == 1 else term(given.value / lines, "VA", name, rests_on=(given,), note=f"a {'half' if lines == 2 else 'third'} of {given.quantity}")


def _apparent(supply: Supply, amps: float, name: str, *rests_on: Term) -> Term:
    volts = need(supply, "voltage", "supply")
    return term(amps * volts.value, "VA", name, rests_on=(volts, *rests_on))


def load(whole: WholeRig) -> Finding:
    """Apparent power of the fullest line, harmonics included, against the inverter's rating."""
    supply = whole.rig.supply
    line, amps = _line(whole)
    used = work(share_used, S=_apparent(supply, amps.value, f"apparent power of {line}", amps), S_a=_of_one_line(supply, "rated_power", "rated power of one line"))
    says = f"{amps.quantity} on {line}: {percent(used.result.value)} of what the inverter gives there"
    return Finding(question=LOAD, title=LOAD_TITLE, place=graph.SUPPLY, verdict=within(used.result.value, 1.0), says=says, demand=used.result, limit=Limit("<=", rule(1.0, "%", "rated power", "of the inverter")),
                   steps=(used,), evidence=whole.evidence)


def peak(whole: WholeRig) -> Finding:
    """The crests of the steady current, and the largest inrush on top of the other lamps, against the peak that the inverter gives."""
    supply = whole.rig.supply
    line, amps = _line(whole)
    most = _of_one_line(supply, "peak_power", "peak power of one line")
    crest, steady = _steady(whole, line, amps)
    asked = {"the pulses of the steady current": work(inverter.peak_share, S=steady, S_p=most)}
    strikes, name = _strike(whole, line, amps)
    if strikes is not None:
        asked[f"the inrush of {name}, the others burning,"] = work(inverter.peak_share, S=strikes, S_p=most)
    first = max(asked, key=lambda words: asked[words].result.value)
    share = asked[first].result
    verdict = worst(within(s.result.value, 1.0) for s in asked.values())
    return Finding(question=PEAK, title=PEAK_TITLE, place=graph.SUPPLY, verdict=verdict, says=f"On {line} {first} asks for {percent(share.value)} of its peak power", demand=share,
                   limit=Limit("<=", rule(1.0, "%", "peak power", "of the inverter")), steps=(crest, *asked.values()), cautions=(CLIPS,) if verdict is not Verdict.CLEAR else (), note="Inverter clips" if verdict is Verdict.STOP else "")


def _steady(whole: WholeRig, line: str, amps: Term) -> tuple[Step, Term]:
    """The crest of a line's current against that of a sine, and the sine as large as its peaks."""
    top = max(map(abs, distortion.waveform(distorted(whole).current("", line))))
    crest = work(inverter.crest_share, I_p=term(top, "A", "peak current", rests_on=resting(whole), note="solved for the whole rig"), I=amps)
    return crest, _apparent(whole.rig.supply, top / sqrt(2), "a sine as large as the peaks", amps)


def _strike(whole: WholeRig, line: str, amps: Term) -> tuple[Term | None, str]:
    """Apparent power in the first moment of the lamp with the largest inrush of a line, and its name."""
    on = [c for c in whole.counted.values() if line in c.load.connection.split("-")]
    inrushes = {c.load.id: need(c.load, "inrush", f"loads/{c.load.id}") for c in on}
    if not inrushes:
        return None, ""
    last = max(inrushes, key=lambda i: inrushes[i].value)
    burning = max(0.0, amps.value - abs(whole.flow.loads[last].current))
    surge = overcurrent.inrush(N=1.0, i=inrushes[last].value)
    return _apparent(whole.rig.supply, burning + surge, "apparent power in the first moment", inrushes[last], amps), whole.rig.loads[last].name or last


def lasts(whole: WholeRig) -> Finding:
    """Time on the battery at this load, what the inverter itself takes included."""
    supply = whole.rig.supply
    power = term(sum(s.real for s in whole.flow.supplied().values()), "W", "power of the lamps and their cables", rests_on=resting(whole), note="solved for the whole rig")
    time = work(inverter.battery_time, E=need(supply, "energy", "supply"), u=need(supply, "usable", "supply"), η=need(supply, "inverter_efficiency", "supply"), P=power, P_0=need(supply, "own_use", "supply"))
    hours = time.result.value / 3600
    return Finding(question=TIME, title=TIME_TITLE, place=graph.SUPPLY, verdict=Verdict.CLEAR if hours >= LONG else Verdict.TIGHT, says=f"About {time.result.quantity} at this load", demand=time.result,
                   limit=Limit(">=", rule(LONG * 3600, "h", "time worth planning for", "our own yardstick")), steps=(time,), evidence=whole.evidence)
