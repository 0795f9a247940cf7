"""How large a neutral the harmonics ask for, by either rule set."""

from dataclasses import dataclass

from pycore.base.law import Var, law, work
from pycore.base.problem import refuse
from pycore.base.result import Step, Term
from pycore.base.source import Cite
from pycore.base.table import table

ANNEX_E = Cite("bs-7671", "Table 4Aa")
EXCESS = 1.35  # neutral over line current from which the lines are never fully loaded; memory


@law("I_N = 3*h_3*I_b", "Neutral current of the third harmonic", I_N=Var("neutral current", "A"), h_3=Var("third harmonic, share of line current", "%", 0, 100),
     I_b=Var("line current", "A", 0), source=ANNEX_E)
def third_harmonic_neutral(*, h_3: float, I_b: float) -> float:
    """Neutral current in A of three equal lines of I_b (A)."""
    return 3 * h_3 * I_b


@law("I_r = I/f", "Current that the cable must be rated for", I_r=Var("current to choose the cable by", "A"), I=Var("current that counts", "A", 0),
     f=Var("reduction factor", "", 0.1, 1), source=ANNEX_E)
def required_rating(*, I: float, f: float) -> float:  # noqa: E741
    """Current in A to choose the cable by."""
    return I / f


@dataclass(frozen=True, slots=True)
class Sizing:
    """Chosen by "line" or "neutral" current; `lines_spare` where the neutral is so loaded that the lines never fill up."""

    on: str
    steps: tuple[Step, ...]
    required: Term
    lines_spare: bool


def size_neutral(*, line: Term, third: Term) -> Sizing:
    """Annex E: the current (A) to choose a four- or five-core cable by, from line current and its share of third harmonic.

    Raises `Refused` for a share that is negative or above 100 %.
    """
    if not 0 <= third.value <= 1:
        raise refuse("outside-range", "The share of third harmonic lies between 0 and 100 %", "Check the spectrum", third.address)
    rows = table("neutral-third-harmonic")
    above = max((v for v, _ in [*rows.pairs("on_line"), *rows.pairs("on_neutral")] if v < third.value or v == 0), default=0.0)
    on = "line" if any(v == above for v, _ in rows.pairs("on_line")) else "neutral"
    factor = rows.cell(above, f"on_{on}", "reduction factor")
    neutral = work(third_harmonic_neutral, h_3=third, I_b=line)
    required = work(required_rating, I=line if on == "line" else neutral.result, f=factor)
    return Sizing(on, (neutral, required), required.result, neutral.result.value > EXCESS * line.value)


@dataclass(frozen=True, slots=True)
class Counted:
    """Does the neutral count among the current-carrying conductors, and why."""

    counts: bool
    why: str
    cite: Cite


def neutral_counts(*, system: str, lines: int, nonlinear: float) -> Counted:
    """North American rule; `system` as in the rig file, `lines` in the circuit, `nonlinear` share of its load.

    Raises `Refused` when the share is not between 0 and 1.
    """
    if not 0 <= nonlinear <= 1:
        raise refuse("outside-range", "The nonlinear share lies between 0 and 100 %", "Check the loads")
    cite = Cite("nec", "310.15(E); its item on nonlinear loads from memory")
    if lines == 1:
        return Counted(True, "one line and neutral: both carry the whole current", cite)
    if system == "three-phase wye" and lines == 2:
        return Counted(True, "two lines of a wye: the neutral carries about as much as a line", cite)
    if system == "three-phase wye" and nonlinear > 0.5:
        return Counted(True, "most of the load is nonlinear: triplen harmonics add in the neutral", cite)
    return Counted(False, "it carries only what the lines do not share evenly", cite)
