"""What the page gets: every answer as JSON, whole, finite, and with what a screen needs."""

import json

import pytest

from pycore.api import door
from tests.camera.rigs import document
from tests.camera.test_measured import record
from tests.camera.waves import arc_light

SHOTS = {"S1": {"name": "Wide", "frame_rate": "24 fps", "shutter": "180°", "lit_by": {"A1": "40 %", "A2": "60 %"}}, "S2": {"frame_rate": "24 fps", "ramp_to": "1000 fps", "ramp_time": "3 s"},
         "S3": {"kind": "still", "exposure_time": "1/125 s"}, "S4": {"interval": "5 s"}}  # fmt: skip


def call(method, **params):
    answer = json.loads(door.handle(json.dumps({"method": method, "params": params})), parse_constant=lambda c: pytest.fail(f"{c} left the core"))
    assert answer["ok"], answer
    return answer["result"]


def refused(method, **params):
    answer = json.loads(door.handle(json.dumps({"method": method, "params": params})))
    assert not answer["ok"]
    return answer["error"]


RIG = document(shots=SHOTS)


def test_the_list():
    """A row for each shot, a cell for each lamp, words for both."""
    made = call("shots", rig=RIG)

    assert [s["id"] for s in made["shots"]] == list(SHOTS) and all([c["load"] for c in s["cells"]] == [x["id"] for x in made["lamps"]] for s in made["shots"])
    assert made["verdict"] == "stop" and "of 4 shots not steady" in made["headline"] and {f["address"] for f in made["limit_fields"]} == {"picture/steady", "picture/spoiled"}
    assert made["shots"][0]["cells"][0]["spread"]["shown"] == "6.33" and made["shots"][0]["cells"][0]["share"]["shown"] == "40"


def test_changes_are_made_and_given_back():
    """The rig that comes back holds them, and the answer is for it."""
    made = call("shots", rig=RIG, changes=[{"address": "shots/S1/shutter", "text": "172.8°"}])

    assert made["rig"]["shots"]["S1"]["shutter"] == "172.8°" and made["shots"][0]["verdict"] == "clear" and RIG["shots"]["S1"]["shutter"] == "180°"


@pytest.mark.parametrize(("shot", "load", "plots"), [("S1", "", ["waveform", "rates"]), ("S1", "A1", ["waveform", "rates"]), ("S2", "A2", ["waveform", "rates", "ramp"]), ("S3", "A1", ["waveform"]), ("S4", "A4", ["waveform"])])
def test_one_shot(shot, load, plots):
    """The finding, its plots, the fields that change it."""
    made = call("shot", rig=RIG, shot=shot, load=load)

    assert [p["id"] for p in made["plots"]] == plots and made["finding"]["evidence"]["residuals"]
    assert all(p["says"] and p["x"]["label"] and p["lines"] and all(len(x["points"]) > 10 for x in p["lines"]) for p in made["plots"])
    assert {f["address"].split("/")[-1] for f in made["fields"]} >= {"kind", "exposure_time", "sensor"} and [f["label"] for f in made["share_fields"]] == ["Old arc", "Key", "Fast", "Panel", "Tungsten"]
    assert all(x["title"] and (x["entries"] or x["form"] == "steady") for x in made["lamps"])


def test_shutter_windows_on_the_waveform():
    """Each open shutter with what it gathers; the first is the darkest that the lamp can give."""
    made = call("shot", rig=RIG, shot="S1", load="A1")
    bands, low = made["plots"][0]["bands"], 1 - 0.0633 / 2

    assert bands[0]["label"] == "Frame 1: 96.8\u00a0% of the mean" and low == pytest.approx(0.968, abs=1e-3)
    assert all(b["to"] - b["from"] == pytest.approx(1000 / 48, rel=1e-4) for b in bands)


def test_the_curve_carries_the_days_shots():
    """Marks at their rates with their verdicts; the thresholds as levels."""
    made = call("shot", rig=RIG, shot="S1", load="A1")["plots"][1]

    assert [(m["label"], m["x"], m["verdict"]) for m in made["marks"]] == [("Wide", 24, "stop")] and [x["y"] for x in made["levels"]] == [2, 5]
    assert made["x"]["scale"] == "log" and all(y > 0 for x in made["lines"] for _, y in x["points"])


def test_the_ramp_over_time():
    """From its first to its last second, its steady parts marked."""
    made = call("shot", rig=RIG, shot="S2", load="A2")["plots"][2]
    times = [x for x, _ in made["lines"][0]["points"]]

    assert times == sorted(times) and times[0] == pytest.approx(0, abs=1e-9) and times[-1] == pytest.approx(3)
    assert [b["verdict"] for b in made["bands"]] == ["clear", "stop"] and made["bands"][0]["to"] == pytest.approx(3 * (198.5 - 24) / 976, rel=1e-3)
    assert made["lines"][0]["labels"][0] == "24\u00a0fps" and len(made["lines"][0]["labels"]) == len(times)


def test_limits():
    """Modes with their highest rates, the curve of each, safe rates and angles."""
    made = call("limits", rig=RIG, load="A2", shot="S1")

    assert [m["present"] for m in made["modes"]] == [True, False, False] and len(made["plot"]["lines"]) == 3
    assert made["angles"][0]["drift_proof"] and not made["rates"][0]["drift_proof"] and made["rates"][0]["holds"]


def test_limits_of_a_lamp_without_light():
    """Unknown, with the reason."""
    made = call("limits", rig=document({"loads/A2/ballast/dip_depth": "rubbish"}), load="A2")

    assert made["modes"] == [] and made["plot"] is None and made["unknown"][0]["code"] == "entry-missing"


def test_exposure():
    """Lux and share of each lamp, the finding and the colours."""
    beam = [{"address": f"loads/{i}/beam/{k}", "text": t} for i in ("A1", "A2") for k, t in (("intensity", "90000 cd"), ("distance", "6 m"))]
    made = call("exposure", rig=RIG, shot="S1", changes=[*beam, {"address": "shots/S1/aperture", "text": "5.6"}])

    assert [x["share"]["shown"] for x in made["lamps"]] == ["50", "50"] or made["lamps"][0]["lux"] and made["shares"]["changes"]
    assert made["finding"]["demand"]["quantity"]["shown_unit"] in ("stop", "stops") and len(made["colours"]) == 1


def test_the_arcs_log_grows_and_shrinks():
    """Readings are added and taken out in the rig itself."""
    made = call("arc_sweep", rig=RIG, load="A3", add={"frequency": "980", "seen": "quiet"})
    made = call("arc_sweep", rig=made["rig"], load="A3", add={"frequency": "1.02 kHz", "seen": "hum"})
    assert made["rig"]["loads"]["A3"]["arc"]["sweep"] == "980 quiet; 1020 hum" and [r["words"] for r in made["readings"]] == ["Quiet", "Hums"]
    made = call("arc_sweep", rig=made["rig"], load="A3", remove=1)
    assert made["rig"]["loads"]["A3"]["arc"]["sweep"] == "980 quiet" and len(made["tones"]) == 5


def test_a_recording_is_read_judged_and_kept():
    """From a text to figures, verdicts for the shots and a changed rig."""
    samples = record(arc_light.on_sine(f=50, m=0.3), 10_000, 1.0)
    text = "t,v\n" + "\n".join(f"{i / 1e4},{x}" for i, x in enumerate(samples.levels))
    made = call("recording", text=text, rig=RIG, load="A1", note="noon")
    kept = call("shot", rig=RIG, shot="S1", load="A1", changes=made["changes"])

    assert [s["id"] for s in made["shots"]] == list(SHOTS) and made["shots"][0]["verdict"] == "tight" and kept["lamps"][0]["recorded"] and kept["lamps"][0]["note"] == "noon"
    assert kept["finding"]["demand"]["quantity"]["value"] == pytest.approx(made["shots"][0]["spread"]["value"], rel=1e-3)
    back = call("shot", rig=kept["rig"], shot="S1", load="A1", changes=kept["lamps"][0]["forget"])
    assert not back["lamps"][0]["recorded"] and back["finding"]["demand"]["quantity"]["shown"] == "6.33"


def test_a_bad_recording_names_its_lines_and_entries():
    """Problems of the file and of what was entered beside it."""
    assert {p["address"] for p in refused("recording", text="1,2\nx,3\n4,y\n")["problems"]} >= {"line 2", "line 3"}
    assert {p["address"] for p in refused("recording", text="1", kind="film", sample_rate="fast", exposure_time="-1 s")["problems"]} == {"kind", "sample_rate", "exposure_time"}


def test_shots_are_added_and_removed():
    """A copy under a free id; what is not there is refused."""
    made = call("add_shot", rig=RIG, like="S1")
    assert made["shot"] == "S5" and made["rig"]["shots"]["S5"] == {k: v for k, v in SHOTS["S1"].items() if k != "name"}
    assert "S5" not in call("remove_shot", rig=made["rig"], shot="S5")["rig"]["shots"]
    assert refused("shot", rig=RIG, shot="S9")["code"] == "shot-unknown" and refused("limits", rig=RIG, load="Z1")["code"] == "lamp-unknown"


def test_an_empty_rig_answers():
    """No lamp, no shot: unknown or refused with the reason, never a fault."""
    empty = call("new_rig")["rig"]

    assert call("shots", rig=empty)["verdict"] == "unknown"
    assert call("shot", rig=empty)["finding"]["verdict"] == "unknown" and call("exposure", rig=empty)["finding"]["verdict"] == "unknown"


@pytest.mark.parametrize("entry", ["supply/frequency", "picture/steady", "shots/S1/frame_rate", "shots/S1/kind", "shots/S1/lit_by/A1", "loads/A1/lamp/ripple", "loads/A2/ballast/output_frequency", "loads/A2/arc/sweep", "supply/frequency_tolerance"])
@pytest.mark.parametrize("text", ["rubbish", "-5", "", "1e999"])
def test_any_entry_may_be_wrong(entry, text):
    """Each method answers or refuses with a reason; nothing faults."""
    broken = document({entry: text}, shots=SHOTS)
    for method, params in (("shots", {}), ("shot", {"shot": "S1"}), ("shot", {"shot": "S1", "load": "A1"}), ("limits", {"load": "A2"}), ("exposure", {"shot": "S1"}), ("arc_sweep", {"load": "A2"})):
        answer = json.loads(door.handle(json.dumps({"method": method, "params": {"rig": broken, **params}})))
        assert answer["ok"] or (answer["error"]["code"] != "fault" and answer["error"]["message"]), (method, answer)


def test_which_light_a_shot_is_judged_under():
    """It is always said: the lamp asked for, the lamps that light it, or each by itself where nobody said."""
    says = {(shot, load): call("shot", rig=RIG, shot=shot, load=load)["under"] for shot, load in (("S1", "A1"), ("S1", ""), ("S3", ""))}

    assert says["S1", "A1"] == {"loads": ["A1"], "worst": "", "says": "Under Old arc alone"}
    assert says["S1", ""] == {"loads": ["A1", "A2"], "worst": "", "says": "Under 2 lamps together, by their shares"}
    assert says["S3", ""]["loads"] == ["A1", "A2", "A3", "A4", "A5"] and says["S3", ""]["worst"] == "A1" and "No shares are entered" in says["S3", ""]["says"]


def test_the_limits_of_all_lamps():
    """With no lamp named each that lights the shot has a line, and the one that sets the limit is named."""
    made = call("limits", rig=RIG, shot="S1")

    assert [m["lamp"] for m in made["modes"]] == ["All together", "Old arc", "Key"] and made["says"].startswith("Old arc sets the limit")
    assert all(m["shown"]["shown"] in m["finding"]["says"] for m in made["modes"])


def test_the_rates_plot_has_a_line_for_each_lamp():
    """And one for all together where shares say what that is."""
    names = {shot: [x["name"] for x in next(p for p in call("shot", rig=RIG, shot=shot)["plots"] if p["id"] == "rates")["lines"]] for shot in ("S1", "S2")}

    assert names == {"S1": ["All together", "Old arc", "Key"], "S2": ["Old arc", "Key", "Fast", "Panel", "Tungsten"]}


def test_the_sheet_to_hand_over():
    """Every shot with its verdict and what helps, every lamp with its limit, and all that is estimated."""
    made = call("shots_sheet", rig=RIG)

    assert [s["verdict"] for s in made["shots"]] == [call("shot", rig=RIG, shot=i)["finding"]["verdict"] for i in SHOTS]
    assert all(s["verdict"] == "clear" or s["advice"] for s in made["shots"]) and made["shots"][0]["lit"] == "Key 60\u00a0%, Old arc 40\u00a0%" and made["shots"][1]["lit"] == "shares not entered"
    assert [x["name"] for x in made["lamps"]] == ["Old arc", "Key", "Fast", "Panel", "Tungsten"] and all(x["shown"]["shown"] in x["says"] for x in made["lamps"])
    assert {e["lamp"] for e in made["estimates"]} >= {"Old arc", "Tungsten", ""} and all(e["term"]["origin"] in ("typical", "assumed") for e in made["estimates"])
    assert [t["quantity"]["shown"] for t in made["limits"]] == ["2", "5"] and any("test" in c for c in made["cautions"])


def test_a_sheet_with_gaps_says_so():
    """A lamp without its light and a shot without its rate stand on it as unknown; a rig without either has an empty sheet."""
    made = call("shots_sheet", rig=document({"loads/A2/ballast/output_frequency": "rubbish"}, shots={**SHOTS, "S5": {"frame_rate": "rubbish"}}))
    key = next(x for x in made["lamps"] if x["id"] == "A2")

    assert not key["shown"] and not key["steady"] and "not known" in key["title"] and made["unknown"]
    assert made["shots"][0]["verdict"] == made["shots"][4]["verdict"] == "unknown" and not made["shots"][4]["advice"]
    bare = document(shots={"S1": {"kind": "still", "exposure_time": "1/100 s"}})
    assert call("shots_sheet", rig={**bare, "loads": {}})["shots"][0]["verdict"] == "unknown"
