"""The data file: settings, migrations, backups, where it may be."""

import os
import re
import sqlite3
import threading

import pytest

from core.problems import Problem
from fieldapp.store import Store, copies, jobs, utc_now
from fieldapp.store.connection import MIGRATIONS, statements
from fieldapp.store.folder import file_system_type

FIRST = MIGRATIONS / "0001_start.sql"


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "data"


def test_every_thread_has_its_own_connection_with_full_durability(folder):
    store = Store(folder)
    seen = []

    def look():
        db = store.connection()
        seen.append(
            (
                id(db),
                *(
                    db.execute(f"PRAGMA {name}").fetchone()[0]
                    for name in ("journal_mode", "synchronous", "foreign_keys")
                ),
            )
        )

    threads = [threading.Thread(target=look) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    look()
    store.close()
    assert len({one[0] for one in seen}) == 4
    # sqlite.org/pragma.html: synchronous 2 is FULL
    assert {one[1:] for one in seen} == {("wal", 2, 1)}


def test_a_failed_write_leaves_nothing(folder):
    store = Store(folder)
    with pytest.raises(RuntimeError), store.write() as db:
        jobs.create(db, store, "A", "Lee")
        raise RuntimeError
    with store.read() as db:
        assert jobs.every(db) == []
    store.close()


def test_a_migration_of_a_used_file_backs_it_up_first(folder, tmp_path, clock):
    steps = tmp_path / "steps"
    steps.mkdir()
    (steps / FIRST.name).write_text(FIRST.read_text())
    old = Store(folder, clock, migrations=steps)
    with old.write() as db:
        # As version 1 of the program wrote it.
        db.execute("INSERT INTO job (id, title, created_at, created_by) VALUES ('22222222', 'Kept', 't', 'Lee')")
    old.close()
    (steps / "9002_more.sql").write_text("CREATE TABLE more (a INTEGER);\nINSERT INTO more VALUES (7);\n")
    new = Store(folder, clock, migrations=steps)
    assert new.connection().execute("SELECT a FROM more").fetchone()[0] == 7
    new.close()
    (backup,) = copies.every(folder)
    copy = sqlite3.connect(backup)
    assert copy.execute("SELECT title FROM job").fetchone()[0] == "Kept"
    assert copy.execute("PRAGMA user_version").fetchone()[0] == 1
    copy.close()
    with pytest.raises(Problem) as told:
        Store(folder, clock)
    assert told.value.kind == "data-too-new"


def test_a_migration_that_fails_half_way_changes_nothing(folder, tmp_path):
    steps = tmp_path / "steps"
    steps.mkdir()
    (steps / FIRST.name).write_text(FIRST.read_text())
    Store(folder, migrations=steps).close()
    (steps / "0002_bad.sql").write_text("CREATE TABLE half (a);\nINSERT INTO nowhere VALUES (1);\n")
    with pytest.raises(sqlite3.OperationalError):
        Store(folder, migrations=steps)
    (steps / "0002_bad.sql").unlink()
    store = Store(folder, migrations=steps)
    assert store.connection().execute("SELECT 1 FROM sqlite_master WHERE name = 'half'").fetchone() is None
    store.close()


def test_two_starts_at_once_migrate_once(folder):
    made, errors = [], []

    def start():
        try:
            made.append(Store(folder))
        except Exception as error:
            errors.append(error)

    threads = [threading.Thread(target=start) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    for store in made:
        store.close()
    assert (len(made), errors) == (4, [])


def test_statements_keep_triggers_whole():
    found = list(statements(FIRST.read_text()))
    assert sum("CREATE TRIGGER" in one for one in found) == 12
    assert all(sqlite3.complete_statement(one) for one in found)


def test_a_folder_that_cannot_hold_the_data_is_refused(tmp_path, monkeypatch):
    file = tmp_path / "file"
    file.write_text("")
    with pytest.raises(Problem) as told:
        Store(file / "data")
    assert told.value.kind == "data-folder"
    monkeypatch.setattr("fieldapp.store.folder.file_system_type", lambda folder: "nfs4")
    with pytest.raises(Problem) as told:
        Store(tmp_path / "net")
    assert "network" in told.value.title


@pytest.mark.skipif(os.name == "nt", reason="mount table of Linux")
def test_the_innermost_mount_decides(tmp_path):
    table = tmp_path / "mounts"
    inner = str(tmp_path).replace(" ", "\\040")
    table.write_text(f"/dev/sda / ext4 rw 0 0\nserver:/x {inner} nfs4 rw 0 0\nbad\n/dev/sdb {inner}er ext4 rw 0 0\n")
    assert file_system_type(tmp_path, table) == "nfs4"
    assert file_system_type(tmp_path.parent, table) == "ext4"
    assert file_system_type(tmp_path, tmp_path / "none") == ""


def test_the_clock_gives_utc_to_the_second():
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", utc_now())


def test_a_demo_store_marks_its_jobs(folder):
    store = Store(folder, demo=True)
    with store.write() as db:
        assert jobs.create(db, store, "A", "Lee")["demo"] is True
    store.close()
