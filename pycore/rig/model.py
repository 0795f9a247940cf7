"""A rig as frozen dataclasses. Each field carries its own description: the reader, the form on the page and the
documentation of the file are all made from it, so they cannot disagree.

A quantity is a `Term` once read, or None where the file does not give it (`typical.settle` fills those).
"""

from collections.abc import Callable
from dataclasses import Field, dataclass, field, fields
from functools import cache
from math import inf
from typing import Any

from pycore.base.result import Origin, Term

FORMAT = "feed to frame rig"
SCHEMA = 1

NAMEPLATE = "Read it off the nameplate"


@dataclass(frozen=True, slots=True)
class Spec:
    """What a field of the rig file may hold, in words and numbers."""

    label: str
    kind: str  # quantity, choice, text
    unit: str = ""
    low: float = -inf  # in `unit`
    high: float = inf
    units: tuple[str, ...] = ()
    options: tuple[tuple[str, str], ...] = ()
    origin: Origin = Origin.STATED
    firm_up: str = ""
    hint: str = ""
    more: bool = False


def quantity(label: str, unit: str, low: float = 0.0, high: float = inf, *, units: tuple[str, ...] = (), origin: Origin = Origin.STATED,
             firm_up: str = "Enter it", hint: str = "", more: bool = False) -> Any:
    """A quantity with unit and permitted range."""
    return field(default=None, metadata={"spec": Spec(label, "quantity", unit, low, high, units or (unit,), (), origin, firm_up, hint, more)})


def choice(label: str, options: dict[str, str], *, hint: str = "", more: bool = False) -> Any:
    """One of a few values."""
    return field(default="", metadata={"spec": Spec(label, "choice", options=tuple(options.items()), hint=hint, more=more)})


def text(label: str, *, hint: str = "", more: bool = False) -> Any:
    """Free text: names and references."""
    return field(default="", metadata={"spec": Spec(label, "text", hint=hint, more=more)})


def series(label: str, *, hint: str = "") -> Any:
    """A row of figures as text, longer than a name and no field of a form."""
    return field(default="", metadata={"spec": Spec(label, "series", hint=hint, more=True)})


def _specs(part: type) -> dict[str, Spec]:
    """The described fields of a part, by key."""
    listed: tuple[Field[Any], ...] = fields(part)
    return {f.name: f.metadata["spec"] for f in listed if "spec" in f.metadata}


specs: Callable[[type], dict[str, Spec]] = cache(_specs)  # a type has a hash, which the checker takes for that of the parts


class Part:
    """A described part of the rig. What it holds never changes, so what it hashes to is found once: much is kept by the parts it was made from."""

    __slots__ = ("_hash",)
    _hash: int

    def __init_subclass__(cls) -> None:
        cls.__hash__ = Part.__hash__  # type: ignore[method-assign]  # stated, so that the data class makes none of its own

    def __hash__(self) -> int:
        try:
            return self._hash
        except AttributeError:
            found = hash(tuple(getattr(self, f.name) for f in fields(self)))  # type: ignore[arg-type]
            object.__setattr__(self, "_hash", found)
            return found


SYSTEMS = {"single-phase": "Single phase", "split-phase": "Split phase, two legs and neutral", "three-phase wye": "Three phase and neutral"}
CONNECTIONS = {"L1-N": "L1 to neutral", "L2-N": "L2 to neutral", "L3-N": "L3 to neutral", "L1-L2": "L1 to L2", "L2-L3": "L2 to L3", "L3-L1": "L3 to L1"}
KINDS = {"arc lamp": "Daylight arc lamp", "tungsten": "Tungsten lamp", "LED": "LED"}
SIZES = ("mm²", "AWG", "kcmil")
LENGTHS = ("m", "ft")
TIMES = ("min", "s")


DEVICES = {"B": "Breaker, curve B", "C": "Breaker, curve C", "D": "Breaker, curve D", "gG": "Fuse, gG", "other": "Another breaker or a fuse", "none": "None here"}
RESIDUALS = {"none": "None here", "AC": "Type AC", "A": "Type A", "F": "Type F", "B": "Type B", "GFCI": "GFCI, class A"}
ON_FRONT = "Read it off the device's front"


@dataclass(frozen=True, slots=True, kw_only=True)
class Device(Part):
    """What switches off: overcurrent and residual current."""

    kind: str = choice("Breaker or fuse", DEVICES)
    rating: Term | None = quantity("Rated current of the device", "A", 0.5, 5000, origin=Origin.NAMEPLATE, firm_up=ON_FRONT)
    trips_from: Term | None = quantity("Trips at once from", "A", 1, 200_000, units=("A", "kA"), origin=Origin.NAMEPLATE, firm_up="Read it off its curve", more=True,
                                       hint="Where the device has no curve letter: the current that surely opens it in time")
    holds_to: Term | None = quantity("Holds a surge up to", "A", 1, 200_000, units=("A", "kA"), origin=Origin.NAMEPLATE, firm_up="Read it off its curve", more=True,
                                     hint="Where the device has no curve letter: the current that surely does not open it at once")
    breaking_capacity: Term | None = quantity("Breaking capacity", "kA", 0.1, 300, units=("kA", "A"), origin=Origin.NAMEPLATE, firm_up=ON_FRONT, hint="6000 in a box is 6 kA")
    let_through: Term | None = quantity("Energy it lets through", "A²s", 1, 1e12, origin=Origin.NAMEPLATE, firm_up="Ask for the device's data sheet", more=True)
    residual: str = choice("Residual current device", RESIDUALS)
    residual_rating: Term | None = quantity("Rated residual current", "mA", 3, 30_000, units=("mA", "A"), origin=Origin.NAMEPLATE, firm_up=ON_FRONT)
    residual_delay: str = choice("Residual device opens", {"at once": "At once", "delayed": "Delayed, type S"}, more=True)
    burns: str = choice("Longest burn", {"long": "Three hours or more", "short": "Less than three hours"}, more=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid(Part):
    """How a cable lies, and what lies with it."""

    how: str = choice("Cable lies", {"out": "Laid out", "reel": "On the reel or coiled, in layers", "spiral": "On a flat reel, open sides", "closed spiral": "On a flat reel, closed sides"})
    layers: Term | None = quantity("Layers on the reel", "", 1, 20, firm_up="Count them", hint="1 to 4")
    grouped: Term | None = quantity("Loaded cables side by side", "", 1, 100, firm_up="Count them, this one included")
    arrangement: str = choice("Side by side", {"bunched": "In a bunch", "single layer": "In one layer on the floor", "tray": "In one layer on a tray", "ladder": "In one layer on a ladder",
                                               "spaced": "Two diameters apart"}, more=True)
    parallel: Term | None = quantity("Equal sets in parallel", "", 1, 20, firm_up="Count them", more=True)
    singles: str = choice("Single cores lie", {"touching": "Touching or banded", "apart": "Apart, not in a duct"}, more=True)
    spacing: Term | None = quantity("Line core to neutral core", "mm", 3, 10_000, units=("mm", "cm"), origin=Origin.MEASURED, firm_up="Lay them together, or measure between their centres", more=True,
                                    hint="Single cores, centre to centre")
    earth_size: Term | None = quantity("Protective conductor size", "mm²", 0.5, 700, units=SIZES, origin=Origin.NAMEPLATE, firm_up="Read it off the cable's jacket", more=True)
    terminals: Term | None = quantity("Temperature limit of the connectors", "°C", 40, 110, origin=Origin.NAMEPLATE, firm_up="Read it off the connectors", more=True)
    listing: str = choice("Cord", {"ordinary": "Ordinary cord or cable", "stage": "Listed extra-hard usage, kept off hot gear"}, more=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Earth(Part):
    """How the supply is earthed."""

    arrangement: str = choice("Earthing", {"TN-S": "TN-S, earth conductor of its own", "TN-C-S": "TN-C-S, earth from the neutral", "TT": "TT, electrode of its own",
                                           "separate": "Separately derived: generator or transformer"})
    loop: Term | None = quantity("Earth loop impedance", "Ω", 0.001, 5000, units=("Ω", "mΩ"), origin=Origin.MEASURED, firm_up="Measure line to earth at the outlet")
    electrode: Term | None = quantity("Electrode resistance", "Ω", 0.1, 10_000, origin=Origin.MEASURED, firm_up="Measure the electrode", more=True)
    bond: str = choice("Neutral at the source", {"bonded": "Bonded to earth there, once", "floating": "Not bonded"}, more=True)
    fault_current_max: Term | None = quantity("Largest prospective fault current", "kA", 0.01, 300, units=("kA", "A"), origin=Origin.MEASURED,
                                              firm_up="Measure it, or ask the network operator", more=True)
    sustained: Term | None = quantity("Short-circuit current the set sustains", "A", 1, 200_000, units=("A", "kA"), origin=Origin.NAMEPLATE,
                                      firm_up="Ask for the alternator's data sheet", more=True, hint="0.3 s and longer; small sets hold none")


@dataclass(frozen=True, slots=True, kw_only=True)
class Site(Part):
    """What surrounds the rig."""

    ground: str = choice("Ground", {"dry": "Dry", "wet": "Wet"})
    overhead: str = choice("Overhead lines near", {"none": "None", "poles": "On poles", "towers": "On steel towers"})
    line_voltage: Term | None = quantity("Voltage of the line", "kV", 0.1, 1200, units=("kV", "V"), firm_up="Ask the line's operator", more=True)
    line_distance: Term | None = quantity("Distance to its nearest conductor", "m", 0, 1000, units=LENGTHS, origin=Origin.MEASURED, firm_up="Pace it out on the ground", more=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps(Part):
    """What a generator may dip when a lamp strikes."""

    voltage: Term | None = quantity("Voltage may dip by", "%", 1, 50, firm_up="Use the limit of your own practice")
    frequency: Term | None = quantity("Frequency may dip by", "%", 0.1, 20, firm_up="Use the limit of your own practice")
    engine: Term | None = quantity("Frequency dips at a full step by", "%", 0.5, 60, origin=Origin.NAMEPLATE, firm_up="Ask for the set's data sheet", more=True,
                                   hint="When its whole rated power comes on at once")
    gap: Term | None = quantity("Least gap between strikes", "s", 1, 600, units=("s", "min"), firm_up="Use what your crew needs", hint="For hands, and for the set to recover")


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply(Part):
    """Where the power comes from."""

    name: str = text("Name")
    kind: str = choice("Supply", {"mains": "Mains", "generator": "Generator", "battery": "Battery with inverter"})
    system: str = choice("System", SYSTEMS)
    voltage: Term | None = quantity("Voltage, line to neutral", "V", 40, 700, hint="The nominal one")
    frequency: Term | None = quantity("Frequency", "Hz", 40, 70)
    frequency_tolerance: Term | None = quantity("Frequency holds within", "%", 0, 20, origin=Origin.MEASURED, firm_up="Watch a frequency meter for a while", more=True)
    rating: Term | None = quantity("Rated current of the outlet", "A", 0.5, 5000, firm_up="Read it off the outlet's breaker")
    voltage_measured: Term | None = quantity("Voltage measured, no load", "V", 40, 700, origin=Origin.MEASURED, firm_up="Measure it at the outlet, nothing switched on")
    impedance: Term | None = quantity("Loop impedance at the outlet", "Ω", 0, 50, units=("Ω", "mΩ"), origin=Origin.MEASURED,
                                      firm_up="Measure the line to neutral loop at the outlet")
    fault_current: Term | None = quantity("Prospective fault current", "A", 5, 200_000, units=("A", "kA"), origin=Origin.MEASURED, more=True,
                                          hint="Line to neutral; used when no impedance is given")
    rated_power: Term | None = quantity("Rated power of the set", "VA", 100, 5_000_000, units=("kVA", "VA"), origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, hint="Generator or inverter")
    rated_power_factor: Term | None = quantity("Rated power factor of the set", "", 0.5, 1, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True)
    transient: Term | None = quantity("Transient reactance X′d", "%", 1, 100, origin=Origin.NAMEPLATE, firm_up="Ask for the alternator's data sheet", more=True)
    subtransient: Term | None = quantity("Sub-transient reactance X″d", "%", 1, 60, origin=Origin.NAMEPLATE, firm_up="Ask for the alternator's data sheet", more=True)
    altitude: Term | None = quantity("Altitude", "m", -400, 5000, units=LENGTHS, firm_up="Read it off a map", more=True)
    intake: Term | None = quantity("Air at the set", "°C", -40, 60, units=("°C", "°F"), firm_up="Measure it at the intake", more=True)
    tank: Term | None = quantity("Fuel in the tank", "L", 0, 20_000, units=("L", "gal"), firm_up="Read the gauge", more=True)
    energy: Term | None = quantity("Energy of the battery", "Wh", 10, 10_000_000, units=("kWh", "Wh"), origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True)
    peak_power: Term | None = quantity("Peak power of the inverter", "VA", 100, 5_000_000, units=("kVA", "VA"), origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True,
                                       hint="For a moment: what it starts")
    usable: Term | None = quantity("Share of the battery that may be used", "%", 1, 100, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True)
    inverter_efficiency: Term | None = quantity("Efficiency of the inverter", "%", 30, 100, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True)
    own_use: Term | None = quantity("What the inverter takes itself", "W", 0.1, 10_000, origin=Origin.NAMEPLATE, firm_up="Meter the battery with nothing plugged in", more=True)
    device: Device = field(default_factory=Device)
    earth: Earth = field(default_factory=Earth)
    site: Site = field(default_factory=Site)
    steps: Steps = field(default_factory=Steps)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run(Part):
    """A cable from its feeding place to the next."""

    id: str = ""
    name: str = text("Name")
    fed_by: str = text("Fed by", more=True)
    length: Term | None = quantity("Length", "m", 0.1, 3000, units=LENGTHS, firm_up="Enter the length that is laid")
    size: Term | None = quantity("Conductor size", "mm²", 0.5, 700, units=SIZES, firm_up="Read it off the cable's jacket")
    cores: str = choice("Cable", {"multicore": "One multicore cable", "single cores": "Single-core cables"}, more=True)
    insulation: Term | None = quantity("Conductor temperature limit", "°C", 50, 110, origin=Origin.NAMEPLATE, firm_up="Read it off the cable's jacket", more=True,
                                       hint="60 °C for ordinary rubber, 90 °C for heat-resistant")
    ambient: Term | None = quantity("Air around the cable", "°C", -40, 60, more=True, firm_up="Measure it")
    device: Device = field(default_factory=Device)
    laid: Laid = field(default_factory=Laid)


@dataclass(frozen=True, slots=True, kw_only=True)
class Box(Part):
    """A distribution box at the end of a run."""

    id: str = ""
    name: str = text("Name")
    fed_by: str = text("Fed by", more=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ballast(Part):
    """What makes the lamp's current out of the supply's; for LEDs, their driver."""

    kind: str = choice("Ballast", {"electronic corrected": "Electronic, corrected", "electronic": "Electronic, not corrected",
                                   "magnetic": "Magnetic", "magnetic corrected": "Magnetic with capacitor"})
    efficiency: Term | None = quantity("Efficiency", "%", 30, 100, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE)
    power_factor: Term | None = quantity("Power factor", "", 0.2, 1, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, hint="The one on the nameplate: true power factor")
    low_cut_out: Term | None = quantity("Lowest voltage it holds", "V", 20, 700, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE)
    high_cut_out: Term | None = quantity("Highest voltage it stands", "V", 40, 900, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE)
    makes_up: str = choice("Head-cable loss", {"yes": "Made up by the ballast", "no": "Not made up"})
    ceiling: Term | None = quantity("Most it can give", "%", 50, 200, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True, hint="Of the lamp's rated power, at the ballast's output")
    most_current: Term | None = quantity("Most current it can give", "A", 0.5, 500, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True, hint="At its output")
    most_voltage: Term | None = quantity("Most voltage it can give", "V", 20, 1000, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True,
                                         hint="At its output with the lamp burning; not entered: not a limit here")
    floor: Term | None = quantity("Lowest dim", "%", 5, 100, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True, hint="Of rated electrical power")
    output: str = choice("Output", {"sine": "Sine at supply frequency", "square": "Square wave"}, more=True)
    output_frequency: Term | None = quantity("Output frequency", "Hz", 20, 500_000, units=("Hz", "kHz"), firm_up="Read it off the ballast's setting")
    commutation_time: Term | None = quantity("Commutation time", "µs", 0.01, 5000, origin=Origin.NAMEPLATE, firm_up="Record the light with a fast sensor", more=True)
    dip_depth: Term | None = quantity("Light dip at commutation", "%", 0, 100, origin=Origin.MEASURED, firm_up="Record the light with a fast sensor", more=True)
    displacement: Term | None = quantity("Displacement factor", "", 0.2, 1, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True,
                                         hint="Cosine of the angle between voltage and fundamental current")
    harmonics: str = text("Harmonics of its current", more=True, hint="Order and share of the fundamental, as an analyser shows them: 3: 80 %, 5: 50 % 16°")
    power_factor_dimmed: Term | None = quantity("Power factor at this dim", "", 0.2, 1, origin=Origin.MEASURED, firm_up="Meter it while dimmed", more=True)
    standby: Term | None = quantity("Power at black", "%", 0, 50, origin=Origin.MEASURED, firm_up="Meter it with the light faded out", more=True, hint="Of rated power")
    drive: str = choice("LED current", {"constant current": "Steady, its size is dimmed", "PWM": "Pulsed, its width is dimmed"}, more=True)
    pulse_frequency: Term | None = quantity("Pulse frequency", "Hz", 50, 1_000_000, units=("Hz", "kHz"), origin=Origin.NAMEPLATE,
                                            firm_up="Read it off the driver's setting", more=True, hint="Of pulsed LED current")


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadCable(Part):
    """The cable between ballast and lamp head."""

    length: Term | None = quantity("Length", "m", 0.1, 200, units=LENGTHS, firm_up="Enter the length that is laid")
    size: Term | None = quantity("Conductor size", "mm²", 0.5, 300, units=SIZES, firm_up="Read it off the cable's jacket")


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamp(Part):
    """What gives the light: an arc, a filament or LEDs."""

    rated_power: Term | None = quantity("Rated power", "W", 20, 50_000, units=("W", "kW"), origin=Origin.NAMEPLATE, firm_up=NAMEPLATE)
    rated_voltage: Term | None = quantity("Rated voltage", "V", 6, 500, origin=Origin.NAMEPLATE, firm_up="Read it off the lamp's base", more=True)
    arc_voltage: Term | None = quantity("Arc voltage", "V", 20, 500, origin=Origin.NAMEPLATE, firm_up="Read it off the lamp's data sheet", more=True,
                                       hint="At rated power. It rises as the lamp ages")
    arc_slope: Term | None = quantity("Arc voltage slope", "Ω", 0, 50, origin=Origin.MEASURED, firm_up="Meter the arc's voltage at two dims", more=True,
                                      hint="Volts more for each ampere more; 0 is a constant voltage")
    power_factor: Term | None = quantity("Arc power factor on a sine", "", 0.5, 1, origin=Origin.NAMEPLATE, firm_up="Read it off the lamp's data sheet", more=True)
    bluer_at_half: Term | None = quantity("Bluer at half power by up to", "%", -20, 50, origin=Origin.MEASURED, firm_up="Meter it at half power", more=True,
                                          hint="Of its colour temperature at full power")
    exponent: Term | None = quantity("Dimming exponent", "", 0.5, 3, origin=Origin.MEASURED, firm_up="Meter the light at two settings", more=True,
                                     hint="Light goes as electrical power to this exponent")
    colour_temperature: Term | None = quantity("Colour temperature at full power", "K", 2000, 20_000, origin=Origin.MEASURED, firm_up="Meter it", more=True)
    colour_dimmed: Term | None = quantity("Colour temperature at this dim", "K", 2000, 20_000, origin=Origin.MEASURED, firm_up="Meter it", more=True)
    ripple: Term | None = quantity("Light ripple on a sine", "%", 0, 100, origin=Origin.MEASURED, firm_up="Record the light with a fast sensor", more=True,
                                   hint="Half of peak to peak over the mean, at twice the supply frequency")
    asymmetry: Term | None = quantity("Unequal half-cycles", "%", 0, 50, origin=Origin.MEASURED, firm_up="Record the light with a fast sensor", more=True,
                                      hint="Ripple at the supply frequency itself, as old electrodes give")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pulse(Part):
    """The form of the light over time, where more is known of it than ripple and dips."""

    persistence: Term | None = quantity("Persistence of the arc's light", "ms", 0, 100, units=("ms", "µs"), origin=Origin.MEASURED, firm_up="Record the light with a fast sensor",
                                        more=True, hint="Time constant; where no ripple is entered, the ripple follows from it")
    narrow: Term | None = quantity("Ripple at four times the supply frequency", "%", 0, 40, origin=Origin.MEASURED, firm_up="Record the light with a fast sensor", more=True,
                                   hint="Troughs narrower than tops")
    edge: Term | None = quantity("Edges of the dip", "%", 1, 100, origin=Origin.MEASURED, firm_up="Record the light with a fast sensor", more=True, hint="Share of its width; 100 % is a plain V")
    sag: Term | None = quantity("Sag between commutations", "%", 0, 50, origin=Origin.MEASURED, firm_up="Record the light with a fast sensor", more=True)
    lowest_frequency: Term | None = quantity("Output frequency goes down to", "Hz", 20, 500_000, units=("Hz", "kHz"), origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True)
    highest_frequency: Term | None = quantity("Output frequency goes up to", "Hz", 20, 500_000, units=("Hz", "kHz"), origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Recording(Part):
    """The lamp's own light as it was recorded; where it is there, it counts instead of everything typical."""

    frequency: Term | None = quantity("Fundamental of the recorded light", "Hz", 0.1, 1_000_000, units=("Hz", "kHz"), origin=Origin.MEASURED, firm_up="Record the light again")
    components: str = series("Components of the recorded light", hint="Percent and degrees of each order, 80 at -12; 5 at 30; ...")
    note: str = text("Where it was recorded")


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc(Part):
    """The arc tube, and how the arc behaved when the ballast's frequency was swept."""

    diameter: Term | None = quantity("Inner diameter of the arc tube", "mm", 1, 200, origin=Origin.MEASURED, firm_up="Ask for the lamp's drawing", more=True)
    length: Term | None = quantity("Inner length of the arc tube", "mm", 1, 400, origin=Origin.MEASURED, firm_up="Ask for the lamp's drawing", more=True)
    sweep: str = series("Frequencies tried", hint="900 quiet; 950 hum; ... in Hz")


@dataclass(frozen=True, slots=True, kw_only=True)
class Beam(Part):
    """The light that the lamp sends to the subject, at full power."""

    intensity: Term | None = quantity("Intensity", "cd", 0.1, 1e9, origin=Origin.NAMEPLATE, firm_up="Read it off the head's light data for this beam")
    reading: Term | None = quantity("Light read", "lx", 0.1, 1e7, units=("lx", "fc"), origin=Origin.MEASURED, firm_up="Meter it", hint="At full power, instead of the intensity")
    reading_distance: Term | None = quantity("Read at", "m", 0.1, 1000, units=LENGTHS, origin=Origin.MEASURED, firm_up="Pace it out")
    distance: Term | None = quantity("Distance to the subject", "m", 0.1, 1000, units=LENGTHS, firm_up="Pace it out")
    diffusion: Term | None = quantity("Loss in scrims and diffusion", "stop", 0, 20, firm_up="Meter it with and without")


@dataclass(frozen=True, slots=True, kw_only=True)
class Warm(Part):
    """How a lamp comes up, and how it comes back."""

    full_light: Term | None = quantity("Time to full light", "min", 0.01, 60, units=TIMES, origin=Origin.MEASURED, firm_up="Meter it after a cold strike")
    full_colour: Term | None = quantity("Time to full colour", "min", 0.01, 60, units=TIMES, origin=Origin.MEASURED, firm_up="Meter it after a cold strike")
    cooling: Term | None = quantity("Cools before it strikes again", "min", 0, 120, units=TIMES, origin=Origin.MEASURED, firm_up="Try it, or ask for the lamp's data")
    strikes_hot: str = choice("Strikes hot", {"no": "No, it must cool", "yes": "Yes: lamp, igniter and head are made for it"})
    arc_start: Term | None = quantity("Arc voltage at the start", "%", 2, 99, origin=Origin.MEASURED, firm_up="Ask for the lamp's data", more=True, hint="Of running")


@dataclass(frozen=True, slots=True, kw_only=True)
class Control(Part):
    """How the lamp is set from afar."""

    line: str = text("Control line", hint="One of the rig's control lines")
    address: Term | None = quantity("First slot", "", 1, 512, firm_up="Read it off its display")
    slots: Term | None = quantity("Slots it uses", "", 1, 512, firm_up="Read its manual")
    unit_load: Term | None = quantity("Unit loads", "", 0.05, 4, origin=Origin.NAMEPLATE, firm_up="Read its manual", more=True)
    curve: str = choice("Curve", {"linear": "Linear", "square": "Square law", "S": "S curve"})
    resolution: str = choice("Level sent in", {"8 bit": "One slot, 256 steps", "16 bit": "Two slots, 65 536 steps"}, more=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class ControlLine(Part):
    """A chain of DMX512 receivers from a sender or a splitter's output to its last one."""

    id: str = ""
    name: str = text("Name")
    universe: str = text("Universe", hint="Lines with the same one share their slots")
    length: Term | None = quantity("Length", "m", 0.1, 5000, units=LENGTHS, firm_up="Add up the cables of the chain")
    terminated: str = choice("Terminated at the end", {"yes": "Yes, 120 Ω", "no": "No"})
    shape: str = choice("Shape", {"chain": "One chain", "branches": "Branches without a splitter"})
    cable: str = choice("Cable", {"data": "Data cable, 100 to 120 Ω", "microphone": "Microphone cable"})
    earths: str = choice("Supplies on it", {"one": "One supply and earth", "several": "Several supplies or earths, not isolated", "isolated": "Several, isolated between"}, more=True)
    slots_sent: Term | None = quantity("Slots sent", "", 1, 512, firm_up="Look it up in the sender's settings", more=True)
    break_time: Term | None = quantity("Break", "µs", 88, 1_000_000, firm_up="Look it up in the sender's settings", more=True)
    mark_time: Term | None = quantity("Mark after break", "µs", 8, 1_000_000, firm_up="Look it up in the sender's settings", more=True)
    fade_from: Term | None = quantity("Fade from level", "%", 0, 100, firm_up="Enter the cue's", more=True)
    fade_to: Term | None = quantity("Fade to level", "%", 0, 100, firm_up="Enter the cue's", more=True)
    fade_time: Term | None = quantity("Fade lasts", "s", 0.05, 3600, units=("s", "min"), firm_up="Enter the cue's", more=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Load(Part):
    """One lamp with all that belongs to it."""

    id: str = ""
    name: str = text("Name")
    kind: str = choice("Kind", KINDS, more=True)
    fed_by: str = text("Fed by", more=True)
    connection: str = choice("Plugged to", CONNECTIONS, more=True)
    dim: Term | None = quantity("Dim to", "%", 1, 100, hint="Of rated electrical power")
    earth_leakage: Term | None = quantity("Current in its earth conductor", "mA", 0, 1000, origin=Origin.NAMEPLATE, firm_up="Measure it with a leakage clamp", more=True)
    inrush: Term | None = quantity("Inrush, peak", "A", 0, 50_000, origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True)
    inrush_time: Term | None = quantity("Inrush lasts", "ms", 0.01, 5000, units=("ms", "µs", "s"), origin=Origin.NAMEPLATE, firm_up=NAMEPLATE, more=True)
    run_up: Term | None = quantity("Current while it warms up", "%", 10, 400, origin=Origin.MEASURED, firm_up="Meter it after the strike", more=True, hint="Of the current at full power")
    strike_at: Term | None = quantity("Struck at", "s", 0, 36_000, units=("s", "min"), more=True, hint="After the first, in the strike plan")
    lamp: Lamp = field(default_factory=Lamp)
    ballast: Ballast = field(default_factory=Ballast)
    head_cable: HeadCable = field(default_factory=HeadCable)
    pulse: Pulse = field(default_factory=Pulse)
    recording: Recording = field(default_factory=Recording)
    arc: Arc = field(default_factory=Arc)
    beam: Beam = field(default_factory=Beam)
    warm: Warm = field(default_factory=Warm)
    control: Control = field(default_factory=Control)
    nominal: Term | None = None  # voltage across its connection, filled by `settle`


@dataclass(frozen=True, slots=True, kw_only=True)
class Shot(Part):
    """What the camera does."""

    id: str = ""
    name: str = text("Name")
    frame_rate: Term | None = quantity("Frame rate", "fps", 0.001, 1_000_000, firm_up="Enter today's")
    shutter: Term | None = quantity("Shutter angle", "°", 0.1, 360, firm_up="Enter today's")
    exposure_time: Term | None = quantity("Exposure time", "s", 1e-7, 3600, units=("s", "ms", "µs"), more=True, hint="Instead of the angle")
    kind: str = choice("Taken as", {"moving": "Moving picture", "ramp": "Speed ramp", "time-lapse": "Time-lapse", "still": "Stills"})
    ramp_to: Term | None = quantity("Ramp ends at", "fps", 0.001, 1_000_000, firm_up="Enter today's")
    ramp_time: Term | None = quantity("Ramp lasts", "s", 0.01, 3600, units=("s", "min"), firm_up="Enter today's")
    interval: Term | None = quantity("Time from picture to picture", "s", 0.01, 86_400, units=("s", "min"), firm_up="Enter today's", hint="Of a time-lapse")
    sensor: str = choice("Sensor", {"rolling": "Rolling shutter, read row by row", "global": "Global shutter, all rows at once"}, more=True)
    readout: Term | None = quantity("Read-out time", "ms", 0.001, 1000, units=("ms", "µs"), origin=Origin.NAMEPLATE, firm_up="Ask for the camera's data", more=True,
                                    hint="First row to last; of stills, the time the curtain travels")
    clock_tolerance: Term | None = quantity("Camera clock holds within", "%", 0, 10, origin=Origin.NAMEPLATE, firm_up="Ask for the camera's data", more=True)
    speed: Term | None = quantity("ISO speed", "", 1, 1e7, firm_up="Enter today's", more=True)
    aperture: Term | None = quantity("Aperture wanted", "", 0.5, 128, firm_up="Enter today's", more=True, hint="The f-number alone: 2.8")
    lit_by: dict[str, Term] = field(default_factory=dict)  # load id → share of the light at the subject


SHARE = Spec("Share of the light", "quantity", "%", 0, 100, ("%",), firm_up="Meter each lamp alone at the subject")


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture(Part):
    """What may differ from frame to frame before it shows, and how the light is metered."""

    steady: Term | None = quantity("Difference that does not show", "%", 0.1, 50, firm_up="Use the limit of your own practice")
    spoiled: Term | None = quantity("Difference that spoils the shot", "%", 0.1, 100, firm_up="Use the limit of your own practice")
    calibration: Term | None = quantity("Calibration of incident metering", "lx·s", 50, 1000, firm_up="Ask for the meter's data", hint="About 250 for a flat receptor, 330 for a dome")


@dataclass(frozen=True, kw_only=True)  # no slots: the ways through its tree are kept once walked
class Rig:
    """The whole rig: a tree from the supply to the loads, and the shots they light."""

    name: str = ""
    rules: str = "iec"
    supply: Supply = field(default_factory=Supply)
    runs: dict[str, Run] = field(default_factory=dict)
    boxes: dict[str, Box] = field(default_factory=dict)
    loads: dict[str, Load] = field(default_factory=dict)
    shots: dict[str, Shot] = field(default_factory=dict)
    control_lines: dict[str, ControlLine] = field(default_factory=dict)
    picture: Picture = field(default_factory=Picture)
    unreadable: frozenset[str] = frozenset()  # addresses of entries that are there but cannot be used


RULES = {"iec": "IEC", "na": "North American"}
GROUPS: dict[str, type] = {"runs": Run, "boxes": Box, "loads": Load, "shots": Shot, "control_lines": ControlLine}
INNER: dict[type, dict[str, type]] = {Load: {"lamp": Lamp, "ballast": Ballast, "head_cable": HeadCable, "pulse": Pulse, "recording": Recording, "arc": Arc, "beam": Beam,
                                       "warm": Warm, "control": Control}, Supply: {"device": Device, "earth": Earth, "site": Site, "steps": Steps},
                                      Run: {"device": Device, "laid": Laid}}
