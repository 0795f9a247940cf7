"""A trainee works a drill: numbers with units, hints one by one, the core's own working at the end."""

import re

import pytest
from playwright.sync_api import expect

from e2e.pages.drills import DrillPage

pytestmark = pytest.mark.shared_page


@pytest.fixture
def drill(page) -> DrillPage:
    return DrillPage(page).open("Across the salt pan")


def expected(platform, question: str, code: str = "START") -> float:
    mark = platform.call("mark", {"id": "long_run", "code": code, "question": question, "answer": "0", "reveal": True})
    return mark["expected"]["quantity"]["value"]


def test_the_figures_stay_hidden_until_all_is_answered(drill, platform):
    hidden = platform.call("mark", {"id": "long_run", "code": "START", "question": "arrives", "answer": "0", "reveal": True})
    figure = hidden["expected"]["quantity"]["shown"]
    expect(drill.facts).not_to_contain_text(figure)
    expect(drill.facts).to_contain_text("60 m")

    for number in (1, 2, 3):
        drill.question(number).get_by_role("button", name="Show the answer and its working").click()

    expect(drill.facts).to_contain_text(figure)
    expect(drill.facts.get_by_role("img", name=re.compile("^Share of the drawn power"))).to_be_visible()


def test_a_right_answer_is_marked_right_and_shows_the_working(drill, platform):
    drill.answer(2, f"{expected(platform, 'arrives'):.1f}")

    drill.says(2, "Right")
    expect(drill.question(2).get_by_role("group", name=re.compile("with numbers$")).last).to_be_visible()


def test_the_unit_may_be_typed_and_may_be_another(drill, platform):
    drill.answer(1, f"{expected(platform, 'draw') / 1000:.2f} kW")

    drill.says(1, "Right")


@pytest.mark.parametrize(("answer", "says"), [("200 A", "unit"), ("many", "is not a number"), ("20", "Too low")])
def test_a_wrong_answer_says_what_is_wrong_and_keeps_its_secret(drill, answer, says):
    drill.answer(2, answer)

    drill.says(2, says)
    expect(drill.question(2).locator("math")).to_have_count(0)
    expect(drill.question(2).get_by_label("Your answer")).to_have_value(answer)


def test_hints_come_one_at_a_time(drill):
    question = drill.question(1)
    hints = question.locator("ol.hints").get_by_role("listitem")
    expect(hints).to_have_count(0)

    question.get_by_role("button", name="Show a hint (1 of 3)").click()
    expect(hints).to_have_count(1)
    question.get_by_role("button", name="Show a hint (2 of 3)").click()
    question.get_by_role("button", name="Show a hint (3 of 3)").click()
    expect(hints).to_have_count(3)
    expect(question.get_by_role("button", name=re.compile("Show a hint"))).to_have_count(0)


def test_a_code_brings_the_same_numbers_back(drill, platform):
    before = drill.facts.inner_text()
    drill.page.get_by_role("button", name="Another, with other numbers").click()
    expect(drill.code).not_to_have_value("START")
    expect(drill.facts).not_to_have_text(before)

    drill.code.fill("START")
    drill.page.get_by_role("button", name="Use this code").click()

    expect(drill.code).to_have_value("START")
    expect(drill.facts).to_contain_text("60 m")
    assert drill.facts.inner_text() == before


def test_the_tolerance_is_said_before(drill):
    expect(drill.question(3)).to_contain_text("Counts as right within 1.5 %")
