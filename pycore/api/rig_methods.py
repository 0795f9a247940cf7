"""Methods for the whole rig: rearranging it, asking what a fault would do, balancing it."""

from pycore.api.method import Json, method
from pycore.rig import arrange


@method("{rig, load}", "{rig, load}")
def duplicate_lamp(rig: Json, load: str) -> Json:
    """Another lamp like this one, on a run like its own."""
    changed, new = arrange.duplicate(rig, load)
    return {"rig": changed, "load": new}


@method("{rig, part, to}", "{rig}")
def move_part(rig: Json, part: str, to: str) -> Json:
    """A lamp, run or box fed by another place: "supply", a run or a box."""
    return {"rig": arrange.move(rig, part, to)}


@method("{rig, fed_by?, name?}", "{rig, box}")
def add_box(rig: Json, fed_by: str = "supply", name: str = "") -> Json:
    """A distribution box at the end of a new feeder."""
    changed, box = arrange.add_box(rig, fed_by, name)
    return {"rig": changed, "box": box}
