"""What a recording of a lamp's light says: its form, what it does to the shot list, and what it is to people's eyes."""

from cmath import phase
from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import degrees, inf

from pycore.base.law import work
from pycore.base.problem import Problem
from pycore.base.quantity import Quantity
from pycore.base.result import Finding, Limit, Origin, Step, Term, Verdict, term, unknown
from pycore.camera import components, flicker, measured, recording
from pycore.camera.clocks import Part
from pycore.camera.lamp_light import LampLight, light_of
from pycore.camera.measured import Measured
from pycore.findings.common import attempt, percent
from pycore.findings.plots import Axis, Line, Mark, Plot
from pycore.rig.model import Load, Rig

PEOPLE = "This is about people under the light. It says nothing of what a camera sees."
TESTED = "A recording holds for this lamp, at this setting and age, on this ballast."
SHORTEST, SLOWEST_RATE = 1.0, 4000.0  # s and 1/s that the stroboscopic measure asks for
LISTED = 12


@dataclass(frozen=True, slots=True)
class Reading:
    """A recording read, as terms and findings; `changes` would keep it as the lamp's light."""

    found: Measured
    terms: tuple[Term, ...]
    orders: tuple[tuple[int, Term, Term, float], ...]  # order, frequency, size, degrees
    findings: tuple[Finding, ...]
    plots: tuple[Plot, ...]
    changes: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    problems: tuple[Problem, ...]
    says: str


@dataclass(frozen=True, slots=True)
class Source:
    """What is known of a recording beside its text: `kind` is "samples" or "frames"; rate and exposure in SI, None where not entered."""

    kind: str = "samples"
    rate: float | None = None
    exposure: float | None = None
    dark: float = 0.0
    note: str = ""


def read(text: str, source: Source, rig: Rig | None = None, load_id: str = "") -> Reading:
    """Read a recording; with a rig and a lamp, against what that lamp's pulses should be. Raises `Refused` with every bad line."""
    samples = recording.read(text, source.rate)
    found = measured.measure(samples, source.dark)
    load = rig.loads.get(load_id) if rig else None
    expected = _expected(rig, load) if rig and load else None
    if source.kind == "frames":
        found = measured.of_frames(found, source.exposure, expected.pulses.value if expected and expected.pulses else None)
    terms, steps = _figures(found, expected)
    findings = (_people(found, terms[1], steps, load_id), _stroboscopic(found, load_id))
    changes = _kept(found, load_id, source.note) if load and found.frequency else ()
    return Reading(found, terms, _orders(found), findings, _plots(found), changes, found.notes, samples.problems, _says(found, terms))


def _expected(rig: Rig, load: Load) -> LampLight | None:
    return attempt(lambda: light_of(rig, load))[0]


def _measured(value: float, unit: str, name: str, note: str = "") -> Term:
    return term(value, unit, name, origin=Origin.MEASURED, note=note)


def _figures(found: Measured, expected: LampLight | None) -> tuple[tuple[Term, ...], tuple[Step, ...]]:
    """Fundamental, percent flicker, flicker index, unequal half-cycles, noise."""
    most, least = max(found.folded), max(0.0, min(found.folded))
    depth = work(flicker.percent_flicker, Φ_2=_measured(most, "", "most light"), Φ_1=_measured(least, "", "least light"))
    current = expected.frequency.value if expected and expected.frequency and expected.form in ("ripple", "dips") else None
    listed = [_measured(found.frequency, "Hz", "fundamental" if found.frequency else "fundamental: none, the light is steady"), depth.result,
              _measured(flicker.flicker_index([max(0.0, x) for x in found.folded]), "", "flicker index"),
              _measured(found.asymmetry(current), "%", "unequal half-cycles", "amplitude at the frequency of the current"),
              _measured(found.noise, "%", "what does not repeat, rms", "noise, arc wander, other lights")]
    return tuple(listed), (depth,)


def _orders(found: Measured) -> tuple[tuple[int, Term, Term, float], ...]:
    strongest = sorted((k for k, c in enumerate(found.amplitudes, 1) if c), key=lambda k: -abs(found.amplitudes[k - 1]))[:LISTED]
    return tuple((k, _measured(k * found.frequency, "Hz", f"order {k}"), _measured(abs(found.amplitudes[k - 1]), "%", "amplitude over the mean"),
                  degrees(phase(found.amplitudes[k - 1]))) for k in sorted(strongest))


def _people(found: Measured, depth: Term, steps: tuple[Step, ...], load_id: str) -> Finding:
    """Percent flicker against the recommended limits for people."""
    place, f = f"loads/{load_id}/recording" if load_id else "", found.frequency
    title, question = "Does the light's flicker trouble people?", "flicker-people"
    if not f:
        return Finding(question=question, title=title, place=place, verdict=Verdict.CLEAR, says="No ripple stands out of the noise", demand=depth, steps=steps, cautions=(PEOPLE,))
    f, size = _most_troubling(found, depth.value)
    low, none = flicker.low_risk(f), flicker.no_effect(f)
    verdict = Verdict.CLEAR if size <= none else Verdict.TIGHT if size <= low else Verdict.STOP
    words = {Verdict.CLEAR: "no effect to be expected", Verdict.TIGHT: "low risk", Verdict.STOP: "more than the low-risk limit"}[verdict]
    at = Quantity(f, "Hz")
    limit = Limit("<=", term(low, "%", f"low-risk limit at {at}", origin=Origin.PUBLISHED, cite=flicker.PEOPLE)) if low < inf else None
    says = f"{percent(size)} flicker at {at}: {words}" + (f" (no effect up to {percent(none)}, low risk up to {percent(low)})" if low < inf else " (no limit at so high a frequency)")
    return Finding(question=question, title=title, place=place, verdict=verdict, says=says, demand=replace(depth, quantity=Quantity(size, "%")), limit=limit, steps=steps, cautions=(PEOPLE,))


def _most_troubling(found: Measured, depth: float) -> tuple[float, float]:
    """Of percent flicker at the strongest component and of each slower component by itself, the one nearest to or furthest over its limit."""
    slower = [(k * found.frequency, abs(found.amplitudes[k - 1])) for k in range(1, found.main)]
    return max([(found.main * found.frequency, depth), *slower], key=lambda fs: fs[1] / flicker.low_risk(fs[0]))


def _stroboscopic(found: Measured, load_id: str) -> Finding:
    """Visibility of the stroboscopic effect, where the recording is long and fast enough."""
    place, samples = f"loads/{load_id}/recording" if load_id else "", found.samples
    title, question = "Do moving things look broken up under it?", "flicker-stroboscopic"
    if samples.duration < SHORTEST or samples.rate < SLOWEST_RATE:
        return unknown(question, title, place, Problem("recording-short", f"The measure asks for {SHORTEST:g} s at {SLOWEST_RATE / 1000:g} kHz; this is {samples.duration:.2g} s at {samples.rate / 1000:.2g} kHz",
                                                       "Record for longer, or faster", place))
    value = flicker.stroboscopic((k * found.frequency, abs(c)) for k, c in enumerate(found.amplitudes, 1))
    limit = term(1.0, "", "just visible", origin=Origin.PUBLISHED, cite=flicker.STROBOSCOPIC, note="the constants of the measure are from memory")
    demand = _measured(value, "", "stroboscopic visibility", "its constants are from memory")
    return Finding(question=question, title=title, place=place, verdict=Verdict.CLEAR if value <= 1 else Verdict.TIGHT, says=f"{demand.quantity}, where 1 is just visible; constants from memory",
                   demand=demand, limit=Limit("<=", limit), cautions=(PEOPLE,))


def _kept(found: Measured, load_id: str, note: str) -> tuple[tuple[str, str], ...]:
    """The changes that keep the recording as the lamp's light."""
    at = f"loads/{load_id}/recording"
    return ((f"{at}/frequency", f"{found.frequency:.6g} Hz"), (f"{at}/components", components.written(found.amplitudes)), (f"{at}/note", note))


def forgotten(load_id: str) -> tuple[tuple[str, str], ...]:
    """The changes that go back to what the entries say."""
    return tuple((f"loads/{load_id}/recording/{key}", "") for key in ("frequency", "components", "note"))


def lit_by_it(rig: Rig, reading: Reading, load_id: str) -> Mapping[str, LampLight]:
    """The lamp's light as recorded."""
    f = reading.found.frequency
    parts = (Part(f"loads/{load_id}", components.outline(f, reading.found.amplitudes)),) if f else ()
    return {load_id: LampLight(load_id, "recorded" if f else "steady", "As recorded", parts, reading.terms[:1], reading.terms[0] if f else None)}


def _plots(found: Measured) -> tuple[Plot, ...]:
    """One period, and the components."""
    if not found.frequency:
        return ()
    count, period = len(found.folded), 1e3 / found.frequency
    once = [(period * (i + 0.5) / count, 100 * x) for i, x in enumerate(found.folded)]
    fitted = components.outline(found.frequency, found.amplitudes)
    kept = [(period * i / 200, 100 * fitted.level(i / 200 / found.frequency)) for i in range(201)]
    wave = Plot(id="period", title="One period of the light", says=f"One period, {Quantity(1 / found.frequency, 's')}: from {percent(min(found.folded))} to {percent(max(found.folded))} of the mean",
                x=Axis("Time", "ms"), y=Axis("Light, of its mean", "%"), lines=(Line("Recorded, all periods averaged", once), Line("As kept in the rig", kept)))
    marks = [Mark(f"Order {k}", k * found.frequency, 100 * abs(c)) for k, c in enumerate(found.amplitudes, 1) if c]
    tones = Plot(id="components", title="Components", says=f"{len(marks)} component{'s' * (len(marks) != 1)}, the strongest {percent(max(abs(c) for c in found.amplitudes))} of the mean",
                 x=Axis("Frequency", "Hz"), y=Axis("Amplitude, of the mean", "%"), marks=marks)
    return wave, tones


def _says(found: Measured, terms: tuple[Term, ...]) -> str:
    if not found.frequency:
        return f"Steady: no ripple above {percent(max(measured.STEADY, found.noise))}"
    uneven = f", half-cycles unequal by {terms[3].quantity}" if terms[3].value > 0.005 else ""
    return f"Repeats at {terms[0].quantity}: {terms[1].quantity} percent flicker, flicker index {terms[2].quantity}{uneven}".replace("\u00a0% percent flicker", " % flicker")
