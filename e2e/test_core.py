"""The calculator's worker: questions, failures and new starts, as the page's own modules see them."""

import json

import pytest

from e2e.pages.app import go

CLIENT = "const client = await import(new URL('app/core/client.js', document.baseURI));"
OUTCOME = "const outcome = (promise) => promise.then(() => 'answered', (error) => (error.name === 'AbortError' ? error.name : error.code));"


@pytest.fixture
def ask(page):
    """Runs a script with `client` and `outcome` at hand."""
    return lambda body: page.evaluate(f"async () => {{ {CLIENT} {OUTCOME} {body} }}")


@pytest.fixture
def failing(guard):
    """A test in which things are meant to go wrong."""
    guard.expect("Failed to load resource|ERR_FAILED|wanted|404|wasm|Aborted|Uncaught")


def up(platform):
    return platform.until(platform.core, lambda state: state["status"] == "ready")


def test_only_the_latest_question_of_a_kind_is_answered(page, ask):
    page.goto("")

    outcomes = ask("""return Promise.all([
        outcome(client.call('describe', {}, { kind: 'a' })), outcome(client.call('kit', {}, { kind: 'b' })),
        outcome(client.call('describe', {}, { kind: 'a' })), outcome(client.call('describe', {}, { kind: 'a' }))])""")

    assert outcomes == ["AbortError", "answered", "AbortError", "answered"]


def test_a_question_can_be_withdrawn(page, ask):
    page.goto("")

    assert ask("""const stop = new AbortController();
        const asked = outcome(client.call('describe', {}, { signal: stop.signal }));
        stop.abort();
        return Promise.all([asked, outcome(client.call('describe', {}, { signal: stop.signal })), outcome(client.call('kit'))])""") == [
        "AbortError",
        "AbortError",
        "answered",
    ]


@pytest.mark.shared_page
def test_what_the_core_refuses_comes_with_its_code_and_way_out(page, ask):
    go(page)

    error = ask("return client.call('no such method').catch((error) => ({ ...error, message: error.message }))")

    assert error["code"] == "method-unknown" and error["message"] and error["hint"]


def test_says_what_it_does_and_how_long_the_start_took(page, platform):
    page.goto("")
    state = up(platform)

    assert state["words"] == "Ready" and state["ms"] > 0


def test_a_start_that_fails_says_so_and_can_be_tried_again(page, platform, ask, failing):
    page.route("**/core/libs.zip", lambda route: route.fulfill(status=404))
    page.goto("")
    state = platform.until(platform.core, lambda state: state["status"] == "failed")
    assert state["words"] == "The calculator did not start." and "404" in state["detail"]
    assert ask("return outcome(client.call('describe'))") == "core-not-running"

    page.unroute("**/core/libs.zip")
    ask("client.restart()")

    assert ask("return outcome(client.call('describe'))") == "answered"


def test_a_start_in_silence_ends_in_words(page, platform, ask, failing):
    page.clock.install()
    page.route("**/pyodide.asm.wasm", lambda route: None)  # never answered
    page.goto("")
    assert platform.core()["status"] == "starting"

    page.clock.run_for(21_000)
    assert "slower than usual" in platform.core()["words"]
    page.clock.run_for(41_000)

    assert platform.core()["status"] == "failed"


def test_a_crash_fails_what_was_asked_and_the_calculator_starts_again(page, platform, ask, failing):
    crash_on_demand(page)
    page.goto("")
    up(platform)

    assert ask("return Promise.all([outcome(client.call('crash')), outcome(client.call('kit'))])") == ["core-crashed", "core-crashed"]
    assert ask("return outcome(client.call('kit'))") == "answered"


def test_a_calculator_that_crashes_at_once_again_is_given_up(page, platform, ask, failing):
    crash_on_demand(page)
    page.goto("")
    up(platform)

    assert ask("return outcome(client.call('crash'))") == "core-crashed"
    assert ask("return outcome(client.call('crash'))") == "core-not-running"
    assert platform.core()["status"] == "failed"


def crash_on_demand(page):
    """Serve a worker that throws when asked for `crash`."""
    bomb = "\naddEventListener('message', ({ data }) => { if (data.method === 'crash') { self.close(); throw new Error('wanted'); } });"

    def armed(route):
        response = route.fetch()
        route.fulfill(response=response, body=response.text().replace("else answer(data);", "else if (data.method !== 'crash') answer(data);") + bomb)

    page.route("**/app/core/worker.js", armed)


@pytest.mark.shared_page
def test_an_answer_is_unpacked_to_what_the_core_gives_whole(page, platform):
    """Each line of working comes once; the page puts it back into every finding that rests on it."""
    go(page)
    asked = {"rig": platform.call("demo")["rig"]}
    whole, packed = platform.call("check", asked), platform.call("check", {**asked, "compact": True})

    unpacked = page.evaluate("async (answer) => (await import(new URL('app/state/unpack.js', document.baseURI))).unpack(answer)", packed)

    assert "workings" in packed and len(json.dumps(packed)) < 0.7 * len(json.dumps(whole))
    assert unpacked == whole
