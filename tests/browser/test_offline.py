"""The page with the laptop gone, back, slow, doubled, or not the laptop at all."""

from __future__ import annotations

import shutil

import pytest

from tests.browser.flow import look, measure, start_job, until
from tests.browser.pit import (
    ask,
    chip,
    is_ready_for_no_laptop,
    job_to_weld,
    mark,
    mark_until_gap,
    marks,
    open_weld,
    send_now,
)

pytestmark = pytest.mark.browser


def test_steps_and_a_hold_with_the_laptop_gone_arrive_once_when_it_is_back(phones, laptop, shot):
    job = job_to_weld(laptop)
    mark_until_gap(laptop, job)
    before = marks(laptop, job)
    page = phones("Test welder")
    open_weld(page, laptop.url, job)
    laptop.kill()

    # A cold start: the page comes from the phone.
    page.goto("about:blank")
    page.goto(f"{laptop.url}/job/{job}/weld")
    page.locator(".stepcard").wait_for()
    chip(page, "Laptop out of reach")
    mark(page)
    chip(page, "1 not sent")
    page.locator("#hold").wait_for()
    look(page, shot, "30-offline-hold")
    limit = page.locator(".hold b").inner_text()
    page.fill("#hold", "40 in")
    page.get_by_role("button", name="Close the keys").click()
    page.get_by_role("button", name="Measured, done").click()
    page.locator(".stepcard .problem").wait_for()
    assert "40 in" in page.locator(".stepcard .problem").inner_text(), limit
    chip(page, "2 not sent")  # the refused reading is kept as a note
    mark(page, "0.01 in")
    mark(page)
    look(page, shot, "31-offline-weld")
    page.reload()
    page.locator(".stepcard").wait_for()
    chip(page, "4 not sent")
    done = len(before) + 3
    assert page.get_attribute("[role=progressbar]", "aria-valuenow") == str(done)
    page.goto(f"{laptop.url}/unsent")
    page.get_by_text("Waits for the one above").first.wait_for()
    look(page, shot, "32-not-sent-yet")

    laptop.start()
    send_now(page, laptop.url)
    chip(page, "All sent")
    page.get_by_text("Everything is on the laptop.").wait_for()
    look(page, shot, "33-all-sent")
    arrived = marks(laptop, job)[len(before):]
    assert [action for _, action in arrived] == ["done", "note", "done", "done"]
    assert arrived[1][0] == arrived[2][0]
    page.goto(f"{laptop.url}/job/{job}/weld")
    until(page, f"document.querySelector('[role=progressbar]')?.getAttribute('aria-valuenow') === '{done}'")


def test_a_job_begun_with_the_laptop_gone_is_the_same_job_afterwards(phones, laptop, shot):
    page = phones("Test welder")
    page.goto(laptop.url)
    page.get_by_text("None yet.").wait_for()
    is_ready_for_no_laptop(page)
    laptop.kill()
    job = start_job(page, laptop.url)
    measure(page)
    page.get_by_text("9-1/2 in = 9.5 in = 241.3 mm").wait_for()
    page.get_by_role("button", name="Save, see the methods").click()
    page.get_by_role("heading", name="Larger replacement tube").wait_for()
    page.get_by_text("Computed on this phone. Provisional until the laptop has checked it.").wait_for()
    look(page, shot, "34-offline-method")
    laptop.start()
    send_now(page, laptop.url)
    chip(page, "All sent")
    [made] = ask(laptop, "GET", "/api/jobs")["jobs"]
    assert made["id"] == job
    kept = ask(laptop, "GET", f"/api/jobs/{job}")["sections"]["measure"]
    assert (kept["revision"], kept["data"]["tube"]["wall"]) == (1, "11 ga")
    # Same input, same answer: nothing to tell.
    page.wait_for_timeout(500)
    assert "computes something else" not in page.inner_text("body")


def test_a_difference_between_phone_and_laptop_is_shown_with_both_values(phones, laptop, shot):
    job = job_to_weld(laptop)
    page = phones("Test welder")
    page.goto(laptop.url)
    page.locator(".joblink").wait_for()
    is_ready_for_no_laptop(page)
    page.goto(f"{laptop.url}/job/{job}/measure")
    page.locator("#od").wait_for()
    laptop.kill()
    page.goto(f"{laptop.url}/job/{job}/method")
    page.get_by_text("Computed on this phone").wait_for()

    def other(route):
        answer = route.fetch()
        body = answer.json()
        body["methods"][0]["standing"] = "closed, says a newer laptop"
        route.fulfill(response=answer, json=body)

    page.context.route("**/api/assess", other)
    laptop.start()
    page.goto(f"{laptop.url}/unsent")
    page.get_by_text("The laptop computes something else").wait_for()
    told = page.locator(".banner.problem").inner_text()
    assert "Inner sleeve, standing: this phone closed; the laptop closed, says a newer laptop" in told
    look(page, shot, "35-mismatch")
    page.reload()
    page.get_by_role("button", name="I have seen it").click()
    page.get_by_text("The laptop computes something else").wait_for(state="detached")


def test_a_lost_answer_is_not_a_lost_mark_and_not_two(phones, laptop):
    job = job_to_weld(laptop)
    page = phones("Test welder")
    open_weld(page, laptop.url, job)
    cut = []

    def lose(route):
        if route.request.method == "POST" and len(cut) < 2:
            cut.append(route.fetch().status)
            route.abort()
        else:
            route.continue_()

    page.context.route("**/steps", lose)
    mark(page)
    send_now(page, laptop.url)
    send_now(page, laptop.url)
    chip(page, "All sent")
    assert cut == [200, 200], "the laptop handled both, the phone heard neither"
    assert len(marks(laptop, job)) == 1


def test_a_laptop_put_back_to_a_backup_gets_everything_again(phones, laptop, tmp_path):
    job = job_to_weld(laptop)
    page = phones("Test welder")
    generation = ["1111"]

    def health(route):
        answer = route.fetch()
        route.fulfill(response=answer, json={**answer.json(), "generation": generation[0]})

    page.context.route("**/api/health", health)
    open_weld(page, laptop.url, job)
    laptop.kill()
    shutil.copytree(tmp_path / "data", tmp_path / "backup")
    laptop.start()
    send_now(page, laptop.url)
    page.goto(f"{laptop.url}/job/{job}/weld")
    mark(page)
    mark(page)
    chip(page, "All sent")
    assert len(marks(laptop, job)) == 2
    laptop.kill()
    shutil.rmtree(tmp_path / "data")
    shutil.copytree(tmp_path / "backup", tmp_path / "data")
    generation[0] = "2222"
    laptop.start()
    assert marks(laptop, job) == []
    page.reload()
    for _ in range(100):
        if len(marks(laptop, job)) == 2:
            break
        page.wait_for_timeout(100)
    chip(page, "All sent")
    assert [action for _, action in marks(laptop, job)] == ["done", "done"]


def test_a_captive_portal_is_not_the_laptop(phones, laptop, shot):
    job = job_to_weld(laptop)
    page = phones("Test welder")
    open_weld(page, laptop.url, job)
    page.context.route("**/api/**", lambda route: route.fulfill(status=200, content_type="text/html", body="<h1>Welcome to the paddock Wi-Fi</h1>"))
    mark(page)
    chip(page, "1 not sent")
    assert marks(laptop, job) == []
    look(page, shot, "36-captive-portal")
    page.context.unroute_all()
    send_now(page, laptop.url)
    chip(page, "All sent")
    assert len(marks(laptop, job)) == 1


def test_two_phones_save_one_section_and_a_person_decides(phones, laptop, shot):
    job = job_to_weld(laptop)
    ann, bo = phones("Ann"), phones("Bo")
    for page in (ann, bo):
        page.goto(f"{laptop.url}/job/{job}/measure")
        page.locator("#room_left").wait_for()
        is_ready_for_no_laptop(page)

    def save(page, room):
        page.fill("#room_left", room)
        page.get_by_role("button", name="Close the keys").click()
        page.get_by_role("button", name="Save, see the methods").click()

    save(ann, "13 in")
    ann.wait_for_url("**/method")
    save(bo, "15 in")
    bo.get_by_role("link", name="Compare and decide").click()
    bo.get_by_text("Ann saved this section").wait_for()
    look(bo, shot, "37-conflict")
    choices = bo.locator(".conflict fieldset").filter(has_text="room left").inner_text()
    assert "13 in" in choices and "15 in" in choices
    section = f"/api/jobs/{job}"
    assert ask(laptop, "GET", section)["sections"]["measure"]["data"]["room_left"] == "13 in"
    bo.locator(".conflict fieldset").filter(has_text="room left").locator("input[type=text]").fill("14-1/2 in")
    bo.get_by_role("button", name="Save what is picked above").click()
    chip(bo, "All sent")
    kept = ask(laptop, "GET", section)["sections"]["measure"]
    assert (kept["data"]["room_left"], kept["revision"], kept["who"]) == ("14-1/2 in", 3, "Bo")

    bo.goto(f"{laptop.url}/job/{job}/measure")
    bo.locator("#room_left").wait_for()
    ann.goto(f"{laptop.url}/job/{job}/measure")
    ann.locator("#room_left").wait_for()
    save(ann, "12 in")
    ann.wait_for_url("**/method")
    save(bo, "11 in")
    bo.get_by_role("link", name="Compare and decide").click()
    bo.get_by_role("button", name="Take theirs, drop mine").click()
    chip(bo, "All sent")
    bo.get_by_text("Dropped (1)").click()
    bo.get_by_text("Because: Took what Ann saved.").wait_for()
    assert ask(laptop, "GET", section)["sections"]["measure"]["data"]["room_left"] == "12 in"


def test_two_phones_mark_one_step_and_both_marks_are_in_the_record(phones, laptop, shot):
    job = job_to_weld(laptop)
    ann, bo = phones("Ann"), phones("Bo")
    for page in (ann, bo):
        page.goto(f"{laptop.url}/job/{job}/weld")
        page.locator(".stepcard").wait_for()
        is_ready_for_no_laptop(page)
    mark(ann)
    mark(bo)
    bo.get_by_text("Another phone marked this step as well").wait_for()
    look(bo, shot, "38-marked-twice")
    steps = ask(laptop, "GET", f"/api/jobs/{job}")["steps"]
    assert [(step["who"], step["action"]) for step in steps] == [("Ann", "done"), ("Bo", "note")]
    assert steps[1]["reason"].startswith("Marked done on another phone as well: Bo, ")
    bo.get_by_role("button", name="I have seen it").click()
    bo.get_by_text("Another phone marked this step as well").wait_for(state="detached")
    chip(bo, "All sent")


def test_one_bar_taken_twice_is_told_until_a_person_decides(phones, laptop, shot):
    bar = {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020", "length": "2 ft", "who": "Crew chief"}
    ask(laptop, "POST", "/api/stock", bar)
    ann, bo = phones("Ann"), phones("Bo")
    for page in (ann, bo):
        page.goto(f"{laptop.url}/rack")
        page.get_by_role("button", name="Take", exact=True).wait_for()
        is_ready_for_no_laptop(page)
    laptop.kill()
    for page in (ann, bo):
        page.get_by_role("button", name="Take", exact=True).click()
        page.fill("#move1", "16 in")
        page.get_by_role("button", name="Close the keys").click()
        page.fill("#why1", "Sleeve")
        page.get_by_role("button", name="Take it").click()
        page.get_by_text("8.000 in").wait_for()  # hand: 24 - 16
        chip(page, "1 not sent")
    look(bo, shot, "39-rack-offline")
    laptop.start()
    send_now(ann, laptop.url)
    chip(ann, "All sent")
    send_now(bo, laptop.url)
    bo.get_by_text("There is not that much on the bar").wait_for()
    bo.goto(laptop.url)
    bo.get_by_text("There is not that much on the bar").wait_for()
    look(bo, shot, "40-taken-twice")
    bo.get_by_role("link", name="Decide").click()
    bo.get_by_role("button", name="Drop it, with a reason").click()
    assert bo.get_by_role("button", name="Drop it", exact=True).is_disabled()
    bo.get_by_label("Why is it dropped?").fill("Took it off another bar")
    look(bo, shot, "41-drop")
    bo.get_by_role("button", name="Drop it", exact=True).click()
    chip(bo, "All sent")
    assert ask(laptop, "GET", "/api/stock")["items"][0]["on_hand"]["in"] == 8
