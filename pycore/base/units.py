"""The edge where text becomes SI floats and SI floats become text.

Inside the core every number is a float in coherent SI units (V, A, W, Ω, m, m², s, K, rad).
People write "25 m", "80 ft", "2,5 mm²", "12 AWG"; they read "4.35 kW". Both happen here, by pint
with a definition file of our own, and nowhere else.
"""

import re
from functools import cache, lru_cache
from math import isfinite, log10
from typing import TYPE_CHECKING, Any

from pycore.base.data_files import made_units
from pycore.base.problem import refuse

if TYPE_CHECKING:
    import pint

# What may be written -> what pint calls it. The first spelling of a unit is the one we show.
SPELLINGS = {
    "V": "volt", "mV": "millivolt", "kV": "kilovolt",
    "A": "ampere", "mA": "milliampere", "kA": "kiloampere",
    "W": "watt", "kW": "kilowatt", "mW": "milliwatt", "MW": "megawatt",
    "VA": "volt_ampere", "kVA": "kilovolt_ampere", "var": "var", "kvar": "kilovar",
    "Ω": "ohm", "mΩ": "milliohm", "kΩ": "kiloohm", "MΩ": "megaohm", "µF": "microfarad", "mH": "millihenry",
    "m": "metre", "mm": "millimetre", "cm": "centimetre", "km": "kilometre", "ft": "foot", "in": "inch",
    "m²": "metre**2", "mm²": "millimetre**2", "kcmil": "kcmil",
    "Ω/m": "ohm/metre", "Ω/km": "ohm/kilometre", "mΩ/m": "milliohm/metre", "Ω/kft": "ohm/kilofoot",
    "mV/A/m": "millivolt/ampere/metre", "Ω·m": "ohm*metre", "1/K": "1/kelvin", "H/m": "henry/metre",
    "s": "second", "ms": "millisecond", "µs": "microsecond", "min": "minute", "h": "hour",
    "Hz": "hertz", "kHz": "kilohertz", "fps": "frame_per_second",
    "°": "degree", "rad": "radian", "%": "percent", "stop": "stop", "": "",
    "°C": "degree_Celsius", "°F": "degree_Fahrenheit", "K": "kelvin", "mired": "mired",
    "lx": "lux", "fc": "foot_candle", "cd": "candela", "lm": "lumen",
    "A²s": "ampere**2*second", "A√s/mm²": "ampere*second**0.5/millimetre**2", "m/s": "metre/second", "J": "joule", "Wh": "watt_hour", "kWh": "kilowatt_hour",
    "L": "litre", "L/h": "litre/hour", "gal": "us_gallon", "gal/h": "us_gallon/hour", "1/s": "1/second",
    "W/m²": "watt/metre**2", "J/m²": "joule/metre**2", "V²": "volt**2", "%/m": "percent/metre",
    "lx·s": "lux*second", "W/m²/K⁴": "watt/metre**2/kelvin**4", "kg/m³": "kilogram/metre**3", "J/kg/K": "joule/kilogram/kelvin",
}
ALSO = {
    "volt": "V", "volts": "V", "amp": "A", "amps": "A", "watt": "W", "watts": "W", "kw": "kW", "KW": "kW", "w": "W",
    "kva": "kVA", "KVA": "kVA", "ohm": "Ω", "ohms": "Ω", "Ohm": "Ω", "Ω": "Ω", "mohm": "mΩ", "v": "V", "a": "A",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "M": "m", "feet": "ft", "foot": "ft", "'": "ft", "′": "ft",
    "mm2": "mm²", "mm^2": "mm²", "sqmm": "mm²", "MCM": "kcmil", "mcm": "kcmil", "uF": "µF", "μF": "µF",
    "sec": "s", "us": "µs", "μs": "µs", "mins": "min", "hours": "h", "hr": "h", "hz": "Hz", "HZ": "Hz",
    "deg": "°", "degrees": "°", "degC": "°C", "C": "°C", "degF": "°F", "F": "°F", "percent": "%",
    "stops": "stop", "frames/s": "fps", "f/s": "fps", "lux": "lx", "l": "L", "l/h": "L/h", "litres": "L",
}
_MEANS = {  # of one dimension with others, yet never to be taken for them
    "°": "angle", "rad": "angle", "stop": "stops", "VA": "apparent power", "kVA": "apparent power", "var": "reactive power", "kvar": "reactive power", "lm": "flux",
}
LADDERS = {  # shown with the prefix that suits the size
    "V": ("mV", "V", "kV"), "A": ("mA", "A", "kA"), "W": ("mW", "W", "kW"), "VA": ("VA", "kVA"), "var": ("var", "kvar"),
    "Ω": ("mΩ", "Ω", "kΩ", "MΩ"), "s": ("µs", "ms", "s"), "Hz": ("Hz", "kHz"), "Wh": ("Wh", "kWh"),
}
FLOOR = {"V": 0.1, "A": 0.05, "W": 0.1, "s": 0.95, "Ω": 0.0995}  # below this the smaller prefix reads better

_NUMBER = re.compile(r"[-+−]?\.?\d(?:\d|[ .,'’\u00a0\u202f](?=\d))*(?:[eE][-+]?\d+)?")  # 80' is feet: a mark counts only before a digit
_GROUPED = re.compile(r"[-+]?\d{1,3}([ '’\u00a0\u202f])\d{3}(?:\1\d{3})*(?:[.,]\d+)?")
_FRACTION = re.compile(r"1\s*/\s*(\d+(?:[.,]\d+)?)\s*(?:s|sec)?")  # 1/50 s: how exposure times are written
_AWG = re.compile(r"(?:#\s*)?(\d{1,2}|[1-4]/0|0{1,4})\s*(?:AWG|awg|Awg)|#\s*(\d{1,2}|[1-4]/0)")


@cache
def registry() -> "pint.UnitRegistry[Any]":
    """The one pint registry, built from the small definition file beside this module.

    pint is loaded when it is first asked: where all units are made beforehand, that is never.
    """
    from importlib.resources import files

    import pint

    units: pint.UnitRegistry[Any] = pint.UnitRegistry(None, cache_folder=None)
    units.load_definitions(files("pycore.base").joinpath("units.txt").read_text("utf-8").splitlines())
    return units


def from_pint(unit: str) -> list[Any]:
    """What pint says of a unit: factor and offset such that SI = value·factor + offset, the dimension, the coherent SI unit."""
    quantity = registry().Quantity
    zero, one = (quantity(x, SPELLINGS[unit]).to_base_units() for x in (0.0, 1.0))
    base = f"{one.units:~C}" if str(one.units) != "dimensionless" else "1"
    dimension = " ".join(f"{name}^{power:g}" for name, power in sorted(one.dimensionality.items()))
    return [one.magnitude - zero.magnitude, zero.magnitude, dimension, base]


@cache
def _about(unit: str) -> list[Any]:
    """What pint says, or said when the page's archive was made."""
    return made_units().get(unit) or from_pint(unit)


@cache
def _scale(unit: str) -> tuple[float, float]:
    """Factor and offset such that SI = value·factor + offset."""
    factor, offset, _, _ = _about(unit)
    return factor, offset


@cache
def dimension(unit: str) -> tuple[str, str]:
    """The dimension and meaning of a unit, to be compared with another's: degrees are no per cent, VA are no W."""
    return _about(unit)[2], _MEANS.get(unit, "")


def base_unit(unit: str) -> str:
    """The coherent SI unit of a unit, in pint's short form; "1" for what has no dimension."""
    return _about(unit)[3]


def to_si(value: float, unit: str) -> float:
    """SI magnitude of `value` in `unit`."""
    factor, offset = _scale(unit)
    return value * factor + offset


def from_si(value: float, unit: str) -> float:
    """Magnitude in `unit` of an SI `value`."""
    factor, offset = _scale(unit)
    return (value - offset) / factor


def number(text: str) -> float:
    """The number in `text`, with point or comma.

    Raises `Refused` for what is no number, and for "1,200", which could be 1.2 or 1200. Spaces and marks part
    thousands only: "6'3" is not 63.
    """
    plain = text.strip().replace("−", "-")
    if re.search(r"[\s'’]", plain) and not _GROUPED.fullmatch(plain):
        raise refuse("number-unclear", f"“{plain}” is not one number", "Write one number with one unit, such as 1200 or 12.5")
    plain = re.sub(r"[\s'’]", "", plain)
    if re.fullmatch(r"[-+]?\d{1,3},\d{3}", plain) and not re.match(r"[-+]?0,", plain):
        raise refuse("number-unclear", f"“{text.strip()}” could be read two ways", f"Write {plain.replace(',', '')} or {plain.replace(',', '.')}")
    if "," in plain and "." in plain:
        mark = max(plain, key=lambda c: plain.rfind(c) if c in ",." else -1)
        other = "," if mark == "." else "."
        grouped = re.fullmatch(rf"[-+]?\d{{1,3}}(\{other}\d{{3}})+\{mark}\d+", plain)
        plain = plain.replace(other, "").replace(mark, ".") if grouped else "?"
    try:
        value = float(plain.replace(",", "."))
    except ValueError:
        raise refuse("number-unreadable", f"“{text.strip()}” is not a number", "Write a number such as 12.5") from None
    if not isfinite(value):
        raise refuse("number-unreadable", f"“{text.strip()}” is not a number", "Write a number such as 12.5")
    return value


def awg_area(gauge: str) -> float:
    """Conductor area in m² of an American wire gauge: "12", "1/0", "4/0". ASTM B258 geometric series."""
    if set(gauge) == {"0"}:
        gauge = f"{len(gauge)}/0"
    n = 1 - int(gauge[0]) if gauge.endswith("/0") else int(gauge)
    return 0.012668e-6 * 92 ** ((36 - n) / 19.5)


def awg_in(text: str) -> str | None:
    """The gauge that `text` names ("12 AWG", "#2", "4/0 AWG"), or None."""
    found = _AWG.fullmatch(text.strip())
    gauge = found and (found[1] or found[2])
    return f"{len(gauge)}/0" if gauge and set(gauge) == {"0"} else gauge


@lru_cache(maxsize=4096)
def parse(text: str, unit: str) -> float:
    """SI value of `text`; a bare number counts in `unit`.

    Raises `Refused` when the text is no quantity or has another dimension than `unit`.
    """
    gauge = awg_in(text) if dimension(unit) == dimension("mm²") else None
    if gauge:
        return awg_area(gauge)
    fraction = _FRACTION.fullmatch(text.strip()) if dimension(unit) == dimension("s") else None
    if fraction and number(fraction[1]):
        return 1 / number(fraction[1])
    found = _NUMBER.match(text.strip())
    if not found:
        raise refuse("number-unreadable", f"“{text.strip()}” is not a number", f"Write a number with its unit, such as 12.5 {unit}".rstrip())
    value, written = number(found[0]), text.strip()[found.end():].strip()
    written = ALSO.get(written, written) if written else unit
    if written not in SPELLINGS:
        raise refuse("unit-unknown", f"“{written}” is not a unit known here", f"Write it in {unit}" if unit else "Write a plain number")
    if dimension(written) != dimension(unit):
        raise refuse("unit-wrong", f"{written} does not measure this", f"Write it in {unit}" if unit else "Write a plain number")
    return to_si(value, written)


def digits(value: float) -> str:
    """`value` with the digits that a person uses: three or four figures, no needless zeros, thin spaces from 10 000."""
    if value == 0 or not isfinite(value):
        return "0" if value == 0 else "?"
    size = int(log10(abs(value)) // 1) if abs(value) >= 1e-12 else -12
    places = max(0, min(6, 1 if size == 2 else 2 - size))
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    whole, dot, rest = text.partition(".")
    if len(whole.lstrip("-")) > 4:
        whole = f"{int(whole):,}".replace(",", "\u202f")
    text = (whole + dot + rest).replace("-", "−")
    return "0" if text in ("−0", "") else text


@lru_cache(maxsize=8192)
def shown(value: float, unit: str) -> tuple[str, str]:
    """Text and unit for a person, of an SI `value` whose family is `unit` ("W" may come out in kW)."""
    ladder = LADDERS.get(unit, (unit,))
    chosen = unit
    if len(ladder) > 1 and value != 0:
        smaller = ladder[: ladder.index(unit)] if unit in ladder else ()
        steps = [s for s in ladder if abs(from_si(value, s)) >= (FLOOR.get(unit, 1) if s == unit else 1)]
        chosen = steps[-1] if steps else (smaller[0] if smaller else unit)
    figure = digits(from_si(value, chosen))
    return figure, "stops" if chosen == "stop" and figure.lstrip("−") != "1" else chosen
