"""A form shows what counts for something: no tank of a house socket, no layers of a cable laid out; and always what somebody has entered."""

import pytest

from pycore.api.methods import forms
from pycore.findings.chain import chain, settled
from pycore.rig.read import read
from tests.protection.rigs import IEC, NA, changed


def fields(document, link):
    """Addresses of a link's fields, as the screen gets them."""
    reading = read(document)
    return {e.address for e in forms(chain(reading, "A1"), settled(reading), reading)[link]}


CASES = [
    (IEC, "supply", {}, {"earth/electrode", "earth/bond", "earth/sustained", "site/line_distance", "tank", "energy", "rated_power", "device/trips_from", "device/residual_rating", "device/burns"}),
    (IEC, "supply", {"supply/kind": "generator", "supply/earth/arrangement": "separate", "supply/site/overhead": "poles", "supply/device/residual": "A"}, {"energy", "peak_power", "site/line_voltage"}),
    (IEC, "supply", {"supply/kind": "battery", "supply/earth/arrangement": "TT"}, {"tank", "altitude", "transient"}),
    (NA, "supply", {"supply/site/overhead": "poles"}, {"tank"}),
    (IEC, "K1", {}, {"laid/layers", "laid/arrangement", "laid/singles", "laid/listing", "device/trips_from", "device/holds_to", "device/burns"}),
    (IEC, "K1", {"runs/K1/laid/how": "reel", "runs/K1/laid/grouped": "3", "runs/K1/device/kind": "other", "runs/K1/device/residual": "none", "runs/K1/device/residual_rating": ""},
     {"laid/singles", "device/residual_rating", "device/residual_delay"}),
    (NA, "K1", {"runs/K1/cores": "single cores"}, {"laid/listing", "laid/layers"}),
    (NA, "K1", {}, {"laid/singles"}),
]


@pytest.mark.parametrize(("base", "link", "changes", "idle"), CASES)
def test_what_says_nothing_here_is_not_asked(base, link, changes, idle):
    """The idle ones are not among the fields; those that the context calls for are."""
    at, shown = "supply" if link == "supply" else f"runs/{link}", fields(changed(base, changes), link)
    called_for = {("supply", "generator"): {"earth/sustained", "earth/bond", "tank", "site/line_distance", "device/residual_rating"}, ("supply", "battery"): {"energy", "earth/electrode"}}

    assert not shown & {f"{at}/{k}" for k in idle}
    assert shown >= {f"{at}/{k}" for k in called_for.get((link, changes.get("supply/kind", "")), set())}


def test_what_is_entered_stays():
    """An entry that counts for nothing now is not hidden from the one who made it, and neither is one that cannot be read."""
    shown = fields(changed(IEC, {"supply/tank": "80 L", "runs/K1/laid/layers": "abc"}), "supply") | fields(changed(IEC, {"runs/K1/laid/layers": "abc"}), "K1")

    assert {"supply/tank", "runs/K1/laid/layers"} <= shown


@pytest.mark.parametrize("base", [IEC, NA], ids=["iec", "na"])
@pytest.mark.parametrize("changes", [
    {}, {"supply/kind": "generator"}, {"supply/kind": "battery"}, {"supply/earth/arrangement": "TT", "supply/earth/loop": ""}, {"supply/earth/arrangement": "separate"},
    {"runs/K1/laid/how": "reel"}, {"runs/K1/laid/how": "closed spiral"}, {"runs/K1/device/kind": "other"}, {"runs/K1/device/kind": ""}, {"runs/K1/device/residual": "A", "runs/K1/device/residual_rating": ""},
    {"supply/site/overhead": "towers"}, {"runs/K1/cores": "single cores", "runs/K1/laid/earth_size": ""},
])  # fmt: skip
def test_what_a_finding_asks_for_is_there(base, changes):
    """Every entry that a finding of supply or run waits for can be filled in on its form."""
    document = changed(base, changes)
    made = chain(read(document), "A1")
    shown = fields(document, "supply") | fields(document, "K1")
    asked = {p.address for x in made.links if x.kind in ("supply", "run") for f in x.findings for p in f.problems if p.code == "entry-missing" and p.address.startswith(("supply/", "runs/"))}

    assert asked <= shown, asked - shown

