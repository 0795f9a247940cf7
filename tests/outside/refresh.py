"""Solve every case again with OpenDSS and write its model.dss and answer.json.

    pip install opendssdirect.py
    python -m tests.outside.refresh [case ...]

The model is written from input.json alone, by this file; the core's own solver has no part in it.
"""

import sys
from typing import Any

from tests.outside.reading import CASES, case_names, read

TERMINAL = {"L1": 1, "L2": 2, "L3": 3, "N": 4}
ANGLES = {"three-phase wye": (("L1", 0), ("L2", -120), ("L3", 120)), "split-phase": (("L1", 0), ("L2", 180)), "single-phase": (("L1", 0),)}
MODELS = {0.0: "model=1", 1.0: "model=5", 2.0: "model=2"}


def model(given: dict[str, Any]) -> list[str]:
    """The OpenDSS commands of a case."""
    lines = ["Clear", f"Set DefaultBaseFrequency={given['frequency']}", *_source(given["source"])]
    lines += [_line(b) for b in given["branches"]]
    lines += [_load(x) for x in given["loads"]]
    return [*lines, "Set mode=snapshot controlmode=off maxiterations=2000 tolerance=1e-10", "Solve"]


def bus(name: str, conductors: list[str]) -> str:
    """A bus with its terminals."""
    return ".".join([name.replace(" ", "_"), *(str(TERMINAL[c]) for c in conductors)])


def _source(s: dict[str, Any]) -> list[str]:
    r, x = s["line"]
    found = []
    for n, (line, angle) in enumerate(ANGLES[s["system"]]):
        head = "New Circuit.case" if n == 0 else f"New Vsource.{line}"
        found.append(f"{head} phases=1 bus1={bus(s['node'], [line])} basekv={s['voltage'] / 1000} pu=1 angle={angle} R1={r} X1={x} R0={r} X0={x}")
    r, x = s["neutral"]
    return [*found, f"New Reactor.neutral phases=1 bus1={bus(s['node'], ['N'])} bus2={s['node'].replace(' ', '_')}.0 R={r} X={x}"]


def _line(b: dict[str, Any]) -> str:
    conductors, n = list(b["wires"]), len(b["wires"])
    mutual = b.get("mutual") or [[0.0] * n for _ in range(n)]
    ohms = [b["wires"][c][0] + b.get("joint", {}).get(c, 0.0) for c in conductors]
    r = "|".join(" ".join(repr(ohms[i]) if i == j else "0" for j in range(i + 1)) for i in range(n))
    x = "|".join(" ".join(repr(b["wires"][conductors[i]][1] if i == j else mutual[i][j]) for j in range(i + 1)) for i in range(n))
    ends = [b.get("ends", {}).get(c, c) for c in conductors]
    return (f"New Line.{b['id']} phases={n} bus1={bus(b['start'], conductors)} bus2={bus(b['end'], ends)} length=1 units=none "
            f"rmatrix=[{r}] xmatrix=[{x}] cmatrix=[{'|'.join(' '.join(['0'] * (i + 1)) for i in range(n))}]")


def _load(x: dict[str, Any]) -> str:
    k = x["exponent"]
    kind = MODELS.get(k, f"model=4 CVRwatts={k} CVRvars={k}")
    return (f"New Load.{x['id']} phases=1 conn={'wye' if x['b'] == 'N' else 'delta'} bus1={bus(x['node'], [x['a'], x['b']])} kv={x['voltage'] / 1000} "
            f"kw={x['power'] / 1000} kvar={x['reactive'] / 1000} {kind} vminpu=0.05 vlowpu=0.02 vmaxpu=3")


def solve(name: str) -> dict[str, Any]:
    """OpenDSS's answer to a case."""
    import opendssdirect as dss

    given = read(name, "input.json")
    for command in model(given):
        dss.Text.Command(command)
    if not dss.Solution.Converged():
        raise RuntimeError(f"{name}: OpenDSS did not converge")
    names = {t: c for c, t in TERMINAL.items()}
    volts: dict[str, dict[str, list[float]]] = {}
    for node in [given["source"]["node"], *(b["end"] for b in given["branches"])]:
        dss.Circuit.SetActiveBus(node.replace(" ", "_"))
        flat = dss.Bus.Voltages()
        volts[node] = {names[t]: [round(flat[2 * i], 6), round(flat[2 * i + 1], 6)] for i, t in enumerate(dss.Bus.Nodes())}
    neutral = {}
    for b in given["branches"]:
        dss.Circuit.SetActiveElement(f"Line.{b['id']}")
        flat, ends = dss.CktElement.Currents(), [b.get("ends", {}).get(c, c) for c in b["wires"]]
        if "N" in ends:
            at = ends.index("N")
            neutral[b["id"]] = [round(flat[2 * at], 6), round(flat[2 * at + 1], 6)]
    version = "; ".join(part.strip() for part in dss.Basic.Version().splitlines()).replace(" ; ", "; ")
    return {"engine": version, "iterations": dss.Solution.Iterations(), "volts": volts, "neutral": neutral}


def main() -> None:
    import json

    for name in sys.argv[1:] or case_names():
        (CASES / name / "model.dss").write_text("\n".join(model(read(name, "input.json"))) + "\n", "utf-8")
        answer = solve(name)
        parts = [f' "{k}": {json.dumps(v)}' for k, v in answer.items() if k not in ("volts", "neutral")]
        for k in ("volts", "neutral"):
            rows = ",\n".join(f"  {json.dumps(i)}: {json.dumps(v)}" for i, v in answer[k].items())
            parts.append(f' "{k}": {{\n{rows}\n }}')
        (CASES / name / "answer.json").write_text("{\n" + ",\n".join(parts) + "\n}\n", "utf-8")
        print(name, answer["iterations"], "iterations")


if __name__ == "__main__":
    main()
