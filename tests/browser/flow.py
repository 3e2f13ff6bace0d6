"""What a person does on the page, in the words of the page."""

from __future__ import annotations

import json

from axe_playwright_python.sync_playwright import Axe


def axe_finds_nothing(page, where: str) -> None:
    """Assert that axe reports no violation on the page as it stands."""
    results = Axe().run(page)
    found = [(v["id"], v["help"], [n["html"][:160] for n in v["nodes"][:3]]) for v in results.response["violations"]]
    assert not found, f"{where}: {found}"


def touch_targets_are_large(page, where: str) -> None:
    """Assert that everything to touch is at least 56 px high and wide.

    56 px is this project's own limit; links inside a sentence are left out, as in WCAG 2.2, 2.5.8.
    """
    small = page.evaluate(
        """() => [...document.querySelectorAll("button, a[href], summary, select, textarea, input:not([type=file])")]
          .filter((e) => e.offsetParent && !e.closest("p:not(.missing)") && !e.classList.contains("skip"))
          .map((e) => [e.tagName, (e.innerText || e.id || "").slice(0, 40), e.getBoundingClientRect()])
          .filter(([, , r]) => r.height < 55.5 || r.width < 55.5).map(([t, w, r]) => `${t} ${w} ${Math.round(r.width)}x${Math.round(r.height)}`)"""
    )
    assert not small, f"{where}: {small}"


def nothing_sticks_out(page, where: str) -> None:
    """Assert that the page does not scroll sideways."""
    assert page.evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth + 1"), f"{where} is wider than the phone"


def look(page, shot, name: str) -> None:
    """Keep a screenshot and run the checks every screen must pass."""
    shot(page, name)
    axe_finds_nothing(page, name)
    touch_targets_are_large(page, name)
    nothing_sticks_out(page, name)


def until(page, script: str, seconds: float = 8) -> None:
    """Wait until a script is true. Playwright's own wait evaluates inside the page, which our CSP forbids."""
    for _ in range(int(seconds / 0.05)):
        if page.evaluate(script):
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"never true: {script}")


def choose(page, name: str, value: str) -> None:
    """Touch one of a row of choices."""
    page.locator(f"input[name='{name}'][value='{value}']").check()


def type_length(page, field: str, text: str) -> None:
    """Type a length and close its keys."""
    page.fill(f"#{field}", text)
    page.get_by_role("button", name="Close the keys").click()


def start_job(page, url: str, title: str = "Hill-climb truck 12, left door bar") -> str:
    """Start a repair and return its id."""
    page.goto(url)
    page.get_by_role("button", name="Start a repair").click()
    page.fill("#title", title)
    page.fill("#who", "Test welder")
    page.get_by_role("button", name="Start", exact=True).click()
    page.wait_for_url("**/measure")
    return page.url.split("/")[-2]


def measure(page) -> None:
    """Fill in the measuring screen for a 1-5/8 x .120 DOM tube with a section to cut out."""
    page.fill("#od", "1")
    page.get_by_role("button", name="5/8", exact=True).click()
    page.get_by_text("1-5/8 in = 1.625 in = 41.28 mm").wait_for()
    page.fill("#od2", "1.622")
    type_length(page, "wall", "11 ga")
    page.select_option("#material", "dom-1020")
    choose(page, "known", "mark")
    choose(page, "seam", "none")
    choose(page, "damage", "cut-out")
    type_length(page, "room_left", "12 in")
    type_length(page, "room_right", "9 1/2 in")
    for question in ("heat_treated", "brazed", "crack_into_joint", "old_weld", "near_cluster", "inside_bead"):
        choose(page, question, "no")
    choose(page, "needs_same_od", "yes")


def walk_checklist(page, shot=None) -> int:
    """Do every step of the checklist, with a reading at each hold; return how many."""
    count = 0
    while page.get_by_role("button", name="All steps marked").count() == 0:
        text = page.locator(".stepcard .do").inner_text()
        hold = page.locator("#hold")
        if hold.count():
            hold.fill(reading(page.locator(".hold b").inner_text()))
            if page.get_by_role("button", name="Close the keys").count():
                page.get_by_role("button", name="Close the keys").click()
            if shot:
                shot(page, f"weld-hold-{count:02}")
            page.get_by_role("button", name="Measured, done").click()
        else:
            page.get_by_role("button", name="Done", exact=True).click()
        until(page, f"document.querySelector('.stepcard .do').innerText !== {json.dumps(text)} || document.body.innerText.includes('All steps marked')")
        count += 1
        assert count < 120, "the checklist does not end"
    return count


def reading(limit: str) -> str:
    """Return a number that keeps a limit as it is printed."""
    words = limit.removeprefix("Hold: ").split(" (")[0]
    if "min" in words and "in" not in words.replace("min", ""):
        return "31 min"
    if words.startswith(("at most ", "at least ")):
        return words.split(" ", 2)[2]
    return words.split(" to ")[0] if " to " in words else "40 in"
