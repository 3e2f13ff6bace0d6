"""A laptop that comes and goes, and what is asked of it directly."""

from __future__ import annotations

import json
import socket
import urllib.request

from tests.app.conftest_helpers import SECTIONS
from tests.browser.flow import until


def free_port() -> int:
    """Return a port nobody uses, chosen beforehand so that a laptop can come back on it."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def ask(server, method: str, path: str, body: dict | None = None) -> dict:
    """Send one request to the laptop and return its JSON."""
    raw = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(server.url + path, raw, {"Content-Type": "application/json"}, method=method)
    with urllib.request.urlopen(request, timeout=10) as answer:
        return json.loads(answer.read())


def job_to_weld(server, title: str = "Truck 12, left door bar") -> str:
    """Make a job with every section saved, so that its checklist can start."""
    job = ask(server, "POST", "/api/jobs", {"title": title, "who": "Crew chief"})["id"]
    for name, data in SECTIONS.items():
        ask(server, "PUT", f"/api/jobs/{job}/sections/{name}", {"base_revision": 0, "data": data, "who": "Crew chief"})
    return job


def mark_until_gap(server, job: str) -> None:
    """Mark steps on the laptop up to the one before the hold that limits the gap to 1/32 in."""
    groups = ask(server, "GET", f"/api/jobs/{job}/checklist")["checklist"]["groups"]
    steps = [step for group in groups for step in group["steps"]]
    gap = next(place for place, step in enumerate(steps) if (step["hold"] or {}).get("limit") == "1/32")
    for step in steps[: gap - 1]:
        done = {"step": step["key"], "action": "done", "who": "Crew chief"}
        if step["hold"]:
            done["value"] = f"{step['hold']['limit'] or 1} in"
        ask(server, "POST", f"/api/jobs/{job}/steps", done)


def marks(server, job: str) -> list[tuple[str, str]]:
    """Return (step, action) of every mark the laptop has."""
    return [(mark["step"], mark["action"]) for mark in ask(server, "GET", f"/api/jobs/{job}")["steps"]]


def is_ready_for_no_laptop(page) -> None:
    """Wait until the service worker has the page and this phone has the first answers."""
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    for _ in range(200):
        if page.evaluate(
            """async () => navigator.serviceWorker.controller && await new Promise((done) => {
                 const asked = indexedDB.open("pitsplice");
                 asked.onsuccess = () => { const found = asked.result.transaction("answers").objectStore("answers").get("/api/stock");
                   found.onsuccess = () => { asked.result.close(); done(Boolean(found.result)); }; };
               })"""
        ):
            return
        page.wait_for_timeout(50)
    raise AssertionError("the page is not kept on the phone")


def open_weld(page, url: str, job: str) -> None:
    """Open a job's checklist and wait until the phone can go on with it alone."""
    page.goto(f"{url}/job/{job}/weld")
    page.locator(".stepcard").wait_for()
    is_ready_for_no_laptop(page)


def chip(page, text: str) -> None:
    """Wait until the chip at the top says so."""
    page.locator(".chip", has_text=text).wait_for(timeout=20_000)


def send_now(page, url: str) -> None:
    """Press Send now; the page may have sent by itself before, then the button does nothing."""
    page.goto(f"{url}/unsent")
    page.get_by_role("button", name="Send now").wait_for()
    page.evaluate("document.querySelector('.bar button').click()")


def mark(page, value: str = "") -> str:
    """Do the step that is shown and wait for the next one; return its words."""
    text = page.locator(".stepcard .do").inner_text()
    if value:
        page.fill("#hold", value)
        if page.get_by_role("button", name="Close the keys").count():
            page.get_by_role("button", name="Close the keys").click()
        page.get_by_role("button", name="Measured, done").click()
    else:
        page.get_by_role("button", name="Done", exact=True).click()
    until(page, f"document.querySelector('.stepcard .do').innerText !== {json.dumps(text)}", 10)
    return text
