"""What is this lamp's own law, and how well do the readings hold to it?"""

from collections.abc import Sequence
from dataclasses import dataclass

from pycore.base.result import Finding, Limit, Origin, Remedy, Term, Verdict, term
from pycore.findings.common import rule
from pycore.lamp import refit
from pycore.rig.model import Load


@dataclass(frozen=True, slots=True, kw_only=True)
class Refit:
    """A lamp's own law: the exponent where power was read, else the readings themselves; `residual` in stops."""

    exponent: Term
    residual: Term
    own: refit.OwnLaw
    finding: Finding


def refitted(load: Load, readings: Sequence[refit.Reading], of_power: bool) -> Refit:
    """The law that light readings give. Raises `Refused` for readings that give none."""
    fit, own = refit.power_law(readings), refit.own_law(readings)
    place = f"loads/{load.id}/lamp"
    exponent = term(fit.exponent, "", "dimming exponent" if of_power else "exponent of light against setting", origin=Origin.MEASURED, address=f"{place}/exponent",
                    note=f"from {len(readings)} light readings")
    residual = term(fit.worst, "stop", "most that a reading stands off")
    limit = rule(0.1, "stop", "what a meter may miss", "our own threshold")
    if fit.exact:
        verdict, says = Verdict.UNKNOWN, f"{fit.exponent:.2f}: two readings fit any law exactly, a third would show how good it is"
    else:
        good = fit.worst <= limit.value
        verdict, says = (Verdict.CLEAR if good else Verdict.TIGHT), f"{fit.exponent:.2f}, and the readings stand off by {residual.quantity} at most"
        if not good:
            says += ": no single exponent fits this lamp, use the readings themselves"
    changes = ((f"{place}/exponent", f"{fit.exponent:.4g}"),) if of_power and load.kind == "arc lamp" else ()
    remedies = (Remedy(f"Use {fit.exponent:.2f} for this lamp", changes),) if changes else ()
    return Refit(exponent=exponent, residual=residual, own=own, finding=Finding(
        question="lamp-refit", title="What is this lamp's own law?", place=place, verdict=verdict, says=says, demand=residual, limit=Limit("<=", limit), remedies=remedies,
        note="Not yet tested" if fit.exact else ""))
