"""Voltage drop as the rule books reckon it, and how much of it they recommend.

The power flow gives the drop that counts; these are for comparison with the books, and for their limits.
"""

from math import cos, sin, sqrt

from pycore.base.law import Var, law
from pycore.base.result import Origin, term
from pycore.base.source import Cite

ANNEX_G = Cite("iec-60364-5-52", "Annex G")
THEORY = Cite("circuit-theory")
TABLE_9 = Cite("nec", "Chapter 9, Table 9, note 2")
_I = Var("current", "A", 0)
_L = Var("length", "m", 0)
_Z = Var("effective impedance", "Ω/kft", 0)

LONG_RUN = {
    "L_0": term(100.0, "m", "length without allowance", origin=Origin.PUBLISHED, cite=ANNEX_G),
    "a": term(0.00005, "%/m", "allowance", origin=Origin.PUBLISHED, cite=ANNEX_G),
    "d_1": term(0.005, "%", "largest allowance", origin=Origin.PUBLISHED, cite=ANNEX_G),
}


@law("u = b*(ρ_1*L/S*cos(φ) + λ*L*sin(φ))*I_B", "Voltage drop by the wiring standard", u=Var("voltage drop", "V"), b=Var("2 for single phase, 1 for three", "", 1, 2),
     ρ_1=Var("resistivity in normal service", "Ω·m", 0), L=_L, S=Var("conductor size", "mm²", 1e-3), φ=Var("angle of the load", "rad", -1.6, 1.6),
     λ=Var("reactance per length", "mΩ/m", 0), I_B=_I, source=ANNEX_G)
def annex_g(*, b: float, ρ_1: float, L: float, S: float, φ: float, λ: float, I_B: float) -> float:
    """Drop in V, line to neutral; for three phases its percentage counts on the voltage to neutral, too."""
    return b * (ρ_1 * L / S * cos(φ) + λ * L * sin(φ)) * I_B


@law("d = d_0 + min(a*max(L - L_0, 0*L), d_1)", "Recommended limit with the allowance for a long run", d=Var("recommended limit", "%"), d_0=Var("recommended limit", "%", 0),
     a=Var("allowance", "%/m", 0), L=_L, L_0=Var("length without allowance", "m", 0), d_1=Var("largest allowance", "%", 0), source=Cite("iec-60364-5-52", "Table G.52.1"))
def long_run_limit(*, d_0: float, a: float, L: float, L_0: float, d_1: float) -> float:
    """Limit as a share of nominal voltage for a run of L (m)."""
    return d_0 + min(a * max(L - L_0, 0.0), d_1)


@law("d = d_0", "Recommended limit", d=Var("recommended limit", "%"), d_0=Var("recommended limit", "%", 0), source=Cite("nec", "notes to 210.19 and 215.2(A)(2)"))
def flat_limit(*, d_0: float) -> float:
    """The limit itself."""
    return d_0


@law("V = m*I*L", "Voltage drop by the table", V=Var("voltage drop", "V"), m=Var("tabled drop", "mV/A/m", 0), I=_I, L=_L, source=Cite("bs-7671", "Appendix 4, clause 6"))
def tabled_drop(*, m: float, I: float, L: float) -> float:  # noqa: E741
    """Drop in V of I (A) over L (m); single phase: line to neutral, three-phase: line to line."""
    return m * I * L


@law("Z = R*λ_1 + X*sqrt(1 - λ_1**2)", "Effective impedance to neutral", Z=_Z, R=Var("resistance", "Ω/kft", 0), X=Var("reactance", "Ω/kft", 0),
     λ_1=Var("displacement factor", "", 0, 1), source=TABLE_9)
def effective_impedance(*, R: float, X: float, λ_1: float) -> float:
    """Effective impedance in Ω/m at a displacement factor λ_1, lagging."""
    return R * λ_1 + X * sqrt(1 - λ_1**2)


@law("V = 2*Z*I*L", "Voltage drop out and back", V=Var("voltage drop", "V"), Z=_Z, I=_I, L=_L, source=THEORY)
def out_and_back(*, Z: float, I: float, L: float) -> float:  # noqa: E741
    """Drop in V of a single-phase run."""
    return 2 * Z * I * L


@law("V = Z*I*L", "Voltage drop to neutral of a balanced run", V=Var("voltage drop to neutral", "V"), Z=_Z, I=_I, L=_L, source=THEORY)
def one_way(*, Z: float, I: float, L: float) -> float:  # noqa: E741
    """Drop in V to neutral of a balanced three-phase run; a return current it has not."""
    return Z * I * L


@law("V_LL = sqrt(3)*V", "The same between lines", V_LL=Var("voltage drop between lines", "V"), V=Var("voltage drop to neutral", "V"), source=THEORY)
def between_lines(*, V: float) -> float:
    """Drop in V between lines of a balanced run: √3 times that to neutral."""
    return sqrt(3) * V


@law("I_f = I*f", "Tabled current with a factor", I_f=Var("most that the connectors allow", "A"), I=Var("tabled current", "A", 0), f=Var("factor", "", 0, 2), source=Cite("circuit-theory", "product of the rule set's factors"))
def with_factor(*, I: float, f: float) -> float:  # noqa: E741
    """Current in A."""
    return I * f
