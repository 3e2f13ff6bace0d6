"""The Sleeve place of every method beside the outer sleeve: a bar is picked from the rack, typing stays possible."""

from __future__ import annotations

import pytest

from tests.browser.flow import look

pytestmark = pytest.mark.browser

TUBE = {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}
NO = dict.fromkeys(["heat_treated", "brazed", "crack_into_joint", "old_weld", "inside_bead", "near_cluster", "needs_same_od"], "no")
RACK = [("1-3/8 in", ".120 in"), ("1-1/2 in", ".188 in"), ("1-7/8 in", ".120 in"), ("1-7/8 in", ".134 in")]
DENT = {"damage": "dent", "depth": "1/8 in", "damage_length": "1 in", "around": "3/4 in", "middle_third": "no", "sharp_corners": "no", "can_reform": "yes"}


def send(page, url, method, path, body):
    answer = page.request.fetch(f"{url}/api/{path}", method=method, data=body)
    assert answer.ok, answer.text()
    return answer.json()


def job_at_sleeve(page, url, method, size=None):
    for od, wall in RACK:
        send(page, url, "POST", "stock", {"od": od, "wall": wall, "material": "dom-1020", "seam": "none", "length": "20 in", "who": "Test welder"})
    job = send(page, url, "POST", "jobs", {"title": "Ranked", "who": "Test welder"})["id"]
    found = DENT if method in ("patch", "split-sleeve") else {"damage": "cut-out"}
    sections = {"measure": {"tube": TUBE, "known_by": "mark", "room_left": "20 in", "room_right": "20 in", **NO, **found},
                "choose": {"method": method, "end": "fishmouth", "mitre_deg": 60, "sleeves": 1, "reason": "It suits."}, **({"size": size} if size else {})}  # fmt: skip
    for name, data in sections.items():
        send(page, url, "PUT", f"jobs/{job}/sections/{name}", {"base_revision": 0, "who": "Test welder", "data": data})
    page.goto(f"{url}/job/{job}/sleeve")
    page.fill("#who", "Test welder")
    page.get_by_role("button", name="Keep my name").click()
    page.get_by_role("heading", name="On the rack").wait_for()
    return job


def card(page, size, place=0):
    return page.locator("section.card").filter(has=page.get_by_role("heading", name=size, exact=True)).nth(place)


@pytest.mark.parametrize(
    ("method", "first", "said", "blank"),
    [
        # hand: two of 3 D + D T + g = 7.8146 in are 15.6292, up to 15-11/16 in
        ("inner-sleeve", "1-3/8 in × .120 in", "15-11/16 in", "7-7/8 in"),
        # hand: 3 D + Ds T = 8.1226, up to 8-3/16 in; the opening is not measured yet
        ("larger-tube", "1-7/8 in × .120 in", "leaves out the opening", ""),
        # hand: 1 + 3 D + Ds T = 9.1226, up to 9-1/8 in
        ("split-sleeve", "1-7/8 in × .120 in", "holds the length of the damage, 1 in", "9-1/8 in"),
        ("patch", "1-7/8 in × .134 in", "sheet is not ranked", ""),
    ],
)
def test_the_rack_is_ranked_for_the_method_and_a_bar_is_picked(phone, server, shot, method, first, said, blank):
    page = phone
    job = job_at_sleeve(page, server.url, method)
    assert page.locator("section.card h3").first.inner_text() == first
    assert said in page.inner_text("main")
    look(page, shot, f"25-{method}-rack")
    card(page, first).get_by_role("button", name="Choose this").click()
    page.get_by_role("button", name="Save, size the sleeve").click()
    page.wait_for_url("**/size")
    if blank:
        page.locator("[data-testid=blank]").wait_for()
        assert page.inner_text("[data-testid=blank]") == blank
    saved = page.request.get(f"{server.url}/api/jobs/{job}").json()["sections"]["stock"]["data"]
    assert (saved["from"], f"{saved['od']} × {saved['wall']}") == ("rack", first)


def test_a_bar_to_turn_down_brings_its_diameter_to_the_size_place(phone, server, shot):
    page = phone
    job_at_sleeve(page, server.url, "inner-sleeve")
    row = card(page, "1-1/2 in × .188 in")
    assert "turn it down first" in row.inner_text()
    assert "slit and closed" in page.inner_text("main") and "tube bored out" in page.inner_text("main")
    row.get_by_role("button", name="Choose this").click()
    page.get_by_role("button", name="Save, size the sleeve").click()
    page.locator("[data-testid=blank]").wait_for()
    assert page.input_value("#turned_od") == "1.375 in"  # hand: 1.385 less .010 to slide
    look(page, shot, "26-turned-size")


def test_the_opening_of_the_job_counts_and_a_template_is_offered(phone, server, shot):
    page = phone
    sleeve = {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}
    size = {"method": "larger-tube", "tube": TUBE, "sleeve": sleeve, "end": "fishmouth", "mitre_deg": 60, "opening": "6 in"}
    job = job_at_sleeve(page, server.url, "larger-tube", size)
    assert "holds the opening, 6 in." in page.inner_text("main")
    assert "14-1/8 in" in card(page, "1-7/8 in × .120 in").inner_text()  # hand: 6 + 8.1226
    card(page, "1-7/8 in × .120 in").get_by_role("button", name="Choose this").click()
    page.get_by_role("button", name="Save, size the sleeve").click()
    page.get_by_role("heading", name="Wrap template, 1:1").wait_for()
    look(page, shot, "27-larger-template")
    assert page.request.get(f"{server.url}/api/jobs/{job}/template?kind=pdf").body().startswith(b"%PDF")
