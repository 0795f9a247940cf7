"""A shot with the lamps that light it, their shares, and how the camera sees them."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from pycore.base.problem import refuse
from pycore.camera import clocks, take
from pycore.camera.clocks import Apart, Light, Mix
from pycore.camera.lamp_light import LampLight
from pycore.camera.take import Limits, Seen, Take
from pycore.findings.common import percent
from pycore.rig.model import Rig, Shot
from pycore.rig.typical import need


@dataclass(frozen=True, slots=True)
class Scene:
    """What is seen, and of what. Lights are `apart` where nobody said how they are shared: each is then all the light."""

    rig: Rig
    shot: Shot
    lights: Mapping[str, LampLight]
    shares: Mapping[str, float]
    mix: Light
    take: Take
    limits: Limits
    seen: Seen
    apart: bool = False

    @property
    def together(self) -> Mix:
        """The light of a scene whose lights are not apart."""
        assert isinstance(self.mix, Mix)
        return self.mix

    def under(self, lights: Mapping[str, LampLight], shares: Mapping[str, float] | None = None) -> Seen:
        """The same take under other light; of a ramp that still is not steady where it was worst, no more than that."""
        mix = blended(self.rig, lights) if self.apart and shares is None else blend(self.rig, lights, shares or self.shares)
        if self.take.ramps and (spread := mix.spread(self.seen.T)) > self.limits.steady:
            return Seen(self.limits.verdict(spread), spread, self.seen.T)
        return take.see(mix, self.take, self.limits, brief=True)

    def at(self, **changed: object) -> Seen:
        """The same light at another take."""
        return take.see(self.mix, replace(self.take, **changed), self.limits)  # type: ignore[arg-type]


def scene(rig: Rig, shot: Shot, lights: Mapping[str, LampLight], shares: Mapping[str, float]) -> Scene:
    """See a shot under lights of given shares. Raises `Refused` for missing entries."""
    mix, what, limits = blend(rig, lights, shares), take.take_of(shot), take.limits_of(rig.picture)
    return Scene(rig, shot, lights, shares, mix, what, limits, take.see(mix, what, limits))


def scene_apart(rig: Rig, shot: Shot, lights: Mapping[str, LampLight]) -> Scene:
    """See a shot under each of several lights by itself. Raises `Refused` for missing entries."""
    mix, what, limits = blended(rig, lights), take.take_of(shot), take.limits_of(rig.picture)
    return Scene(rig, shot, lights, dict.fromkeys(lights, 1.0), mix, what, limits, take.see(mix, what, limits), apart=True)


def blend(rig: Rig, lights: Mapping[str, LampLight], shares: Mapping[str, float]) -> Mix:
    """The mix of lights on the rig's supply."""
    return clocks.mix([(i, shares[i], lights[i].parts) for i in lights], need(rig.supply, "frequency", "supply").value)


def blended(rig: Rig, lights: Mapping[str, LampLight]) -> Apart:
    """Each light by itself."""
    return Apart(tuple(blend(rig, {i: light}, {i: 1.0}) for i, light in lights.items()))


def shares_of(rig: Rig, shot: Shot) -> dict[str, float]:
    """The share of each lamp in the light of a shot. Raises `Refused` when they do not add up or a lamp is not there."""
    gone = [i for i in shot.lit_by if i not in rig.loads]
    if gone:
        raise refuse("lamp-gone", f"The shot is lit by {', '.join(gone)}, which the rig does not have", "Remove it from the shot",
                     f"shots/{shot.id}/lit_by/{gone[0]}")
    total = sum(t.value for t in shot.lit_by.values())
    if abs(total - 1) > 0.005:
        raise refuse("shares-wrong", f"The shares of the light add up to {percent(total)}", "Make them add up to 100 %", f"shots/{shot.id}/lit_by")
    return {i: t.value / total for i, t in shot.lit_by.items()}
