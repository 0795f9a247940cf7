"""What each lamp of a rig draws from its strike to full light, as numbers that the strike plan counts with."""

from dataclasses import dataclass, replace
from math import hypot, inf, sqrt

from pycore.base.problem import Problem, Refused
from pycore.base.result import Term, estimates, term
from pycore.findings.lamp_side import arc_of
from pycore.findings.whole_rig import Counted, count
from pycore.lamp.run_up import RunUp
from pycore.rig.fill import listed
from pycore.rig.harmonics import distortion as total
from pycore.rig.model import Load, Rig
from pycore.rig.typical import need, need_choice


@dataclass(frozen=True, slots=True, kw_only=True)
class Striking:
    """A lamp as the strike plan sees it. Currents in A, times in s; `inrush` is a peak."""

    load: Load
    run_up: RunUp
    nominal: float
    lines: tuple[str, ...]
    distortion: float  # harmonics over the fundamental of its current
    inrush: float
    inrush_time: float
    low: float  # voltage below which it goes out
    full_colour: float
    leans_on: tuple[Term, ...]
    surge_leans_on: tuple[Term, ...]

    @property
    def id(self) -> str:
        """The load's id."""
        return self.load.id

    def amps(self, power: float, reactive: float) -> float:
        """Fundamental current at nominal voltage, A."""
        return hypot(power, reactive) / self.nominal


def at_full(rig: Rig) -> Rig:
    """The rig with its arc lamps undimmed: they are struck and warmed at full power."""
    full = {i: replace(x, dim=term(1.0, "%", "dim", note="struck and warmed at full power")) if x.kind == "arc lamp" else x for i, x in rig.loads.items()}
    return replace(rig, loads=full)


def striking(rig: Rig) -> tuple[dict[str, Striking], dict[str, tuple[Problem, ...]]]:
    """Every lamp of a settled rig, and those whose entries do not allow it."""
    counted, left_out = count(at_full(rig))
    made: dict[str, Striking] = {}
    for i, c in counted.items():
        try:
            made[i] = _of(c)
        except Refused as refused:
            left_out[i] = refused.problems
    return made, left_out


def _of(c: Counted) -> Striking:
    load, at = c.load, f"loads/{c.load.id}"
    inrush, lasts, kick = need(load, "inrush", at), need(load, "inrush_time", at), need(load, "run_up", at)
    assert load.nominal is not None
    low = load.ballast.low_cut_out.value if load.kind != "tungsten" and load.ballast.low_cut_out else 0.0
    warm = (load.warm.full_light, load.warm.arc_start, kick)
    return Striking(load=load, run_up=_run_up(c, kick.value), nominal=load.nominal.value, lines=tuple(x for x in load.connection.split("-") if x != "N"),
                    distortion=total(c.draw.harmonics.parts), inrush=inrush.value, inrush_time=lasts.value, low=low,
                    full_colour=need(load.warm, "full_colour", f"{at}/warm").value, surge_leans_on=estimates((inrush, lasts)),
                    leans_on=estimates(t for t in (*c.draw.leans_on, *(warm if load.kind == "arc lamp" else ())) if t))


def _run_up(c: Counted, kick: float) -> RunUp:
    load, power = c.load, c.draw.power.value
    reactive = power * c.draw.ratio.value
    if load.kind != "arc lamp":
        return RunUp(kind="none", power=power, reactive=reactive)
    at, magnetic = f"loads/{load.id}", need_choice(load.ballast, "kind", f"loads/{load.id}/ballast").startswith("magnetic")
    common = {"power": power, "reactive": reactive, "arc_start": need(load.warm, "arc_start", f"{at}/warm").value,
              "full_light": need(load.warm, "full_light", f"{at}/warm").value, "exponent": need(load.lamp, "exponent", f"{at}/lamp").value}
    if magnetic:
        choke = float(listed()["ballast"]["magnetic"]["displacement"])
        bare = power * sqrt(1 / choke**2 - 1) if load.ballast.kind == "magnetic corrected" else reactive
        return RunUp(kind="magnetic", uncorrected=max(bare, reactive), start_current=max(kick, 1.0), **common)
    most = load.ballast.most_current.value if load.ballast.most_current else inf
    share = min(most / arc_of(load).current, 4.0)
    return RunUp(kind="electronic", start_current=max(share, 1.0), kick=kick, **common)
