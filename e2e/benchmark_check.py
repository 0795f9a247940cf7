"""What a check of a whole rig costs in the browser's worker, and where the time goes.

    .venv/bin/python e2e/benchmark.py check

Generic rigs of our own: three phases, boxes of six lamps in chains of four, a run of its own for each lamp. For each size the
median of several edits, each of another length of the first lamp's run, in the three ways in which the page asks: for the open
lamp while somebody types, for all lamps, and with advice. The curves against the number of lamps go to .cache/benchmarks/check.svg.
"""

from statistics import median

from playwright.sync_api import Page

SIZES, ROUNDS = (5, 10, 20, 50, 100, 200), 9
WAYS = {"typing": {"advise": False, "others": False}, "all lamps": {"advise": False}, "with advice": {"advise": True}}
AIMS = {20: 60, 200: 600}  # ms
LINES = ("L1-N", "L2-N", "L3-N")
# One question as the page puts it: core = inside the worker's door, message = there and back, parse and unpack = on the page.
TIMED = """async ([rig, way, rounds]) => {
  const at = (path) => new URL(path, document.baseURI);
  const [{ call }, { unpack }] = [await import(at('app/core/client.js')), await import(at('app/state/unpack.js'))];
  const found = [];
  for (let i = 0; i < rounds + 1; i++) {
    rig.runs.K0.length = `${11 + i} m`;
    const start = performance.now();
    const answer = await call('check', { rig, changes: [], load: '', shot: '', show: { length: 'm' }, compact: true, ...way });
    const end = performance.now();
    const { detail } = performance.getEntriesByName('core-answer').at(-1);
    unpack(answer);
    found.push({ whole: end - start, core: detail.core, parse: detail.parse, message: end - start - detail.core - detail.parse,
                 unpack: performance.now() - end, kB: detail.length / 1000 });
    await new Promise((done) => setTimeout(done, 30));
  }
  return found.slice(1);
}"""


def rig(lamps: int) -> dict:
    """A rig document of `lamps` loads of three kinds."""
    boxes = {f"B{b}": {"name": f"Box {b}", "fed_by": f"F{b}"} for b in range(-(-lamps // 6))}
    feeders = {f"F{b}": {"name": f"Feeder {b}", "fed_by": f"B{b - 1}" if b % 4 else "supply", "length": "15 m", "size": "35 mm²"} for b in range(len(boxes))}
    runs = {f"K{n}": {"fed_by": f"B{n // 6}", "length": f"{10 + n % 7 * 5} m", "size": "2.5 mm²"} for n in range(lamps)}
    supply = {"name": "Tie-in", "kind": "mains", "system": "three-phase wye", "voltage": "230 V", "frequency": "50 Hz", "rating": "400 A", "impedance": "0.02 Ω"}
    return {"format": "feed to frame rig", "schema": 1, "name": f"{lamps} lamps", "rules": "iec", "supply": supply, "runs": {**feeders, **runs},
            "boxes": boxes, "loads": {f"A{n}": _load(n) for n in range(lamps)}, "shots": {"S1": {"frame_rate": "25 fps", "shutter": "180°"}}}  # fmt: skip


def _load(n: int) -> dict:
    at = {"fed_by": f"K{n}", "connection": LINES[n % 3]}
    if n % 4 == 0:
        return {"kind": "tungsten", "lamp": {"rated_power": "1 kW"}, **at}
    if n % 4 == 1:
        return {"kind": "LED", "lamp": {"rated_power": "300 W"}, "ballast": {}, **at}
    kind = "electronic corrected" if n % 4 == 2 else "magnetic"
    return {"kind": "arc lamp", "lamp": {"rated_power": "575 W"}, "ballast": {"kind": kind}, "head_cable": {}, **at}


def measure(page: Page, lamps: int, way: str, rounds: int = ROUNDS) -> dict[str, float]:
    """Medians in ms, and the size of the answer in kB."""
    rows = page.evaluate(TIMED, [rig(lamps), WAYS[way], rounds])
    return {name: median(row[name] for row in rows) for name in rows[0]}


def table(page: Page) -> dict[str, list[tuple[int, float]]]:
    """Print every size; the points of each way's curve."""
    curves: dict[str, list[tuple[int, float]]] = {way: [] for way in WAYS}
    measure(page, SIZES[0], "with advice")  # the interpreter's own code is compiled further while it is used
    for lamps in SIZES:
        for way, curve in curves.items():
            found = measure(page, lamps, way)
            curve.append((lamps, found["whole"]))
            split = ", ".join(f"{name} {found[name]:.0f}" for name in ("core", "message", "parse", "unpack"))
            aim = f"   (aim: {AIMS[lamps]} ms)" if lamps in AIMS and way != "with advice" else ""
            print(f"{lamps:4} lamps, {way:11} {found['whole']:7.0f} ms = {split}; {found['kB']:.0f} kB{aim}", flush=True)
    return curves


def drawn(curves: dict[str, list[tuple[int, float]]]) -> str:
    """Cost against the number of lamps, 600 by 360."""
    most = max(t for curve in curves.values() for _, t in curve)
    parts = []
    for (way, curve), dashes in zip(curves.items(), ("2 3", "6 4", ""), strict=True):
        spots = [(60 + 500 * n / SIZES[-1], 320 - 290 * t / most) for n, t in curve]
        line = " ".join(f"{x:.1f},{y:.1f}" for x, y in spots)
        dots = "".join(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3"/>' for x, y in spots)
        parts.append(f'<polyline points="{line}" fill="none" stroke="black" stroke-dasharray="{dashes}"/>{dots}'
                     f'<text x="{spots[-1][0]:.1f}" y="{spots[-1][1] - 8:.1f}" text-anchor="end">{way}: {curve[-1][1]:.0f} ms</text>')  # fmt: skip
    marks = "".join(f'<text x="{60 + 500 * n / SIZES[-1]:.1f}" y="336" text-anchor="middle">{n}</text>' for n in SIZES if n >= 20)
    return (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 600 360" font-family="sans-serif" font-size="12"><path d="M60 20V320H580" fill="none" stroke="black"/>'
            f'{"".join(parts)}{marks}<text x="320" y="354" text-anchor="middle">lamps</text></svg>\n')  # fmt: skip
