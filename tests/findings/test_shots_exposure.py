"""Light enough, and of one colour?"""

from math import sqrt

import pytest

from pycore.base.result import Verdict
from pycore.findings import exposure_budget
from pycore.findings.whole_rig import solve_rig
from tests.camera.rigs import rig

BEAM = {"loads/A2/beam/intensity": "100000 cd", "loads/A2/beam/distance": "10 m"}  # 1000 lx at full power
LIT = {"A2": "100 %"}


def budget(*sets, loads=("A2",), **entries):
    shot = {"frame_rate": "25 fps", "shutter": "180°", "speed": "800", "aperture": "8", "lit_by": dict.fromkeys(loads, "50 %"), **entries}
    made = rig(BEAM, *sets, shots={"S": shot})
    return exposure_budget.budget(solve_rig(made), made.shots["S"])


def test_short_by_so_many_stops():
    """1000 lx at ISO 800 and 1/50 s give f/8: N² = E·S·t/C = 1000·800/50/250 = 64. With f/11.31 wanted that is a stop short."""
    found = budget(aperture=f"{8 * sqrt(2):.4f}").finding

    assert found.demand.value == pytest.approx(-1, abs=0.05) and found.verdict is Verdict.STOP and "f/8" in found.says  # the supply may take or add a little


def test_just_enough_and_over():
    """Clear from a tenth of a stop short upwards."""
    assert budget().finding.verdict is Verdict.CLEAR and budget(aperture="2").finding.verdict is Verdict.CLEAR
    assert budget(aperture="9").finding.verdict is Verdict.TIGHT
    assert "Over by 4" in budget(aperture="2").finding.says


def test_high_speed_costs_light():
    """At 1000 frames a second 40 times less light: 5.3 stops; the rate that the light allows is 25 again."""
    found = budget(frame_rate="1000 fps").finding
    allowed = [s.result.value for s in found.steps if s.law.endswith("rate_allowed")][0]

    assert found.demand.value == pytest.approx(-5.32, abs=0.05) and allowed == pytest.approx(25, rel=0.05)


def test_a_ramp_is_metered_at_its_fast_end():
    """Where the window is shortest, and that is said."""
    found = budget(frame_rate="24 fps", ramp_to="1000 fps").finding

    assert found.demand.value == pytest.approx(budget(frame_rate="1000 fps").finding.demand.value) and "at 1000\u00a0fps" in found.says


def test_remedies_are_worth_what_they_say():
    """More speed, a wider stop, a nearer lamp: each alone makes it enough."""
    found = budget(aperture="11").finding
    changes = {a.split("/")[-1]: t for r in found.remedies for a, t in r.changes}

    assert found.verdict is Verdict.STOP
    for entry in ({"aperture": "11", "speed": changes["speed"]}, {"aperture": changes["aperture"]}):
        assert budget(**entry).finding.verdict is Verdict.CLEAR
    assert budget({"loads/A2/beam/distance": changes["distance"]}, aperture="11").finding.verdict is Verdict.CLEAR


def test_dim_scrim_and_distance():
    """Half the electrical power leaves 40 % of the light (common practice); a stop of diffusion and twice the distance halve and quarter it."""
    full = budget().lit[0].lux.value

    assert budget({"loads/A2/dim": "50 %"}).lit[0].lux.value / full == pytest.approx(0.40, rel=0.02)
    assert budget({"loads/A2/beam/diffusion": "1 stop"}).lit[0].lux.value == pytest.approx(full / 2)
    assert budget({"loads/A2/beam/distance": "20 m"}).lit[0].lux.value == pytest.approx(full / 4)
    assert budget({"loads/A2/beam/intensity": "", "loads/A2/beam/reading": "4000 lx", "loads/A2/beam/reading_distance": "5 m"}).lit[0].lux.value == pytest.approx(full)


def test_shares_follow_from_the_light():
    """Two lamps, three to one; the shares offered add up to all of it."""
    found = budget({"loads/A3/beam/intensity": "300000 cd", "loads/A3/beam/distance": "10 m"}, loads=("A2", "A3"))
    shares = {a.split("/")[-1]: float(t.split()[0]) for a, t in found.shares.changes}

    assert sum(shares.values()) == pytest.approx(100) and shares["A3"] == pytest.approx(75, abs=0.5)


def test_a_lamp_whose_light_is_not_entered():
    """It is not counted: enough without it is enough, short without it is unknown."""
    assert budget(loads=("A2", "A3"), aperture="4").finding.verdict is Verdict.CLEAR
    short = budget(loads=("A2", "A3"), aperture="16").finding
    assert short.verdict is Verdict.UNKNOWN and short.problems[0].address == "loads/A3/beam/intensity" and "no light is entered for Fast: not counted" in short.says
    assert short.problems[0].message.startswith("Fast: ")


def test_no_stop_entered():
    """The stop that the light gives is said, and no pass is claimed."""
    found = budget(aperture="").finding

    assert found.verdict is Verdict.UNKNOWN and "gives f/8" in found.says and found.note == "No stop entered"


def test_colours():
    """5600 K beside 3200 K: 1e6/3200 − 1e6/5600 = 133.9 mired warmer, and the filter that closes it."""
    found = budget({"loads/A5/beam/intensity": "1000 cd", "loads/A5/beam/distance": "2 m"}, loads=("A2", "A5")).colours[0]

    assert found.verdict is Verdict.TIGHT and found.demand.value * 1e6 == pytest.approx(134, abs=8) and "warmer" in found.says
    assert found.remedies[0].text.startswith("A filter of −") or found.remedies[0].text.startswith("A filter of -")


def test_a_dimmed_arc_is_an_estimate():
    """Bluer by how much nobody knows: an estimate, said so; metered it is a figure."""
    pair = {"loads/A3/beam/intensity": "1000 cd", "loads/A3/beam/distance": "2 m", "loads/A3/dim": "50 %"}

    assert "an estimate: meter it" in budget(pair, loads=("A2", "A3")).colours[0].says
    assert "estimate" not in budget(pair, {"loads/A3/lamp/colour_dimmed": "6000 K"}, loads=("A2", "A3")).colours[0].says


def test_each_lamp_whose_light_is_missing_is_named():
    """With no light entered at all every lamp is named once, with the field that wants it."""
    made = rig(shots={"S": {"frame_rate": "25 fps", "shutter": "180°"}})
    found = exposure_budget.budget(solve_rig(made), made.shots["S"]).finding

    assert found.verdict is Verdict.UNKNOWN and found.says == "No light is entered for Old arc and 4 more lamps"
    assert [(p.message.partition(":")[0], p.address) for p in found.problems] == [(load.name, f"loads/{i}/beam/intensity") for i, load in made.loads.items()]
