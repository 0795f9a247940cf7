"""A recording of light as text: time and level, or level alone with a sample rate. Every line that is wrong is named."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite
from statistics import median

from pycore.base.problem import Problem, Refused

FEWEST, MOST = 32, 200_000
BAD_SHARE = 0.05  # of the lines; more, and the file is refused
LISTED = 100  # problems shown one by one
TIMES = {"s": 1.0, "sec": 1.0, "seconds": 1.0, "ms": 1e-3, "us": 1e-6, "µs": 1e-6, "μs": 1e-6, "ns": 1e-9}
_NUMBER = re.compile(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?")


@dataclass(frozen=True, slots=True)
class Samples:
    """Levels at an even rate (1/s), what was put right, and lines that were left out."""

    rate: float
    levels: list[float]
    notes: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def duration(self) -> float:
        """Length in s."""
        return len(self.levels) / self.rate


@dataclass(frozen=True, slots=True)
class Form:
    """How the file is written."""

    delimiter: str  # "" for white space
    comma: bool  # decimal comma


def read(text: str, rate: float | None = None) -> Samples:
    """The samples in a text; `rate` (1/s) counts where there is one column only.

    Raises `Refused` with every bad line when too little is left to go by.
    """
    lines = [(n, line.strip()) for n, line in enumerate(text.removeprefix("\ufeff").splitlines(), 1)]
    lines = [(n, line) for n, line in lines if line and not line.startswith(("#", "//", "%"))]
    if not lines:
        raise Refused(Problem("file-empty", "The file holds no lines", "Export the recording again"))
    form = _form([line for _, line in lines], rate)
    header, rows = _split(lines, form)
    good, bad = _numbers(rows, form)
    return _even(good, bad, rate, _unit(header), [])


def _form(lines: Sequence[str], rate: float | None) -> Form:
    """Delimiter and decimal sign, as most lines have them."""
    probe = lines[len(lines) // 3:][:200]
    for delimiter in (";", "\t"):
        if _most(delimiter in line for line in probe):
            return Form(delimiter, _most(re.search(r"\d,\d", line) is not None for line in probe))
    spaced = _most(re.search(r"\S\s+\S", line.replace(", ", ",")) is not None for line in probe)
    if spaced and _most(re.search(r"\d,\d", line) is not None for line in probe):
        return Form("", True)
    if _most("," in line for line in probe):
        one_comma = _most(re.fullmatch(r"[-+]?\d+,\d+", line) is not None for line in probe)
        return Form(";", True) if one_comma and rate is not None else Form(",", False)
    return Form("", False)


def _most(flags) -> bool:
    seen = list(flags)
    return 2 * sum(seen) > len(seen)


def _cells(line: str, form: Form) -> list[str]:
    cells = line.split(form.delimiter) if form.delimiter else line.split()
    return [c.strip().strip('"').replace(",", ".") if form.comma else c.strip().strip('"') for c in cells if c.strip()]


def _split(lines: list[tuple[int, str]], form: Form) -> tuple[list[str], list[tuple[int, str]]]:
    """Heading lines, and those from the first one whose first cells are numbers."""
    for i, (_, line) in enumerate(lines[:60]):
        cells = _cells(line, form)
        if cells and all(_NUMBER.fullmatch(c) for c in cells[:2]):
            return [text for _, text in lines[:i]], lines[i:]
    return [], lines


def _numbers(rows: list[tuple[int, str]], form: Form) -> tuple[list[tuple[int, list[float]]], list[Problem]]:
    good, bad = [], []
    width = min(2, round(median(len(_cells(line, form)) for _, line in rows[:200])))
    for n, line in rows:
        cells = _cells(line, form)[:2]
        if len(cells) < width:
            bad.append(Problem("line-short", f"Line {n} has {len(cells)} of {width} figures", "Mend or remove the line", f"line {n}"))
            continue
        wrong = next((c for c in cells if not _NUMBER.fullmatch(c) or not isfinite(float(c))), None)
        if wrong is not None:
            bad.append(Problem("line-unreadable", f"Line {n}: “{wrong[:20]}” is not a number", "Mend or remove the line", f"line {n}"))
        else:
            good.append((n, [float(c) for c in cells]))
    return good, bad


def _unit(header: list[str]) -> float:
    """Seconds in the unit of the time column, where the heading names one."""
    for line in header:
        found = re.search(r"(?<![A-Za-z])(ns|us|µs|μs|ms|sec|seconds|s)(?![A-Za-z])", re.split(r"[,;\t]", line)[0])
        if found:
            return TIMES[found[1]]
    return 1.0


def _even(good: list[tuple[int, list[float]]], bad: list[Problem], rate: float | None, unit: float, notes: list[str]) -> Samples:
    """Samples at an even rate. Raises `Refused` with all problems where that cannot be."""
    single = bool(good) and len(good[0][1]) == 1
    fatal: list[Problem] = []
    if single and not rate:
        fatal.append(Problem("rate-missing", "The file has levels only, and no sample rate was given", "Enter the sample rate", "sample_rate"))
    if not single:
        good, backwards = _forwards(good)
        bad = [*bad, *backwards]
    if len(bad) > BAD_SHARE * (len(good) + len(bad)):
        fatal.append(Problem("too-many-bad", f"{len(bad)} of {len(good) + len(bad)} lines cannot be read", "Export the recording again as plain columns"))
    if len(good) < FEWEST:
        fatal.append(Problem("too-short", f"Only {len(good)} samples can be read; {FEWEST} are the least", "Record for longer"))
    if fatal:
        raise Refused(*fatal, *_shortened(bad))
    if bad:
        notes.append(f"{len(bad)} line{'s' * (len(bad) != 1)} left out")
    if len(good) > MOST:
        notes.append(f"The first {MOST} samples are used")
        good = good[:MOST]
    if single:
        return Samples(float(rate or 0), [v[0] for _, v in good], tuple(notes), _shortened(bad))
    return _resampled([v[0] * unit for _, v in good], [v[1] for _, v in good], notes, _shortened(bad))


def _forwards(good: list[tuple[int, list[float]]]) -> tuple[list[tuple[int, list[float]]], list[Problem]]:
    """The samples whose time goes on, and the lines where it does not."""
    kept: list[tuple[int, list[float]]] = []
    wrong: list[Problem] = []
    for n, cells in good:
        if kept and cells[0] <= kept[-1][1][0]:
            wrong.append(Problem("time-back", f"Line {n}: time does not go on from the line before", "Mend or remove the line", f"line {n}"))
        else:
            kept.append((n, cells))
    return kept, wrong


def _resampled(times: list[float], levels: list[float], notes: list[str], problems: tuple[Problem, ...]) -> Samples:
    """Evenly spaced samples, drawn in straight lines between those that are not."""
    steps = [b - a for a, b in zip(times, times[1:], strict=False)]
    step = (times[-1] - times[0]) / (len(times) - 1)
    usual = median(steps)
    if max(abs(s - usual) for s in steps) <= 0.01 * usual:
        return Samples(1 / step, levels, tuple(notes), problems)
    notes.append("The samples are not evenly spaced; they were drawn on straight lines to an even rate")
    count, at, even = min(MOST, int((times[-1] - times[0]) / usual) + 1), 0, []
    for i in range(count):
        t = times[0] + i * usual
        while at < len(times) - 2 and times[at + 1] < t:
            at += 1
        part = (t - times[at]) / (times[at + 1] - times[at])
        even.append(levels[at] + part * (levels[at + 1] - levels[at]))
    return Samples(1 / usual, even, tuple(notes), problems)


def _shortened(problems: list[Problem]) -> tuple[Problem, ...]:
    """The problems, a long list cut with its count."""
    if len(problems) <= LISTED:
        return tuple(problems)
    return (*problems[:LISTED], Problem("more-lines", f"and {len(problems) - LISTED} more lines", "Export the recording again"))
