"""A full disk, a folder that cannot be written, a clock that goes back: told, nothing half written, works again."""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from contextlib import contextmanager
from pathlib import Path

import pytest
from conftest_helpers import told
from data_helpers import add_photo, fill_store, picture, rows_of

from core.problems import Problem
from fieldapp import backups, merge
from fieldapp.export import export
from fieldapp.store import Store, check, copies, jobs, photos
from fieldapp.store.connection import FILE_NAME
from tests.app.test_server import ask, running

ROOT = Path(__file__).resolve().parents[2]
posix = pytest.mark.skipif(os.name == "nt", reason="limits and rights of POSIX")


def send_photo(client, job_id):
    return client.post(f"/api/jobs/{job_id}/photos?who=Lee", data=picture(), content_type="image/jpeg")


def test_a_photo_that_does_not_fit_on_the_disk_is_not_half_kept(client, store, job):
    pages = store.connection().execute("PRAGMA page_count").fetchone()[0]
    store.connection().execute(f"PRAGMA max_page_count = {pages + 2}")
    codes = [send_photo(client, job["id"]).status_code for _ in range(40)]
    assert 503 in codes
    assert "Nothing was saved" in told(send_photo(client, job["id"]), 503, "not-saved")["title"]
    store.connection().execute("PRAGMA max_page_count = 100000")
    assert len(client.get(f"/api/jobs/{job['id']}").get_json()["photos"]) == codes.count(201)
    assert send_photo(client, job["id"]).status_code == 201
    store.close()
    assert check.look(store.path).findings == []


def test_an_import_that_does_not_fit_on_the_disk_is_not_half_taken_in(tmp_path, clock):
    one, two = Store(tmp_path / "one", clock), Store(tmp_path / "two", clock)
    fill_store(one)
    export(one, tmp_path / "out")
    before = rows_of(two.path, without=())
    pages = two.connection().execute("PRAGMA page_count").fetchone()[0]
    two.connection().execute(f"PRAGMA max_page_count = {pages + 3}")
    with pytest.raises(Problem) as told_:
        merge.import_folder(two, tmp_path / "out")
    assert told_.value.kind == "not-saved"
    assert rows_of(two.path, without=()) == before
    two.connection().execute("PRAGMA max_page_count = 100000")
    merge.import_folder(two, tmp_path / "out")
    assert len(rows_of(two.path)["photo"]) == 2
    one.close()
    two.close()


@posix
def test_a_server_on_a_full_disk_answers_not_saved_and_works_again(tmp_path):
    import resource

    with running(tmp_path / "data") as (process, port):
        sent = [ask(port, "POST", "/api/jobs", {"title": f"before {n}", "who": "L"})[0] for n in range(5)]
        size = (tmp_path / "data" / f"{FILE_NAME}-wal").stat().st_size
        none = resource.RLIM_INFINITY
        resource.prlimit(process.pid, resource.RLIMIT_FSIZE, (size + 20_000, none))
        answers = [
            ask(port, "POST", "/api/jobs", {"title": f"full {n}", "who": "L"}, **{"Idempotency-Key": f"full-{n}"}) for n in range(30)
        ]
        failed = [body for status, body in answers if status == 503]
        assert failed and all(body["type"].endswith("not-saved") for body in failed)
        assert {status for status, _ in answers} <= {201, 503}
        titles = [job["title"] for job in ask(port, "GET", "/api/jobs")[1]["jobs"]]
        assert len(titles) == sent.count(201) + sum(status == 201 for status, _ in answers)
        resource.prlimit(process.pid, resource.RLIMIT_FSIZE, (none, none))
        # The same operations again, under their keys: each once.
        again = [
            ask(port, "POST", "/api/jobs", {"title": f"full {n}", "who": "L"}, **{"Idempotency-Key": f"full-{n}"})[0] for n in range(30)
        ]
        assert again == [201] * 30
        titles = [job["title"] for job in ask(port, "GET", "/api/jobs")[1]["jobs"]]
        assert sorted(titles) == sorted([f"before {n}" for n in range(5)] + [f"full {n}" for n in range(30)])
    assert check.look(tmp_path / "data" / FILE_NAME).findings == []


def start(data, **more):
    """Try to start a server that must refuse, and return its problem."""
    command = [sys.executable, "-m", "fieldapp.cli", "serve", "--port", "0", "--data", str(data)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=60, check=False, **more)
    assert done.returncode == 2, done.stderr
    assert "Traceback" not in done.stderr
    return json.loads(done.stderr)


@posix
def test_a_start_on_a_full_disk_is_refused_and_the_next_one_works(tmp_path):
    import resource

    def small():
        resource.setrlimit(resource.RLIMIT_FSIZE, (6000, resource.RLIM_INFINITY))

    assert start(tmp_path / "data", preexec_fn=small)["type"].endswith("not-saved")
    with running(tmp_path / "data") as (_, port):
        assert ask(port, "POST", "/api/jobs", {"title": "A", "who": "L"})[0] == 201


@contextmanager
def no_root(folder):
    """Go on as a plain user who owns `folder` where the tests run as root: root may write anywhere."""
    root = os.geteuid() == 0
    if root:
        for path in (folder, *folder.iterdir()):
            os.chown(path, 65534, -1)
        os.seteuid(65534)
    try:
        yield
    finally:
        if root:
            os.seteuid(0)


@posix
def test_a_folder_or_file_that_cannot_be_written_is_told_at_the_start():
    folder = Path(tempfile.mkdtemp())
    try:
        folder.chmod(0o755)
        data = folder / "data"
        store = Store(data)
        with store.write() as db:
            jobs.create(db, store, "Kept", "Lee")
        store.close()
        before = rows_of(data / FILE_NAME, without=())
        for right, path in ((0o555, data), (0o444, data / FILE_NAME)):
            with no_root(data):
                path.chmod(right)
                with pytest.raises(Problem) as told_:
                    backups.open_store(data)
                path.chmod(0o755)
            assert told_.value.kind == "data-folder" and "written" in told_.value.title
        assert rows_of(data / FILE_NAME, without=()) == before
        again = backups.open_store(data)
        with again.read() as db:
            assert [job["title"] for job in jobs.every(db)] == ["Kept"]
        again.close()
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def test_a_disk_that_fails_while_a_backup_is_made_leaves_the_older_ones(tmp_path, clock, monkeypatch):
    store = Store(tmp_path / "data", clock)
    fill_store(store)
    good = store.backup()
    with store.write() as db:
        jobs.create(db, store, "Later", "Lee")

    def fail(path):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as broken:
        broken.setattr(copies, "flush", fail)
        with pytest.raises(OSError, match="space"):
            store.backup()
    assert copies.every(tmp_path / "data") == [good]
    assert [p.name for p in good.parent.iterdir()] == [good.name]
    assert store.backup() != good
    store.close()


def test_a_clock_that_goes_back_changes_no_order_and_is_told(tmp_path, clock):
    clock.time = "2026-03-05T10:00:00Z"
    store = Store(tmp_path / "data", clock)
    with store.write() as db:
        first = jobs.create(db, store, "First", "Lee")["id"]
        jobs.save_section(db, store, first, "make", 0, {"n": 1}, "Lee")
        jobs.add_event(db, store, first, {"step": "gap", "action": "note", "who": "Lee", "reason": "one"}, None)
        add_photo(db, store, first, note="one")
    clock.time = "2019-01-01T00:00:00Z"
    with store.write() as db:
        jobs.create(db, store, "Second", "Lee")
        jobs.save_section(db, store, first, "make", 1, {"n": 2}, "Lee")
        jobs.add_event(db, store, first, {"step": "gap", "action": "note", "who": "Lee", "reason": "two"}, None)
        add_photo(db, store, first, colour=(0, 0, 9), note="two")
    with store.read() as db:
        job = jobs.get(db, first)
        assert [(event["reason"], event["at"][:4]) for event in job["steps"]] == [("one", "2026"), ("two", "2019")]
        assert (job["sections"]["make"]["data"], job["sections"]["make"]["at"][:4]) == ({"n": 2}, "2019")
        assert [photo["note"] for photo in photos.of_job(db, first)] == ["one", "two"]
        assert [one["title"] for one in jobs.every(db)] == ["Second", "First"]
    store.close()
    again = backups.open_store(tmp_path / "data", clock)
    assert any("clock" in line and "2026-03-05T10:00:00Z" in line for line in again.told)
    again.close()
    clock.time = "2026-03-05T10:00:01Z"
    again = backups.open_store(tmp_path / "data", clock)
    assert again.told == []
    again.close()
