"""From ballast to arc against closed forms and Kirchhoff's law, with every ceiling."""

from math import inf, pi, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.lamp import head_cable as cables
from pycore.lamp.arc_point import Arc, Source, reach, solve

CLOSE = {"rel": 1e-6, "abs": 1e-9}


@given(st.floats(20, 500), st.floats(50, 20_000), st.floats(0.6, 1), st.floats(1e-3, 5))
def test_constant_arc_voltage_sensed_at_the_terminals(V, P, λ, R):
    """P = λVI + I²R solved by hand: I = (sqrt(λ²V² + 4RP) - λV)/2R."""
    point = solve(arc=Arc(voltage=V, current=P / (λ * V), factor=λ), resistance=R, source=Source(power=P, makes_up=False))

    assert point.current == pytest.approx((sqrt((λ * V) ** 2 + 4 * R * P) - λ * V) / (2 * R), **CLOSE)
    assert point.lamp_power + point.current**2 * R == pytest.approx(P, **CLOSE)
    assert point.lamp_power == pytest.approx(λ * V * point.current, **CLOSE)


@given(st.floats(20, 500), st.floats(50, 20_000), st.floats(1e-3, 5))
def test_constant_resistance_sensed_at_the_terminals(V, P, R):
    """An arc whose voltage is in proportion to its current is a resistor: I = sqrt(P/(r + R))."""
    r = V**2 / P
    point = solve(arc=Arc(voltage=V, current=P / V, slope=r), resistance=R, source=Source(power=P, makes_up=False))

    assert point.current == pytest.approx(sqrt(P / (r + R)), **CLOSE)
    assert point.lamp_power == pytest.approx(P * r / (r + R), **CLOSE)


@given(st.floats(20, 500), st.floats(50, 20_000), st.floats(0.6, 1), st.floats(1e-3, 5), st.floats(0, 20))
def test_made_up_leaves_the_lamp_its_power(V, P, λ, R, slope):
    """With make-up the lamp has what is set whatever the cable, and the output is more by the cable's loss."""
    point = solve(arc=Arc(voltage=V, current=P / (λ * V), factor=λ, slope=slope), resistance=R, source=Source(power=P, makes_up=True))

    assert point.lamp_power == pytest.approx(P, **CLOSE)
    assert point.output - point.lamp_power == pytest.approx(point.current**2 * R, **CLOSE)
    assert point.ceiling == ""


@given(st.floats(0.6, 1), st.floats(0.01, 5), st.floats(0, 8), st.booleans(), st.floats(0.5, 1.5), st.floats(0.5, 1.5), st.floats(0.9, 1.5))
def test_no_ceiling_is_passed_and_the_tightest_is_named(λ, R, slope, makes_up, power, current, voltage):
    """Whatever the ceilings, none is exceeded; and where one is named, it is used to the full."""
    arc = Arc(voltage=100, current=1000 / (λ * 100), factor=λ, slope=slope)
    source = Source(power=1000, makes_up=makes_up, most_power=1000 * power, most_current=arc.current * current, most_voltage=100 * voltage)
    point = solve(arc=arc, resistance=R, source=source)
    used = {"power": point.output / source.most_power, "current": point.current / source.most_current, "voltage": point.terminal_voltage / source.most_voltage}

    if point.current > 0:
        assert max(used.values()) <= 1 + 1e-6
        if point.ceiling:
            assert used[point.ceiling] == pytest.approx(1, rel=1e-6)
        else:
            assert (point.lamp_power if makes_up else point.output) == pytest.approx(1000, rel=1e-6)


@given(st.floats(20, 500), st.floats(1, 100), st.floats(0.01, 5))
def test_kirchhoff_instant_by_instant(V, amps, R):
    """A sine current through an arc that is a square of V, summed over 2000 instants: power, power factor and terminal voltage are the laws'."""
    count = 2000
    current = [sqrt(2) * amps * sin(2 * pi * (k + 0.5) / count) for k in range(count)]
    arc = [V if i > 0 else -V for i in current]
    power = sum(v * i for v, i in zip(arc, current, strict=True)) / count
    at_terminals = sqrt(sum((v + i * R) ** 2 for v, i in zip(arc, current, strict=True)) / count)
    λ = 2 * sqrt(2) / pi

    assert cables.lamp_power(I=amps, V_a=V, λ_a=λ) == pytest.approx(power, rel=1e-5)
    assert cables.terminal_voltage(V_a=V, λ_a=λ, I=amps, R=R) == pytest.approx(at_terminals, rel=1e-5)


def test_square_and_sine_are_kept_apart():
    """A 4 kW lamp of 200 V: 20 A on a square wave, 24 A on a sine at a lamp power factor of 0.833. Generic lamp data, from memory."""
    square = solve(arc=Arc(voltage=200, current=20), resistance=0.1, source=Source(power=4000, makes_up=True))
    sine = solve(arc=Arc(voltage=200, current=24.0096, factor=0.833), resistance=0.1, source=Source(power=4000, makes_up=True))

    assert square.current == pytest.approx(20)
    assert sine.current == pytest.approx(24.01, abs=0.005)
    assert (sine.output - 4000) / (square.output - 4000) == pytest.approx(1 / 0.833**2)


def test_an_arc_above_the_voltage_ceiling_goes_out():
    """A ballast that cannot reach the arc's voltage drives no current."""
    point = solve(arc=Arc(voltage=200, current=20), resistance=0.1, source=Source(power=4000, makes_up=True, most_voltage=190))

    assert (point.current, point.ceiling) == (0.0, "voltage")


@pytest.mark.parametrize(("source", "by_hand", "ceiling"), [
    (Source(power=1000, makes_up=False), (1000 - 970) / 9.7**2, "power"),
    (Source(power=1000, makes_up=True, most_power=1080), (1080 - 970) / 9.7**2, "power"),
    (Source(power=1000, makes_up=True, most_power=1080, most_voltage=105), (105 - 100) / 9.7, "voltage"),
    (Source(power=1000, makes_up=True, most_power=1080, most_current=9.0), 0.0, "current"),
])
def test_the_longest_cable_by_hand(source, by_hand, ceiling):
    """97 % of 1000 W at 100 V is 9.7 A: what the output leaves over, or the voltage, divided by the current."""
    found = reach(arc=Arc(voltage=100, current=10), power=970, source=source)

    assert (found.resistance, found.ceiling) == (pytest.approx(by_hand), ceiling)


@given(st.floats(0.6, 1), st.floats(0, 8), st.booleans(), st.floats(0.5, 0.999), st.floats(1.01, 1.5), st.floats(1.01, 1.6))
def test_at_its_longest_the_cable_leaves_just_that_power(λ, slope, makes_up, share, power, voltage):
    """Solving at the resistance that `reach` gives returns the power that was asked for, with that ceiling or none other."""
    arc = Arc(voltage=100, current=1000 / (λ * 100), factor=λ, slope=slope)
    source = Source(power=1000, makes_up=makes_up, most_power=1000 * power, most_voltage=100 * voltage)
    found = reach(arc=arc, power=1000 * share, source=source)
    point = solve(arc=arc, resistance=found.resistance, source=source)

    if found.resistance > 0:
        assert point.lamp_power == pytest.approx(1000 * share, rel=1e-6)


@given(st.floats(0.01, 5), st.floats(0.01, 5))
def test_more_cable_never_helps_the_lamp(R, more):
    """Lamp power falls or stays when the head cable grows."""
    arc, source = Arc(voltage=100, current=10, slope=0.5), Source(power=1000, makes_up=True, most_power=1050, most_current=inf, most_voltage=110)

    assert solve(arc=arc, resistance=R + more, source=source).lamp_power <= solve(arc=arc, resistance=R, source=source).lamp_power * (1 + 1e-12)


def test_the_makeup_costs_the_supply_its_share():
    """100 W of loss behind an efficiency of 0.92 and a power factor of 0.98 at 230 V is 0.482 A."""
    assert cables.extra_current(P_v=100, η=0.92, λ=0.98, V=230) == pytest.approx(100 / 0.92 / 0.98 / 230)
