"""What the supply gives when all lamps burn: harmonics and currents of the solved rig."""

from pycore.base.problem import refuse
from pycore.base.result import Term, term
from pycore.findings.supply_side import shows_subtransient
from pycore.findings.whole_rig import WholeRig, resting
from pycore.powerflow.harmonics import Distortion
from pycore.rig import graph

UNLIKE = "Uncorrected ballasts of different size on one generator are evened out here: the smallest may draw about a tenth more than this says, its neighbours less. Meter them."
ALIKE = 0.8  # of the largest one's pulse: our own; the time-domain cases behind it are a half


def uneven(whole: WholeRig) -> tuple[str, ...]:
    """The caution for rectifiers of different size or width behind one generator, where there are any."""
    if not shows_subtransient(whole.rig.supply):
        return ()
    sizes = [c.draw.power.value * c.draw.harmonics.pulse for c in whole.counted.values() if c.draw.harmonics.pulse]
    return (UNLIKE,) if sizes and min(sizes) < ALIKE * max(sizes) else ()


def distorted(whole: WholeRig) -> Distortion:
    """The harmonics. Raises `Refused` where the rig has no steady state."""
    if not whole.solved or whole.operation is None or whole.operation.distortion is None:
        raise refuse("no-operating-point", "The rig has no steady state", "See the runs", graph.SUPPLY)
    return whole.operation.distortion


def currents(whole: WholeRig) -> dict[str, Term]:
    """Rms current of each conductor at the supply, harmonics included."""
    amps = distorted(whole).rms_currents("")
    return {c: term(i, "A", "neutral current" if c == "N" else f"current of {c}", rests_on=resting(whole)) for c, i in amps.items()}
