"""The methods behind the door, each with the shape of what it takes and gives."""

import json
from collections.abc import Callable
from typing import Any

from pycore import __version__
from pycore.api.method import Json, all_methods, method
from pycore.api.wire import Wire, problem
from pycore.base.problem import refuse
from pycore.findings.chain import Chain, chain_in, settled
from pycore.findings.rig_tree import line_loads, tree
from pycore.findings.source import source_findings
from pycore.findings.whole_rig import solve_rig
from pycore.rig import edit, form, kit
from pycore.rig.marks import take_off
from pycore.rig.model import Rig, Run
from pycore.rig.read import Reading, load_document, read
from pycore.rig.useful import useful


@method("{}", "{version, methods: {name: {does, params, result}}}")
def describe() -> Json:
    """Every method with the shape of its request and answer."""
    return {"version": __version__, "methods": {n: {"does": m.does, "params": m.params, "result": m.result} for n, m in all_methods().items()}}


@method("{}", "{lamps: [{id, label, group, ballasts: [{id, label, typical_line}]}], supplies: [{id, label, group}]}", name="kit")
def kit_list() -> Json:
    """The generic kit to add lamps from."""
    return {"lamps": kit.lamps(), "supplies": kit.supplies()}


@method("{name?}", "{rig}")
def new_rig(name: str = "") -> Json:
    """An empty rig."""
    return {"rig": kit.new_rig(name)}


@method("{text}", "{rig, problems: [Problem], marks: [Mark], what was pressed on the day, taken off the rig}")
def open_rig(text: str) -> Json:
    """A rig file's text, migrated to the newest schema, with all its problems; the day's marks beside it."""
    document, marks, unreadable = take_off(load_document(text))
    reading = read(document)
    return {"rig": reading.document, "problems": [problem(p) for p in (*reading.problems, *unreadable)], "marks": marks}


@method("{rig|null, lamp, ballast, supply?}", "{rig, load}")
def add_lamp(lamp: str, ballast: str, supply: str = "", rig: Json | None = None) -> Json:
    """The rig with a lamp of the kit added on a run of its own."""
    changed, load = kit.add_lamp(rig, lamp=lamp, ballast=ballast, supply=supply)
    return {"rig": changed, "load": load}


@method("{rig, load}", "{rig}")
def remove_lamp(rig: Json, load: str) -> Json:
    """The rig without a lamp."""
    return {"rig": kit.remove_lamp(rig, load)}


@method("{rig, changes?: [{address, text}], load?, shot?, show?: {length: m|ft}, compact?, advise?, others?}",
        "{rig, name, problems: [Problem], lamps: [{id, name, kind, verdict, headline}], shots: [{id, name, text}], chain: Chain|null, tree: [Node]|null, lines: [LineLoad], source: [Finding], "
        "rig_fields: [Field], version, workings?: [Step], which findings then number in their steps}")
def check(rig: Json, changes: list[Json] | None = None, load: str = "", shot: str = "", show: dict[str, str] | None = None, compact: bool = False, advise: bool = True, others: bool = True) -> Json:
    """Apply changes to a rig, and answer for every lamp; the chosen one with its whole chain, and with advice unless that can wait.

    Where the others' verdicts can wait too, they are "", and there is no tree to carry them up.
    """
    document = edit.put(load_document(json.dumps(rig)), pairs(changes))
    reading = read(document)
    wire = Wire(show, compact)
    whole = solve_rig(settled(reading))
    source = source_findings(whole) if whole.rig.loads else ()
    chosen_id = load if load in whole.rig.loads else next(iter(whole.rig.loads), "")
    chains = {i: chain_in(whole, reading.problems, i, shot, advise=advise and i == chosen_id, source=source) for i in whole.rig.loads if others or i == chosen_id}
    chosen = chains.get(chosen_id)
    answer = {
        "rig": document, "name": reading.rig.name, "version": __version__, "problems": [problem(p) for p in reading.problems],
        "lamps": [{"id": i, "name": x.name or i, "kind": x.kind, "verdict": str(chains[i].verdict) if i in chains else "", "headline": chains[i].headline if i in chains else ""}
                  for i, x in whole.rig.loads.items()],
        "shots": [{"id": i, "name": s.name, "text": s.name or (str(s.frame_rate.quantity) if s.frame_rate else i)} for i, s in whole.rig.shots.items()],
        "chain": wire.chain(chosen, forms(chosen, whole.rig, reading)) if chosen else None,
        "tree": [wire.node(n) for n in tree(whole, chains, source)] if others else None, "lines": [wire.line_load(x) for x in line_loads(whole)], "source": [wire.finding(f) for f in source],
        "rig_fields": [wire.field(e) for e in form.rig_entries(document, reading.problems)],
    }
    return {**answer, "workings": wire.workings} if compact else answer


def pairs(changes: list[Json] | None) -> list[tuple[str, str]]:
    """Changes as (address, text). Raises `Refused` for one that has not both."""
    try:
        return [(str(c["address"]), str(c["text"])) for c in changes or []]
    except (KeyError, TypeError):
        raise refuse("params-wrong", "A change is an address and a text", "Ask for `describe`") from None


def forms(of: Chain, rig: Rig, reading: Reading) -> dict[str, list[form.Entry]]:
    """The form of each link of a chain."""
    load, at = rig.loads[of.load], f"loads/{of.load}"

    def entries(part: Any, address: str, **choose: Any) -> list[form.Entry]:
        return form.entries(part, address, reading.document, reading.problems, **choose)

    driver = entries(load.ballast, f"{at}/ballast", only=form.DRIVER) if load.kind == "LED" else []
    lamp = entries(load.lamp, f"{at}/lamp", only=form.LAMP_KEYS.get(load.kind, ()))
    surge = entries(load, at, only=form.STRIKE, section="Strike and earth current")
    arc = load.kind == "arc lamp"
    made = {"supply": _supply_form(rig, entries), "ballast": entries(load.ballast, f"{at}/ballast", without=form.LED_ONLY) + surge,
            "head_cable": entries(load.head_cable, f"{at}/head_cable"),
            "lamp": entries(load, at, only=("dim", "name")) + lamp + driver + entries(load, at, only=("connection",)) + ([] if arc else surge),
            "shutter": entries(rig.shots[of.shot], f"shots/{of.shot}", only=form.shot_keys(rig.shots[of.shot].kind))}
    return made | {link.id: _run_form(rig, rig.runs[link.id], f"runs/{link.id}", entries) for link in of.links if link.kind == "run"}


Entries = Callable[..., list[form.Entry]]


def _supply_form(rig: Rig, entries: Entries) -> list[form.Entry]:
    """The supply, then its earth, its device and the place around it, as far as they say anything here."""
    supply = rig.supply
    return useful(entries(supply, "supply") + entries(supply.earth, "supply/earth", section="Earth") + entries(supply.device, "supply/device", without=("rating",), section="The outlet's device")
                  + entries(supply.site, "supply/site", section="The place"), rig, supply, "supply")


def _run_form(rig: Rig, run: Run, at: str, entries: Entries) -> list[form.Entry]:
    """The cable, then the device at its head, then how it is laid, as far as they say anything here."""
    return useful(entries(run, at, without=("fed_by",)) + entries(run.device, f"{at}/device", section="Device at its head") + entries(run.laid, f"{at}/laid", section="How it is laid"),
                  rig, run, at)
