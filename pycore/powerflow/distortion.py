"""What harmonics do to power factor, meters and neutrals: the laws, and the figures of a current given by orders."""

from cmath import exp
from collections.abc import Mapping
from math import pi, sqrt

from pycore.base.law import Var, law
from pycore.base.source import Cite
from pycore.powerflow.phasor import rms

THEORY = Cite("circuit-theory")
_I1 = Var("fundamental current", "A", 1e-9)
_IH = Var("harmonic current, all orders together", "A", 0)
_PHASES = {"I_1": Var("current of the first phase", "A", 0), "I_2": Var("current of the second phase", "A", 0), "I_3": Var("current of the third phase", "A", 0)}
SAMPLES = 720  # a period; 18 a period of the 39th order


@law("λ = λ_1*λ_d", "True power factor", λ=Var("power factor", ""), λ_1=Var("displacement factor", "", 0, 1), λ_d=Var("distortion factor", "", 0, 1),
     source=Cite("circuit-theory", "sinusoidal voltage"))
def power_factor(*, λ_1: float, λ_d: float) -> float:
    """True power factor; a capacitor corrects the displacement only."""
    return λ_1 * λ_d


@law("λ_d = 1/sqrt(1 + THD**2)", "Distortion factor", λ_d=Var("distortion factor", ""), THD=Var("total harmonic distortion of the current", "%", 0), source=THEORY)
def distortion_factor(*, THD: float) -> float:
    """Fundamental over rms, from the distortion against the fundamental (a share, 0.3 for 30 %)."""
    return 1 / sqrt(1 + THD**2)


@law("THD = I_h/I_1", "Total harmonic distortion", THD=Var("total harmonic distortion", "%"), I_h=_IH, I_1=_I1, source=THEORY)
def total_distortion(*, I_h: float, I_1: float) -> float:
    """Harmonics against the fundamental, a share."""
    return I_h / I_1


@law("I = sqrt(I_1**2 + I_h**2)", "Rms current", I=Var("rms current", "A"), I_1=Var("fundamental current", "A", 0), I_h=_IH, source=THEORY)
def rms_current(*, I_1: float, I_h: float) -> float:
    """Rms of fundamental and harmonics, A."""
    return sqrt(I_1**2 + I_h**2)


@law("V = sqrt(V_1**2 + V_h**2)", "Rms voltage", V=Var("rms voltage", "V"), V_1=Var("fundamental voltage", "V", 0), V_h=Var("harmonic voltage, all orders together", "V", 0), source=THEORY)
def rms_voltage(*, V_1: float, V_h: float) -> float:
    """Rms of fundamental and harmonics, V."""
    return sqrt(V_1**2 + V_h**2)


@law("THD = V_h/V_1", "Total harmonic distortion of the voltage", THD=Var("total harmonic distortion of the voltage", "%"), V_h=Var("harmonic voltage, all orders together", "V", 0),
     V_1=Var("fundamental voltage", "V", 1e-9), source=THEORY)
def voltage_distortion(*, V_h: float, V_1: float) -> float:
    """Harmonics against the fundamental, a share."""
    return V_h / V_1


@law("c = I_p/I", "Crest factor", c=Var("crest factor", ""), I_p=Var("peak of the current", "A", 0), I=Var("rms current", "A", 1e-9), source=THEORY)
def crest(*, I_p: float, I: float) -> float:  # noqa: E741
    """Peak over rms: 1.41 for a sine, more for narrow pulses."""
    return I_p / I


@law("I_a = π/(2*sqrt(2))*I_m", "What a meter that averages shows", I_a=Var("shown by a meter that averages", "A"), I_m=Var("mean of the rectified current", "A", 0),
     source=Cite("circuit-theory", "such a meter is scaled to be right for a sine"))
def averaged(*, I_m: float) -> float:
    """Reading in A of a meter that rectifies, averages and is scaled for a sine."""
    return pi / (2 * sqrt(2)) * I_m


@law("K = (I_w/I)**2", "K factor: heat of eddy currents in a transformer", K=Var("K factor", ""), I_w=Var("rms with each order weighted by its number", "A", 0),
     I=Var("rms current", "A", 1e-9), source=Cite("ul-1561", "definition of the K-factor"))
def k_factor(*, I_w: float, I: float) -> float:  # noqa: E741
    """K factor; I_w is the rms of h·I_h over all orders."""
    return (I_w / I) ** 2


@law("I_N = sqrt(((I_1 - I_2)**2 + (I_2 - I_3)**2 + (I_3 - I_1)**2)/2)", "Neutral current of unequal phases", I_N=Var("neutral current", "A"), **_PHASES,
     source=Cite("circuit-theory", "phasor sum at equal displacement; the same as √(a² + b² + c² - ab - bc - ca)"))
def neutral_of_unequal_phases(*, I_1: float, I_2: float, I_3: float) -> float:
    """Neutral current in A of three phases of equal power factor, no harmonics."""
    return sqrt(((I_1 - I_2) ** 2 + (I_2 - I_3) ** 2 + (I_3 - I_1) ** 2) / 2)


@law("I_N = 3*I_t", "Neutral current of equal phases", I_N=Var("neutral current", "A"), I_t=Var("rms of the orders 3, 9, 15 … of one phase", "A", 0),
     source=Cite("circuit-theory", "orders divisible by 3 add, all others cancel"))
def neutral_of_triplens(*, I_t: float) -> float:
    """Neutral current in A of three equal phases: only the triplens are left, three times."""
    return 3 * I_t


@law("I_N = abs(I_1 - I_2)", "Neutral current of two legs", I_N=Var("neutral current", "A"), I_1=Var("current of the first leg", "A", 0),
     I_2=Var("current of the second leg", "A", 0), source=Cite("circuit-theory", "split phase, equal displacement, odd orders"))
def neutral_of_split_phase(*, I_1: float, I_2: float) -> float:
    """Neutral current in A of two legs half a turn apart."""
    return abs(I_1 - I_2)


Orders = Mapping[int, complex]


def harmonic_rms(parts: Orders) -> float:
    """Rms of all orders above 1."""
    return rms(p for h, p in parts.items() if h > 1)


def thd(parts: Orders) -> float | None:
    """Total harmonic distortion against the fundamental, a share; None without a fundamental."""
    return harmonic_rms(parts) / abs(parts[1]) if abs(parts[1]) > 1e-9 else None


def k_of(parts: Orders) -> float | None:
    """K factor; None without current."""
    total = rms(parts.values())
    return (rms(h * p for h, p in parts.items()) / total) ** 2 if total > 1e-9 else None


def triplen_rms(parts: Orders) -> float:
    """Rms of the orders divisible by 3."""
    return rms(p for h, p in parts.items() if h % 3 == 0)


def waveform(parts: Orders, samples: int = SAMPLES) -> list[float]:
    """One period of the wave that the orders make up."""
    turn = [exp(2j * pi * n / samples) for n in range(samples)]
    return [sqrt(2) * sum((p * turn[h * n % samples]).real for h, p in parts.items()) for n in range(samples)]


def crest_factor(parts: Orders) -> float | None:
    """Peak over rms; None without current."""
    total = rms(parts.values())
    return max(map(abs, waveform(parts))) / total if total > 1e-9 else None


def true_power_factor(voltage: Orders, current: Orders) -> float | None:
    """Power over rms volts times rms amperes; None without current."""
    apparent = rms(voltage.values()) * rms(current.values())
    power = sum((voltage[h] * current[h].conjugate()).real for h in current if h in voltage)
    return power / apparent if apparent > 1e-9 else None
