"""The day's shots against the lamps: a verdict in each cell, one for each shot as it is lit, and what would clean the whole list."""


from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

from pycore.base.problem import Problem, Refused
from pycore.base.quantity import Quantity
from pycore.base.result import Remedy, Verdict, worst
from pycore.camera import take
from pycore.camera.clocks import Mix
from pycore.camera.lamp_light import LampLight, light_of, on_square_of
from pycore.camera.steady import Search, always_from
from pycore.camera.take import Limits, Seen, Take
from pycore.findings import lamp_remedies, shot_remedies
from pycore.findings.common import attempt, percent
from pycore.findings.scene import Scene, blend, scene, shares_of
from pycore.rig.model import Load, Rig, Shot

NOT_SHARED = "What share each lamp has is not entered, so each is judged as if it were alone"


@dataclass(frozen=True, slots=True)
class Cell:
    """One lamp on one shot, as if it were alone."""

    load: str
    verdict: Verdict
    spread: float | None
    says: str
    share: float | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """One shot: its cells and the verdict on it as it is lit."""

    shot: str
    verdict: Verdict
    spread: float | None
    says: str
    cells: tuple[Cell, ...]
    advice: Remedy | None = None
    problems: tuple[Problem, ...] = ()


@dataclass
class Board:
    """All shots of a settled rig against all its lamps."""

    rig: Rig
    advise: bool = True
    lights: dict[str, LampLight] = field(init=False, default_factory=dict)
    unknown: dict[str, tuple[Problem, ...]] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        for i, load in self.rig.loads.items():
            light, problems = attempt(lambda load=load: light_of(self.rig, load))  # type: ignore[misc]
            if light is None:
                self.unknown[i] = problems
            else:
                self.lights[i] = light

    @cached_property
    def limits(self) -> Limits:
        """The thresholds. Raises `Refused` for unreadable ones."""
        return take.limits_of(self.rig.picture)

    @cached_property
    def alone(self) -> dict[str, Mix]:
        """Each lamp's own light. Raises `Refused` without a supply frequency."""
        return {i: blend(self.rig, {i: light}, {i: 1.0}) for i, light in self.lights.items()}

    def scene(self, shot: Shot, load: str = "") -> Scene:
        """A shot under one lamp, or as it is lit. Raises `Refused` where it cannot be seen."""
        shares = {load: 1.0} if load else shares_of(self.rig, shot)
        self._need(shares)
        return scene(self.rig, shot, {i: self.lights[i] for i in shares}, shares)

    def _need(self, loads: Iterable[str]) -> None:
        missing = [p for i in loads for p in self.unknown.get(i, ())]
        if missing:
            raise Refused(*missing)

    def rows(self) -> list[Row]:
        """Every shot."""
        return [self.row(shot) for shot in self.rig.shots.values()]

    def row(self, shot: Shot) -> Row:
        """One shot, with the reasons where it cannot be judged."""
        try:
            what, _, _ = take.take_of(shot), self.limits, self.alone
        except Refused as refused:
            cells = tuple(Cell(i, Verdict.UNKNOWN, None, refused.problems[0].message) for i in self.rig.loads)
            return Row(shot.id, Verdict.UNKNOWN, None, refused.problems[0].message, cells, problems=refused.problems)
        cells = tuple(self._cell(i, what, shot) for i in self.rig.loads)
        return self._as_lit(shot, what, cells)

    def cell(self, load_id: str, shot: Shot) -> Cell | None:
        """One lamp on one shot, or None where the shot cannot be judged."""
        what, _ = attempt(lambda: take.take_of(shot))
        return self._cell(load_id, what, shot) if what is not None and load_id in self.rig.loads else None

    def as_bad(self, shot: Shot) -> Row | None:
        """A shot as it is lit, or as bad as its worst lamp where nobody said what lights it; None where it cannot be judged."""
        what, _ = attempt(lambda: take.take_of(shot))
        if what is None:
            return None
        return self._as_lit(shot, what, () if shot.lit_by else tuple(self._cell(i, what, shot) for i in self.rig.loads))

    def _cell(self, load_id: str, what: Take, shot: Shot) -> Cell:
        share = shot.lit_by[load_id].value if load_id in shot.lit_by else None
        if load_id in self.unknown:
            return Cell(load_id, Verdict.UNKNOWN, None, self.unknown[load_id][0].message, share)
        seen = take.see(self.alone[load_id], what, self.limits, brief=True)
        return Cell(load_id, seen.verdict, seen.spread, _says(seen), share)

    def _as_lit(self, shot: Shot, what: Take, cells: tuple[Cell, ...]) -> Row:
        if not shot.lit_by:
            return self._not_shared(shot, cells)
        try:
            shares = shares_of(self.rig, shot)
            self._need(shares)
        except Refused as refused:
            return Row(shot.id, Verdict.UNKNOWN, None, refused.problems[0].message, cells, problems=refused.problems)
        lights = {i: self.lights[i] for i in shares}
        mix = blend(self.rig, lights, shares)
        seen = take.see(mix, what, self.limits, brief=True)
        return Row(shot.id, seen.verdict, seen.spread, _says(seen), cells, self._advice(Scene(self.rig, shot, lights, shares, mix, what, self.limits, seen)))

    def _not_shared(self, shot: Shot, cells: tuple[Cell, ...]) -> Row:
        """A shot of which nobody said what lights it: as bad as its worst lamp alone."""
        verdict = worst(c.verdict for c in cells)
        top = max((c for c in cells if c.spread is not None), key=lambda c: c.spread or 0.0, default=None)
        if top is None:
            return Row(shot.id, verdict, None, cells[0].says if cells else "The rig has no lamp", cells)
        if verdict is Verdict.CLEAR:
            return Row(shot.id, verdict, top.spread, f"Every lamp is steady by itself, so any mix is: {percent(top.spread or 0.0)} at most", cells)
        shown = max((c for c in cells if c.verdict is verdict), key=lambda c: c.spread or 0.0)
        return Row(shot.id, verdict, shown.spread, f"{self.rig.loads[shown.load].name or shown.load} alone: {shown.says}. {NOT_SHARED}", cells)

    def _advice(self, scene: Scene) -> Remedy | None:
        """The nearest way out, where one is needed."""
        if not self.advise or scene.seen.verdict is Verdict.CLEAR:
            return None
        return next((r for way in (shot_remedies.angle, shot_remedies.rate, lamp_remedies.frequency) for r in way(scene)), None)

    def for_the_list(self) -> list[Remedy]:
        """For each square-wave ballast that some shot troubles, the nearest output frequency that cleans every shot."""
        takes = [t for shot in self.rig.shots.values() if (t := attempt(lambda shot=shot: take.take_of(shot))[0]) is not None]  # type: ignore[misc]
        found = []
        for i, light in self.lights.items():
            if light.form == "dips" and light.frequency and not _cleans(self.alone[i], takes, self.limits):
                found += self._frequency(self.rig.loads[i], light.frequency.value, takes)
        return found

    def _frequency(self, load: Load, now: float, takes: list[Take]) -> list[Remedy]:
        for f in lamp_remedies.candidates(load, now, tuple(t.shortest for t in takes)):
            light, _ = attempt(lambda f=f: on_square_of(load, f))  # type: ignore[misc]
            if light is not None and _cleans(blend(self.rig, {load.id: light}, {load.id: 1.0}), takes, self.limits):
                sure = "" if load.pulse.highest_frequency or load.pulse.lowest_frequency else " if it can"
                return [Remedy(f"Set the ballast of {load.name or load.id} to {Quantity(f, 'Hz')}{sure}: then it is steady on every shot of the list",
                               ((f"loads/{load.id}/ballast/output_frequency", f"{f:g} Hz"),))]
        return [Remedy(f"No usual output frequency of {load.name or load.id} is steady on every shot of the list")]


def _cleans(mix: Mix, takes: list[Take], limits: Limits) -> bool:
    """Whether a mix is steady on every take."""
    search = Search(mix, limits.steady)
    if any(mix.spread(T) > limits.steady for t in takes for T in (t.shortest, t.longest)):
        return False
    always = always_from(search)
    return always is None or all(t.shortest >= always or take.see(mix, t, limits, brief=True).verdict is Verdict.CLEAR for t in takes)


def _says(seen: Seen) -> str:
    if seen.locked:
        return f"steady while the clocks hold, else {percent(seen.spread)}"
    return f"{percent(seen.spread)} between frames"


def described(shot: Shot) -> str:
    """A shot in a few words: "24 fps to 1000 fps in 3 s, 180°"."""
    rate = str(shot.frame_rate.quantity) if shot.frame_rate else ""
    if shot.kind == "ramp" and shot.ramp_to:
        rate += f" to {shot.ramp_to.quantity}" + (f" in {shot.ramp_time.quantity}" if shot.ramp_time else "")
    if shot.kind == "time-lapse":
        rate = f"every {shot.interval.quantity}" if shot.interval else rate
    window = str(shot.exposure_time.quantity) if shot.exposure_time else str(shot.shutter.quantity) if shot.shutter else ""
    return ", ".join(x for x in ("stills" if shot.kind == "still" else rate, window) if x)
