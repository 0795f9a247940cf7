"""What a meter shows at a place: current and voltage of every conductor there, harmonics included, as the whole rig was solved."""

from collections.abc import Mapping
from dataclasses import dataclass

from pycore.base.law import work
from pycore.base.problem import refuse
from pycore.base.result import Evidence, Step, Term, estimates, term
from pycore.findings.rig_tree import words
from pycore.findings.supplied import distorted, uneven
from pycore.findings.whole_rig import WholeRig, node_of, resting
from pycore.lamp import ballast
from pycore.powerflow import distortion
from pycore.powerflow.phasor import rms
from pycore.rig import graph

SOLVED = "solved for the whole rig"
FAINT = 0.05  # of the rms current: below that share of fundamental its distortion tells nothing, as in a neutral full of thirds
LEAST = 0.01  # A; less is nothing on any meter of this trade
ROWS = {"rms": "Current, true rms", "averages": "Current on a clamp that averages", "distortion": "Distortion of the current", "crest": "Crest factor", "K": "K factor", "voltage": "Voltage",
        "voltage distortion": "Distortion of the voltage", "power": "Power", "apparent": "Apparent power", "factor": "Power factor"}
AVERAGES = "A clamp that is not marked true rms reads low where the current comes in pulses. Set cables and devices by the true figure."
BEYOND = "The voltage here is too distorted for the lamps' usual harmonics to hold. Meter it."


@dataclass(frozen=True, slots=True)
class Channel:
    """What one pair of a meter's leads and one clamp show: the figures by name, in one order for all, and how each came about."""

    title: str
    figures: dict[str, Term]
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class AtPlace:
    """The channels of a place, and what they lean on."""

    title: str
    channels: tuple[Channel, ...]
    evidence: Evidence
    cautions: tuple[str, ...]

    @property
    def rows(self) -> tuple[tuple[str, tuple[Term | None, ...]], ...]:
        """Each figure in words, with its value on every channel that has it."""
        return tuple((words, tuple(c.figures.get(name) for c in self.channels)) for name, words in ROWS.items() if any(name in c.figures for c in self.channels))

    @property
    def assumptions(self) -> tuple[Term, ...]:
        """The typical and assumed terms behind the figures."""
        return estimates(t for c in self.channels for t in c.figures.values())


def at_place(whole: WholeRig, place: str) -> AtPlace:
    """Figures of the supply, of a run or box at its far end, or of a lamp at its plug. Raises `Refused` without a steady state, and where nothing flows."""
    d = distorted(whole)
    if place in whole.rig.loads:
        channels = _of_lamp(whole, place)
    else:
        channels = _of_wires(whole, node_of(whole.rig, place))
    bent = any("averages" in c.figures and c.figures["averages"].value < 0.97 * c.figures["rms"].value for c in channels)
    return AtPlace(words(whole.rig, place)[1], channels, whole.evidence, ((AVERAGES,) if bent else ()) + ((BEYOND,) if d.beyond else ()) + uneven(whole))


def _of_wires(whole: WholeRig, node: str) -> tuple[Channel, ...]:
    d, run_id = distorted(whole), "" if node == graph.SUPPLY else node
    if run_id not in d.flow.tree.fed_by:
        raise refuse("no-current", "Nothing is fed from here", "Feed a lamp from it first", f"runs/{run_id}")
    rests = resting(whole, run_id)
    wires = d.flow.tree.conductors[d.flow.tree.number[node]]
    return tuple(_channel(c, d.current(run_id, c), d.voltage(node, c) if c != "N" else None, rests) for c in wires)


def _of_lamp(whole: WholeRig, load_id: str) -> tuple[Channel, ...]:
    if load_id not in whole.counted:
        raise refuse("not-counted", "This lamp could not be counted", "Complete its entries", f"loads/{load_id}")
    d, load = distorted(whole), whole.counted[load_id].load
    at = d.flow.tree.demand_of[load_id].load
    return (_channel(load.connection, d.load_current(load_id), d.voltage(at.node, at.a, at.b), whole.counted[load_id].draw.leans_on),)


def _channel(title: str, amps: Mapping[int, complex], volts: Mapping[int, complex] | None, rests: tuple[Term, ...]) -> Channel:
    """The figures of one conductor; without voltage those of its current alone."""
    found = _voltage(volts, rests) if volts is not None else {}
    flows = rms(amps.values()) > LEAST
    found |= _current(amps, rests) if flows else {"rms": term(0.0, "A", "rms current", note="nothing flows here")}
    figures = {name: s.result if isinstance(s, Step) else s for name, s in found.items()}
    steps = [s for s in found.values() if isinstance(s, Step)]
    if volts is not None and flows:
        watts = term(sum((volts[h] * i.conjugate()).real for h, i in amps.items() if h in volts), "W", "power, all orders", rests_on=rests, note=SOLVED)
        apparent = work(ballast.apparent_power, V=figures["voltage"], I=figures["rms"])
        figures |= {"power": watts, "apparent": apparent.result}
        steps.append(apparent)
        if watts.value > 0:
            factor = work(ballast.factor_of, P=watts, S=apparent.result)
            figures["factor"] = factor.result
            steps.append(factor)
    return Channel(title, figures, tuple(steps))


def _voltage(volts: Mapping[int, complex], rests: tuple[Term, ...]) -> dict[str, Step | Term]:
    first = term(abs(volts[1]), "V", "fundamental voltage", rests_on=rests, note=SOLVED)
    others = term(distortion.harmonic_rms(volts), "V", "harmonic voltage, all orders together", rests_on=rests, note=SOLVED)
    return {"voltage": work(distortion.rms_voltage, V_1=first, V_h=others), "voltage distortion": work(distortion.voltage_distortion, V_h=others, V_1=first)}


def _current(amps: Mapping[int, complex], rests: tuple[Term, ...]) -> dict[str, Step | Term]:
    def solved(value: float, name: str) -> Term:
        return term(value, "A", name, rests_on=rests, note=SOLVED)

    wave = [abs(i) for i in distortion.waveform(amps)]
    first, others = solved(abs(amps[1]), "fundamental current"), solved(distortion.harmonic_rms(amps), "harmonic current, all orders together")
    whole = work(distortion.rms_current, I_1=first, I_h=others)
    found: dict[str, Step | Term] = {"rms": whole, "averages": work(distortion.averaged, I_m=solved(sum(wave) / len(wave), "mean of the rectified current"))}
    if first.value > FAINT * whole.result.value:
        found["distortion"] = work(distortion.total_distortion, I_h=others, I_1=first)
    weighed = solved(rms(h * i for h, i in amps.items()), "rms with each order weighted by its number")
    return found | {"crest": work(distortion.crest, I_p=solved(max(wave), "peak of the current"), I=whole.result), "K": work(distortion.k_factor, I_w=weighed, I=whole.result)}
