"""Up to which frame rate is a lamp steady, in each mode that it has, and which rates and angles are safe?"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import pi

from pycore.base.law import work
from pycore.base.problem import Problem
from pycore.base.quantity import Quantity
from pycore.base.result import Evidence, Finding, Limit, Origin, Step, Term, Verdict, term
from pycore.camera import safe_rates
from pycore.camera.clocks import Mix
from pycore.camera.lamp_light import LampLight, light_of, lights_of, on_square_of
from pycore.camera.steady import Search, always_from
from pycore.camera.take import limits_of
from pycore.findings.common import attempt
from pycore.findings.scene import blend, shares_of
from pycore.findings.shutter import TEST, highest_clean_rate, rounded_down
from pycore.rig.model import Load, Rig, Shot
from pycore.rig.typical import need

MODES = (75.0, 300.0, 1000.0)  # Hz; settings of square-wave ballasts that are compared
HELD, FREE = "while both clocks hold", "whatever the clocks do"


@dataclass(frozen=True, slots=True)
class Mode:
    """One mode of a lamp: its light, whether it is the present one, and the answer."""

    id: str
    title: str
    lamp: str
    present: bool
    mix: Mix
    finding: Finding
    highest: float | None  # fps; None where no rate is too high

    @property
    def shown(self) -> Quantity | None:
        """The highest rate as it is told: three figures, rounded down, for a rate rounded up would not be steady."""
        return None if self.highest is None else rounded_down(self.highest)


@dataclass(frozen=True, slots=True)
class Safe:
    """A safe frame rate or angle, what holds it steady, and the line of working."""

    step: Step
    holds: str
    steady: bool  # whether the clocks may drift


def modes(rig: Rig, load: Load, shot: Shot) -> list[Mode]:
    """The lamp as it is set and, for a square-wave ballast, at its other usual settings. Raises `Refused` where its light is not known."""
    now = light_of(rig, load)
    made = [_mode(rig, load, shot, now, True)]
    if now.form == "dips" and now.frequency is not None:
        for f in _settings(load, now.frequency.value):
            light, _ = attempt(lambda f=f: on_square_of(load, f))  # type: ignore[misc]
            if light is not None:
                made.append(_mode(rig, load, shot, light, False))
    return made


def lamps(rig: Rig, shot: Shot) -> tuple[list[Mode], tuple[Problem, ...]]:
    """Every lamp that lights a shot as it is set, all of them where nobody said, and the mix where shares are entered; and why some are not known."""
    made: list[Mode] = []
    problems: list[Problem] = []
    for i in shot.lit_by or rig.loads:
        light, why = attempt(lambda i=i: light_of(rig, rig.loads[i]))  # type: ignore[misc]
        problems += why
        if light is not None:
            made.append(replace(_mode(rig, rig.loads[i], shot, light, True), id=i, lamp=rig.loads[i].name or i))
    if len(shot.lit_by) > 1:
        mixed, why = attempt(lambda: _together(rig, shot))
        problems += why
        made = [*([mixed] if mixed else []), *made]
    return made, tuple(dict.fromkeys(problems))


def _together(rig: Rig, shot: Shot) -> Mode:
    """The mix as it lights the shot."""
    shares = shares_of(rig, shot)
    lights = lights_of(rig, shares)
    limit = _limit(rig, shot, blend(rig, lights, shares), [t for light in lights.values() for t in light.rests_on], f"shots/{shot.id}")
    return replace(limit, id="together", title="By their shares", lamp="All together")


def _settings(load: Load, now: float) -> list[float]:
    low, high = load.pulse.lowest_frequency, load.pulse.highest_frequency
    offered = [low.value] * bool(low) + [high.value] * bool(high) if low or high else list(MODES)  # type: ignore[union-attr]
    return [f for f in dict.fromkeys(offered) if abs(f - now) > 0.01 * now]


def _mode(rig: Rig, load: Load, shot: Shot, light: LampLight, present: bool) -> Mode:
    made = _limit(rig, shot, blend(rig, {load.id: light}, {load.id: 1.0}), light.rests_on, f"loads/{load.id}")
    law = highest_clean_rate(rig, load, shot) if present and light.form == "dips" else None
    steps = (law,) if law and made.highest and abs(law.result.value / made.highest - 1) < 0.02 else ()
    return replace(made, id=f"{light.form}-{light.frequency.value:g}" if light.frequency else light.form, title=light.title, lamp=load.name or load.id, present=present,
                   finding=replace(made.finding, steps=steps))


def _limit(rig: Rig, shot: Shot, mix: Mix, rests_on: Sequence[Term], place: str) -> Mode:
    """Up to which rate a light is steady."""
    limits, angle = limits_of(rig.picture), _angle(shot)
    from_T = always_from(Search(mix, limits.steady))
    highest = angle.value / (2 * pi * from_T) if from_T else None
    verdict, limit = _against(shot, highest)
    if highest is None:
        says, demand = "Steady at every frame rate", None
    else:
        demand = term(highest, "fps", "highest frame rate that is steady whatever the pulses do", rests_on=(*rests_on, angle, need(rig.picture, "steady", "picture")))
        says = f"Steady up to {rounded_down(highest)} at {angle.quantity}, whatever the pulses do; above that only where exposures hold whole pulses"
    evidence = Evidence(method="The shortest window from which every longer one is steady, searched at strides that skip no change of answer",
                        equations=("f_m = θ/(2*π*T_m)",), iterations=0, residuals=())
    finding = Finding(question="rate-limit", title="Up to which frame rate is it steady?", place=place, verdict=verdict, says=says, demand=demand,
                      limit=limit, evidence=evidence, cautions=(TEST,), note="" if verdict is not Verdict.UNKNOWN else "No rate to compare")
    return Mode("", "", "", True, mix, finding, highest)


def _against(shot: Shot, highest: float | None) -> tuple[Verdict, Limit | None]:
    """Whether the limit lies above the shot's fastest rate; above it the light is steady only at some rates."""
    if highest is None:
        return Verdict.CLEAR, None
    rates = [r for r in (shot.frame_rate, shot.ramp_to if shot.kind == "ramp" else None) if r is not None]
    if not rates or shot.kind == "still":
        return Verdict.UNKNOWN, None
    fastest = max(rates, key=lambda r: r.value)
    return Verdict.CLEAR if highest >= fastest.value else Verdict.TIGHT, Limit(">=", fastest)


def _angle(shot: Shot) -> Term:
    """The shot's angle, or half a turn where it is exposed by time."""
    return shot.shutter or term(pi, "°", "shutter angle", origin=Origin.ASSUMED, note="half a turn, to compare lamps", firm_up="Enter today's", address=f"shots/{shot.id}/shutter")


def safe(rig: Rig, load: Load, shot: Shot) -> tuple[list[Safe], list[Safe]]:
    """Safe rates and safe angles for a lamp at a shot's frame rate: the former need held clocks, the latter do not."""
    pulses = light_of(rig, load).pulses
    if pulses is None:
        return [], []
    f = pulses.value
    rates = [Safe(work(safe_rates.safe_rate, f_L=pulses, n=float(n)), HELD, False) for n in range(1, 1 + int(min(24, f)))]
    rate = shot.frame_rate
    count = len(safe_rates.safe_angles(f_c=rate.value, f_L=f)) if rate else 0
    return rates, [Safe(work(safe_rates.safe_angle, f_c=rate, n=float(n), f_L=pulses), FREE, True) for n in range(1, 1 + min(count, 24))]  # type: ignore[arg-type]
