"""Residual current devices: how much standing current they allow, and what loop they suffice for."""

from pycore.base.law import Var, law
from pycore.base.result import Term
from pycore.base.source import Cite
from pycore.base.table import table

_R = Var("rated residual current", "mA", 0.1)


@law("I_b = s*I_r", "Standing earth current that it allows", I_b=Var("standing current allowed", "mA"), s=Var("share of the rated residual current", "%", 0, 100), I_r=_R,
     source=Cite("circuit-theory", "the rule is in the share"))
def budget(*, s: float, I_r: float) -> float:
    """Current in A that may stand in the protective conductors below a device of I_r (A)."""
    return s * I_r


@law("Z_r = U_L/I_r", "Largest loop for a residual device", Z_r=Var("largest loop impedance", "Ω"), U_L=Var("touch voltage limit", "V", 0), I_r=_R, source=Cite("circuit-theory", "Ohm's law"))
def largest_loop(*, U_L: float, I_r: float) -> float:
    """Loop or electrode in Ω at which I_r (A) raises touched metal to no more than U_L (V)."""
    return U_L / I_r


def break_time(multiple: float, delayed: bool) -> Term | None:
    """Longest break time at a multiple of the rated residual current; None below one: it need not open. Published."""
    times = table("residual-times")
    reached = [k for k, _ in times.pairs("general") if k <= multiple * (1 + 1e-9)]
    return times.cell(max(reached), "selective" if delayed else "general", "break time") if reached else None
