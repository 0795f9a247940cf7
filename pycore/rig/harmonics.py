"""Harmonics of a current as a person writes them off an analyser: "3: 80 %, 5: 50 % 16°, 7: 30 %"."""

import re
from math import hypot

from pycore.base.problem import refuse
from pycore.base.units import parse

Parts = tuple[tuple[int, float, float], ...]
_PART = re.compile(r"\s*(\d{1,2})\s*:\s*([^\s°]+\s*%)\s*(?:@?\s*([-+−]?[\d.]+)\s*°)?\s*")


def read_harmonics(text: str) -> Parts:
    """Order, share of the fundamental and angle (rad, against the load's own voltage) of each part.

    Parts are set apart by semicolons or by commas that are no decimal mark. Raises `Refused` for what is no such list.
    """
    parts: list[tuple[int, float, float]] = []
    for piece in filter(str.strip, re.split(r";|,(?=\s*\d{1,2}\s*:)", text)):
        found = _PART.fullmatch(piece)
        if not found:
            raise refuse("harmonics-unreadable", f"“{piece.strip()}” is not order and share", "Write them like 3: 80 %, 5: 50 % 16°")
        order, share = int(found[1]), parse(found[2], "%")
        if not (2 <= order <= 50 and 0 <= share <= 5) or order in {p[0] for p in parts}:
            raise refuse("harmonics-unreadable", f"Order {order} is out of place", "Orders from 2 to 50, each once, shares of the fundamental")
        parts.append((order, share, parse(f"{found[3]} °", "°") if found[3] else 0.0))
    return tuple(parts)


def distortion(parts: Parts) -> float:
    """Total harmonic distortion against the fundamental, a share."""
    return hypot(*(share for _, share, _ in parts)) if parts else 0.0
