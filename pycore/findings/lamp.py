"""Does the lamp get the power that is set, what light is that, and what does the dim do to colour?"""

from pycore.base.law import Var, law, work
from pycore.base.quantity import Quantity
from pycore.base.result import Finding, Limit, Origin, Remedy, Step, Term, Verdict, term
from pycore.base.source import Cite
from pycore.findings.common import percent, rule
from pycore.findings.lamp_side import Delivered, LampSide
from pycore.lamp import dimming
from pycore.rig.model import Load
from pycore.rig.typical import need

HOT = "Never open a lit head or run it with cracked or missing glass: ultraviolet and rupture. Let it cool before a lamp change."
VISIBLE_MIREDS = 10e-6  # 1/K; a shift that two lamps side by side begin to show; from memory


@law("p_s = P/P_s", "Share of the power that is set", p_s=Var("share of the setting", "%"), P=Var("lamp power", "W", 0), P_s=Var("lamp power that is set", "W", 1e-6), source=Cite("circuit-theory"))
def share_of_setting(*, P: float, P_s: float) -> float:
    """Lamp power as a share of what the dim asks for."""
    return P / P_s


@law("M = 1/T_2 - 1/T_1", "Colour shift", M=Var("shift", "mired"), T_1=Var("colour temperature at full power", "K", 1), T_2=Var("colour temperature at this dim", "K", 1), source=Cite("photometry"))
def mired_shift(*, T_1: float, T_2: float) -> float:
    """Shift in 1/K; negative is bluer."""
    return 1 / T_2 - 1 / T_1


def light_steps(load: Load, got: Delivered) -> tuple[Step, Step, Step]:
    """Share of rated power, light, stops."""
    at = f"loads/{load.id}/lamp"
    share = work(dimming.power_share, P=got.power, P_n=need(load.lamp, "rated_power", at))
    light = work(dimming.light, p=share.result, n=need(load.lamp, "exponent", at))
    return share, light, work(dimming.stops, Φ=light.result)


def power(load: Load, side: LampSide, got: Delivered, light: tuple[Step, ...]) -> Finding:
    """Lamp power against what is set; `light` are the steps to its light."""
    at = f"loads/{load.id}/lamp"
    step = work(share_of_setting, P=got.power, P_s=side.wanted)
    limit = rule(0.90, "%", "least of the setting", "lamps want their rated power within 10 % once warm", Cite("arc-rating"))
    verdict = Verdict.CLEAR if step.result.value >= 0.97 else Verdict.TIGHT if step.result.value >= limit.value else Verdict.STOP
    relation = ">="
    if step.result.value > 1.10:
        limit = rule(1.10, "%", "most of the setting", "lamps want their rated power within 10 % once warm", Cite("arc-rating"))
        verdict, relation = Verdict.TIGHT, "<="
    says = f"{got.power.quantity} of the {side.wanted.quantity} that is set"
    steps = (*side.steps, *got.steps, step, *light)
    return Finding(question="lamp-power", title="Does the lamp get its power?", place=at, verdict=verdict, says=says, demand=step.result, limit=Limit(relation, limit), steps=steps, cautions=(HOT,))


def floor(load: Load) -> Finding:
    """The dim against the lowest that the ballast can do."""
    lowest, dim = need(load.ballast, "floor", f"loads/{load.id}/ballast"), need(load, "dim", f"loads/{load.id}")
    inside = dim.value >= lowest.value * (1 - 1e-9)
    says = f"Dims to {lowest.quantity} at the lowest" if lowest.value < 1 else "This ballast does not dim"
    remedies = () if inside else (Remedy(f"Dim to {lowest.quantity} and lose the rest by scrim, diffusion or distance", ((f"loads/{load.id}/dim", f"{100 * lowest.value:g} %"),)),)
    return Finding(question="lamp-floor", title="Can it be dimmed that far?", place=f"loads/{load.id}", verdict=Verdict.CLEAR if inside else Verdict.STOP, says=says, demand=dim,
                   limit=Limit(">=", lowest), remedies=remedies, note="" if inside else "Below its range")


def colour(load: Load, share: Step) -> Finding:
    """What the power, a `share` of the rated one, does to the colour: measured, or honestly unknown."""
    at = f"loads/{load.id}/lamp"
    full = need(load.lamp, "colour_temperature", at)
    title, question = "What is its colour?", "lamp-colour"
    if share.result.value >= 0.97:
        return Finding(question=question, title=title, place=at, verdict=Verdict.CLEAR, says=f"{full.quantity} at full power", demand=full, steps=(share,))
    if load.lamp.colour_dimmed is None:
        return _colour_guess(at, full, share, need(load.lamp, "bluer_at_half", at))
    shift = work(mired_shift, T_1=full, T_2=load.lamp.colour_dimmed)
    most = rule(VISIBLE_MIREDS, "mired", "shift that shows", "from memory")
    size = Term(quantity=Quantity(abs(shift.result.value), "mired"), name="size of the shift", rests_on=shift.result.rests_on)
    verdict = Verdict.CLEAR if size.value <= most.value else Verdict.TIGHT
    way = "bluer" if shift.result.value < 0 else "warmer"
    return Finding(question=question, title=title, place=at, verdict=verdict, says=f"{load.lamp.colour_dimmed.quantity}, {size.quantity} {way} than at full power", demand=size,
                   limit=Limit("<=", most), steps=(share, shift))


def _colour_guess(at: str, full: Term, share: Step, bluer: Term) -> Finding:
    rise = bluer.value * min(1.0, max(0.0, (1 - share.result.value) / 0.5))
    way, far = ("bluer", "up to") if rise >= 0 else ("warmer", "down to")
    said = "as entered" if bluer.origin is not Origin.TYPICAL else "as an estimate from memory"
    says = (f"Not known at {percent(share.result.value)} power. It usually turns {way}, by 0 to {percent(abs(rise))} {said} "
            f"({far} {Quantity(full.value * (1 + rise), 'K')}); lamps differ. Meter it.")
    edge = term(full.value * (1 + rise), "K", "colour temperature it may have", origin=Origin.ASSUMED, rests_on=(bluer,), note=said, firm_up="Meter it at this dim",
                address=f"{at}/colour_dimmed", cite=Cite("arc-colour"))
    return Finding(question="lamp-colour", title="What is its colour?", place=at, verdict=Verdict.UNKNOWN, says=says, demand=edge, steps=(share,), note="Colour unknown")
