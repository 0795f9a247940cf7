"""Why each lamp of a plan waits: the least gap, or the limit that an earlier strike would break."""

from collections.abc import Mapping
from dataclasses import dataclass

from pycore.base.result import Finding, Verdict
from pycore.findings.strike_moments import uses
from pycore.findings.strike_ready import Made
from pycore.findings.strike_words import breach, clock, finding_of, sentence
from pycore.lamp.strike import Use

NEAR = 1e-3  # s that two times may differ and be the same


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """Why a lamp strikes when it does. `kind`: "first", "least gap", "short" (less than the least gap), "limit", "free" (nothing forbids an earlier strike).

    `finding`: the limit that the earliest strike would break, at its moment.
    """

    kind: str
    says: str
    finding: Finding | None = None


def waits(made: Made, at: Mapping[str, float]) -> dict[str, Wait]:
    """Each lamp of a plan with what holds it back."""
    order = sorted(at, key=lambda i: at[i])
    return {i: _wait(made, at, before, i, order[k:]) for k, (before, i) in enumerate(zip(["", *order], order, strict=False))}


def _wait(made: Made, at: Mapping[str, float], before: str, lamp: str, later: list[str]) -> Wait:
    if not before:
        return Wait(kind="first", says="The first")
    least, gap = made.bench.gap, at[lamp] - at[before]
    after = f"{clock(gap)} after {before}"
    if gap < least + NEAR:
        return Wait(kind="least gap", says=f"{after}, the least gap") if gap > least - NEAR else Wait(kind="short", says=f"{after}, less than the least gap of {clock(least)}")
    return _longer(made, at, lamp, later, at[before] + least, after)


def _longer(made: Made, at: Mapping[str, float], lamp: str, later: list[str], earliest: float, after: str) -> Wait:
    """What the earliest strike breaks: with the later lamps where they are, else with them as much sooner."""
    found = _first_broken(made, {**at, lamp: earliest}, earliest) or _first_broken(made, {i: t - (at[lamp] - earliest) if i in later else t for i, t in at.items()}, earliest)
    if found is None:
        return Wait(kind="free", says=f"{after}; no limit forbids {clock(earliest)}")
    use, when = found
    then = "" if abs(when - earliest) < NEAR else f", gives at {clock(when)}"
    by = breach(use)
    return Wait(kind="limit", says=f"{after}: sooner, at {clock(earliest)}{then}, {sentence(made, use)}{f', {by}' if by else ''}", finding=finding_of(made, use, when, Verdict.STOP))


def _first_broken(made: Made, at: Mapping[str, float], since: float) -> tuple[Use, float] | None:
    return next(((use, now) for now, found in uses(made, at, since) for use in found if use.broken), None)
