"""Timers from time stamps, on a clock that the test turns."""

from dataclasses import dataclass, field

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.lamp.on_the_day import Mark, Times, back, lamp, slip

TIMES = Times(full_light=180, full_colour=300, cooling=600)
START = 1_750_000_000.0


@dataclass
class Phone:
    """A phone with a wall clock that can be set and a steady clock that cannot; what it stores survives a reload."""

    wall: float = START
    steady: float = 0.0
    stored: list = field(default_factory=list)
    last_seen: float = START
    seen_steady: float | None = 0.0

    def passes(self, seconds):
        """Time goes by while the page runs."""
        self.wall += seconds
        self.steady += seconds
        self.looks()

    def sleeps(self, seconds):
        """The phone sleeps: both clocks go on, nobody looks."""
        self.wall += seconds
        self.steady += seconds

    def reloads(self):
        """The page is killed and opened: the steady clock starts anew."""
        self.steady, self.seen_steady = 0.0, None
        self.looks()

    def clock_set(self, seconds):
        """Someone sets the wall clock."""
        self.wall += seconds

    def looks(self):
        """What the page does whenever it wakes: note a clock that went back."""
        passed = None if self.seen_steady is None else self.steady - self.seen_steady
        by = slip(last_seen=self.last_seen, now=self.wall, steady=passed)
        if by:
            self.stored.append(Mark(what="clock", at=self.wall, by=by))
        self.last_seen, self.seen_steady = self.wall, self.steady

    def press(self, what, load="A1"):
        """A mark is pressed."""
        self.looks()
        self.stored.append(Mark(what=what, at=self.wall, load=load))

    def lamp(self, load="A1"):
        """The lamp as the phone knows it now."""
        self.looks()
        return lamp(self.stored, load, TIMES, self.wall)


def test_a_lamp_runs_up_and_is_full():
    """Light counts from the strike: before three minutes it runs up, from then on it is full."""
    phone = Phone()
    phone.press("struck")
    phone.passes(179)
    before = phone.lamp()
    phone.passes(1)

    assert before.state == "running up" and before.full_at == START + 180 and before.colour_at == START + 300
    assert phone.lamp().state == "full"


def test_a_reload_changes_nothing():
    """Killed and reopened, the timers go on where the clock is."""
    phone = Phone()
    phone.press("struck")
    phone.passes(100)
    before = phone.lamp()
    phone.reloads()

    assert phone.lamp() == before


def test_a_day_asleep_is_a_day():
    """A lamp that went out before the phone slept a day is cold, and its hours are those it burnt."""
    phone = Phone()
    phone.press("struck")
    phone.passes(3600)
    phone.press("out")
    phone.sleeps(86_400)
    phone.reloads()
    now = phone.lamp()

    assert (now.state, now.hours, now.strikes, now.unsure) == ("cold", 3600, 1, False)


def test_a_burning_lamp_burns_through_the_sleep():
    """A lamp left burning while the phone sleeps a day has burnt a day."""
    phone = Phone()
    phone.press("struck")
    phone.sleeps(86_400)

    assert phone.lamp().hours == 86_400


def test_a_clock_set_back_while_the_page_runs_is_made_up_exactly():
    """The steady clock tells how far the wall clock went back; the countdown does not jump."""
    phone = Phone()
    phone.press("struck")
    phone.passes(60)
    phone.clock_set(-3600)
    phone.passes(30)
    now = phone.lamp()

    assert now.state == "running up"
    assert now.full_at - phone.wall == pytest.approx(90)
    assert now.hours == pytest.approx(90)
    assert not now.unsure


def test_a_clock_set_back_while_the_page_was_closed_never_shows_negative_time():
    """After a restart only the least step back can be known: no time counts as passed while it was closed."""
    phone = Phone()
    phone.press("struck")
    phone.passes(60)
    phone.clock_set(-3600)
    phone.sleeps(30)
    phone.reloads()
    now = phone.lamp()

    assert now.hours == pytest.approx(60)
    assert now.full_at - phone.wall == pytest.approx(120)


def test_a_step_back_that_nobody_noted_is_said():
    """Two marks that run backwards show a step that was missed: the answer says that it is unsure."""
    marks = [Mark(what="struck", at=START, load="A1"), Mark(what="out", at=START - 500, load="A1")]
    now = lamp(marks, "A1", TIMES, START - 490)

    assert now.unsure and now.hours == 0.0 and now.state == "cooling"


def test_out_then_cooling_then_ready():
    """A lamp that went out is ready when it has cooled; one that strikes hot is ready at once."""
    phone = Phone()
    phone.press("struck")
    phone.passes(1000)
    phone.press("out")
    phone.passes(599)
    cooling = phone.lamp()
    hot = lamp(phone.stored, "A1", Times(full_light=180, full_colour=300, cooling=600, strikes_hot=True), phone.wall)
    phone.passes(1)

    assert cooling.state == "cooling" and cooling.ready_at == START + 1600
    assert hot.ready_at == START + 1000
    assert phone.lamp().state == "cold"


def test_found_hot_counts_from_being_found():
    """Nobody knows when it went out: the wait counts from the mark, and burning ends there."""
    phone = Phone()
    phone.press("struck")
    phone.passes(500)
    phone.press("out")
    phone.passes(100)
    phone.press("hot")

    assert phone.lamp().ready_at == START + 1200
    assert phone.lamp().hours == 500


def test_pressing_twice_counts_once():
    """A second press of the same mark is a slip of the finger."""
    phone = Phone()
    phone.press("struck")
    phone.passes(10)
    phone.press("struck")
    phone.passes(10)

    assert phone.lamp().hours == 20 and phone.lamp().strikes == 1 and phone.lamp().full_at == START + 180


def test_lamps_do_not_mix():
    """Each lamp has its own marks."""
    phone = Phone()
    phone.press("struck", "A1")
    phone.passes(10)
    phone.press("struck", "A2")
    phone.passes(10)

    assert (phone.lamp("A1").hours, phone.lamp("A2").hours, phone.lamp("A3").state) == (20, 10, "cold")


@given(st.lists(st.tuples(st.sampled_from(["struck", "out", "hot", "wait", "sleep", "reload", "back"]), st.floats(0, 5000)), max_size=12))
def test_hours_never_fall_and_never_exceed_true_time(acts):
    """Whatever is pressed and however the clock is set back, hours only grow, and not faster than time."""
    phone, before, true = Phone(), 0.0, 0.0
    for act, seconds in acts:
        if act in ("struck", "out", "hot"):
            phone.press(act)
        elif act == "wait":
            phone.passes(seconds)
            true += seconds
        elif act == "sleep":
            phone.sleeps(seconds)
            true += seconds
        elif act == "reload":
            phone.reloads()
        else:
            phone.clock_set(-seconds)
        hours = phone.lamp().hours
        assert before - 1e-6 <= hours <= true + 2.0 * len(acts)
        before = hours


def test_when_the_light_is_back():
    """Ten minutes to cool, three to full light, five to full colour."""
    assert (back(TIMES).strike, back(TIMES).light, back(TIMES).colour) == (600, 780, 900)
    assert back(Times(full_light=180, full_colour=300, cooling=600, strikes_hot=True)).light == 180


def test_a_clock_that_is_only_trimmed_is_left_alone():
    """A second of correction from the network is no step back."""
    assert slip(last_seen=100.0, now=99.0) == 0.0
    assert slip(last_seen=100.0, now=90.0) == 10.0
    assert slip(last_seen=100.0, now=90.0, steady=5.0) == 15.0
