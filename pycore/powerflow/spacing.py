"""Single-core cables laid apart: the wider the loop, the more reactance, in each core and between cores."""

from collections.abc import Sequence
from math import hypot, log, pi, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite

THEORY = Cite("circuit-theory", "two long parallel wires")
MU_0 = 4e-7 * pi
SOLID = 0.7788  # geometric mean radius over radius of a round conductor: e^(-1/4)


@law("x = μ_0*f*log(d/g)", "Reactance of one core of a pair laid apart", x=Var("reactance per length", "mΩ/m"), μ_0=Var("4π·1e-7 H/m", "H/m", 1e-6, 2e-6),
     f=Var("frequency", "Hz", 0), d=Var("distance of the cores' centres", "mm", 1e-3), g=Var("geometric mean radius of the conductor", "mm", 1e-3), source=THEORY)
def spaced_reactance(*, μ_0: float = MU_0, f: float, d: float, g: float) -> float:
    """Reactance in Ω/m per core; d and g in m, f in Hz."""
    return μ_0 * f * log(d / g)


def mean_radius(area: float) -> float:
    """Geometric mean radius (m) of a conductor of `area` (m²), taken as solid."""
    return SOLID * sqrt(area / pi)


def mutual(places: Sequence[tuple[float, float]], radii: Sequence[float], length: float, frequency: float) -> tuple[tuple[float, ...], ...]:
    """Reactance matrix (Ω) for `Branch.mutual` of parallel cores at `places` (m, m) with geometric mean `radii` (m).

    Only distances against each other count as long as the currents of the branch add up to nothing; 1 m is the yardstick.
    The diagonal holds the cores' own reactances: take it for `Wire.x` too.
    """
    def between(i: int, j: int) -> float:
        return radii[i] if i == j else hypot(places[i][0] - places[j][0], places[i][1] - places[j][1])

    n = range(len(places))
    return tuple(tuple(MU_0 * frequency * log(1 / between(i, j)) * length for j in n) for i in n)
