"""Quiet windows in a sweep."""

import pytest

from pycore.camera.quiet import Seen, nearest_disturbed, windows


def sweep(*readings):
    return [Seen(float(f), what) for f, what in readings]


def test_windows_end_at_their_quiet_readings():
    """A window claims nothing up to the disturbed readings beside it; the widest comes first."""
    found = windows(sweep((900, "hum"), (920, "quiet"), (940, "quiet"), (960, "snaking"), (980, "quiet"), (1000, "quiet"), (1020, "quiet"), (1040, "quiet"), (1060, "flicker")))

    assert [(w.low, w.high, w.readings) for w in found] == [(980, 1040, 4), (920, 940, 2)]
    assert found[0].middle == 1010 and found[0].width == 60


def test_the_order_of_logging_does_not_matter():
    """Readings are sorted by frequency."""
    readings = [(1000, "quiet"), (900, "quiet"), (950, "quiet")]

    assert windows(sweep(*readings)) == windows(sweep(*readings[::-1])) and windows(sweep(*readings))[0].width == 100


def test_a_gap_is_not_quiet():
    """Between 300 and 900 Hz nothing was tried, so nothing is claimed."""
    found = windows(sweep((280, "quiet"), (300, "quiet"), (900, "quiet"), (920, "quiet")))

    assert sorted((w.low, w.high) for w in found) == [(280, 300), (900, 920)]


def test_disturbed_once_is_disturbed():
    """The same frequency seen quiet and snaking splits the window."""
    found = windows(sweep((900, "quiet"), (920, "quiet"), (920, "snaking"), (940, "quiet")))

    assert all(not w.low <= 920 <= w.high for w in found)


@pytest.mark.parametrize("readings", [(), ((900, "hum"),)])
def test_nothing_quiet(readings):
    """No reading, or none quiet, gives no window."""
    assert windows(sweep(*readings)) == []


def test_nearest_disturbed():
    """Either way; none where all was quiet."""
    seen = sweep((900, "hum"), (950, "quiet"), (1010, "out"))

    assert nearest_disturbed(seen, 960).frequency == 1010 and nearest_disturbed(seen, 940).frequency == 900
    assert nearest_disturbed(sweep((900, "quiet")), 900) is None
