"""The cut list, the strength comparison and the rule sheet on the page."""

from __future__ import annotations

import pytest

from tests.browser.flow import look, type_length

pytestmark = pytest.mark.browser


def test_a_cut_list_over_the_rack_is_proved(phone, demo_server, shot):
    page = phone
    page.goto(f"{demo_server.url}/cuts")
    page.select_option("#size", "1-7/8 in × .120 in dom-1020")
    type_length(page, "piece0", "8-3/16")
    page.fill("#count0", "6")
    page.get_by_role("button", name="Plan the cuts").click()
    page.get_by_role("heading", name="Proved").wait_for()
    look(page, shot, "20-cuts")
    # hand: 44-1/2 in on hand takes five of 8-3/16 + 1/16 (41.25 in), 14-1/2 in takes one; nothing is bought
    assert "New bars: 0" in page.inner_text("main")


def test_the_size_place_shows_strength_and_templates(phone, demo_server, shot):
    page = phone
    jobs = page.request.get(f"{demo_server.url}/api/jobs").json()["jobs"]
    done = next(job for job in jobs if job["state"] == "sealed")
    page.goto(f"{demo_server.url}/job/{done['id']}/size")
    page.locator("[data-testid=blank]").wait_for()
    page.get_by_text("Strength on paper").click()
    page.get_by_text("It says nothing about the weld that was made.").wait_for()
    look(page, shot, "21-size-strength")
    for kind, head in (("pdf", b"%PDF"), ("svg", b"<svg"), ("dxf", b"  0")):
        assert page.request.get(f"{demo_server.url}/api/jobs/{done['id']}/template?kind={kind}").body().startswith(head)
