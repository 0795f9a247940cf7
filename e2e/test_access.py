"""Every screen, in every theme and width: no axe violation, nothing cut off, every target big enough, 7:1 contrast."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from e2e.pages.rig import RigPage
from e2e.pages.screens import SCREENS, THEMES, WIDTHS, demo, empty, open_link
from toolchain import WEB

AXE = WEB / "node_modules" / "axe-core" / "axe.min.js"
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]

# Contrast depends on the theme and hardly on the width: axe, which is slow, looks at both ends once and at a phone else.
AXE_WIDTHS = {"day": (360, 1280), "sun": (360,), "dark": (360,)}
BIG_LETTERS_WIDTHS = (320, 360)

RUN_AXE = """async (tags) => {
  const rules = { 'color-contrast-enhanced': { enabled: true }, 'target-size': { enabled: true } };
  const { violations } = await axe.run(document, { runOnly: { type: 'tag', values: tags }, rules, resultTypes: ['violations'] });
  return violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.target} ${node.failureSummary.replaceAll('\\n', ' ')}`));
}"""

TOO_WIDE = """() => {
  const root = document.documentElement;
  if (root.scrollWidth <= root.clientWidth) return [];
  return [...document.querySelectorAll('body *')].filter((e) => e.getBoundingClientRect().right > root.clientWidth + 1)
    .map((e) => `${e.tagName}.${e.className?.baseVal ?? e.className} ${Math.round(e.getBoundingClientRect().right)}`);
}"""

CUT = """() => [...document.querySelectorAll('#app *')].filter((e) => {
  const style = getComputedStyle(e);
  return style.overflowX === 'hidden' && style.clipPath === 'none' && e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 1;
}).map((e) => `${e.tagName}.${e.className}`)"""

TOO_SMALL = """(least) => [...document.querySelectorAll('a[href], button, input, select, summary, [tabindex="0"]')]
  .map((e) => [e, e.type === 'radio' || e.type === 'file' ? e.closest('label') : e])
  .map(([e, box]) => [e, box.getBoundingClientRect()])
  .filter(([e, box]) => e.checkVisibility() && box.bottom > 0 && !e.disabled && !e.matches('.formula, main, pre'))
  .filter(([, box]) => box.height < least - 0.5 || box.width < least - 0.5)
  .map(([e, box]) => `${e.tagName} ${e.textContent.trim().slice(0, 30) || e.ariaLabel || e.id} ${Math.round(box.width)}x${Math.round(box.height)}`)"""


@pytest.fixture
def axe(page):
    """axe-core in every page; a script element would be stopped by the policy."""
    page.add_init_script(Path(AXE).read_text())
    return lambda: page.evaluate(RUN_AXE, TAGS)


def test_every_screen_in_every_look_and_width(page, axe):
    """One walk through the app; each screen is put into every theme, width, letter size and glove setting where it stands."""
    page.emulate_media(reduced_motion="reduce")  # colours do not fade from one theme to the next
    found: dict[str, list[str]] = {}
    try:
        for name, reach in SCREENS.items():
            widen(page, 360)
            reach(page)
            looks = {**looked_at(page, axe), **in_gloves(page)}
            found |= {f"{name} {look}": wrong for look, wrong in looks.items() if wrong}
    finally:  # a screen that is too wide zooms the page, and the way to the next may then be lost
        assert not found, "\n".join(f"{where}: {line}" for where, lines in found.items() for line in lines[:6])


def looked_at(page, axe) -> dict[str, list[str]]:
    """What is wrong with a screen, by width with theme or with big letters."""
    wrong = {}
    for width in WIDTHS:
        widen(page, width)
        for theme in THEMES:
            put(page, theme=theme)
            wrong[f"{theme} {width}"] = [*(axe() if width in AXE_WIDTHS[theme] else ()), *page.evaluate(TOO_WIDE), *page.evaluate(CUT), *page.evaluate(TOO_SMALL, 48)]
        if width in BIG_LETTERS_WIDTHS:
            wrong[f"twice as big {width}"] = in_big_letters(page)
    put(page, theme="day")
    return wrong


def in_big_letters(page) -> list[str]:
    """What does not fit once text is twice as big."""
    page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
    wrong = page.evaluate(TOO_WIDE)
    page.evaluate("() => { document.documentElement.style.fontSize = ''; }")
    return wrong


def in_gloves(page) -> dict[str, list[str]]:
    """What is too small for a gloved finger."""
    put(page, gloves="on")
    widen(page, 390, 844)
    wrong = page.evaluate(TOO_SMALL, 72)
    put(page, gloves="off")
    return {"gloves": wrong}


def widen(page, width: int, height: int = 780) -> None:
    """Give the window a size, and the page the time to follow it."""
    page.set_viewport_size({"width": width, "height": height})
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")


def put(page, **look: str) -> None:
    """Dress the page as the settings would; that they do is another test's matter."""
    page.evaluate("(look) => { Object.assign(document.documentElement.dataset, look); }", look)


@pytest.mark.shared_page
def test_main_buttons_are_64_pixels_high(page):
    empty(page)
    assert page.get_by_role("button", name="Add a lamp").bounding_box()["height"] >= 64


@pytest.mark.parametrize("spacing", ["* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; }"])
def test_wider_text_spacing_still_fits(page, spacing):
    """WCAG 1.4.12."""
    page.set_viewport_size({"width": 320, "height": 780})
    empty(page)
    page.evaluate("(css) => { const sheet = new CSSStyleSheet(); sheet.replaceSync(css); document.adoptedStyleSheets = [sheet]; }", spacing)
    demo(page)
    open_link(page)

    assert page.evaluate(TOO_WIDE) == []


@pytest.mark.shared_page
def test_forced_colours_keep_shape_and_word(page):
    page.emulate_media(forced_colors="active")
    rig = RigPage(page).open_demo()

    expect(rig.verdict).to_contain_text("Tight")
    shape = rig.link("Track run").locator("svg").first
    assert shape.evaluate("(e) => getComputedStyle(e.querySelector('*')).fill") != page.evaluate("() => getComputedStyle(document.body).backgroundColor")


def test_the_keyboard_reaches_everything_in_order(page):
    rig = RigPage(page).open_demo()
    seen = []
    for _ in range(40):
        page.keyboard.press("Tab")
        seen.append(page.evaluate("() => document.activeElement.textContent.trim().slice(0, 12) || document.activeElement.ariaLabel || ''"))
        width = page.evaluate("() => parseFloat(getComputedStyle(document.activeElement).outlineWidth)")
        assert width >= 3 or page.evaluate("() => document.activeElement === document.body"), seen[-1]
        if "More" in seen[-1]:
            break
    titles = [text for text in seen if any(text.startswith(t) for t in ("Supply", "Track run", "Ballast", "Head cable", "Lamp", "Shutter"))]
    assert titles == sorted(titles, key=lambda t: ["Supp", "Trac", "Ball", "Head", "Lamp", "Shut"].index(t[:4]))
    assert len(titles) == 6
    rig.link("Supply").focus()
    page.keyboard.press("Enter")
    expect(rig.panel("Supply")).to_be_visible()


def test_theme_and_gloves_are_kept(page):
    empty(page)
    page.evaluate("() => { location.hash = 'more'; }")
    page.get_by_role("radio", name="Sun").check()
    page.get_by_role("radio", name="Gloves").check()
    page.reload()

    expect(page.locator("html")).to_have_attribute("data-theme", "sun")
    expect(page.locator("html")).to_have_attribute("data-gloves", "on")
    expect(page.get_by_role("radio", name="Sun")).to_be_checked()


def test_a_dark_device_gets_the_dark_set(page):
    page.emulate_media(color_scheme="dark")
    empty(page)
    expect(page.locator("html")).to_have_attribute("data-theme", "dark")
    page.emulate_media(color_scheme="light")
    expect(page.locator("html")).to_have_attribute("data-theme", "day")
