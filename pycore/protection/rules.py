"""What a rule set says of protective devices and protective earth: the one interface that the findings see.

A set is tables plus short functions, put together as one `DeviceRules`. Where it has no rule of a kind the function gives
None, and the finding is not asked.
"""

from collections.abc import Callable
from dataclasses import dataclass

from pycore.base.problem import refuse
from pycore.base.result import Step, Term
from pycore.rig.model import Device, Site
from pycore.rig.typical import need


@dataclass(frozen=True, slots=True)
class Band:
    """A device's instantaneous band: it holds up to one current and opens from another, both with their working; `late` opens it within 5 s."""

    holds: Term
    trips: Term
    steps: tuple[Step, ...]
    late: Term | None = None


@dataclass(frozen=True, slots=True)
class Slow:
    """Conventional currents over the rating: held for the conventional time, and opened within it."""

    holds: Term
    trips: Term


@dataclass(frozen=True, slots=True)
class Leak:
    """Shares of the rated residual current: recommended as the most, and from where it may open."""

    advised: Term
    opens: Term


@dataclass(frozen=True, slots=True)
class Keeps:
    """What a supply's voltage keeps to, as shares of nominal, and when it does so, in words."""

    least: Term
    most: Term
    when: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceRules:
    """One rule set's say on devices. Functions may raise `Refused` where an entry is missing or the set has no figure."""

    id: str
    title: str
    duty: Callable[[Device, str], Term]  # factor on the load current
    cable_factor: Callable[[Device], Term]  # share of the cable's capacity up to which the device protects it
    band: Callable[[Device, str], Band]
    late_trip: Callable[[Device, Band, Term], Term]  # the current that opens it within the time allowed
    slow: Callable[[Device], Slow]
    ratings: tuple[str, ...]  # usual ratings, A
    lowest: Term  # voltage factor of the smallest fault
    highest: Term  # voltage factor of the largest fault
    least_breaking: Term | None  # what every such device breaks
    time_allowed: Callable[[str, Term, Term, bool], Term | None]  # TN or TT, voltage to earth, rating, final circuit
    touch_voltage: Term
    heating: Callable[[Term], Term | None]  # temperature limit → k
    earth_size: Callable[[Term], Term | None]  # device rating → least protective conductor
    leak: Callable[[Device, str], Leak]
    residual_for_people: Callable[[Term, Term], Term | None]  # device rating, voltage to earth → largest residual rating
    earth_current: tuple[Term, Term] | None  # from where an industrial connector, from where a strong conductor
    line_distance: Callable[[Site], Term]
    supply_keeps: Callable[[], tuple[Keeps, Keeps]]  # ordinarily, and at the worst
    look_up: str  # what to say of overhead lines where nothing was entered
    oversize: str = ""  # what the set says of devices larger than the cable


def kind_of(device: Device, at: str) -> str:
    """The kind of a device. Raises `Refused` where it is not chosen."""
    if device.kind in ("", "none"):
        raise refuse("entry-missing", "Breaker or fuse is not chosen", "Choose breaker or fuse", f"{at}/kind")
    return device.kind


def from_its_curve(device: Device, at: str) -> Band:
    """The band of a device without a curve letter: as entered from its own curve."""
    return Band(need(device, "holds_to", at), need(device, "trips_from", at), ())
