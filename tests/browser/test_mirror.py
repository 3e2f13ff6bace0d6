"""The phone's mirror answers every vector as the core does, in Chromium, on the page itself and under its own rules."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.golden import vectors

CHECK = Path(__file__).resolve().parents[1] / "mirror" / "check.js"
pytestmark = pytest.mark.browser

ASK = """async () => {
  const { load, run } = await import("/static/js/check.js");
  const cases = await (await fetch("/static/js/vectors.json")).json();
  const start = performance.now();
  const told = await run(await load("/static/js/core/"), cases);
  return { ...told, milliseconds: performance.now() - start };
}"""


def test_every_answer_in_chromium_is_the_core_s_own(browser, server):
    # A service worker would answer in the place of the two files this test lends the page.
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    trouble: list[str] = []
    page.on("pageerror", lambda error: trouble.append(str(error)))
    page.on("console", lambda message: trouble.append(message.text) if "Content Security Policy" in message.text else None)
    page.route("**/static/js/check.js", lambda route: route.fulfill(path=CHECK, content_type="text/javascript"))
    page.route("**/static/js/vectors.json", lambda route: route.fulfill(body=vectors.text(), content_type="application/json"))
    page.goto(server.url)
    told = page.evaluate(ASK)
    context.close()
    print(f"\nChromium {browser.version}: {sum(told['counts'].values())} answers in {told['milliseconds']:.0f} ms")
    assert told["wrong"] == 0, "\n".join(told["differences"])
    assert told["counts"] == {name: sum(kinds.values()) for name, kinds in vectors.counts().items()}
    assert not trouble
