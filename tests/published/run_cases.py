"""Runs published figures against the core. Needs neither pytest nor files: the shipped Python runs it too.

A file of cases is TOML, one table a case, with `source` (an id of pycore/data/sources.toml), `locator`, and one of

    law, given, expected                 one law with what the source gives it
    table, key, column, expected         a cell of a table that a second page prints too
    question, term, base, changes, ...   a figure of a finding of a described rig
    steps, prints                        several steps in a row: `as` names a result, "@name" uses it further on

The printed digits are the tolerance. `within` is a wider one: an amount, a share ("5 %"), or "0.5 % of full".
"""

import tomllib
from collections.abc import Callable, Iterable
from typing import Any

from pycore.base import units
from pycore.base.law import LAWS
from pycore.base.quantity import Quantity
from pycore.base.table import table
from pycore.camera.safe_rates import safe_angles, safe_rates
from pycore.findings.chain import chain
from pycore.rig.edit import put
from pycore.rig.read import read
from tests.protection import rigs

Case = dict[str, Any]
Made = dict[str, Any]  # name of a step → Quantity or list of quantities


def failures(texts: Iterable[str]) -> list[str]:
    """What does not agree in all cases of all files, in words; nothing when all is well."""
    return [f"{i}: {words}" for text in texts for i, case in tomllib.loads(text).items() for words in run(case)]


def run(case: Case) -> list[str]:
    """What does not agree in one case."""
    made: Made = {}
    for step in case.get("steps", (case,)):
        made[step.get("as", "it")] = STEPS[next(k for k in STEPS if k in step)](step, made)
    prints = case.get("prints") or {"it": case["expected"]}
    return [words for name, printed in prints.items() for words in _compare(made[name], printed, case.get("within", ""))]


def _law(step: Case, made: Made) -> Quantity:
    law = LAWS[step["law"]]
    given = {s: made[t[1:]].value if t.startswith("@") else units.parse(t, law.variables[s].unit) for s, t in step["given"].items()}
    return Quantity(law.function(**given), law.variables[law.result].unit)


def _table(step: Case, made: Made) -> Quantity:
    printed = table(step["table"])
    return printed.cell(units.parse(step["key"], printed.columns[printed.key]), step["column"]).quantity


def _described(step: Case, made: Made) -> Quantity:
    finding = rigs.findings(rigs.changed(rigs.BASES[step["base"]], step["changes"]))[step["question"]]
    term = finding.limit.term if step["term"] == "limit" else finding.demand  # type: ignore[union-attr]
    return term.quantity  # type: ignore[union-attr]


def _shot(step: Case, made: Made) -> Quantity:
    document = put(BLANK, step["lamp"].items())
    found = next(f for x in chain(read(document), "A1").links for f in x.findings if f.question == step["asks"])
    named = (s.result for s in found.steps if s.law.endswith("." + step.get("result", "")))
    return next(named).quantity if "result" in step else found.demand.quantity  # type: ignore[union-attr]


STEPS: dict[str, Callable[[Case, Made], Any]] = {
    "law": _law, "table": _table, "question": _described, "lamp": _shot,
    "read": lambda step, made: Quantity.read(step["read"], step["unit"]),
    "angles": lambda step, made: [Quantity(a, "°") for a in safe_angles(f_c=units.parse(step["angles"], "fps"), f_L=units.parse(step["pulses"], "Hz"))],
    "rates": lambda step, made: [Quantity(f, "fps") for f in safe_rates(f_L=units.parse(step["rates"], "Hz"), slowest=9.9)],
}  # fmt: skip
# A lamp on a short, thick cable, for what only its light is asked of.
BLANK = {"format": "feed to frame rig", "schema": 1, "supply": {"system": "single-phase", "voltage": "230 V", "frequency": "50 Hz", "impedance": "0 Ω"},
         "runs": {"K1": {"fed_by": "supply", "size": "50 mm²", "length": "1 m"}}, "loads": {"A1": {"fed_by": "K1", "lamp": {"rated_power": "4 kW"}, "ballast": {"kind": "magnetic"}}},
         "shots": {"S1": {"sensor": "global"}}}  # fmt: skip


def _compare(found: Any, printed: Any, within: str) -> list[str]:
    if isinstance(printed, dict):  # a list that must hold some and lack others
        missing = [t for t in printed["has"] if all(off(q, t, within) for q in found)]
        surplus = [t for t in printed["lacks"] if not all(off(q, t, within) for q in found)]
        return [f"{t} is missing" for t in missing] + [f"{t} does not belong there" for t in surplus]
    if isinstance(printed, list) and len(found) != len(printed):
        return [f"{len(printed)} are printed, {len(found)} found"]
    pairs = zip(found, printed, strict=True) if isinstance(printed, list) else [(found, printed)]
    return [words for q, t in pairs if (words := off(q, t, within))]


def off(found: Quantity, printed: str, within: str = "") -> str:
    """How a figure misses what is printed, or nothing."""
    expected = units.parse(printed, found.unit)
    missed = abs(found.value - expected)
    return "" if missed <= room(printed, found.unit, within) * (1 + 1e-9) else f"{printed} is printed, {units.from_si(found.value, found.unit):.6g} {found.unit} found"


def room(printed: str, unit: str, within: str = "") -> float:
    """How far a figure may be off, in SI: what `within` says, or half of the last printed digit."""
    if within.endswith(" of full"):
        return units.parse(within.removesuffix(" of full"), "%")
    if within.endswith("%"):
        return units.parse(within, "%") * abs(units.parse(printed, unit))
    zero = units.to_si(0.0, unit)
    if within:
        return units.parse(within, unit) - zero
    number, _, written = printed.partition(" ")
    return units.parse(f"{0.5 * 10.0 ** -len(number.partition('.')[2]):.12g} {written}", unit) - zero
