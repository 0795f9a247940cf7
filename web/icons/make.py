#!/usr/bin/env python3
"""Draws the app's icon, the ribbon, as SVG and PNG.  python3 web/icons/make.py

One band runs from the supply at the top to the shutter at the foot, as wide as the share of the power that still
arrives: warm while it is electricity, cold once it is light, pinched where a long thin cable takes its part.
"""

import struct
import zlib
from math import cos, pi
from pathlib import Path

HERE = Path(__file__).resolve().parent
PAPER, WARM, COLD = (0xFA, 0xF5, 0xEC), (0xC2, 0x57, 0x00), (0x0B, 0x4A, 0x86)
WIDTHS = ((0.0, 0.62), (0.34, 0.58), (0.42, 0.38), (1.0, 0.16))  # place down the icon, share of its width
TURN = (0.56, 0.74)  # where the lamp turns power into light
PNGS = {"icon-192.png": (192, 1.0), "icon-512.png": (512, 1.0), "maskable-512.png": (512, 0.8), "apple-touch-180.png": (180, 0.9)}  # size, zoom of the band


def ease(at: float, start: float, end: float) -> float:
    """0 before `start`, 1 after `end`, a smooth way between."""
    t = min(max((at - start) / (end - start), 0.0), 1.0)
    return (1 - cos(pi * t)) / 2


def width(at: float) -> float:
    """Width of the band at a place along it, 0 at the top and 1 at the foot, as a share of the icon."""
    start, before, end, after = next((*a, *b) for a, b in zip(WIDTHS, WIDTHS[1:], strict=False) if at <= b[0])
    return before + (after - before) * (at - start) / (end - start)


def colour(at: float) -> tuple[float, ...]:
    """Colour of the band at a place along it."""
    return mix(WARM, COLD, ease(at, *TURN))


def mix(a: tuple[float, ...], b: tuple[float, ...], share: float) -> tuple[float, ...]:
    """Between two colours, mixed as light is: in linear values, not in sRGB's."""
    return tuple(((1 - share) * p**2.2 + share * q**2.2) ** (1 / 2.2) for p, q in zip(a, b, strict=True))


def pixels(size: int, zoom: float) -> bytes:
    """PNG scan lines of the icon: the cover of each pixel follows from its distance to the band's edge."""
    lines = bytearray()
    for y in range(size):
        at = (y + 0.5) / size
        half, band = width(at) * zoom * size / 2, colour(at)
        lines.append(0)
        for x in range(size):
            cover = min(max(half - abs(x + 0.5 - size / 2) + 0.5, 0.0), 1.0)
            lines += bytes(round(c) for c in mix(PAPER, band, cover))
    return bytes(lines)


def png(size: int, zoom: float) -> bytes:
    """The icon as a PNG file, 8-bit RGB."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    header = struct.pack(">IIBBBBB", size, size, 8, 2, 0, 0, 0)
    image = zlib.compress(pixels(size, zoom), 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", image) + chunk(b"IEND", b"")


def svg(size: int = 512) -> str:
    """The icon as SVG text."""
    steps = [n / 64 for n in range(65)]

    def edge(at: float, side: int) -> str:
        return f"{(0.5 + side * width(at) / 2) * size:.1f} {at * size:.1f}"

    outline = [edge(at, -1) for at in steps] + [edge(at, 1) for at in reversed(steps)]
    places = [TURN[0] + (TURN[1] - TURN[0]) * n / 4 for n in range(5)]
    stops = "".join(f'<stop offset="{at:.3f}" stop-color="rgb({", ".join(str(round(c)) for c in colour(at))})"/>' for at in places)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}">\n'
        f'<linearGradient id="turn" x1="0" y1="0" x2="0" y2="{size}" gradientUnits="userSpaceOnUse">{stops}</linearGradient>\n'
        f'<path fill="rgb{PAPER}" d="M0 0H{size}V{size}H0Z"/>\n'
        f'<path fill="url(#turn)" d="M{"L".join(outline)}Z"/>\n</svg>\n'
    )


if __name__ == "__main__":
    (HERE / "ribbon.svg").write_text(svg(), "utf-8")
    for name, (size, zoom) in PNGS.items():
        (HERE / name).write_bytes(png(size, zoom))
