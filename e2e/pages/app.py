"""The app as a whole: the way to its places, and how long its calculator may take."""

from playwright.sync_api import Page

START = 30_000  # ms that a cold calculator may take on a busy machine


def go(page: Page, place: str = "") -> None:
    """Go to a place of the app; a page that shows nothing yet opens it."""
    if page.url == "about:blank":
        page.goto(f"#{place}" if place else "")
    else:
        page.evaluate("(place) => { location.hash = place; }", place)
