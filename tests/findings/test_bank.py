"""A bank on a rig: light and current of each lamp, and the way there."""

from dataclasses import replace

import pytest

from pycore.base.problem import Refused
from pycore.base.result import Verdict, term
from pycore.findings import bank
from pycore.findings.whole_rig import feed_of, solve_rig
from tests.findings.test_strike import CORRECTED, MAGNETIC, rig

WHOLE = rig(("arc-4000", CORRECTED), ("tungsten-2000", "none"), ("led-400", "none"), ("arc-1200", MAGNETIC))
LIGHTS = {"A1": term(2000.0, "lx"), "A2": term(800.0, "lx"), "A3": term(300.0, "lx")}


def lux(value):
    """A wanted light."""
    return term(float(value), "lx", "light wanted")


@pytest.mark.parametrize("wanted", [3000, 1500, 900])
def test_they_give_it_together(wanted):
    """The settings' light adds up to what is wanted, and the rig can be set so."""
    found = bank.to_level(WHOLE, LIGHTS, lux(wanted))

    assert found.total.value == pytest.approx(wanted)
    assert found.finding.verdict is Verdict.CLEAR
    assert [a for a, _ in found.changes] == ["loads/A1/dim", "loads/A2/dim", "loads/A3/dim"]


def test_each_draws_what_the_rig_says_at_that_dim():
    """The current of each lamp is that of the whole rig solved with these dims; the lamp outside the bank still burns."""
    found = bank.to_level(WHOLE, LIGHTS, lux(1500))
    dims = {x.load: x.setting.power for x in found.lit}
    whole = solve_rig(replace(WHOLE, loads={i: replace(x, dim=dims.get(i, x.dim)) for i, x in WHOLE.loads.items()}))

    assert [x.current.value for x in found.lit] == [pytest.approx(feed_of(whole, i).current.value) for i in dims]
    assert found.supply.value > max(x.current.value for x in found.lit)


def test_too_much_is_wanted():
    """Everything full, a stop, and how far short."""
    found = bank.to_level(WHOLE, LIGHTS, lux(6200))

    assert found.finding.verdict is Verdict.STOP and "1 stop short" in found.finding.says.replace("\u00a0", " ")
    assert found.total.value == pytest.approx(3100)


def test_less_than_they_can():
    """All at their lowest, tight, and what each should lose by other means."""
    found = bank.to_level(WHOLE, LIGHTS, lux(400))

    assert found.finding.verdict is Verdict.TIGHT
    assert found.lit[0].left.value < 0


def test_each_to_its_own_level():
    """Balance: half of the key, an eighth of the fill."""
    found = bank.to_balance(WHOLE, {"A1": LIGHTS["A1"], "A2": LIGHTS["A2"]}, {"A1": lux(1000), "A2": lux(100)})

    assert [x.light.value for x in found.lit] == [pytest.approx(1000), pytest.approx(100)]
    assert found.lit[1].setting.stops.value == pytest.approx(-3)


def test_the_lamps_own_beam_counts_where_no_light_is_given():
    """100 000 cd at 10 m behind one stop of diffusion are 500 lx. Inverse-square law."""
    whole = rig(("arc-4000", CORRECTED), loads__A1__beam__intensity="100000 cd", loads__A1__beam__distance="10 m", loads__A1__beam__diffusion="1 stop")

    assert bank.full_light(whole.loads["A1"]).value == pytest.approx(500)
    with pytest.raises(Refused):
        bank.full_light(WHOLE.loads["A1"])


def test_a_bank_of_nobody_is_refused():
    """No lamps, or lamps that the rig does not have."""
    for lights in ({}, {"A9": lux(100)}):
        with pytest.raises(Refused):
            bank.to_level(WHOLE, lights, lux(100))
