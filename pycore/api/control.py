"""Methods for the control lines of a rig."""

import json

from pycore.api.asked import Asked, Show
from pycore.api.method import Json, method
from pycore.base.problem import refuse
from pycore.findings import control_line as control
from pycore.rig import edit
from pycore.rig.read import load_document


@method("{rig, changes?, line, shot?, show?}",
        "{rig, problems, verdict, findings: [Finding], receivers: [{load, name, first, last, line, fields: [Field]}], others: [{load, name}], fields: [Field], lines: [{id, name}], cautions: [text]}")
def control_line(rig: Json, line: str, changes: list[Json] | None = None, shot: str = "", show: Show = None) -> Json:
    """Check one control line: loads, length, end, addresses, refresh, and whether a fade shows its steps at the shot's frame rate."""
    asked = Asked(rig, changes, show)
    if line not in asked.rig.control_lines:
        raise refuse("line-unknown", f"The rig has no control line {line}", "Add one")
    picked = asked.rig.shots.get(shot) or next(iter(asked.rig.shots.values()))
    found = control.findings(asked.rig, line, picked.frame_rate)
    it = control.on_line(asked.rig, line)
    return {**asked.all(), "verdict": str(control.verdict_of(found)), "findings": [asked.wire.finding(f) for f in found],
            "receivers": [{"load": i, "name": x.name or i, "first": round(x.control.address.value) if x.control.address else None,
                           "last": round(x.control.address.value + x.control.slots.value) - 1 if x.control.address and x.control.slots else None, "line": line,
                           "fields": asked.fields(x.control, f"loads/{i}/control")} for i, x in it.lamps.items()],
            "others": [{"load": i, "name": x.name or i} for i, x in asked.rig.loads.items() if not x.control.line],
            "fields": asked.fields(it.line, f"control_lines/{line}"), "lines": [{"id": i, "name": x.name or i} for i, x in asked.rig.control_lines.items()],
            "cautions": [control.ISOLATE, control.NO_Y]}


@method("{rig}", "{rig, line}")
def add_control_line(rig: Json) -> Json:
    """The rig with one more control line."""
    document = edit.put(load_document(json.dumps(rig)), [])
    lines = document.setdefault("control_lines", {})
    if not isinstance(lines, dict):
        raise refuse("not-a-group", "control_lines must be a group of named parts", "Compare with a saved rig", "control_lines")
    line = edit.free_id(lines, "D")
    lines[line] = {}
    return {"rig": document, "line": line}


@method("{rig, line}", "{rig}")
def remove_control_line(rig: Json, line: str) -> Json:
    """The rig without a control line; its lamps keep their addresses."""
    document = edit.put(load_document(json.dumps(rig)), [])
    document.get("control_lines", {}).pop(line, None)
    for x in document.get("loads", {}).values():
        if isinstance(x, dict) and isinstance(x.get("control"), dict) and x["control"].get("line") == line:
            x["control"].pop("line")
    return {"rig": document}
