"""What is wrong, where, and the way out.

    Exception
    └── Refused            carries every problem found, never only the first

A reader collects problems and raises once; nothing is lost and nothing is guessed.
"""

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that stops an answer.

    `code` is for programs, `message` says what happened, `way_out` says what to do,
    `address` is the place in the rig, such as ``runs/K1/length``.
    """

    code: str
    message: str
    way_out: str = ""
    address: str = ""

    def at(self, address: str) -> "Problem":
        """The same problem with the place it was found at."""
        return replace(self, address=address)


class Refused(Exception):
    """Raised with all problems at once."""

    def __init__(self, *problems: Problem):
        self.problems = problems
        super().__init__("; ".join(f"{p.message} [{p.code}]" for p in problems))


def refuse(code: str, message: str, way_out: str = "", address: str = "") -> Refused:
    """A `Refused` with a single problem."""
    return Refused(Problem(code, message, way_out, address))
