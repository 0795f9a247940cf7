"""One lamp of a solved rig: what it wants, what it gets, and what another cable would give it."""

from dataclasses import dataclass
from functools import lru_cache

from pycore.base.law import work
from pycore.base.problem import Problem
from pycore.base.result import Term
from pycore.findings.common import attempt
from pycore.findings.lamp_side import Delivered, Draw, LampSide, delivered
from pycore.findings.supply_side import Feed, feed
from pycore.findings.whole_rig import WholeRig, count_lamp, feed_of
from pycore.lamp import ballast as ballasts
from pycore.rig.model import Load, Rig, Shot


@dataclass(frozen=True, slots=True)
class Solved:
    """Everything computed for one lamp, or the problems that stopped it. `advise` says whether remedies are worth their time."""

    whole: WholeRig
    load: Load
    shot: Shot
    side: LampSide | None
    draw: Draw | None
    feed: Feed | None
    got: Delivered | None
    problems: tuple[Problem, ...]
    advise: bool = True

    @property
    def rig(self) -> Rig:
        """The settled rig."""
        return self.whole.rig


def solve(whole: WholeRig, load: Load, shot: Shot, advise: bool = True) -> Solved:
    """Read one lamp off a solved rig, as far as its entries allow."""
    counted = whole.counted.get(load.id)
    if counted is None:
        return Solved(whole, load, shot, None, None, None, None, whole.left_out.get(load.id, whole.problems), advise)
    fed, problems = attempt(lambda: path_of(whole, load.id))
    got = None
    if fed is not None and fed.state == "runs" and fed.power is not None:
        got, problems = kept(load) if counted.draw.holds else attempt(lambda: delivered(load, counted.side, output(load, fed)))
    return Solved(whole, load, shot, counted.side, counted.draw, fed, got, problems, advise)


def path_of(whole: WholeRig, load_id: str) -> Feed:
    """The path of a lamp: in closed form when it is alone on the supply, read off the whole rig otherwise."""
    if len(whole.rig.loads) == 1:
        return feed(whole.rig, whole.rig.loads[load_id], whole.counted[load_id].draw)
    return feed_of(whole, load_id)


@lru_cache(maxsize=1024)
def kept(load: Load) -> tuple[Delivered | None, tuple[Problem, ...]]:
    """What a lamp gets whose ballast draws the same at any voltage that it runs on; kept, since most edits change another one."""
    counted = count_lamp(load)
    return attempt(lambda: delivered(load, counted.side, given(load, counted.draw.power)))


def given(load: Load, power: Term) -> Term:
    """What the ballast gives for a power that it draws."""
    assert load.ballast.efficiency is not None
    return work(ballasts.output_power, P=power, η=load.ballast.efficiency).result


def output(load: Load, fed: Feed) -> Term:
    """What the ballast gives at the voltage it sees."""
    assert fed.power is not None
    return given(load, fed.power)
