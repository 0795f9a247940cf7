"""The loop of an earth fault: its impedance, and the current that flows."""

from math import exp, hypot

from pycore.base.law import Var, law
from pycore.base.source import Cite

THEORY = Cite("circuit-theory")
_U = Var("voltage to earth", "V", 0)
_C = Var("voltage factor", "", 0.5, 1.2)
_T = Var("time since the fault", "s", 0)


@law("R = r*l/n", "Resistance of one conductor", R=Var("resistance", "Ω"), r=Var("resistance per length", "Ω/km", 0), l=Var("length", "m", 0), n=Var("equal sets in parallel", "", 1), source=THEORY)
def one_way(*, r: float, l: float, n: float) -> float:  # noqa: E741
    """Resistance in Ω of one conductor of length l (m), n sets in parallel."""
    return r * l / n


@law("Z_s = sqrt((Z_e + R_1 + R_2)**2 + X**2)", "Earth fault loop", Z_s=Var("loop impedance", "Ω"), Z_e=Var("loop at the outlet", "Ω", 0), R_1=Var("line conductors", "Ω", 0),
     R_2=Var("protective conductors", "Ω", 0), X=Var("reactance out and back", "Ω", 0), source=THEORY)
def loop(*, Z_e: float, R_1: float, R_2: float, X: float) -> float:
    """Loop impedance in Ω; the outlet's is taken as resistance, which gives the larger sum."""
    return hypot(Z_e + R_1 + R_2, X)


@law("I_f = c*U_0/Z_s", "Fault current", I_f=Var("fault current", "A"), c=_C, U_0=_U, Z_s=Var("loop impedance", "Ω", 1e-9), source=THEORY)
def fault_current(*, c: float, U_0: float, Z_s: float) -> float:
    """Current in A through a loop of Z_s (Ω); c is below 1 for the smallest and above 1 for the largest."""
    return c * U_0 / Z_s


@law("Z_m = c*U_0/I_a", "Largest loop impedance", Z_m=Var("largest loop impedance", "Ω"), c=_C, U_0=_U, I_a=Var("current that opens the device in time", "A", 1e-9), source=THEORY)
def largest_loop(*, c: float, U_0: float, I_a: float) -> float:
    """Loop impedance in Ω at which I_a (A) still flows."""
    return c * U_0 / I_a


@law("I_k = (I_s2 - I_s1)*exp(-t/T_s2) + (I_s1 - I_st)*exp(-t/T_s1) + I_st", "Short-circuit current of a generator over time", I_k=Var("short-circuit current", "A"),
     I_s2=Var("sub-transient current", "A", 0), I_s1=Var("transient current", "A", 0), I_st=Var("sustained current", "A", 0), T_s2=Var("sub-transient time constant", "s", 1e-4),
     T_s1=Var("transient time constant", "s", 1e-3), t=_T, source=Cite("iec-61363", "decay of the alternating component"))
def decayed(*, I_s2: float, I_s1: float, I_st: float, T_s2: float, T_s1: float, t: float) -> float:
    """Current in A at the terminals, t (s) after a short circuit there."""
    return (I_s2 - I_s1) * exp(-t / T_s2) + (I_s1 - I_st) * exp(-t / T_s1) + I_st


@law("X_t = U_0/I_k", "Reactance of the generator at that time", X_t=Var("reactance at that time", "Ω"), U_0=_U, I_k=Var("short-circuit current", "A", 1e-9), source=THEORY)
def reactance_at(*, U_0: float, I_k: float) -> float:
    """Reactance in Ω per phase that gives I_k (A) at the terminals."""
    return U_0 / I_k


@law("I_f = c*U_0/sqrt(R**2 + (X + X_t)**2)", "Fault current from a generator", I_f=Var("fault current", "A"), c=_C, U_0=_U, R=Var("resistance of the loop", "Ω", 0),
     X=Var("reactance of the cables", "Ω", 0), X_t=Var("reactance of the generator", "Ω", 1e-9), source=Cite("iec-61363"))
def from_generator(*, c: float, U_0: float, R: float, X: float, X_t: float) -> float:
    """Current in A through cables of R + jX (Ω) from a generator of X_t (Ω)."""
    return c * U_0 / hypot(R, X + X_t)


@law("I_3 = 2*I_1", "Fault between lines from the one to neutral", I_3=Var("fault current between lines", "A"), I_1=Var("line to neutral fault current", "A", 0),
     source=Cite("set-practice", "lines need no neutral to return by: at most twice"))
def between_lines(*, I_1: float) -> float:
    """Current in A of a fault between the lines, from the one to neutral."""
    return 2 * I_1


@law("I_1 = 3*I_3/2", "Fault to neutral of a generator", I_1=Var("line to neutral fault current", "A"), I_3=Var("fault current of all lines", "A", 0),
     source=Cite("iec-61363", "symmetrical components with a zero-sequence reactance of nothing: at most one and a half times"))
def to_neutral(*, I_3: float) -> float:
    """Largest current in A of a fault to neutral at a generator, from the one between all lines."""
    return 3 * I_3 / 2
