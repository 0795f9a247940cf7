"""What is wrong, where, and the way out."""

from pycore.base.problem import Problem, Refused, refuse


def test_a_refusal_carries_every_problem():
    """All problems travel together, and the text names each with its code."""
    refused = Refused(Problem("a", "First"), Problem("b", "Second"))

    assert [p.code for p in refused.problems] == ["a", "b"]
    assert str(refused) == "First [a]; Second [b]"


def test_a_problem_gets_its_place():
    """`at` gives the same problem with an address, and leaves the first as it was."""
    plain = Problem("a", "First", "Do this")

    assert plain.at("runs/K1/length") == Problem("a", "First", "Do this", "runs/K1/length")
    assert plain.address == ""


def test_refusing_with_one_problem():
    """`refuse` makes the exception for a single problem."""
    assert refuse("a", "First", "Do this", "supply").problems == (Problem("a", "First", "Do this", "supply"),)
