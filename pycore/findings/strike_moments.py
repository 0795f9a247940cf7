"""Strikes at given times, judged moment by moment."""

from collections.abc import Iterator, Mapping
from math import ceil

from pycore.findings.strike_ready import Made
from pycore.lamp.strike import Use
from pycore.rig import graph

Worst = dict[tuple[str, str], tuple[Use, float]]  # (limit, place): what is used most of it, and when (s)


def moments(made: Made, at: Mapping[str, float]) -> list[float]:
    """The times at which a plan is judged: each strike, a gap apart from there to the next one, and when all has settled.

    A moment is judged with all that follows it for one gap, so nothing lies between them.
    """
    gap, end = made.bench.gap, made.end(at)
    starts = sorted(set(at.values()))
    steps = {round(a + k * gap, 6) for a, b in zip(starts, [*starts[1:], end], strict=True) for k in range(ceil((b - a) / gap - 1e-9))}
    return sorted({*steps, round(end, 6)})


def uses(made: Made, at: Mapping[str, float], since: float = 0.0) -> Iterator[tuple[float, tuple[Use, ...]]]:
    """Each moment from `since` (s) on with what it uses of every limit; the same ages are judged once."""
    known: dict[tuple[tuple[str, float], ...], tuple[Use, ...]] = {}
    for now in moments(made, at):
        if now >= since - 1e-6:
            key = tuple((i, min(max(0.0, round(now - t, 6)), made.settled(i))) for i, t in at.items() if t <= now + 1e-6)
            if key not in known:
                known[key] = made.bench.uses(dict(key))
            yield now, known[key]


def worst_moments(made: Made, at: Mapping[str, float]) -> tuple[Worst, tuple[Use, float] | None]:
    """What is used most of each limit and when, and what breaks first: surely, or else inside a device's band."""
    most: Worst = {}
    first: tuple[Use, float] | None = None
    for now, found in uses(made, at):
        for use in found:
            if use.broken and (first is None or (first[0].may_hold and not use.may_hold)):
                first = (use, now)
            if (use.limit, _group(use)) not in most or not use.share <= most[use.limit, _group(use)][0].share:
                most[use.limit, _group(use)] = (use, now)
    gap = _gap(made, at)
    if gap is not None:
        most["gap", ""] = (gap, 0.0)
        first = first or ((gap, 0.0) if gap.broken else None)
    return most, first


def _group(use: Use) -> str:
    """Device limits are shown for each device, the others once for the worst lamp."""
    return use.place if use.limit in ("carry", "long", "surge") else ""


def _gap(made: Made, at: Mapping[str, float]) -> Use | None:
    times = sorted(at.values())
    gaps = [b - a for a, b in zip(times, times[1:], strict=False)]
    if not gaps:
        return None
    least = made.bench.gap
    return Use(limit="gap", place=graph.SUPPLY, demand=min(gaps), allowed=least, share=least / min(gaps) if min(gaps) > 0 else 99.0)
