"""One rectifier of constant power at the end of ever longer cables, solved in the time domain: no phasors, no angles.

    python simulate.py > answer.json

A sine behind a resistance and a coil feeds a bridge of diodes with a resistance of its own, a reservoir capacitor of finite size and
a load that takes constant power from it. The circuit runs until a period repeats, then one period is taken apart.
"""

import json
from pathlib import Path

import numpy as np
import scipy
from scipy.integrate import solve_ivp

CIRCUIT = json.loads((Path(__file__).parent / "circuit.json").read_text())
N = 8192  # samples of the last period
DIODES = 1.4  # V, two in series


def derivative(t, state, c, R, L):
    """Time derivative of the rectified line current and of the reservoir's voltage."""
    amps, store = state
    emf = abs(np.sqrt(2) * c["voltage"] * np.cos(2 * np.pi * c["frequency"] * t))
    drive = emf - (R + c["inner_R"]) * amps - store - DIODES
    return [(drive if amps > 0 or drive > 0 else 0.0) / (L + c["inner_L"]), (max(amps, 0.0) - c["power"] / store) / c["store_C"]]


def simulate(c, R, L):
    """Line current and voltage at the rectifier's terminals over the last period, and how far it is from the one before."""
    period = 1 / c["frequency"]
    t = np.arange(2 * N) / N * period + (c["periods"] - 2) * period
    run = solve_ivp(derivative, (0, c["periods"] * period), [0.0, 1.25 * c["voltage"]], "RK45", t, args=(c, R, L), rtol=1e-7, atol=1e-7, max_step=period / 4000)
    amps = np.maximum(run.y[0], 0)
    slope = np.array([derivative(when, state, c, R, L)[0] if i > 0 else 0.0 for when, state, i in zip(t, run.y.T, amps, strict=True)])
    wave = np.cos(2 * np.pi * c["frequency"] * t)
    volts = np.sqrt(2) * c["voltage"] * wave - np.sign(wave) * (R * amps + L * slope)
    return (np.sign(wave) * amps)[N:], volts[N:], float(np.abs(amps[N:] - amps[:N]).max())


def main():
    found = []
    for R, L in zip(CIRCUIT["cable_R"], CIRCUIT["cable_L"], strict=True):
        amps, volts, repeat = simulate(CIRCUIT, R, L)
        first, at = (2 * np.fft.rfft(w)[1] / N / np.sqrt(2) for w in (amps, volts))
        rms = float(np.sqrt(np.mean(amps**2)))
        found.append({"R": R, "L": L, "difference_of_last_two_periods": repeat, "power": float(np.mean(amps * volts)), "fundamental_power": float((at * first.conjugate()).real),
                      "fundamental_reactive": float((at * first.conjugate()).imag), "voltage": float(abs(at)), "current": rms, "distortion": float(np.sqrt((rms / abs(first)) ** 2 - 1)),
                      "third": float(abs(np.fft.rfft(amps)[3] / np.fft.rfft(amps)[1]))})
    print(json.dumps({"circuit": CIRCUIT, "made_by": f"scipy {scipy.__version__}, numpy {np.__version__}", "cables": found}, indent=1))


if __name__ == "__main__":
    main()
