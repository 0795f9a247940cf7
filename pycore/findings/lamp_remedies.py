"""What other lamps, ballasts and phases would do for a shot: tried, and offered only where it works."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import product
from math import log

from pycore.base.problem import Refused
from pycore.base.quantity import Quantity
from pycore.base.result import Remedy, Verdict
from pycore.camera.clocks import SUPPLY, turn
from pycore.camera.lamp_light import LampLight, light_of, on_square_of
from pycore.camera.take import Seen
from pycore.findings.common import percent
from pycore.findings.scene import Scene
from pycore.rig.model import Load

USUAL = (75.0, 150.0, 300.0, 1000.0)  # Hz; settings that square-wave ballasts usually have
MOST_OTHERS = 2
MOST_LAMPS = 6  # whose phases are tried in every way


def phases(s: Scene) -> Iterator[Remedy]:
    """Another split of the lamps that pulse with the supply over its phases, with the fewest moves."""
    movable = [i for i, light in s.lights.items() if s.rig.loads[i].connection.endswith("-N")
               and any(p.clock == SUPPLY and s.shares[i] * p.wave.extremes(s.seen.T).spread > s.limits.steady / 4 for p in light.parts)]
    if s.apart or s.rig.supply.system != "three-phase wye" or not 2 <= len(movable) <= MOST_LAMPS:
        return
    now = {i: s.rig.loads[i].connection for i in movable}
    ways = [dict(zip(movable, way, strict=True)) for way in product(("L1-N", "L2-N", "L3-N"), repeat=len(movable))]
    ways.sort(key=lambda way: sum(way[i] != now[i] for i in movable))
    for way in ways[1:]:
        seen = s.under({i: _moved(s, light, way.get(i, "")) for i, light in s.lights.items()})
        if seen.verdict is Verdict.CLEAR:
            moves = [(i, to) for i, to in way.items() if to != now[i]]
            named = ", ".join(f"{_name(s, i)} to {to.partition('-')[0]}" for i, to in moves)
            yield Remedy(f"Plug {named}: the phases then cancel and leave {left(seen)}", tuple((f"loads/{i}/connection", to) for i, to in moves))
            return


def _moved(s: Scene, light: LampLight, to: str) -> LampLight:
    """The light of a lamp on another phase."""
    if not to:
        return light
    by = turn(to, s.rig.supply.system) - turn(s.rig.loads[light.load].connection, s.rig.supply.system)
    return replace(light, parts=tuple(replace(p, turn=p.turn + by) if p.clock == SUPPLY else p for p in light.parts))


def frequency(s: Scene) -> Iterator[Remedy]:
    """The nearest output frequency of a square-wave ballast that cleans the shot; of all that trouble together, where one is not enough."""
    square = [i for i, light in s.lights.items() if light.form == "dips" and light.frequency]
    found = [r for i in square for r in _set_to(s, [i])]
    yield from found or _set_to(s, _troubling(s, square))


def _set_to(s: Scene, ids: list[str]) -> Iterator[Remedy]:
    """One output frequency for ballasts, the nearest that cleans the shot."""
    for f in _common(s, ids):
        seen = _with(s, ids, f)
        if seen is not None and seen.verdict is Verdict.CLEAR:
            ranged = all(s.rig.loads[i].pulse.highest_frequency or s.rig.loads[i].pulse.lowest_frequency for i in ids)
            sure = "" if ranged else " if they can" if len(ids) > 1 else " if it can"
            yield Remedy(f"Set the ballast{'s' * (len(ids) > 1)} of {_names(s, ids)} to {Quantity(f, 'Hz')}{sure}: {left(seen)}",
                         tuple((f"loads/{i}/ballast/output_frequency", f"{f:.6g} Hz") for i in ids))
            return


def _common(s: Scene, ids: list[str]) -> list[float]:
    """Output frequencies (Hz) that each of the ballasts may have, nearest to the first's first."""
    if not ids:
        return []
    now = s.lights[ids[0]].frequency
    assert now is not None
    return [f for f in candidates(s.rig.loads[ids[0]], now.value, (s.take.shortest,)) if all(_in_range(s.rig.loads[i], f) for i in ids[1:])]


def _in_range(load: Load, f: float) -> bool:
    low, high = load.pulse.lowest_frequency, load.pulse.highest_frequency
    return (low is None or f >= low.value) and (high is None or f <= high.value)


def _troubling(s: Scene, ids: list[str]) -> list[str]:
    """Those whose part of the difference is more than a quarter of what does not show, if they are several."""
    found = [i for i in ids if s.shares[i] * sum(p.wave.extremes(s.seen.T).spread for p in s.lights[i].parts) > s.limits.steady / 4]
    return found if len(found) > 1 else []


def candidates(load: Load, now: float, windows: tuple[float, ...]) -> list[float]:
    """Output frequencies (Hz) worth trying, nearest first: the usual settings, or over the ballast's range in steps and where windows (s) hold whole dips."""
    low, high = load.pulse.lowest_frequency, load.pulse.highest_frequency
    if low is None and high is None:
        tried = [f for f in USUAL if abs(f - now) > 0.01 * now]
    else:
        a, b = low.value if low else now, high.value if high else now
        tried = [a + (b - a) * k / 20 for k in range(21)]
        tried += [round(n / (2 * T), 1) for T in windows for n in range(max(1, round(2 * a * T)), min(round(2 * b * T), round(2 * a * T) + 40) + 1)]
        tried = [f for f in tried if a <= f <= b]
    return sorted(set(tried), key=lambda f: abs(log(f / now)))


def square_wave(s: Scene) -> Iterator[Remedy]:
    """A square-wave ballast for an arc lamp that has none; for all that trouble, those with one set alike, where one is not enough."""
    arcs = [i for i, light in s.lights.items() if light.form == "ripple" and s.rig.loads[i].kind == "arc lamp"]
    found = [r for i in arcs for r in _run_on_square(s, [i])]
    square = [i for i, light in s.lights.items() if light.form == "dips"]
    if arcs:
        yield from found or _run_on_square(s, _troubling(s, [*arcs, *square]))


def _run_on_square(s: Scene, ids: list[str]) -> Iterator[Remedy]:
    for f in (USUAL[0], USUAL[-1]) if ids else ():
        seen = _with(s, ids, f)
        if seen is not None and seen.verdict is Verdict.CLEAR:
            several = len(ids) > 1
            yield Remedy(f"Run {_names(s, ids)} on {'square-wave ballasts' if several else 'a square-wave ballast'} at {Quantity(f, 'Hz')}: {left(seen)}, with dips as they usually are")
            return


def other_lamp(s: Scene) -> Iterator[Remedy]:
    """Other lamps of the rig that are steady on this shot; of lamps judged one by one, those that are."""
    if len(s.lights) > 1 and not s.apart:
        return
    good: list[str] = []
    for i in s.rig.loads:
        if (s.apart or i not in s.lights) and len(good) < MOST_OTHERS and _good(s, i):
            good.append(i)
    if good:
        yield Remedy(f"Light it with {_names(s, good, 'or')} alone: {'both are' if len(good) > 1 else 'that is'} steady on this shot")


def _good(s: Scene, load_id: str) -> bool:
    try:
        return s.under({load_id: light_of(s.rig, s.rig.loads[load_id])}, {load_id: 1.0}).verdict is Verdict.CLEAR
    except Refused:
        return False


def share(s: Scene) -> Iterator[Remedy]:
    """Less of the lamp that troubles most."""
    lit = {i: light for i, light in s.lights.items() if s.shares[i] > 0}
    if len(lit) > 1 and not s.apart:
        worst = max(lit, key=lambda i: s.shares[i] * _alone(s, {i: lit[i]}).spread)
        rest = {i: light for i, light in lit.items() if i != worst}
        without = _alone(s, rest)
        if without.verdict is Verdict.CLEAR:
            most = _most_share(s, worst, rest)
            yield Remedy(f"Let {_name(s, worst)} give no more than {percent(most)} of the light" if most > 0.005 else f"Leave {_name(s, worst)} out of this shot")


def _most_share(s: Scene, worst: str, rest: Mapping[str, LampLight]) -> float:
    """The share of one lamp up to which the mix stays steady, the others keeping their proportions."""
    low, high, others = 0.0, s.shares[worst], sum(s.shares[i] for i in rest)
    for _ in range(10):
        middle = (low + high) / 2
        shares = {worst: middle, **{i: s.shares[i] / others * (1 - middle) for i in rest}}
        low, high = (middle, high) if s.under(s.lights, shares).verdict is Verdict.CLEAR else (low, middle)
    return int(100 * low) / 100


def _alone(s: Scene, lights: Mapping[str, LampLight]) -> Seen:
    total = sum(s.shares[i] for i in lights)
    return s.under(lights, {i: s.shares[i] / total for i in lights})


def _with(s: Scene, ids: list[str], f: float) -> Seen | None:
    """The shot with lamps on a square wave of f (Hz), or None where that cannot be."""
    try:
        return s.under({**s.lights, **{i: on_square_of(s.rig.loads[i], f) for i in ids}})
    except Refused:
        return None


def left(seen: Seen) -> str:
    return f"{percent(seen.spread)} between frames"


def _name(s: Scene, load_id: str) -> str:
    return s.rig.loads[load_id].name or load_id


def _names(s: Scene, ids: list[str], word: str = "and") -> str:
    *before, last = (_name(s, i) for i in ids)
    return f"{', '.join(before)} {word} {last}" if before else last
