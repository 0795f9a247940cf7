"""From the entries of a lamp to its light."""

import pytest

from pycore.base.problem import Refused
from pycore.camera import arc_light
from pycore.camera.clocks import SUPPLY
from pycore.camera.lamp_light import light_of, on_square_of
from tests.camera.rigs import rig


def light(load, *sets):
    made = rig(*sets)
    return light_of(made, made.loads[load])


def swing(found):
    return [p.wave.extremes(0.0).spread for p in found.parts]


def test_forms_and_clocks():
    """Mains arcs and filaments pulse with the supply, every ballast and driver by itself."""
    forms = {i: (light(i).form, [p.clock for p in light(i).parts]) for i in ("A1", "A2", "A3", "A4", "A5")}

    assert forms == {"A1": ("ripple", [SUPPLY]), "A2": ("dips", ["loads/A2"]), "A3": ("dips", ["loads/A3"]), "A4": ("pulses", ["loads/A4/ballast", SUPPLY]), "A5": ("ripple", [SUPPLY])}
    assert light("A1").pulses.value == pytest.approx(100) and light("A2").pulses.value == pytest.approx(150)


def test_phase_follows_the_connection():
    """A third of a turn from phase to phase."""
    turns = [light("A1", {"loads/A1/connection": c}).parts[0].turn for c in ("L1-N", "L2-N", "L3-N")]

    assert turns[0] - turns[1] == pytest.approx(2.0944, rel=1e-4) and turns[2] - turns[0] == pytest.approx(2.0944, rel=1e-4)


def test_a_measured_ripple_counts_before_an_estimate():
    """A filament's ripple comes from its lag unless it was measured; an arc's from its persistence unless a ripple was entered."""
    assert swing(light("A5", {"loads/A5/lamp/ripple": "5 %"})) == pytest.approx([0.10])
    assert 0.04 < swing(light("A5"))[0] < 0.10 and light("A5").steps
    slow = {"loads/A1/lamp/ripple": "", "loads/A1/pulse/persistence": "2 ms"}
    assert abs(light("A1", slow).parts[0].wave.component(1)) == pytest.approx(arc_light.ripple_left(f=50, τ_p=0.002))
    both = light("A1", {"loads/A1/pulse/persistence": "2 ms"})
    assert abs(both.parts[0].wave.component(1)) == pytest.approx(0.8) and not both.steps


def test_thicker_filaments_ripple_less():
    """Power up, ripple down."""
    assert swing(light("A5", {"loads/A5/lamp/rated_power": "10 kW"}))[0] < swing(light("A5"))[0] < swing(light("A5", {"loads/A5/lamp/rated_power": "300 W"}))[0]


def test_the_duty_follows_the_dim():
    """At half the power, 47 % of the light with 5 % drawn at black: light on for as long; at full nothing pulses."""
    assert max(light("A4").parts[0].wave.levels) == pytest.approx(0.95 / 0.45, rel=0.01)
    assert light("A4", {"loads/A4/dim": "100 %"}).form == "ripple"
    assert light("A4", {"loads/A4/dim": "100 %", "loads/A4/lamp/ripple": "0 %"}).form == "steady"
    assert light("A4", {"loads/A4/ballast/drive": "constant current"}).form == "ripple"


def test_a_recording_counts_instead():
    """Whatever the lamp is, its own light as recorded."""
    found = light("A2", {"loads/A2/recording/frequency": "100 Hz", "loads/A2/recording/components": "30 at 0; 5 at 90"})

    assert found.form == "recorded" and abs(found.parts[0].wave.component(1)) == pytest.approx(0.3, rel=0.01) and found.parts[0].clock == "loads/A2"
    with pytest.raises(Refused, match="component-unreadable"):
        light("A2", {"loads/A2/recording/frequency": "100 Hz", "loads/A2/recording/components": "thirty"})


def test_another_output_frequency():
    """Own dips stay where they were entered, usual ones take the place of usual ones."""
    own, usual = rig().loads["A2"], rig({"loads/A2/ballast/commutation_time": "", "loads/A2/ballast/dip_depth": ""}).loads["A2"]

    assert min(on_square_of(own, 1000.0).parts[0].wave.levels) == pytest.approx(0.5 / 0.9, rel=0.01)
    assert min(on_square_of(usual, 1000.0).parts[0].wave.levels) == pytest.approx(0.8, rel=0.01)


@pytest.mark.parametrize("entry", ["loads/A1/lamp/ripple", "loads/A2/ballast/commutation_time", "loads/A2/ballast/output_frequency", "loads/A4/ballast/pulse_frequency", "supply/frequency", "loads/A5/lamp/rated_power"])
def test_an_unreadable_entry_is_refused(entry):
    """Nothing typical takes its place."""
    made = rig({entry: "rubbish"})
    load = entry.split("/")[1] if entry.startswith("loads") else "A1"

    with pytest.raises(Refused, match="entry-missing"):
        light_of(made, made.loads[load])
