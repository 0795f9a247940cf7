"""Changing the rig changes the answer, in the units that people write."""

import re

import pytest
from playwright.sync_api import expect

from e2e.pages.rig import RigPage, figure_of

pytestmark = pytest.mark.shared_page

LENGTH, SIZE = "runs/K1/length", "runs/K1/size"


@pytest.fixture
def rig(page) -> RigPage:
    return RigPage(page).open_demo()


def core_figure(platform, changes: dict[str, str], link: str = "K1") -> str:
    """What the core itself answers for the demo rig with these changes."""
    demo = platform.call("demo")["rig"]
    answer = platform.call("check", {"rig": demo, "changes": [{"address": a, "text": t} for a, t in changes.items()]})
    return figure_of(answer, link)


def test_a_thicker_cable_lets_more_voltage_through(rig, platform):
    before = core_figure(platform, {})
    after = core_figure(platform, {SIZE: "4 mm²"})
    assert float(after) > float(before)
    rig.shows("Track run", before)

    rig.enter("Track run", "Conductor size", "4")

    rig.shows("Track run", after)


@pytest.mark.parametrize(
    ("label", "typed", "address", "means", "then_shown"),
    [
        ("Length", "62,5", LENGTH, "62.5 m", "62,5"),
        ("Length", "200 ft", LENGTH, "200 ft", "200"),
        ("Conductor size", "10 AWG", SIZE, "10 AWG", "10"),
        ("Conductor size", "6mm2", SIZE, "6 mm²", "6mm2"),
    ],
)
def test_numbers_and_units_as_people_write_them(rig, platform, label, typed, address, means, then_shown):
    rig.enter("Track run", label, typed)

    rig.shows("Track run", core_figure(platform, {address: means}))
    expect(rig.field("Track run", label)).to_have_value(then_shown)


def test_a_unit_button_changes_the_unit_of_the_number(rig, platform):
    rig.enter("Track run", "Length", "200")
    rig.unit("Track run", "Length", "ft").click()

    rig.shows("Track run", core_figure(platform, {LENGTH: "200 ft"}))
    expect(rig.unit("Track run", "Length", "ft")).to_have_attribute("aria-pressed", "true")


def test_the_answer_follows_while_typing(rig, platform):
    field = rig.field("Track run", "Length")

    field.press("Control+a")
    field.press_sequentially("30")

    rig.shows("Track run", core_figure(platform, {LENGTH: "30 m"}))
    expect(field).to_be_focused()


def test_an_advice_applies_its_changes(rig, platform):
    advice = rig.page.get_by_role("list", name="What to do about it").first.get_by_role("button").first
    size = re.match(r"([\d.]+)\smm²", advice.inner_text())
    assert size

    advice.click()

    rig.shows("Track run", core_figure(platform, {SIZE: f"{size[1]} mm²"}))


def test_the_ribbon_says_how_much_arrives(rig):
    ribbon = rig.page.get_by_role("img", name=re.compile("^Share of the drawn power"))
    expect(ribbon).to_have_accessible_name(re.compile(r"Supply 100 %, Track run 89 %.*square of the share"))

    rig.enter("Track run", "Length", "10")

    expect(ribbon).to_have_accessible_name(re.compile(r"Track run 9[89] %"))


def test_the_ribbon_is_as_wide_as_its_share(rig):
    """Width goes with the square of the share: measured on the drawn path at the height of the run's figure."""
    share, width, full = rig.page.evaluate("""() => {
      const path = document.querySelector('path[fill^="url(#power"]'), svg = path.ownerSVGElement, box = svg.getBoundingClientRect();
      const node = document.querySelectorAll('[data-node]')[1].getBoundingClientRect(), y = node.top + node.height / 2 - box.top;
      const inside = (x) => path.isPointInFill(new DOMPoint(x, y));
      let width = 0;
      for (let x = 0; x < box.width; x += 0.05) width += inside(x) ? 0.05 : 0;
      return [Number(/Track run (\\d+) %/.exec(svg.getAttribute('aria-label'))[1]) / 100, width, box.width];
    }""")

    assert width / full == pytest.approx(share**2, abs=0.02)  # the share is read to the whole per cent


def test_a_name_is_a_field_like_any_other(rig):
    rig.enter("Lamp", "Name", "Moonlight")

    expect(rig.page.get_by_role("heading", level=1)).to_have_text("Moonlight")


def test_a_lamp_can_be_removed_and_brought_back(rig):
    rig.open("Lamp").get_by_role("button", name="Remove this lamp").click()
    expect(rig.page.get_by_text("This rig has no lamp yet")).to_be_visible()

    rig.undo.click()
    expect(rig.page.get_by_role("heading", level=1)).to_have_text("Moon, 4 kW")


@pytest.mark.own_page
def test_advice_of_the_answer_before_cannot_be_taken(page):
    """While figures are new and the advice is not, the ways out keep their place but do nothing."""
    hold_advice(page)
    rig = RigPage(page).open_demo()
    rig.enter("Track run", "Length", "70")
    row = rig.chain.locator("> li").filter(has=page.get_by_role("button", name=re.compile("^Track run")))
    advice = row.get_by_role("list", name="What to do about it").first
    expect(advice).to_have_attribute("aria-busy", "false")
    before = advice.inner_text()

    page.evaluate("() => hold()")
    rig.enter("Track run", "Length", "80")

    expect(rig.link("Track run")).to_contain_text("80 m")
    expect(advice).to_have_attribute("aria-busy", "true")
    assert advice.inner_text() == before
    advice.get_by_role("button").first.click(force=True)
    page.evaluate("() => release()")
    expect(advice).to_have_attribute("aria-busy", "false")
    expect(rig.link("Track run")).to_contain_text("80 m of 2.5 mm²")
    advice.get_by_role("button").first.click()
    expect(rig.link("Track run")).not_to_contain_text("80 m of 2.5 mm²")


def hold_advice(page) -> None:
    """Let the questions that ask for advice wait while the test says so."""
    page.add_init_script("""
      const ask = Worker.prototype.postMessage;
      let held = [], holding = false;
      window.hold = () => { holding = true; };
      window.release = () => { holding = false; held.splice(0).forEach((go) => go()); };
      Worker.prototype.postMessage = function (message, ...rest) {
        const go = () => ask.call(this, message, ...rest);
        if (holding && message.params?.advise) held.push(go); else go();
      };
    """)
