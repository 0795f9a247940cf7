"""Do the lamps of a shot agree in colour?"""

from pycore.base.law import work
from pycore.base.result import Finding, Limit, Origin, Remedy, Term, Verdict, term
from pycore.findings import lamp
from pycore.findings.common import attempt, rule
from pycore.findings.light_now import colour_now
from pycore.findings.whole_rig import WholeRig
from pycore.rig.model import Shot


def colours(whole: WholeRig, chosen: list[str], shot: Shot) -> tuple[Finding, ...]:
    """The colour of each lamp against the first, in mireds."""
    temperatures = {i: t for i in chosen if (t := attempt(lambda i=i: colour_now(whole, whole.rig.loads[i], shot))[0]) is not None}  # type: ignore[misc]
    if len(temperatures) < 2:
        return ()
    first, *others = temperatures
    return tuple(_apart(whole, first, i, temperatures) for i in others)


def _apart(whole: WholeRig, first: str, other: str, temperatures: dict[str, Term]) -> Finding:
    a, b = temperatures[first], temperatures[other]
    shift = work(lamp.mired_shift, T_1=a, T_2=b)
    size = term(abs(shift.result.value), "mired", "size of the shift", rests_on=(a, b))
    most = rule(lamp.VISIBLE_MIREDS, "mired", "shift that shows", "from memory")
    names = [whole.rig.loads[i].name or i for i in (first, other)]
    way = "bluer" if shift.result.value < 0 else "warmer"
    estimate = ", an estimate: meter it" if Origin.ASSUMED in (a.origin, b.origin) else ""
    says = f"{names[1]}, {b.quantity}, is {size.quantity} {way} than {names[0]}, {a.quantity}{estimate}"
    verdict = Verdict.CLEAR if size.value <= most.value else Verdict.TIGHT
    gel = () if verdict is Verdict.CLEAR else (Remedy(f"A filter of {_signed(shift.result.value * -1e6)} mired on {names[1]} brings it to {names[0]}"),)
    return Finding(question="colour-apart", title="Do the lamps agree in colour?", place=f"loads/{other}/lamp", verdict=verdict, says=says, demand=size, limit=Limit("<=", most),
                   steps=(shift,), remedies=gel)


def _signed(mireds: float) -> str:
    """A shift with its sign, as filters are named."""
    return f"{mireds:+.0f}".replace("-", "\u2212")
