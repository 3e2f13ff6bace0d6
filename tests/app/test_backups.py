"""Backups: whole, checked, thinned only after a good one; and the one command back."""

import json
import shutil
import sqlite3
import threading
import time

import pytest
from data_helpers import fill_store, rows_of

from core.problems import Problem
from fieldapp import backups, cli
from fieldapp.store import Store, check, copies, jobs, lock, meta
from fieldapp.store.connection import FILE_NAME, MIGRATIONS


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "data"


@pytest.fixture
def filled(folder, clock):
    store = Store(folder, clock)
    fill_store(store)
    yield store
    store.close()


def new_job(store, title):
    with store.write() as db:
        return jobs.create(db, store, title, "Lee")


def test_a_backup_is_one_plain_file_with_all_that_is_there(filled, folder):
    path = filled.backup()
    assert copies.every(folder) == [path]
    assert rows_of(path) == rows_of(filled.path)
    assert check.look(path).findings == []
    assert sorted(p.name for p in path.parent.iterdir()) == [path.name]


def test_the_same_content_is_kept_once(filled, folder):
    first = filled.backup()
    assert filled.backup() == first
    new_job(filled, "One more")
    second = filled.backup()
    assert copies.every(folder) == [second, first]


def test_older_backups_go_only_after_a_newer_good_one(filled, folder, clock, monkeypatch):
    monkeypatch.setattr(copies, "NEWEST_KEPT", 2)
    for day in range(1, 6):
        clock.time = f"2026-03-0{day}T10:00:00Z"
        new_job(filled, f"Day {day}")
        filled.backup()
    before = copies.every(folder)
    assert len(before) == 5
    monkeypatch.setattr(check, "look", lambda path: check.Look(["bad copy"]))
    new_job(filled, "Not backed up")
    with pytest.raises(Problem) as told:
        filled.backup()
    assert told.value.kind == "data-damaged"
    assert copies.every(folder) == before
    assert not list((folder / "backups").glob(".part*"))


def test_24_newest_and_one_a_day_for_30_days_are_kept(tmp_path):
    # hand: 3 a day for 60 days; the newest 24 cover 8 days, then one a day for 30 more
    days = [f"2026{1 + n // 28:02}{1 + n % 28:02}" for n in range(60)]
    names = [
        f"pitsplice-{n * 3 + k:06}-{day}T1{k}0000Z-{'a' * 12}.sqlite3" for n, day in enumerate(days) for k in range(3)
    ]
    newest_first = [tmp_path / name for name in reversed(names)]
    gone = copies.superfluous(newest_first)
    kept = [path for path in newest_first if path not in gone]
    assert kept[:24] == newest_first[:24]
    assert len(kept) == 54
    # The newest of each day stays: the 12 o'clock one.
    assert all("T12" in path.name for path in kept[24:])


def test_the_order_is_by_number_when_the_clock_goes_back(filled, folder, clock):
    clock.time = "2026-03-05T10:00:00Z"
    first = filled.backup()
    clock.time = "2019-01-01T00:00:00Z"
    new_job(filled, "After the clock went back")
    second = filled.backup()
    assert copies.every(folder) == [second, first]


def test_a_nearly_full_disk_gets_no_backup(filled, monkeypatch):
    monkeypatch.setattr(shutil, "disk_usage", lambda path: shutil._ntuple_diskusage(10**9, 10**9, 10**6))
    with pytest.raises(Problem) as told:
        filled.backup()
    assert told.value.kind == "no-room"


def test_backups_are_made_at_the_start_and_while_something_changes(filled, folder):
    keeper = backups.Keeper(filled, every_s=0.05)
    keeper.start()

    def wait_for(count):
        until = time.monotonic() + 10
        while len(copies.every(folder)) < count:
            assert time.monotonic() < until
            time.sleep(0.02)

    wait_for(1)
    time.sleep(0.3)
    assert len(copies.every(folder)) == 1
    new_job(filled, "Changed")
    wait_for(2)
    keeper.stop()
    assert keeper.trouble == ""
    assert not [thread for thread in threading.enumerate() if thread.name == "backups"]


def test_a_failed_backup_is_told_by_the_server(client, app, monkeypatch):
    keeper = app.extensions["pitsplice-backups"]
    monkeypatch.setattr(shutil, "disk_usage", lambda path: shutil._ntuple_diskusage(10**9, 10**9, 10**6))
    keeper.start()
    keeper.stop()
    assert "no room" in client.get("/api/health").get_json()["backup_trouble"]


def test_restore_goes_back_keeps_the_other_file_and_makes_a_new_generation(filled, folder, clock, capsys):
    filled.backup()
    before = rows_of(filled.path)
    generation = meta.of_file(filled.connection())["generation"]
    new_job(filled, "Written after the backup")
    later = rows_of(filled.path)
    with pytest.raises(Problem) as told:
        backups.restore(folder)
    assert told.value.kind == "data-in-use"
    filled.close()
    assert cli.main(["restore", "--data", str(folder)]) == 0
    assert "set-aside" in capsys.readouterr().out
    store = Store(folder, clock)
    of_file = meta.of_file(store.connection())
    assert of_file["generation"] != generation
    assert of_file["restored"]["why"] == "asked for on the command line"
    assert of_file["restored"]["from"].startswith("pitsplice-000001-")
    store.close()
    assert rows_of(folder / FILE_NAME) == before
    assert rows_of(folder / "set-aside" / "001" / FILE_NAME) == later
    # And back again to what was moved aside.
    assert cli.main(["restore", str(folder / "set-aside" / "001" / FILE_NAME), "--data", str(folder)]) == 0
    assert rows_of(folder / FILE_NAME) == later
    assert sorted(p.name for p in (folder / "set-aside").iterdir()) == ["001", "002"]


def test_restore_passes_over_a_damaged_backup_and_refuses_to_use_one(filled, folder):
    good = filled.backup()
    new_job(filled, "Later")
    bad = filled.backup()
    filled.close()
    raw = bytearray(bad.read_bytes())
    at = raw.index(b"Later")
    raw[at] ^= 1
    bad.write_bytes(raw)
    with pytest.raises(Problem) as told:
        backups.restore(folder, bad)
    assert told.value.kind == "no-backup"
    assert backups.restore(folder) == good
    with pytest.raises(Problem) as told:
        backups.restore(folder, folder / "nothing")
    assert told.value.kind == "no-backup"


def test_restore_of_nothing_is_told(tmp_path, folder, capsys):
    assert cli.main(["restore", "--data", str(folder)]) == 2
    assert json.loads(capsys.readouterr().err)["type"].endswith("no-data")
    folder.mkdir()
    assert cli.main(["restore", "--data", str(folder)]) == 2
    assert json.loads(capsys.readouterr().err)["type"].endswith("no-backup")


def test_the_backup_command_works_beside_a_running_server(filled, folder, capsys):
    assert cli.main(["backup", "--data", str(folder)]) == 0
    assert capsys.readouterr().out.strip() == str(copies.every(folder)[0])


def test_a_restore_cut_short_is_finished_at_the_next_start(filled, folder, clock):
    filled.backup()
    before = rows_of(filled.path)
    filled.close()
    (folder / FILE_NAME).rename(folder / "gone")
    (folder / f"{FILE_NAME}-wal").write_bytes(b"left over")
    store = backups.open_store(folder, clock)
    assert "missing" in meta.of_file(store.connection())["restored"]["why"]
    store.close()
    assert rows_of(folder / FILE_NAME) == before
    assert (folder / "set-aside" / "001" / f"{FILE_NAME}-wal").read_bytes() == b"left over"


def test_a_backup_of_an_older_version_is_brought_up_to_date(folder, tmp_path, clock):
    steps = tmp_path / "steps"
    steps.mkdir()
    shutil.copy(MIGRATIONS / "0001_start.sql", steps)
    old = Store(folder, clock, migrations=steps)
    with old.write() as db:
        old_rows(db)
    old.close()
    new = Store(folder, clock)
    assert check.look(copies.every(folder)[0]).version == 1
    new.close()
    assert check.look(folder / FILE_NAME).findings == []
    generation = generation_of(folder)
    backups.restore(folder)
    assert generation_of(folder) != generation
    assert check.look(folder / FILE_NAME).findings == []
    db = sqlite3.connect(folder / FILE_NAME)
    uids = [row[0] for name in ("job_section", "step_event", "amendment") for row in db.execute(f"SELECT uid FROM {name}")]
    with pytest.raises(sqlite3.IntegrityError, match="append-only"):
        db.execute("UPDATE step_event SET who = 'x'")
    db.close()
    assert len(uids) == len(set(uids)) == 3 and all(len(uid) == 32 for uid in uids)


def generation_of(folder):
    db = sqlite3.connect(folder / FILE_NAME)
    (value,) = db.execute("SELECT value FROM meta WHERE name = 'generation'").fetchone()
    db.close()
    return value


def old_rows(db):
    """Write one row of each table as version 1 of the program did."""
    for statement in (
        "INSERT INTO operation VALUES ('k', 'POST /api/jobs', 'a', 201, '{}', 't')",
        "INSERT INTO job (id, title, created_at, created_by) VALUES ('22222222', 'Kept \u215c', 't', 'Lee')",
        "INSERT INTO job_section VALUES ('22222222', 'make', 1, '{}', 't', 'Lee')",
        "INSERT INTO step_event VALUES (3, '22222222', 's', 'note', NULL, NULL, 'r', 'Lee', 't', NULL, '{}')",
        "INSERT INTO stock_item VALUES (5, '2 in', '2', '.1 in', '1/10', 'dom-1020', 'none', '', '', '', '', 't')",
        "INSERT INTO stock_move VALUES (7, 5, 'add', '9', '9 in', '', NULL, 'Lee', 't')",
        "INSERT INTO stock_change VALUES (1, 5, '{}', '{}', 'Lee', 't')",
    ):
        db.execute(statement)
    from core import record as seals

    body = {"id": "22222222", "sealed_at": "t", "sealed_by": "Lee"}
    digest = seals.seal(body)
    db.execute("INSERT INTO record VALUES ('22222222', '22222222', 't', 'Lee', ?, ?)",
               (seals.canonical(body).decode(), digest))  # fmt: skip
    db.execute("INSERT INTO amendment VALUES ('22222222', 1, 't', 'Lee', 'x', ?, ?)",
               (digest, seals.amend(digest, 1, "t", "Lee", "x")))  # fmt: skip


def test_the_lock_is_shared_by_readers_and_held_by_one_alone(folder):
    folder.mkdir()
    one, two = lock.share(folder), lock.share(folder)
    with pytest.raises(Problem), lock.alone(folder):
        pass
    one.close()
    two.close()
    with lock.alone(folder):
        pass
