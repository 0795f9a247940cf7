"""What the supply gives when all lamps burn: harmonics and currents of the solved rig."""

from pycore.base.problem import refuse
from pycore.base.result import Term, term
from pycore.findings.whole_rig import WholeRig, resting
from pycore.powerflow.harmonics import Distortion
from pycore.rig import graph


def distorted(whole: WholeRig) -> Distortion:
    """The harmonics. Raises `Refused` where the rig has no steady state."""
    if not whole.solved or whole.operation is None or whole.operation.distortion is None:
        raise refuse("no-operating-point", "The rig has no steady state", "See the runs", graph.SUPPLY)
    return whole.operation.distortion


def currents(whole: WholeRig) -> dict[str, Term]:
    """Rms current of each conductor at the supply, harmonics included."""
    amps = distorted(whole).rms_currents("")
    return {c: term(i, "A", "neutral current" if c == "N" else f"current of {c}", rests_on=resting(whole)) for c, i in amps.items()}
