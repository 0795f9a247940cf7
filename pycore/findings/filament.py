"""A tungsten lamp: its voltage, its light, its colour and its life."""

from dataclasses import dataclass
from math import log2

from pycore.base.law import Var, law, work
from pycore.base.quantity import Quantity
from pycore.base.result import Finding, Limit, Remedy, Step, Term, Verdict
from pycore.base.source import Cite
from pycore.findings.common import percent, rule
from pycore.findings.lamp import VISIBLE_MIREDS, mired_shift
from pycore.findings.lamp_side import Delivered
from pycore.lamp import dimming, tungsten
from pycore.rig.model import Load
from pycore.rig.typical import need

HOT = "A tungsten head and its lamp stay hot enough to burn long after they go out. Switch off and let them cool before you touch the lamp, and never with bare fingers."
HALOGEN = "Below about 85 % voltage the rule for life fails for halogen lamps: the bulb may blacken. Run them up to full from time to time."
OVER = 1.05  # of rated voltage: the lamp lives half as long
COLD_START = "Cold filaments draw many times their current for a moment: bring several up one after the other, or from a low dim."


@law("Δs = log2(Φ/Φ_w)", "Light against what the setting gives", Δs=Var("stops", "stop"), Φ=Var("share of full light", "%", 1e-6), Φ_w=Var("light at rated supply", "%", 1e-6),
     source=Cite("photometry"))
def stops_missed(*, Φ: float, Φ_w: float) -> float:
    """Stops of light gained (positive) or lost to the supply's voltage."""
    return log2(Φ / Φ_w)


@dataclass(frozen=True, slots=True)
class Glow:
    """A filament at work, as lines of working."""

    share: Step  # of rated power
    voltage: Step
    light: Step
    stops: Step
    wanted: Step  # light that the setting would give at rated supply voltage

    @property
    def steps(self) -> tuple[Step, ...]:
        """All of it, in order."""
        return self.share, self.voltage, self.light, self.stops

    @property
    def to_light(self) -> tuple[Step, Step, Step]:
        """Share of rated voltage, light, stops."""
        return self.voltage, self.light, self.stops


def glow(load: Load, got: Delivered) -> Glow:
    """Voltage share, light and stops of a filament that draws what it got. Raises `Refused` for missing entries."""
    at = f"loads/{load.id}"
    share = work(dimming.power_share, P=got.power, P_n=need(load.lamp, "rated_power", f"{at}/lamp"))
    voltage = work(tungsten.voltage_for_power, p=share.result)
    light = work(tungsten.light, v=voltage.result)
    wanted = work(tungsten.light, v=work(tungsten.voltage_for_power, p=need(load, "dim", at)).result)
    return Glow(share, voltage, light, work(dimming.stops, Φ=light.result), wanted)


def light_steps(load: Load, got: Delivered) -> tuple[Step, Step, Step]:
    """Share of rated voltage, light, stops."""
    return glow(load, got).to_light


def voltage(load: Load, it: Glow) -> Finding:
    """Light against what the setting would give at rated voltage: what the supply takes or adds."""
    at = f"loads/{load.id}"
    missed = work(stops_missed, Φ=it.light.result, Φ_w=it.wanted.result)
    over = it.voltage.result.value > OVER
    verdict = Verdict.TIGHT if over or missed.result.value < -0.25 else Verdict.CLEAR
    says = f"{percent(it.voltage.result.value)} of its rated voltage: {missed.result.quantity} against a supply at rated voltage"
    if over:
        says += "; it burns hot and lives less than half as long"
    limit = Limit("<=", rule(OVER, "%", "most of rated voltage", "life halves there")) if over else \
        Limit(">=", rule(-0.25, "stop", "light that may go unnoticed", "our own threshold"))
    demand = it.voltage.result if over else missed.result
    remedies = (Remedy("Larger cable, shorter run or another tap of the supply: see the run"),) if verdict is Verdict.TIGHT and not over else ()
    return Finding(question="lamp-voltage", title="Does the lamp get its voltage?", place=at, verdict=verdict, says=says, demand=demand, limit=limit,
                   steps=(*it.steps, it.wanted, missed), cautions=(HOT, COLD_START), remedies=remedies)


def colour(load: Load, it: Glow) -> Finding:
    """Colour temperature at this voltage, and its shift from that at rated voltage."""
    full = need(load.lamp, "colour_temperature", f"loads/{load.id}/lamp")
    now = load.lamp.colour_dimmed
    step = None if now else work(tungsten.colour_temperature, T_r=full, v=it.voltage.result)
    now = now or step.result  # type: ignore[union-attr]
    shift = work(mired_shift, T_1=full, T_2=now)
    size = Term(quantity=Quantity(abs(shift.result.value), "mired"), name="size of the shift", rests_on=shift.result.rests_on)
    most = rule(VISIBLE_MIREDS, "mired", "shift that shows", "from memory")
    way = "warmer" if shift.result.value > 0 else "bluer"
    says = f"{now.quantity}, {size.quantity} {way} than at rated voltage"
    if step:
        says += "; the rule for filaments is well tried"
    return Finding(question="lamp-colour", title="What is its colour?", place=f"loads/{load.id}", verdict=Verdict.CLEAR if size.value <= most.value else Verdict.TIGHT,
                   says=says, demand=size, limit=Limit("<=", most), steps=(*it.steps, *((step,) if step else ()), shift))


def life(load: Load, it: Glow) -> Finding:
    """Life against that at rated voltage."""
    step = work(tungsten.life, v=it.voltage.result)
    times = step.result.value
    says = f"{times:.2g} times its rated life" if times < 10 else "Many times its rated life"
    cautions = (HALOGEN,) if it.voltage.result.value < 0.85 else ()
    return Finding(question="lamp-life", title="What does that do to its life?", place=f"loads/{load.id}", verdict=Verdict.CLEAR if times >= 0.5 else Verdict.TIGHT,
                   says=says, demand=step.result, steps=(*it.steps, step), cautions=cautions)
