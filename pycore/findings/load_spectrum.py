"""The harmonics that a load draws: entered ones, or the usual ones of its kind."""

from dataclasses import dataclass

from pycore.base.result import Origin, Term, term
from pycore.powerflow.harmonic_loss import stiff_distortion
from pycore.powerflow.pulse import angle_of, pulse_spectrum
from pycore.powerflow.spectrum import Parts
from pycore.powerflow.spectrum import typical as typical_spectra
from pycore.rig.harmonics import read_harmonics
from pycore.rig.model import Load

RECTIFIER = "electronic"  # the kind of ballast that is a bridge and a reservoir


@dataclass(frozen=True, slots=True)
class Harmonics:
    """Parts as `network.Load` takes them. `narrow`: they are a rectifier's pulses of this half-angle, `lead` (rad) before the peak."""

    parts: Parts = ()
    narrow: Term | None = None
    lead: float = 0.0

    @property
    def pulse(self) -> float:
        """Half-angle in rad, 0 where they are no such pulses."""
        return self.narrow.value if self.narrow else 0.0


def harmonics_of(load: Load, factor: Term, ratio: Term) -> Harmonics:
    """The harmonics that were entered, or usual ones of this kind of load made to fit the power factor that its nameplate gives."""
    if load.ballast.harmonics:
        return Harmonics(read_harmonics(load.ballast.harmonics))
    kind = {"LED": "led", "tungsten": "dimmer"}.get(load.kind, load.ballast.kind)
    usual = typical_spectra().get(kind)
    wanted = stiff_distortion(λ=factor.value, t=ratio.value)
    if usual is None or wanted < 1e-6 or not usual.distortion:
        return Harmonics()
    lead = usual.parts[0][2] / usual.parts[0][0]
    if kind == RECTIFIER and (angle := angle_of(wanted)):
        narrow = term(angle, "°", "half-angle of its pulses on a stiff supply", origin=Origin.ASSUMED, rests_on=(factor, ratio), address=f"loads/{load.id}/ballast/harmonics",
                      note="taken as a bridge of diodes into a reservoir, as wide as its power factor tells", firm_up="Read its harmonics off an analyser")
        return Harmonics(pulse_spectrum(angle, lead), narrow, lead)
    return Harmonics(tuple((h, a * wanted / usual.distortion, angle) for h, a, angle in usual.parts))
