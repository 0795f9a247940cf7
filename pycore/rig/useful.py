"""Which entries of a supply or a run say anything in their context: a form shows no fuel tank of a house socket."""

from collections.abc import Iterable

from pycore.rig.form import Entry
from pycore.rig.model import Device, Laid, Rig, Run, Supply

GENERATOR = ("rated_power_factor", "transient", "subtransient", "altitude", "intake", "tank", "earth/sustained")
BATTERY = ("energy", "peak_power", "usable", "inverter_efficiency", "own_use")


def useful(entries: Iterable[Entry], rig: Rig, part: Supply | Run, at: str) -> list[Entry]:
    """The entries that count for anything as the rig stands; one that holds a text or is in trouble always stays."""
    idle = {f"{at}/{key}" for key in (_of_supply(rig) if isinstance(part, Supply) else _of_run(rig, part)) | _of_device(rig, part.device)}
    return [e for e in entries if e.text or e.problem or e.address not in idle]


def _idle(**needed: bool) -> set[str]:
    return {key for key, is_needed in needed.items() if not is_needed}


def _of_device(rig: Rig, device: Device) -> set[str]:
    by_curve, residual = device.kind == "other" or rig.rules == "na", device.residual not in ("", "none")
    return {f"device/{k}" for k in _idle(trips_from=by_curve, holds_to=by_curve, residual_rating=residual, residual_delay=residual, burns=rig.rules == "na")}


def _of_run(rig: Rig, run: Run) -> set[str]:
    return {f"laid/{k}" for k in _of_laid(rig, run.laid, run.cores == "single cores")}


def _of_laid(rig: Rig, laid: Laid, single: bool) -> set[str]:
    american = rig.rules == "na"
    return _idle(layers=laid.how == "reel" or (american and laid.how != "out"), arrangement=laid.grouped is not None and laid.grouped.value > 1, singles=single and american, spacing=single,
                 listing=american and not single)


def _of_supply(rig: Rig) -> set[str]:
    supply = rig.supply
    earth, lines = supply.earth.arrangement, supply.site.overhead not in ("", "none")
    idle = {k for kind, keys in (("generator", GENERATOR), ("battery", BATTERY)) if supply.kind != kind for k in keys}
    idle |= {f"earth/{k}" for k in _idle(electrode=earth == "TT", bond=supply.kind != "mains" or earth == "separate")}
    idle |= {f"site/{k}" for k in _idle(line_voltage=lines and rig.rules == "na", line_distance=lines)}
    return idle | _idle(rated_power=supply.kind != "mains")
