"""What the page shows of the data: photos of a record, and that the laptop went back to a backup."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from fieldapp import demo, merge, photos, plan
from fieldapp.export import export
from fieldapp.store import Store, jobs, records
from fieldapp.store import photos as kept_photos
from fieldapp.store.connection import FILE_NAME
from tests.browser.conftest import Server
from tests.browser.flow import look, until

pytestmark = pytest.mark.browser


def finished_with_photo(store):
    """Seal a demo job that has a photo and return its id."""
    out = io.BytesIO()
    Image.new("RGB", (1200, 900), (90, 120, 150)).save(out, "JPEG")
    with store.write() as db:
        job = demo._job(db, store, "DEMO truck 9: right door bar")
        sections = {"measure": demo.MEASURED, "choose": demo.CHOSEN, "stock": {"from": "rack", **demo.SLEEVE}, "size": demo.SIZED}
        for name, data in sections.items():
            jobs.save_section(db, store, job, name, 0, data, demo.CHIEF)
        demo._walk(db, store, job)
        kept_photos.add(db, store, job, photos.reencode(out.getvalue()), step="", note="Sleeve tacked", who="Demo welder", when="")
        records.seal(db, plan.record_body(jobs.get(db, job), demo.CHIEF, store.now()))
    return job


def test_a_record_shows_its_photos(phone, tmp_path, shot):
    store = Store(tmp_path / "data", demo=True)
    job = finished_with_photo(store)
    store.close()
    server = Server(tmp_path / "data")
    try:
        phone.goto(f"{server.url}/tag/{job}")
        phone.get_by_role("heading", name="Photos").wait_for()
        phone.get_by_alt_text("Sleeve tacked").scroll_into_view_if_needed()
        until(phone, "document.querySelector('.photo img').naturalWidth === 1200")
        look(phone, shot, "30-record-photos")
    finally:
        server.stop()


def test_home_tells_of_a_restore_until_someone_has_looked(phone, tmp_path, shot):
    store = Store(tmp_path / "data")
    with store.write() as db:
        jobs.create(db, store, "Kept in the backup", "Lee")
    store.backup()
    store.close()
    (tmp_path / "data" / FILE_NAME).write_bytes(b"\xff" * 9000)
    server = Server(tmp_path / "data")
    try:
        phone.goto(server.url)
        phone.get_by_role("heading", name="The laptop went back to a backup").wait_for()
        phone.get_by_text("Kept in the backup").wait_for()
        look(phone, shot, "31-home-restored")
        phone.get_by_role("button", name="I have looked").click()
        phone.get_by_role("heading", name="The laptop went back to a backup").wait_for(state="detached")
        phone.reload()
        phone.get_by_text("Kept in the backup").wait_for()
        assert phone.get_by_role("heading", name="The laptop went back to a backup").count() == 0
    finally:
        server.stop()


def test_what_two_laptops_saved_differently_is_shown_and_a_person_takes_one(phone, tmp_path, shot):
    one, two = Store(tmp_path / "data"), Store(tmp_path / "two")

    def save(store, job, base, room, who):
        with store.write() as db:
            jobs.save_section(db, store, job, "measure", base, {**demo.MEASURED, "room_left": room}, who)

    with one.write() as db:
        job = jobs.create(db, one, "Truck 12, left door bar", "Ann")["id"]
    save(one, job, 0, "12 in", "Ann")
    export(one, tmp_path / "first")
    merge.import_folder(two, tmp_path / "first")
    save(one, job, 1, "13 in", "Ann")
    save(two, job, 1, "15 in", "Ben")
    export(two, tmp_path / "second")
    merge.import_folder(one, tmp_path / "second")
    one.close()
    two.close()
    server = Server(tmp_path / "data")
    try:
        phone.goto(f"{server.url}/job/{job}/measure")
        phone.get_by_role("heading", name="Another laptop saved this differently").wait_for()
        told = phone.locator("[aria-labelledby=other-laptop]").inner_text()
        assert "here 13 in" in told and "there 15 in" in told and "Ben" in told
        look(phone, shot, "49-other-laptop")
        phone.get_by_role("button", name="Take the other").click()
        phone.get_by_role("heading", name="Another laptop saved this differently").wait_for(state="detached")
        until(phone, "document.querySelector('#room_left')?.value === '15 in'")
        kept = phone.request.get(f"{server.url}/api/jobs/{job}").json()
        assert (kept["conflicts"], kept["sections"]["measure"]["data"]["room_left"], kept["sections"]["measure"]["revision"]) == ([], "15 in", 3)
    finally:
        server.stop()
