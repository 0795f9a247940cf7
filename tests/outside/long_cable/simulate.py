"""Rectifiers of constant power at the end of cables and behind generators, solved in the time domain: no phasors, no angles.

    python simulate.py > answer.json

A sine behind a resistance and a coil feeds bridges of diodes, each with a resistance and a coil of its own, a reservoir capacitor of
finite size and a load that takes constant power from it. The circuit runs until a period repeats, then one period is taken apart.
A regulated generator is one whose sine is raised until the fundamental at its terminals has the wanted voltage.
"""

import json
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import numpy as np
import scipy
from scipy.integrate import solve_ivp

CIRCUIT = json.loads((Path(__file__).parent / "circuit.json").read_text())
OMEGA = 2 * np.pi * CIRCUIT["frequency"]
N = 8192  # samples of the last period
DIODES = 1.4  # V, two in series
LATE = 0.35  # rad: a half-cycle of the rectified sine is counted from this much behind its zero, since a coil draws a pulse out beyond it
ORDERS = 50  # of a voltage's distortion, as analysers count


def half_cycle(t):
    """Sign of the half-cycle that a pulse at this time belongs to."""
    return np.sign(np.cos(OMEGA * t - LATE))


def derivative(t, state, emf, R, L, ballasts):
    """Time derivative of the rectified line currents and of the reservoirs' voltages, ballast after ballast.

    Those with current, or with more voltage before them than they hold, conduct; what they share settles the voltage that the others see.
    """
    n = len(ballasts)
    amps, store = state[:n], state[n:]
    there = emf * np.cos(OMEGA * t) * half_cycle(t)
    drop = R * sum(max(i, 0.0) for i in amps)
    on = [i > 0 for i in amps]
    while True:
        behind = [(b["L"], there_at_rest(b, i, v)) for b, i, v, runs in zip(ballasts, amps, store, on, strict=True) if runs]
        at_node = (there - drop + L * sum(v / coil for coil, v in behind)) / (1 + L * sum(1 / coil for coil, _ in behind))
        more = [runs or at_node > there_at_rest(b, i, v) for b, i, v, runs in zip(ballasts, amps, store, on, strict=True)]
        if more == on:
            break
        on = more
    slopes = [(at_node - there_at_rest(b, i, v)) / b["L"] if runs else 0.0 for b, i, v, runs in zip(ballasts, amps, store, on, strict=True)]
    return [*slopes, *((max(i, 0.0) - b["power"] / v) / b["C"] for b, i, v in zip(ballasts, amps, store, strict=True))]


def there_at_rest(b, amps, store):
    """Voltage before a ballast's coil at which its current stays as it is."""
    return b["R"] * amps + store + DIODES


def simulate(emf, R, L, ballasts):
    """Line current of every ballast over the last period, how far it is from the one before, and whether no pulse ran into the next."""
    period, n = 1 / CIRCUIT["frequency"], len(ballasts)
    t = np.arange(2 * N) / N * period + (CIRCUIT["periods"] - 2) * period
    start = [0.0] * n + [1.25 * CIRCUIT["voltage"]] * n
    run = solve_ivp(derivative, (0, CIRCUIT["periods"] * period), start, "RK45", t, args=(np.sqrt(2) * emf, R, L, ballasts), rtol=1e-7, atol=1e-7, max_step=period / 4000)
    amps = np.maximum(run.y[:n], 0)
    turning = np.flatnonzero(np.diff(half_cycle(t)))
    return (half_cycle(t) * amps)[:, N:], float(np.abs(amps[:, N:] - amps[:, :N]).max()), bool(amps[:, turning].max() < 1e-3)


def orders(wave):
    """Rms phasors by order."""
    return 2 * np.fft.rfft(wave) / N / np.sqrt(2)


def ballast(kind, cable_R, cable_L):
    """A kind of ballast with its cable, in henry and ohm."""
    own = CIRCUIT["ballasts"][kind]
    return {"power": own["power"], "C": own["store_C"], "R": own["inner_R"] + cable_R, "L": own["inner_L"] + cable_L}


def shown(amps, volts):
    """What a meter shows of a current (A, samples) and the voltage (V, by order) that drives it."""
    parts, rms = orders(amps), float(np.sqrt(np.mean(amps**2)))
    first, turned = parts[1], volts[1] / abs(volts[1])
    return {"power": float((volts * parts.conjugate()).real[:ORDERS + 1].sum()), "fundamental_power": float((volts[1] * first.conjugate()).real),
            "fundamental_reactive": float((volts[1] * first.conjugate()).imag), "voltage": float(abs(volts[1])), "current": rms,
            "distortion": float(np.sqrt((rms / abs(first)) ** 2 - 1)), "voltage_distortion": float(np.linalg.norm(volts[2:ORDERS + 1]) / abs(volts[1])),
            "third": float(abs(parts[3] / first)), "third_angle": float(np.angle(parts[3] / turned**3)), "fifth": float(abs(parts[5] / first)), "fifth_angle": float(np.angle(parts[5] / turned**5))}


def behind_impedance(emf, amps, R, X):
    """Voltage by order behind R + jX of a sine of `emf` volts."""
    h = np.arange(N // 2 + 1)
    return np.where(h == 1, emf, 0) - (R + 1j * X * h) * orders(amps)


def cable(R, L):
    """The one ballast of `power` at the end of a cable."""
    (amps,), repeat, apart = simulate(CIRCUIT["voltage"], R, L, [{"power": CIRCUIT["power"], "C": CIRCUIT["store_C"], "R": CIRCUIT["inner_R"], "L": CIRCUIT["inner_L"]}])
    return {"R": R, "L": L, "difference_of_last_two_periods": repeat, "pulses_apart": apart, **shown(amps, behind_impedance(CIRCUIT["voltage"], amps, R, OMEGA * L))}


def generator(g):
    """Ballasts behind a generator, each on its own cable."""
    ballasts = [ballast(kind, r, 0.0) for kind, r in zip(g["ballasts"], g["cable_R"], strict=True)]
    emf = CIRCUIT["voltage"]
    for _ in range(5 if g["regulated"] else 1):
        amps, repeat, apart = simulate(emf, g["R"], g["X"] / OMEGA, ballasts)
        terminals = behind_impedance(emf, amps.sum(axis=0), g["R"], g["X"])
        missed = abs(terminals[1]) - CIRCUIT["voltage"] if g["regulated"] else 0.0
        if abs(missed) < 1e-3:
            break
        emf -= missed
    at_ballasts = [shown(i, terminals - r * orders(i)) for i, r in zip(amps, g["cable_R"], strict=True)]
    return {**g, "emf": float(emf), "difference_of_last_two_periods": repeat, "pulses_apart": apart, "terminals": shown(amps.sum(axis=0), terminals), "at_ballasts": at_ballasts}


def stiff(kind):
    """A kind of ballast on a supply without impedance."""
    (amps,), repeat, apart = simulate(CIRCUIT["voltage"], 0.0, 0.0, [ballast(kind, 0.0, 0.0)])
    return kind, {"difference_of_last_two_periods": repeat, "pulses_apart": apart, **shown(amps, behind_impedance(CIRCUIT["voltage"], amps, 0.0, 0.0))}


def main():
    with ProcessPoolExecutor() as pool:
        alone, cables, generators = pool.map(stiff, CIRCUIT["ballasts"]), pool.map(cable, CIRCUIT["cable_R"], CIRCUIT["cable_L"]), pool.map(generator, CIRCUIT["generators"])
        found = {"cables": list(cables), "stiff": dict(alone), "generators": list(generators)}
    print(json.dumps({"circuit": CIRCUIT, "made_by": f"scipy {scipy.__version__}, numpy {np.__version__}", **found}, indent=1))


if __name__ == "__main__":
    main()
