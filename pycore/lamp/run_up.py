"""From the strike to full light: arc voltage, lamp current and what the supply gives meanwhile; and what age does.

A cold arc has a low voltage, which rises as the lamp's fill evaporates. An electronic ballast holds the current at its
ceiling until the power is there, so the supply gives little at first. A choke lets more than the running current through,
so the supply gives most at first, at a low power factor.
"""

from dataclasses import dataclass
from math import exp, hypot, log, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite

MODEL = Cite("arc-run-up")
_RISE = Var("arc voltage, share of running", "%", 0, 200)
_START = Var("arc voltage at the start, share of running", "%", 1, 99)
_KICK = Var("lamp current at the start, share of running", "%", 50, 400)
STEEP = 3.0  # the voltage's approach has e^-3 = 5 % to go at the end; the shape is from memory


@law("u = u_0 + (1 - u_0)*(1 - exp(-3*min(t, T)/T))/(1 - exp(-3))", "Arc voltage while it runs up", u=_RISE, u_0=_START, t=Var("time since the strike", "s", 0),
     T=Var("time to full light", "s", 1), source=MODEL)
def arc_rise(*, u_0: float, t: float, T: float) -> float:
    """Share of running arc voltage at t (s); 1 from T on."""
    return u_0 + (1 - u_0) * (1 - exp(-STEEP * min(t, T) / T)) / (1 - exp(-STEEP))


@law("p = min(1, k*u)", "Lamp power while an electronic ballast holds its current", p=Var("share of running power", "%"), k=_KICK, u=_RISE, source=MODEL)
def held_current_power(*, k: float, u: float) -> float:
    """Share of running lamp power: the current ceiling k times the arc voltage, until full."""
    return min(1.0, k * u)


@law("i = 1 + (k - 1)*(1 - u)/(1 - u_0)", "Lamp current through a choke", i=Var("share of running current", "%"), k=_KICK, u=_RISE, u_0=_START, source=MODEL)
def choke_current(*, k: float, u: float, u_0: float) -> float:
    """Share of running lamp current: k at the start, falling as the arc voltage rises."""
    return 1 + (k - 1) * (1 - u) / (1 - u_0)


@law("P = P_n*a*(2*a_m - a)/(2*a_m - 1)", "Power of an aged lamp on a choke", P=Var("lamp power", "W"), P_n=Var("lamp power when new", "W", 0),
     a=Var("arc voltage against new", "", 0.5, 2), a_m=Var("arc voltage of most power, against new", "", 1.05, 3), source=Cite("arc-age", "choke characteristic"))
def aged_choke_power(*, P_n: float, a: float, a_m: float) -> float:
    """Lamp power in W when the arc voltage is a times that of the new lamp: current falls as the arc takes more of the voltage, power peaks at a_m."""
    return P_n * a * (2 * a_m - a) / (2 * a_m - 1)


AGED_PEAK = 1.5  # a choke characteristic that peaks at 1.5 times the new arc voltage; technical guide, second hand


@dataclass(frozen=True, slots=True, kw_only=True)
class Draw:
    """What a lamp draws of its supply at its nominal voltage: W, var (of the fundamental), and its light as a share."""

    power: float
    reactive: float
    light: float

    @property
    def apparent(self) -> float:
        """Apparent power of the fundamental, VA."""
        return hypot(self.power, self.reactive)


@dataclass(frozen=True, slots=True, kw_only=True)
class RunUp:
    """How one lamp comes up. `kind`: "electronic", "magnetic" or "none" (at once: tungsten, LED).

    `power` (W) and `reactive` (var) are what it draws running at its nominal voltage; `uncorrected` (var) what a magnetic
    ballast draws without its capacitor, the same as `reactive` where there is none. `kick` above 1: a supply current that was
    metered while it warms up, as a share of running.
    """

    kind: str
    power: float
    reactive: float
    uncorrected: float = 0.0
    arc_start: float = 0.25
    start_current: float = 1.15
    full_light: float = 180.0  # s
    exponent: float = 1.32
    kick: float = 1.0

    @property
    def settles(self) -> float:
        """Time (s) after which nothing changes any more."""
        return 0.0 if self.kind == "none" else self.full_light

    def at(self, t: float) -> Draw:
        """Draw at t seconds after the strike."""
        if self.kind == "none" or t >= self.full_light:
            return Draw(power=self.power, reactive=self.reactive, light=1.0)
        u = arc_rise(u_0=self.arc_start, t=t, T=self._arc_time)
        if self.kind == "electronic":
            p = held_current_power(k=self.start_current, u=u)
            drawn = self.kick if self.kick > 1 else p
            return Draw(power=drawn * self.power, reactive=drawn * self.reactive, light=p**self.exponent)
        return self._through_choke(u)

    @property
    def _arc_time(self) -> float:
        """Time (s) of the arc voltage's rise: at full light an electronic ballast needs only 1/k of the running voltage."""
        if self.kind != "electronic" or self.start_current <= 1:
            return self.full_light
        share = max(0.0, 1 / self.start_current - self.arc_start) / (1 - self.arc_start)
        return -STEEP * self.full_light / log(1 - share * (1 - exp(-STEEP))) if share > 0 else self.full_light

    def _through_choke(self, u: float) -> Draw:
        """The choke's current sets what the supply gives; a capacitor takes the same vars off all the while."""
        i = choke_current(k=self.start_current, u=u, u_0=self.arc_start)
        p = i * u * self.power
        apparent = i * hypot(self.power, self.uncorrected)
        lagging = sqrt(max(0.0, apparent**2 - p**2))
        return Draw(power=p, reactive=lagging - (self.uncorrected - self.reactive), light=(i * u) ** self.exponent)

    def most(self, t: float, window: float) -> Draw:
        """The most that it draws from t to t + window (s), in W and in var; both only rise or only fall."""
        a, b = self.at(t), self.at(t + window)
        return Draw(power=max(a.power, b.power), reactive=max(a.reactive, b.reactive), light=min(a.light, b.light))

    def time_to(self, light: float) -> float:
        """First time (s) from which the light stays at least this share, halved in."""
        low, high = 0.0, self.settles
        if self.at(0.0).light >= light:
            return 0.0
        for _ in range(50):
            middle = (low + high) / 2
            low, high = (low, middle) if self.at(middle).light >= light else (middle, high)
        return high
