"""Rectifier loads that share a neutral, solved in the time domain: no phasors, no orders, no nodes.

    python simulate.py > answer.json

Three phases, each a sine behind a resistance and a coil, come back through one neutral with its own resistance and coil.
Each load is a bridge of diodes into a reservoir capacitor with a resistor across it, a small capacitor before the bridge and
a resistance in it; a filament is a resistor beside the second. The circuit runs until a period repeats, then one period is
taken apart by discrete Fourier transform.
"""

import json
from pathlib import Path

import numpy as np
import scipy
from scipy.integrate import solve_ivp

CIRCUIT = json.loads((Path(__file__).parent / "circuit.json").read_text())
N = 4096  # samples of the last period


def derivative(t, state, c, inverse):
    """Time derivative of line currents, input voltages and reservoir voltages."""
    amps, inputs, stores = state[:3], state[3:6], state[6:]
    emf = np.sqrt(2) * c["voltage"] * np.cos(2 * np.pi * c["frequency"] * t - 2 * np.pi / 3 * np.arange(3))
    through = bridge(inputs, stores, c)
    d_amps = inverse @ (emf - c["line_R"] * amps - c["neutral_R"] * amps.sum() - inputs)
    d_inputs = (amps - np.sign(inputs) * through - inputs * c["filament_G"]) / c["input_C"]
    d_stores = (through - stores / c["load_R"]) / c["store_C"]
    return np.concatenate([d_amps, d_inputs, d_stores])


def bridge(inputs, stores, c):
    """Current through the bridge, smooth within a tenth of a volt of where the diodes open."""
    excess = (np.abs(inputs) - 1.4 - stores) / 0.1
    return 0.1 * np.logaddexp(0, excess) / c["series_R"]


def simulate(c):
    """Currents and input voltages over the last period; and how far it is from the one before."""
    c = {k: np.array(v, float) if isinstance(v, list) else v for k, v in c.items()}
    inverse = np.linalg.inv(np.diag(c["line_L"]) + c["neutral_L"])
    period = 1 / c["frequency"]
    start = np.concatenate([np.zeros(6), np.full(3, 1.3 * c["voltage"])])
    t = np.arange(2 * N) / N * period + (c["periods"] - 2) * period
    run = solve_ivp(derivative, (0, c["periods"] * period), start, "LSODA", t, args=(c, inverse), rtol=1e-8, atol=1e-8, max_step=period / 400)
    before, last = run.y[:6, :N], run.y[:6, N:]
    # what a load draws: the line current less the filament's share; the little input capacitor belongs to the load
    own = last[:3] - last[3:] * c["filament_G"][:, None]
    return own, last[3:], last[:3], float(np.abs(last - before).max())


def orders(wave, highest):
    """Rms phasors by order, against cos(2π·f·t); even orders only where there are any."""
    parts = 2 * np.fft.rfft(wave) / len(wave) / np.sqrt(2)
    return {h: [float(f"{z.real:.6g}"), float(f"{z.imag:.6g}")] for h in range(1, highest + 1) for z in [parts[h]] if h % 2 or abs(z) > 1e-3}


def main():
    own, inputs, lines, repeat = simulate(CIRCUIT)
    high = CIRCUIT["highest_order"]
    take = lambda wave: orders(wave, high)  # noqa: E731
    answer = {
        "circuit": CIRCUIT,
        "made_by": f"scipy {scipy.__version__}, numpy {np.__version__}", "difference_of_last_two_periods": repeat,
        "loads": [{"current": take(own[k]), "voltage": take(inputs[k]), "power": float(np.mean(own[k] * inputs[k])),
                   "rms": float(np.sqrt(np.mean(own[k] ** 2))), "crest": float(np.abs(own[k]).max() / np.sqrt(np.mean(own[k] ** 2)))} for k in range(3)],
        "lines_rms": [float(np.sqrt(np.mean(lines[k] ** 2))) for k in range(3)],
        "neutral": take(lines.sum(0)), "neutral_rms": float(np.sqrt(np.mean(lines.sum(0) ** 2))),
    }
    print(json.dumps(answer, indent=1))


if __name__ == "__main__":
    main()
