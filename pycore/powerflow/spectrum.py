"""Harmonic spectra: typical ones from the data file, and what a spectrum says about the load."""

from dataclasses import dataclass
from functools import cache
from math import hypot

from pycore.base import units
from pycore.base.data_files import content
from pycore.base.result import Origin, Term, term
from pycore.powerflow.distortion import distortion_factor

Parts = tuple[tuple[int, float, float], ...]


@dataclass(frozen=True, slots=True)
class Spectrum:
    """Parts as `Load.spectrum` takes them: order, share of the fundamental, angle (rad) against the load's own voltage."""

    id: str
    title: str
    parts: Parts
    note: str

    @property
    def distortion(self) -> float:
        """Total harmonic distortion against the fundamental, a share."""
        return hypot(*(share for _, share, _ in self.parts))

    @property
    def factor(self) -> float:
        """Fundamental over rms."""
        return distortion_factor(THD=self.distortion)

    def term(self) -> Term:
        """The distortion as a typical term, for what leans on it."""
        return term(self.distortion, "%", f"distortion of the current: {self.title.lower()}", origin=Origin.TYPICAL, note=self.note,
                    firm_up="Read it with a power analyser at the ballast")


def from_text(parts: list[tuple[int, str, str]]) -> Parts:
    """Parts from (order, share, angle) as people write them. Raises `Refused` for what is no quantity."""
    return tuple((int(order), units.parse(share, "%"), units.parse(angle, "°")) for order, share, angle in parts)


@cache
def typical() -> dict[str, Spectrum]:
    """The typical spectra by kind of load."""
    listed = content("pycore/data/typical_spectra.toml")
    return {i: Spectrum(i, s["title"], from_text(s["parts"]), s["note"]) for i, s in listed.items()}
