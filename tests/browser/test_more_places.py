"""The cut list, the strength comparison and the rule sheet on the page."""

from __future__ import annotations

import pytest

from tests.browser.flow import choose, look, type_length

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


# The rule lengths by hand: inner 3 D + D T + g = 4.875 + 2.8146 + 0.125 = 7.8146 in, up to 7-7/8 in;
# larger tube 6 + 4.875 + 1.875 x 1.73205 = 14.1226 in, up to 14-1/8 in;
# split scarf 1 + 4.875 + 2 x 1.875 x 1.73205 = 12.3702 in, up to 12-3/8 in.
@pytest.mark.parametrize(
    ("method", "damage", "sleeve_od", "fields", "blank"),
    [
        ("inner-sleeve", "cut-out", "1-3/8 in", {}, "7-7/8 in"),
        ("larger-tube", "cut-out", "1-7/8 in", {"opening": "6 in", "stub_short": "5 in", "stub_long": "9 in"}, "14-1/8 in"),
        ("split-sleeve", "dent", "1-7/8 in", {"damage_length": "1 in"}, "12-3/8 in"),
    ],
)
def test_the_other_splices_are_sized_and_start_their_checklist(phone, server, shot, method, damage, sleeve_od, fields, blank):
    page = phone
    page.goto(server.url)
    job = page.evaluate(
        """async (damage) => {
          const send = (method, path, body) => fetch(path, { method, headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) }).then((r) => r.json());
          const job = await send("POST", "/api/jobs", { title: "Other method", who: "Test welder" });
          const no = Object.fromEntries(["heat_treated", "brazed", "crack_into_joint", "old_weld", "inside_bead", "near_cluster", "needs_same_od"].map((name) => [name, "no"]));
          const tube = { od: "1-5/8 in", wall: ".120 in", material: "dom-1020", seam: "none" };
          await send("PUT", `/api/jobs/${job.id}/sections/measure`, { base_revision: 0, who: "Test welder", data: { tube, damage, known_by: "mark", room_left: "20 in", room_right: "20 in", ...no } });
          return job.id;
        }""",
        damage,
    )
    page.goto(f"{server.url}/job/{job}/method")
    page.fill("#who", "Test welder")
    page.get_by_role("button", name="Keep my name").click()
    name = {"inner-sleeve": "inner sleeve", "larger-tube": "larger replacement tube", "split-sleeve": "split sleeve over the damage"}[method]
    page.get_by_role("button", name=f"Choose {name}").click()
    if method != "inner-sleeve":
        choose(page, "end", "scarf" if method == "split-sleeve" else "fishmouth")
    page.fill("#reason", "It suits this place.")
    page.get_by_role("button", name="Save, find a sleeve").click()
    page.get_by_role("button", name="Type a size").click()
    type_length(page, "sleeve-od", sleeve_od)
    type_length(page, "sleeve-wall", ".120 in")
    page.select_option("#sleeve-material", "dom-1020")
    look(page, shot, f"22-{method}-sleeve")
    page.get_by_role("button", name="Save, size the sleeve").click()
    for field, text in fields.items():
        type_length(page, field, text)
    page.locator("[data-testid=blank]").wait_for()
    page.get_by_text(blank).first.wait_for()
    assert page.inner_text("[data-testid=blank]") == blank
    look(page, shot, f"23-{method}-size")
    page.get_by_role("button", name="Save, start the checklist").click()
    page.locator(".stepcard").wait_for()
    look(page, shot, f"24-{method}-weld")
