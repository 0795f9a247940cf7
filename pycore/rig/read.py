"""From the file's text to a `Rig`, with every problem found at once and addressed.

Only a fault of the whole file (no JSON, another format, a newer schema) is raised; a bad entry is listed, left out
of the rig, and kept in the document as the user wrote it.
"""

import json
from dataclasses import dataclass
from functools import lru_cache
from math import isfinite
from typing import Any

from pycore.base import units
from pycore.base.problem import Problem, Refused, refuse
from pycore.base.quantity import Quantity
from pycore.base.result import Term
from pycore.rig import graph
from pycore.rig.harmonics import read_harmonics
from pycore.rig.migrate import newest
from pycore.rig.model import FORMAT, GROUPS, INNER, RULES, SHARE, Picture, Rig, Shot, Spec, Supply, specs

LARGEST = 256 * 1024
MOST_PARTS = 500
LONGEST = 200
LONGEST_SERIES = 6000


@dataclass(frozen=True, slots=True)
class Reading:
    """A rig as far as it could be read, and what could not."""

    document: dict[str, Any]
    rig: Rig
    problems: tuple[Problem, ...]


def load_document(text: str) -> dict[str, Any]:
    """The JSON object in `text`, migrated to the newest schema. Raises `Refused` for a file that is none of ours."""
    if len(text.encode(errors="surrogatepass")) > LARGEST:
        raise refuse("file-too-large", f"The file is larger than {LARGEST // 1024} KB", "A rig file is small; this is probably something else")
    try:
        document = json.loads(text, parse_constant=_no_constant, parse_float=_finite)
    except (ValueError, RecursionError) as error:
        raise refuse("file-unreadable", f"The file is not readable as JSON: {error}", "Open the file that this tool saved") from None
    return newest(document)


def _no_constant(name: str) -> None:
    raise ValueError(f"{name} is not a number")


def _finite(number: str) -> float:
    if not isfinite(float(number)):
        raise ValueError(f"{number} is not a number")
    return float(number)


def read(document: dict[str, Any]) -> Reading:
    """Read a document of the newest schema. Raises `Refused` when it is not a rig at all."""
    if not isinstance(document, dict) or document.get("format") != FORMAT:
        raise refuse("not-a-rig", "This is not a rig file", "Open the file that this tool saved")
    problems: list[Problem] = []
    parts: dict[str, Any] = {"supply": _kept(Supply, document.get("supply", {}), "supply", problems),
                             "picture": _kept(Picture, document.get("picture", {}), "picture", problems)}
    for group, kind in GROUPS.items():
        parts[group] = _group(kind, document.get(group, {}), group, problems)
    rules = document.get("rules", "iec")
    if not isinstance(rules, str) or rules not in RULES:
        problems.append(Problem("choice-unknown", f"“{rules}” is not a rule set", f"Choose {' or '.join(RULES)}", "rules"))
        rules = "iec"
    rig = Rig(name=_name(document.get("name", ""), "name", problems), rules=rules, **parts)
    known = {"format", "schema", "name", "rules", "supply", "picture", "readings", "notes", "marks", *GROUPS}
    problems += [Problem("key-unknown", f"“{k}” is not known here", "It is kept, and not used", k) for k in document if k not in known]
    problems += graph.problems(rig) + _bad_harmonics(rig)
    return Reading(document, rig, tuple(problems))


def _bad_harmonics(rig: Rig) -> list[Problem]:
    found: list[Problem] = []
    for i, load in rig.loads.items():
        try:
            read_harmonics(load.ballast.harmonics)
        except Refused as refused:
            found += [p.at(f"loads/{i}/ballast/harmonics") for p in refused.problems]
    return found


def _group(kind: type, given: Any, address: str, problems: list[Problem]) -> dict[str, Any]:
    if not isinstance(given, dict):
        problems.append(Problem("not-a-group", f"{address} must be a group of named parts", "Compare with a saved rig", address))
        return {}
    if len(given) > MOST_PARTS:
        problems.append(Problem("too-many", f"More than {MOST_PARTS} {address}", "Split the rig", address))
    return {i: _kept(kind, p, f"{address}/{i}", problems, id=str(i)) for i, p in list(given.items())[:MOST_PARTS]}


def _kept(kind: type, given: Any, address: str, problems: list[Problem], **more: str) -> Any:
    """A part, kept by its text: an edit changes one of many."""
    found, wrong = _written(kind, json.dumps(given), address, tuple(more.items()))
    problems += wrong
    return found


@lru_cache(maxsize=4096)
def _written(kind: type, text: str, address: str, more: tuple[tuple[str, str], ...]) -> tuple[Any, tuple[Problem, ...]]:
    problems: list[Problem] = []
    return _part(kind, json.loads(text), address, problems, **dict(more)), tuple(problems)


def _part(kind: type, given: Any, address: str, problems: list[Problem], **more: Any) -> Any:
    if not isinstance(given, dict):
        problems.append(Problem("not-a-part", "This must be a group of entries", "Compare with a saved rig", address))
        given = {}
    wanted, inner = specs(kind), INNER.get(kind, {})
    values = {k: _entry(spec, given[k], f"{address}/{k}", problems) for k, spec in wanted.items() if k in given}
    if kind is Shot:
        values["lit_by"] = _shares(given.get("lit_by", {}), f"{address}/lit_by", problems)
        inner = {"lit_by": dict}
    values |= {k: _part(p, given.get(k, {}), f"{address}/{k}", problems) for k, p in inner.items() if p is not dict}
    problems += [Problem("key-unknown", f"“{k}” is not known here", "It is kept, and not used", f"{address}/{k}")
                 for k in given if k not in wanted and k not in inner]
    return kind(**values, **more)


def _shares(given: Any, address: str, problems: list[Problem]) -> dict[str, Term]:
    """The lamps that light a shot, with their shares."""
    if not isinstance(given, dict):
        problems.append(Problem("not-a-part", "This must be a group of lamps with their shares", "Compare with a saved rig", address))
        return {}
    read_as = {str(i): _entry(SHARE, share, f"{address}/{i}", problems) for i, share in given.items()}
    return {i: t for i, t in read_as.items() if t is not None}


def _entry(spec: Spec, given: Any, address: str, problems: list[Problem]) -> Any:
    if spec.kind in ("text", "series"):
        return _name(given, address, problems, LONGEST if spec.kind == "text" else LONGEST_SERIES)
    try:
        return _choice(spec, given) if spec.kind == "choice" else _quantity(spec, given, address)
    except Refused as refused:
        problems += [p.at(address) for p in refused.problems]
        return "" if spec.kind == "choice" else None


def _choice(spec: Spec, given: Any) -> str:
    if not isinstance(given, str) or given not in dict(spec.options):
        raise refuse("choice-unknown", f"“{given}” is not a choice for {spec.label.lower()}", "Choose " + " or ".join(dict(spec.options)))
    return str(given)


def _quantity(spec: Spec, given: Any, address: str) -> Term:
    if not isinstance(given, str):
        raise refuse("not-text", f"{spec.label} must be text with its unit", f"Write it in quotes, such as \"{max(spec.low, 1):g} {spec.unit}\"")
    if len(given) > LONGEST:
        raise refuse("too-long", f"{spec.label} is too long to be a quantity", f"Write a number in {spec.unit}")
    read_as = Quantity.read(given, spec.unit)
    inside = units.from_si(read_as.value, spec.unit)
    if not spec.low * (1 - 1e-9) - 1e-12 <= inside <= spec.high * (1 + 1e-9):
        raise refuse("out-of-range", f"{spec.label} must be between {spec.low:g} and {spec.high:g} {spec.unit}".rstrip()
                     if spec.high < 1e300 else f"{spec.label} must be {spec.low:g} {spec.unit} or more", "Check the number and its unit")
    return Term(quantity=read_as, name=spec.label, origin=spec.origin, address=address, note=given.strip())


def _name(given: Any, address: str, problems: list[Problem], longest: int = LONGEST) -> str:
    if not isinstance(given, str) or len(given) > longest:
        problems.append(Problem("not-a-name", f"This must be text of at most {longest} signs", "Write a shorter one", address))
        return str(given)[:longest]
    return given
