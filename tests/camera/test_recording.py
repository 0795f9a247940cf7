"""Recordings as text: read as they come, every bad line named."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pycore.base.problem import Refused
from pycore.camera.recording import FEWEST, read

LEVELS = [1 + 0.001 * (i % 7) for i in range(50)]


def rows(time, level, count=50):
    return "\n".join(time(i / 1000) + level(LEVELS[i]) for i in range(count))


@pytest.mark.parametrize(
    "text",
    [
        "time (s),level (V)\n" + rows(lambda t: f"{t},", str),
        "# scope\nt [ms];V\n" + rows(lambda t: f"{1000 * t};", str),
        "Zeit in ms\tPegel\n" + rows(lambda t: f"{1000 * t:.3f}\t".replace(".", ","), lambda x: f"{x:.3f}".replace(".", ",")),
        "\ufeffs;V\r\n" + rows(lambda t: f"{t:.4f};".replace(".", ","), lambda x: f"{x:.3f}".replace(".", ",")).replace("\n", "\r\n"),
        rows(lambda t: f"{t:.6e}   ", lambda x: f"{x:.5e}"),
        'time/us,"ch1","ch2"\n' + rows(lambda t: f"{1e6 * t:.1f},", lambda x: f'"{x}",9'),
    ],
    ids=["comma", "semicolon ms", "tab and decimal comma", "byte-order mark", "white space", "third column"],
)
def test_two_columns_in_the_ways_that_instruments_write(text):
    """Delimiter, decimal sign, unit of time and headings are found."""
    found = read(text)

    assert found.rate == pytest.approx(1000, rel=1e-3)
    assert found.levels == pytest.approx(LEVELS, abs=1e-3) and found.problems == ()


@pytest.mark.parametrize("level", [str, lambda x: f"{x:.3f}".replace(".", ",")], ids=["point", "comma"])
def test_one_column_with_a_rate(level):
    """Level after level, with the rate given."""
    assert read("level\n" + "\n".join(map(level, LEVELS)), 240.0).levels == pytest.approx(LEVELS, abs=1e-3)


def refused(text, rate=None):
    with pytest.raises(Refused) as caught:
        read(text, rate)
    return {p.code: p for p in caught.value.problems}


def test_one_column_without_a_rate():
    """The rate is asked for."""
    assert "rate-missing" in refused("\n".join(map(str, LEVELS)))


def test_a_few_bad_lines_are_left_out_and_named():
    """Each with its number in the file, headings and empty lines counted."""
    lines = ["time,level", "", *rows(lambda t: f"{t},", str).splitlines()]
    lines[10], lines[20] = "0.008,abc", "0.018"
    found = read("\n".join(lines))

    assert [(p.code, p.address) for p in found.problems] == [("line-unreadable", "line 11"), ("line-short", "line 21")]
    assert "abc" in found.problems[0].message and any("left out" in n for n in found.notes)


def test_a_bad_file_names_every_line():
    """Too many bad lines refuse the file, and all of them are listed."""
    lines = rows(lambda t: f"{t},", str).splitlines()
    for i in range(5, 50, 5):
        lines[i] = "0.1,?" if i % 2 else "x,1"
    with pytest.raises(Refused) as caught:
        read("\n".join(lines))

    named = [p.address for p in caught.value.problems if p.address]
    assert caught.value.problems[0].code == "too-many-bad" and named == [f"line {i + 1}" for i in range(5, 50, 5)]


def test_time_must_go_on():
    """A line whose time stands or goes back is named and left out."""
    lines = rows(lambda t: f"{t},", str).splitlines()
    lines[30] = "0.029,1"
    found = read("\n".join(lines))

    assert [(p.code, p.address) for p in found.problems] == [("time-back", "line 31")]


def test_uneven_samples_are_drawn_to_an_even_rate():
    """A ramp stays a ramp."""
    times = [i / 1000 + 0.0003 * (i % 3) for i in range(60)]
    found = read("\n".join(f"{t},{2 * t + 1}" for t in times))
    step = 1 / found.rate

    assert found.levels == pytest.approx([2 * i * step + 1 for i in range(len(found.levels))], abs=1e-9) and any("evenly" in n for n in found.notes)


@pytest.mark.parametrize(("text", "code"), [("", "file-empty"), ("# only\n\n", "file-empty"), ("time,level\n1,2\n2,3", "too-short"), ("nan,1\n" * 40, "too-many-bad"), ("PK\x03\x04\x00" * 30, "too-many-bad")])
def test_files_that_are_none(text, code):
    """Empty, too short, not numbers, not text."""
    assert code in refused(text)


def test_a_long_list_of_bad_lines_is_cut_with_its_count():
    """The first hundred and how many more."""
    problems = refused("\n".join(["1,2"] * 1 + ["a,b"] * 300))

    assert "200 more" in problems["more-lines"].message


@given(st.text(max_size=400) | st.lists(st.sampled_from(["1", "2,5", "0.1;3", "a", "nan", "1e999", "-", "", "\t", "3 4", '"5","6"']), max_size=60).map("\n".join))
def test_any_text_is_read_or_refused(text):
    """Never another error, never a number that is not finite."""
    try:
        found = read(text)
    except Refused as refused:
        assert all(p.message and p.code for p in refused.problems)
    else:
        assert len(found.levels) >= FEWEST and all(abs(x) < float("inf") for x in found.levels) and found.rate > 0
