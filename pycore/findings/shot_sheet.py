"""The shot list as it is handed over on paper: verdicts, what to do, how fast each lamp may be filmed, and what is estimated."""

from dataclasses import dataclass, replace

from pycore.base.problem import Problem
from pycore.base.result import Finding, Term, Verdict, estimates
from pycore.findings import rate_limits, shutter
from pycore.findings.common import finding_or_unknown
from pycore.findings.rate_limits import Mode
from pycore.findings.shots import Board, Row
from pycore.rig.model import Rig, Shot

CAUTIONS = (shutter.TEST, "Sizes are differences between frames, peak to peak, when lamp and shutter meet at their worst.")


@dataclass(frozen=True, slots=True)
class Line:
    """A shot: its row of the matrix, the finding with the ways out, and the lamps that light it, as text."""

    row: Row
    finding: Finding
    lit: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """All that stands on the sheet."""

    lines: tuple[Line, ...]
    limits: tuple[Mode, ...]
    at: Shot | None
    estimates: tuple[tuple[str, Term], ...]
    problems: tuple[Problem, ...]


def sheet(rig: Rig) -> Sheet:
    """The sheet of a settled rig."""
    board = Board(rig, advise=False)
    lines = tuple(Line(row, _finding(board, rig.shots[row.shot]), _lit(rig, rig.shots[row.shot])) for row in board.rows())
    first = next((s for s in rig.shots.values() if s.kind in ("moving", "ramp") and s.frame_rate), None)
    limits, problems = rate_limits.lamps(rig, replace(first, lit_by={})) if first else ([], ())
    return Sheet(lines, tuple(limits), first, _estimates(board), problems)


def _finding(board: Board, shot: Shot) -> Finding:
    return finding_or_unknown("shot-steady", shutter.ALONE, f"shots/{shot.id}", lambda: _judged(board, shot))


def _judged(board: Board, shot: Shot) -> Finding:
    if shot.lit_by:
        return shutter.judged(board.scene(shot))
    return shutter.each(shutter.by_itself(board.rig, shot, board.lights, tuple(p for why in board.unknown.values() for p in why)))


def _lit(rig: Rig, shot: Shot) -> str:
    """What lights a shot: "Key 80 %, Old arc 20 %"."""
    names = {i: rig.loads[i].name or i if i in rig.loads else i for i in shot.lit_by}
    return ", ".join(f"{names[i]} {share.quantity}" for i, share in sorted(shot.lit_by.items(), key=lambda entry: -entry[1].value)) or "shares not entered"


def _estimates(board: Board) -> tuple[tuple[str, Term], ...]:
    """What the verdicts lean on and nobody has measured or read off: the lamp, or "" for the whole list, and the term."""
    found = [(board.rig.loads[i].name or i, t) for i, light in board.lights.items() for t in estimates(light.rests_on)]
    limits = estimates(t for t in (board.rig.picture.steady, board.rig.picture.spoiled) if t is not None)
    return (*found, *(("", t) for t in limits))


def advice(finding: Finding, most: int = 3) -> tuple[str, ...]:
    """The nearest ways out in words."""
    return () if finding.verdict is Verdict.CLEAR else tuple(r.text for r in finding.remedies[:most])
