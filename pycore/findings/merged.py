"""The advice of several findings as one list: each thing to do once, with all that it clears."""

from collections.abc import Iterable
from dataclasses import replace

from pycore.base.result import Finding, Remedy, Verdict


def merged(findings: Iterable[Finding]) -> tuple[Remedy, ...]:
    """What the troubled findings advise; what clears most comes first."""
    groups: dict[object, list[Remedy]] = {}
    for r in (r for f in findings if f.verdict is not Verdict.CLEAR for r in f.remedies):
        groups.setdefault(r.changes or r.text, []).append(r)
    return tuple(_one(same) for same in sorted(groups.values(), key=lambda same: -len(same)))


def _one(same: list[Remedy]) -> Remedy:
    """One thing to do, in the words of all the findings that advise it."""
    first = same[0]
    if len(same) == 1 or not all(r.clears for r in same):
        return replace(first, text=_for_what(first))
    clears, eases = (listed(r.clears for r in same if r.fully is fully) for fully in (True, False))
    parts = ([f"clears {clears}"] if clears else []) + ([f"is just enough for {eases}"] if eases else [])
    return Remedy(f"{first.does} {' and '.join(parts)}", first.changes, does=first.does)


def _for_what(r: Remedy) -> str:
    """Among others a single piece of advice says what it is good for; one that gives a voltage has said so."""
    text = r.text
    for does in ("would do", "would be just enough"):
        text = text.replace(f" {does}", f" {does} for {r.clears}", 1) if r.clears else text
    return text


def listed(words: Iterable[str]) -> str:
    """"a", "a and b", "a, b and c"."""
    all_of_them = list(dict.fromkeys(words))
    return " and ".join([", ".join(all_of_them[:-1]), all_of_them[-1]] if len(all_of_them) > 1 else all_of_them)
