"""What does the head cable take, and is it made up?"""

from pycore.base.law import Var, law, work
from pycore.base.result import Finding, Limit, Remedy, Verdict
from pycore.base.source import Cite
from pycore.findings.common import percent, rule
from pycore.findings.lamp_side import Delivered, LampSide
from pycore.rig.model import Load

LIVE = "Never part a head cable while the ballast is on: striking voltage can be tens of kilovolts."


@law("p = P_v/P_n", "Share lost in the head cable", p=Var("share lost", "%"), P_v=Var("loss", "W", 0), P_n=Var("lamp power that is set", "W", 1e-6), source=Cite("circuit-theory"))
def share_lost(*, P_v: float, P_n: float) -> float:
    """Loss as a share of the lamp power that is set."""
    return P_v / P_n


def takes(load: Load, side: LampSide, got: Delivered) -> Finding:
    """Loss of the head cable, made up or not."""
    share = work(share_lost, P_v=got.loss, P_n=side.wanted)
    limit = rule(0.10, "%", "most to lose", "lamps want their rated power within 10 % once warm", Cite("arc-rating"))
    at = f"loads/{load.id}/head_cable"
    common = {"question": "head-cable", "title": "What does the head cable take?", "place": at, "demand": share.result, "steps": (*side.steps, *got.steps, share),
              "cautions": (LIVE,)}
    if side.made_up and not side.limited:
        return Finding(**common, verdict=Verdict.CLEAR, says=f"{got.loss.quantity}, made up by the ballast: the lamp keeps its power and the supply gives more")
    if side.limited:
        return Finding(**common, verdict=Verdict.TIGHT, limit=Limit("<=", limit), note="Ceiling reached",
                       says=f"{got.loss.quantity}: more than the ballast can make up, so the lamp gets less", remedies=(Remedy("Shorter or thicker head cable"),))
    verdict = Verdict.CLEAR if share.result.value <= 0.03 else Verdict.TIGHT if share.result.value <= limit.value else Verdict.STOP
    says = f"{got.loss.quantity}, {percent(share.result.value)} of the lamp's power, and the ballast does not make it up"
    remedies = () if verdict is Verdict.CLEAR else (Remedy("Shorter or thicker head cable"),)
    return Finding(**common, verdict=verdict, says=says, limit=Limit("<=", limit), remedies=remedies)
