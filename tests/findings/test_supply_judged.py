"""The outlet by itself: its voltage against the band of its supply standard, and its current with the duty of long burns."""

import pytest

from pycore.base.result import Verdict
from pycore.findings import ballast, supply
from tests.protection.rigs import IEC, NA, changed, solved

METERED = "supply/voltage_measured"


def judged(base, entries):
    """The finding on the outlet's voltage."""
    s = solved(changed(base, entries))
    return supply.socket(s.rig, s.feed)


@pytest.mark.parametrize(("base", "metered", "verdict", "edge"), [
    (IEC, "230 V", "clear", 207), (IEC, "215 V", "clear", 207), (IEC, "206 V", "tight", 207), (IEC, "198 V", "tight", 207), (IEC, "194 V", "stop", 195.5), (IEC, "252 V", "clear", 207),
    (IEC, "254 V", "stop", 253), (NA, "120 V", "clear", 108), (NA, "107 V", "tight", 108), (NA, "103 V", "stop", 104), (NA, "126.5 V", "tight", 126), (NA, "128 V", "stop", 127),
])  # fmt: skip
def test_metered_without_load(base, metered, verdict, edge):
    """EN 50160: 207 to 253 V for 95 % of a week, 195.5 V at the least; ANSI C84.1 at the point of use: 108 to 126 V in Range A, 104 to 127 V in Range B."""
    found = judged(base, {METERED: metered})

    assert found.verdict == verdict and found.limit.term.value == pytest.approx(edge)
    assert found.limit.term.cite.source == ("en-50160" if base is IEC else "ansi-c84-1")
    assert bool(found.note) == (verdict == "stop") and bool(found.remedies) == (verdict != "clear")


def test_pulled_down_by_its_own_load():
    """230 V without load and 200 V with it: tight, and nearer the source is better; the lamp's own window says whether that will do."""
    found = judged(IEC, {"supply/impedance": "1.3 Ω"})

    assert found.verdict is Verdict.TIGHT and found.demand.value < 207
    assert [r.text for r in found.remedies] == [supply.NEARER.text]


def test_a_sag_inside_the_band():
    """More than 5 % from no load to load is a weak outlet even where the band is kept."""
    assert judged(IEC, {"supply/impedance": "0.5 Ω"}).verdict is Verdict.CLEAR
    assert judged(IEC, {"supply/impedance": "0.7 Ω"}).verdict is Verdict.TIGHT


@pytest.mark.parametrize(("base", "entries", "verdict", "counted"), [
    (IEC, {"supply/rating": "32 A"}, "clear", 1.0), (IEC, {"supply/rating": "25 A"}, "tight", 1.0), (IEC, {"supply/rating": "20 A"}, "stop", 1.0),
    (NA, {"supply/rating": "31 A"}, "clear", 1.25), (NA, {"supply/rating": "29 A"}, "stop", 1.25), (NA, {"supply/rating": "29 A", "supply/device/burns": "short"}, "tight", 1.0),
])  # fmt: skip
def test_long_burns_count_as_for_any_device(base, entries, verdict, counted):
    """The outlet's rating is judged in the words and with the factor of the devices: 1.25 for three hours and more by the code, none by IEC."""
    s = solved(changed(base, entries))
    found = supply.carries(s.rig, s.feed)

    assert found.verdict == verdict and found.demand.value == pytest.approx(counted * s.feed.current.value)
    assert ("three hours" in found.says) == (counted > 1)


@pytest.mark.parametrize(("high", "verdict"), [("265 V", "clear"), ("243 V", "clear"), ("240 V", "tight"), ("231 V", "tight"), ("229 V", "stop")])
def test_near_the_high_cut_out(high, verdict):
    """Within 5 % of the most that the ballast stands the answer is tight, as it is near the least."""
    s = solved(changed(IEC, {"loads/A1/ballast/high_cut_out": high}))
    found = ballast.window(s.load, s.feed)

    assert found.verdict == verdict and found.limit.relation == (">=" if verdict == "clear" else "<=")
