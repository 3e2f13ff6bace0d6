"""Size on the phone: readings give the measured fit, the card follows the saw, rosettes are placed, the sheet judges."""

from __future__ import annotations

import pytest

from tests.browser.conftest import Server
from tests.browser.flow import choose, look, type_length

pytestmark = pytest.mark.browser

TUBE = {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}
SLEEVE = {"from": "other", "item": None, "od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}
QUESTIONS = ("heat_treated", "brazed", "crack_into_joint", "old_weld", "inside_bead", "near_cluster", "needs_same_od")
MEASURE = {"tube": TUBE, "damage": "cut-out", "known_by": "mark", "od_readings": ["1.625 in", "1.628 in"], "room_left": "20 in",
           "room_right": "20 in", **dict.fromkeys(QUESTIONS, "no")}  # fmt: skip
# Invented rules.
SHEET = '[[rule]]\nmember = "main hoop"\nmin_wall = ".134 in"\ncitation = "Invented example club, 2.1"\n'


@pytest.fixture
def ruled_server(tmp_path):
    folder = tmp_path / "data"
    folder.mkdir()
    (folder / "rules.toml").write_text(SHEET)
    running = Server(folder)
    yield running
    running.stop()


def open_size(page, url, choice, stock=SLEEVE, measure=MEASURE, opening=""):
    page.set_viewport_size({"width": 360, "height": 780})
    page.goto(url)
    job = page.evaluate(
        """async ([measure, choose, stock]) => {
          const send = (method, path, body) => fetch(path, { method, headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) }).then((r) => r.json());
          const job = await send("POST", "/api/jobs", { title: "Fit and card", who: "Test welder" });
          for (const [name, data] of Object.entries({ measure, choose, stock })) await send("PUT", `/api/jobs/${job.id}/sections/${name}`, { base_revision: 0, who: "Test welder", data });
          return job.id;
        }""",
        [measure, {"mitre_deg": 60, "sleeves": 1, "reason": "It suits.", **choice}, stock],
    )
    page.evaluate("localStorage.setItem('who', 'Test welder')")
    page.goto(f"{url}/job/{job}/size")
    if opening:
        type_length(page, "opening", opening)
    page.locator(".three").wait_for()


def test_readings_saw_and_rosettes_on_the_outer_sleeve(phone, ruled_server, shot):
    page = phone
    open_size(page, ruled_server.url, {"method": "outer-sleeve", "end": "pointed"}, measure={**MEASURE, "member": "main hoop"})
    # hand: .120 there, .134 asked, on tube and sleeve
    assert page.get_by_text("Sleeve wall", exact=True).is_visible()
    assert "Invented example club, 2.1" in page.inner_text("main")
    look(page, shot, "30-size-fit-drawn")
    page.get_by_text("Type your readings").click()
    assert page.input_value("#fit-inside-1") == "1.628 in"  # from Measure
    type_length(page, "fit-outer-0", "1.634 in")
    page.get_by_text("Fit: type two readings of each part").wait_for()
    assert page.get_by_role("button", name="Save, start the checklist").is_disabled()
    type_length(page, "fit-outer-1", "1.636 in")
    # hand: 1.634 - 1.628 = .006, 1.636 - 1.625 = .011
    page.locator(".three td", has_text="0.006").wait_for()
    assert page.locator(".three td", has_text="0.011").count() == 1
    page.get_by_text("It slides. Push it over the tube by hand").first.wait_for()
    page.get_by_text("Ovality and assumptions").click()
    look(page, shot, "31-size-fit-measured")
    page.fill("#fit-outer-1", "wide")
    page.get_by_text("Fit: one reading cannot be read.").wait_for()
    assert page.evaluate("document.activeElement.id") == "fit-outer-1"
    page.fill("#fit-outer-1", "1.636 in")

    page.get_by_text("Saw and rosette settings").click()
    page.fill("#saw_limit", "50")
    page.fill("#count", "4")
    type_length(page, "block_distance", "10 in")
    choose(page, "per_tip", "3")
    page.get_by_role("heading", name="Rosettes: 3 on each tip line").wait_for()
    page.get_by_text("asks for 1.875 in, 4 hole diameters").first.wait_for()  # hand: 4 x 15/32
    choose(page, "per_tip", "2")
    page.get_by_role("heading", name="Rosettes: 2 on each tip line").wait_for()
    look(page, shot, "32-size-settings")
    page.get_by_text("Drill and saw card", exact=True).click()
    # hand: 10 tan 10 = 1.7633, to the nearest 1/32 in 1-3/4
    page.get_by_text("Stand the tube 1-3/4 in off the fence, 10 in along the fence").wait_for()
    page.get_by_text("Set-up order for 4").wait_for()
    assert "650 to 890 rpm" in page.inner_text("main")  # hand: 3.8197 x 80 and x 110 over 15/32, down to tens
    look(page, shot, "33-size-card")
    page.get_by_role("button", name="Save, start the checklist").click()
    page.locator(".stepcard").wait_for()
    page.go_back()
    page.locator(".three td", has_text="0.006").wait_for()
    assert (page.input_value("#saw_limit"), page.input_value("#count")) == ("50", "4")


def test_the_inner_sleeve_is_measured_the_other_way_round(phone, server, shot):
    page = phone
    open_size(page, server.url, {"method": "inner-sleeve"}, {**SLEEVE, "od": "1-3/8 in"})
    page.get_by_text("Type your readings").click()
    assert page.get_by_label("Sleeve outside, reading 1").input_value() == ""
    type_length(page, "fit-inside-0", "1.375 in")
    type_length(page, "fit-inside-1", "1.377 in")
    choose(page, "bore-by", "wall")
    assert page.input_value("#fit-outer-1") == "1.628 in" and page.input_value("#fit-wall") == ".120 in"  # from Measure
    # hand: 1.625 - .240 - 1.377 = .008, 1.628 - .240 - 1.375 = .013
    page.locator(".three td", has_text="0.008").wait_for()
    page.locator(".three td", has_text="0.013").wait_for()
    page.get_by_text("It slides. Push it into the tube by hand").first.wait_for()
    page.get_by_text("Drill and saw card", exact=True).click()
    page.get_by_text("Never drill the sleeve.").first.wait_for()
    look(page, shot, "34-inner-sleeve-card")


@pytest.mark.parametrize(
    ("choice", "measure", "said"),
    [
        ({"method": "larger-tube", "end": "fishmouth"}, MEASURE, "Drill the new tube only"),
        ({"method": "split-sleeve", "end": "scarf"}, {**MEASURE, "damage": "crack", "damage_length": "1 in"}, "Drill No. 40"),
    ],
)
def test_the_other_splices_have_fit_and_card(phone, server, shot, choice, measure, said):
    page = phone
    open_size(page, server.url, choice, measure=measure, opening="6 in" if choice["method"] == "larger-tube" else "")
    page.get_by_text("Type your readings").click()
    type_length(page, "fit-outer-0", "1.634 in")
    type_length(page, "fit-outer-1", "1.636 in")
    page.locator(".three td", has_text="0.006").wait_for()  # hand: 1.634 - 1.628
    page.get_by_text("Drill and saw card", exact=True).click()
    page.get_by_text(said).first.wait_for()
    look(page, shot, f"35-{choice['method']}-card")

