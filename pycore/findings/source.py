"""Does the source carry the whole rig: each line and the neutral, the generator's three limits, the distortion of its voltage?"""

from math import sqrt

from pycore.base.law import work
from pycore.base.result import Finding, Limit, Remedy, Step, Verdict, term, worst
from pycore.base.source import Cite
from pycore.findings import battery
from pycore.findings.common import finding_or_unknown, percent, rule, within
from pycore.findings.supplied import currents, distorted, uneven
from pycore.findings.supply_side import between_lines
from pycore.findings.whole_rig import WholeRig, fullest, resting
from pycore.powerflow import distortion, generator
from pycore.rig import graph
from pycore.rig.model import Supply
from pycore.rig.typical import need

LIMIT_THD = 0.08
DISTORTED = "Distorted voltage upsets dimmers, drivers and the generator's own regulator."


def source_findings(whole: WholeRig) -> tuple[Finding, ...]:
    """What is to be said of the source when all lamps burn."""
    supply = whole.rig.supply
    asked = [("source-neutral", "Does the neutral carry it?", lambda: neutral(whole)),
             ("source-balance", "Are the lines evenly loaded?", lambda: balance(whole)),
             ("source-distortion", "Is the voltage still clean?", lambda: clean(whole))]
    if supply.kind == "generator":
        asked += [("generator-load", "Does the generator carry it?", lambda: generator_load(whole))]
    if supply.kind == "generator" and supply.tank is not None:
        asked += [("generator-fuel", "How long does the fuel last?", lambda: fuel(whole))]
    if supply.kind == "battery":
        asked += [(battery.LOAD, battery.LOAD_TITLE, lambda: battery.load(whole)), (battery.PEAK, battery.PEAK_TITLE, lambda: battery.peak(whole)), (battery.TIME, battery.TIME_TITLE, lambda: battery.lasts(whole))]
    return tuple(finding_or_unknown(q, title, graph.SUPPLY, make) for q, title, make in asked if q != "source-balance" or supply.system != "single-phase")


def neutral(whole: WholeRig) -> Finding:
    """The neutral against the rating of the lines: it is seldom larger than they are."""
    amps, rating = currents(whole)["N"], need(whole.rig.supply, "rating", "supply")
    parts = distorted(whole).current("", "N")
    triple = distortion.triplen_rms(parts)
    verdict = within(amps.value, rating.value)
    says = f"{amps.quantity} in the neutral, {percent(triple / amps.value)} of it third harmonic and its multiples" if amps.value > 0.05 else "Almost nothing in the neutral"
    remedies = () if verdict is Verdict.CLEAR else (Remedy("Spread the lamps over the lines, use corrected ballasts, or lay a larger neutral"),)
    return Finding(question="source-neutral", title="Does the neutral carry it?", place=graph.SUPPLY, verdict=verdict, says=says, demand=amps, limit=Limit("<=", rating),
                   evidence=whole.evidence, remedies=remedies)


def balance(whole: WholeRig) -> Finding:
    """The fullest line against the mean of the lines."""
    lines = {c: t for c, t in currents(whole).items() if c.startswith("L")}
    most = fullest({c: t.value for c, t in lines.items()})
    mean = term(sum(t.value for t in lines.values()) / len(lines), "A", "mean of the lines", rests_on=lines.values())
    uneven = lines[most].value / mean.value - 1 if mean.value > 0 else 0.0
    rating = whole.rig.supply.rating
    verdict = Verdict.TIGHT if uneven > 0.25 and (rating is None or lines[most].value > 0.5 * rating.value) else Verdict.CLEAR
    says = ", ".join(f"{c} {t.quantity}" for c, t in lines.items()) + (f": {most} carries {percent(uneven)} more than the mean" if uneven > 0.01 else ": even")
    remedies = (Remedy("Let the balancer propose other lines for some lamps"),) if verdict is Verdict.TIGHT else ()
    return Finding(question="source-balance", title="Are the lines evenly loaded?", place=graph.SUPPLY, verdict=verdict, says=says, demand=lines[most],
                   limit=Limit("<=", rule(1.25 * mean.value, "A", "a quarter above the mean", "our own threshold")) if mean.value > 0 and (verdict is Verdict.TIGHT or uneven <= 0.25) else None, evidence=whole.evidence, remedies=remedies)


def clean(whole: WholeRig) -> Finding:
    """Distortion of the voltage at the worst lamp."""
    d = distorted(whole)
    highest, where = max(((distortion.thd(d.voltage(load.node, load.a, load.b)) or 0.0, load.id) for load in d.flow.network.loads), default=(0.0, ""))
    limit = rule(LIMIT_THD, "%", "most distortion of the voltage", "for public supplies, a fair yardstick elsewhere", Cite("en-50160", "total harmonic distortion"))
    demand = term(highest, "%", "distortion of the voltage at the worst lamp", rests_on=resting(whole))
    name = whole.rig.loads[where].name or where if where else "the outlet"
    says = f"{percent(highest)} distortion at {name}, from typical spectra"
    if d.beyond:
        return Finding(question="source-distortion", title="Is the voltage still clean?", place=graph.SUPPLY, verdict=Verdict.UNKNOWN, note="Beyond the model",
                       says=f"{says}: so much that the lamps' spectra no longer hold. Meter it", demand=demand, limit=Limit("<=", limit), cautions=(DISTORTED, *uneven(whole)))
    verdict = Verdict.CLEAR if highest <= limit.value else Verdict.TIGHT
    return Finding(question="source-distortion", title="Is the voltage still clean?", place=graph.SUPPLY, verdict=verdict, says=says, demand=demand, limit=Limit("<=", limit),
                   evidence=whole.evidence, cautions=(*((DISTORTED,) if verdict is not Verdict.CLEAR else ()), *uneven(whole)))


def available(supply: Supply) -> tuple[Step, ...]:
    """What the set may give at its altitude and temperature; the last step is the answer."""
    return generator.derate(rated=need(supply, "rated_power", "supply"), altitude=need(supply, "altitude", "supply"), ambient=need(supply, "intake", "supply"))


def generator_load(whole: WholeRig) -> Finding:
    """kW, kVA and the current of the worst line against what the set may give here."""
    supply, flow = whole.rig.supply, whole.flow
    derated, factor = available(supply), need(supply, "rated_power_factor", "supply")
    amps = {c: t.value for c, t in currents(whole).items() if c.startswith("L")}
    between = between_lines(supply, need(supply, "voltage", "supply")).value
    given = derated[-1].result
    loading = generator.loading(apparent=given.value, power_factor=factor.value, voltage=between if len(amps) == 3 else between * sqrt(3) / len(amps),
                                supplied=flow.supplied(), currents=amps)
    limits = {"engine (kW)": loading.engine, "windings (kVA)": loading.windings, f"line {loading.worst_phase}": loading.phase}
    first = max(limits, key=lambda k: limits[k])
    demand = term(loading.worst, "%", f"share used of the {first}", rests_on=(*resting(whole), given, factor))
    limit = rule(1.0, "%", "all that it may give", "rated power at this altitude and temperature", generator.DERATING)
    verdict = within(loading.worst, 1.0)
    says = f"{percent(loading.worst)} of the {first} that {given.quantity} allows; " + ", ".join(f"{k} {percent(v)}" for k, v in limits.items() if k != first)
    if loading.leading:
        verdict = worst([verdict, Verdict.TIGHT])
        says += ". The load is capacitive: the regulator may lose hold"
    if loading.light:
        says += ". Hours at so little load soot a diesel"
    return Finding(question="generator-load", title="Does the generator carry it?", place=graph.SUPPLY, verdict=verdict, says=says, demand=demand, limit=Limit("<=", limit), steps=derated,
                   evidence=flow.evidence(), cautions=("A generator's rating is for steady load; striking lamps together dips it more. See the strike plan.",))


def fuel(whole: WholeRig) -> Finding:
    """Hours on the fuel that is in the tank."""
    supply = whole.rig.supply
    tank, rated = need(supply, "tank", "supply"), need(supply, "rated_power", "supply")
    power = sum(s.real for s in whole.flow.supplied().values())
    kilowatts = rated.value * need(supply, "rated_power_factor", "supply").value
    use = generator.fuel_use(rated=kilowatts, share=min(1.0, power / kilowatts))
    step = work(generator.fuel_time, W=tank, q=use)
    hours = step.result.value / 3600
    verdict = Verdict.CLEAR if hours >= 4 else Verdict.TIGHT
    return Finding(question="generator-fuel", title="How long does the fuel last?", place=graph.SUPPLY, verdict=verdict, says=f"About {hours:.1f} h at this load, from a general chart", demand=step.result, steps=(step,))
