"""Cost against number of lamps, drawn as SVG into the cache folder: a straight line through the origin is what we want.

    python -m tests.benchmarks.plot
"""

from pathlib import Path
from time import process_time

from pycore.powerflow.operate import operate
from tests.benchmarks.rigs import rig, warm

SIZES = (5, 10, 20, 40, 60, 100, 150, 200)


def cost(lamps: int) -> float:
    """Best of five, s."""
    net, best = rig(lamps), float("inf")
    for _ in range(5):
        start = process_time()
        operate(net, warm)
        best = min(best, process_time() - start)
    return best


def drawn(points: list[tuple[int, float]]) -> str:
    """A plain chart, 600 by 360."""
    most, right = max(t for _, t in points), points[-1][0]
    spots = [(60 + 520 * n / right, 320 - 290 * t / most) for n, t in points]
    line = " ".join(f"{x:.1f},{y:.1f}" for x, y in spots)
    labels = "".join(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4"/><text x="{x:.1f}" y="338" text-anchor="middle">{n}</text>' for (x, y), (n, _) in zip(spots, points, strict=True))
    return (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 600 360" font-family="sans-serif" font-size="12">'
            f'<path d="M60 20V320H590" fill="none" stroke="black"/><polyline points="{line}" fill="none" stroke="black"/>{labels}'
            f'<text x="56" y="34" text-anchor="end">{most * 1e3:.0f} ms</text><text x="325" y="356" text-anchor="middle">lamps</text></svg>\n')


def main() -> None:
    points = [(n, cost(n)) for n in SIZES]
    for n, t in points:
        print(f"{n:4d} lamps {t * 1e3:7.1f} ms {t / n * 1e6:6.0f} µs a lamp")
    target = Path(".cache/benchmarks/cost.svg")
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_text(drawn(points), "utf-8")


if __name__ == "__main__":
    main()
