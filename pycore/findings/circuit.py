"""Which devices stand over a run: its own or the nearest above it, up to the outlet's."""

from dataclasses import dataclass

from pycore.base.problem import refuse
from pycore.base.result import Origin, Term
from pycore.rig import graph
from pycore.rig.model import Device, Rig, Run, Supply
from pycore.rig.typical import need


@dataclass(frozen=True, slots=True)
class Guard:
    """A device, where it stands ("supply" or the id of the run at whose head it is) and the address of its entries."""

    device: Device
    place: str
    at: str


def guards(rig: Rig, run_id: str) -> list[Guard]:
    """The places of devices over a run, nearest first, described or not; the outlet's is the last."""
    listed: dict[str, list[Guard]] = rig.__dict__.setdefault("_guards", {})
    if run_id not in listed:
        above = [rig.runs[run_id], *reversed(upstream(rig, run_id))]
        listed[run_id] = [Guard(r.device, r.id, f"runs/{r.id}/device") for r in above] + [Guard(rig.supply.device, graph.SUPPLY, "supply/device")]
    return listed[run_id]


def upstream(rig: Rig, run_id: str) -> list[Run]:
    """The runs between the supply and a run, in the order of the current."""
    return graph.path(rig, run_id)


def overcurrent(rig: Rig, run_id: str) -> Guard:
    """The nearest overcurrent device over a run. Raises `Refused` where none is described."""
    found = next((g for g in guards(rig, run_id) if _is_there(g)), None)
    if found is None:
        raise refuse("entry-missing", "No breaker or fuse is described over this run", "Enter the rated current of the device", f"runs/{run_id}/device/rating")
    return found


def _is_there(g: Guard) -> bool:
    return g.device.kind != "none" and (g.device.rating is not None or g.device.kind != "")


def next_above(rig: Rig, of: Guard) -> Guard | None:
    """The device above another one; None above the outlet's, and where none is described."""
    if of.place == graph.SUPPLY:
        return None
    return next((g for g in guards(rig, of.place)[1:] if _is_there(g)), None)


def residual(rig: Rig, run_id: str) -> Guard | None:
    """The nearest residual device over a run; None where there surely is none.

    Raises `Refused` where nothing says whether there is one.
    """
    listed = guards(rig, run_id)
    found = next((g for g in listed if g.device.residual not in ("", "none")), None)
    if found is not None:
        return found
    unsaid = [g for g in listed if g.device.residual == "" and (g.place in (run_id, graph.SUPPLY) or _is_there(g))]
    if unsaid:
        raise refuse("entry-missing", "Nothing says whether a residual current device stands over this run", "Choose residual current device", f"{unsaid[0].at}/residual")
    return None


def final(rig: Rig, of: Guard) -> bool:
    """Does no other device follow below this one: then its circuit ends at lamps."""
    below = _runs_below(rig, of.place)
    return not any(_is_there(Guard(rig.runs[i].device, i, "")) for i in below if i != of.place)


def _runs_below(rig: Rig, place: str) -> set[str]:
    return {i for i in rig.runs if place == graph.SUPPLY or place in {r.id for r in upstream(rig, i)}}


def stated(part: object, key: str, address: str) -> Term:
    """A quantity that somebody entered or read: safety does not rest on a guess. Raises `Refused` otherwise."""
    found = need(part, key, address)
    if found.origin is Origin.ASSUMED:
        raise refuse("entry-missing", f"{found.name} is not entered", f"Enter {found.name[0].lower()}{found.name[1:]}", f"{address}/{key}")
    return found


def rating_of(g: Guard) -> Term:
    """Rated current of a device. Raises `Refused` where it is missing."""
    return need(g.device, "rating", g.at)


def to_earth(supply: Supply) -> Term:
    """Nominal voltage of a line to earth: that to neutral. Raises `Refused` where it is missing."""
    return need(supply, "voltage", "supply").called("U_0", "voltage to earth")


def name_of(rig: Rig, g: Guard) -> str:
    """A device in words: "B25 of Track run"."""
    rating = g.device.rating.quantity if g.device.rating else ""
    letter = g.device.kind if g.device.kind in ("B", "C", "D", "gG") else ""
    size = f"{letter}{rating}".replace("\u00a0A", "") if letter else f"{rating} device"
    place = "the outlet" if g.place == graph.SUPPLY else rig.runs[g.place].name or g.place
    return f"{size.strip() or 'device'} of {place}"
