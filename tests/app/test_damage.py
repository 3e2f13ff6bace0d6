"""A damaged data file is found at the start, to the last byte that matters, and answered from a backup."""

import json
import random
import shutil
import sqlite3
from collections import Counter

import pytest
from data_helpers import fill_store, rows_of

from core.problems import Problem
from fieldapp import backups
from fieldapp.store import Store, check, jobs, meta
from fieldapp.store.connection import FILE_NAME

FLIPS = 200


@pytest.fixture(scope="module")
def filled(tmp_path_factory):
    """A closed, filled data folder with one backup of all that is in it."""
    folder = tmp_path_factory.mktemp("filled") / "data"
    store = Store(folder)
    fill_store(store)
    store.backup()
    store.close()
    return folder


def copy_of(filled, tmp_path):
    folder = tmp_path / "data"
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(filled, folder)
    return folder


def places(raw, draw):
    """Return seeded places: in the file header, in the heads of pages, anywhere, in texts."""
    # published: sqlite.org/fileformat.html: page size at byte 16; a page's head and cell
    # pointers stand at its start (after the 100 bytes of the file's head on page 1)
    size = int.from_bytes(raw[16:18], "big")
    pages = len(raw) // size
    for _ in range(FLIPS // 4):
        yield "header", draw.randrange(100)
        page = draw.randrange(pages)
        yield "b-tree", page * size + (100 if page == 0 else 0) + draw.randrange(40)
        yield "anywhere", draw.randrange(len(raw))
        while not chr(raw[(at := draw.randrange(len(raw)))]).isalnum():
            pass
        yield "text", at


def test_every_changed_byte_is_harmless_or_answered_from_the_backup(filled, tmp_path):
    draw = random.Random(20260301)
    original = rows_of(filled / FILE_NAME)
    raw = (filled / FILE_NAME).read_bytes()
    counted = Counter()
    for place, at in places(raw, draw):
        folder = copy_of(filled, tmp_path)
        changed = bytearray(raw)
        changed[at] ^= draw.randrange(1, 256)
        (folder / FILE_NAME).write_bytes(changed)
        store = backups.open_store(folder)
        found = bool(store.told)
        assert (meta.of_file(store.connection())["restored"] is not None) == found
        with store.write() as db:
            made = jobs.create(db, store, "Still works", "Lee")
        store.close()
        after = rows_of(folder / FILE_NAME)
        after["job"] = [row for row in after["job"] if row[0] != made["id"]]
        assert after == original, (place, at)
        if found:
            assert (folder / "set-aside" / "001" / FILE_NAME).read_bytes() == changed
        counted[place, "found" if found else "harmless"] += 1
    print(dict(counted))
    assert sum(counted.values()) == FLIPS
    # Most bytes of a text are someone's words: no plain structure check sees those.
    assert counted["text", "found"] > 30


def test_a_changed_letter_is_found_by_the_digest_alone(filled, tmp_path):
    folder = copy_of(filled, tmp_path)
    raw = bytearray((folder / FILE_NAME).read_bytes())
    at = raw.index(b"not measured yet")
    raw[at] ^= 1
    (folder / FILE_NAME).write_bytes(raw)
    db = sqlite3.connect(folder / FILE_NAME)
    assert db.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
    db.close()
    assert "does not match its digest" in check.look(folder / FILE_NAME).why()


def test_without_a_good_backup_the_server_does_not_start_and_touches_nothing(filled, tmp_path):
    folder = copy_of(filled, tmp_path)
    for path in (folder / FILE_NAME, *(folder / "backups").iterdir()):
        raw = bytearray(path.read_bytes())
        raw[raw.index(b"not measured yet")] ^= 1
        path.write_bytes(raw)

    def everything():
        return {p: p.read_bytes() for p in folder.rglob("*") if p.is_file() and not p.name.endswith((".lock", "-wal", "-shm"))}

    before = everything()
    with pytest.raises(Problem) as told:
        backups.open_store(folder)
    assert told.value.kind == "data-damaged"
    assert "pitsplice restore" in told.value.next_step
    assert everything() == before
    shutil.rmtree(folder / "backups")
    with pytest.raises(Problem) as told:
        backups.open_store(folder)
    assert told.value.kind == "data-damaged"


def test_a_file_of_another_program_or_cut_short_is_damage(filled, tmp_path):
    original = rows_of(filled / FILE_NAME)
    raw = (filled / FILE_NAME).read_bytes()
    for broken in (b"hello" * 1000, raw[: len(raw) // 2], raw[:50], raw + raw[4096:8192], b"", b"\0" * len(raw)):
        folder = copy_of(filled, tmp_path)
        (folder / FILE_NAME).write_bytes(broken)
        store = backups.open_store(folder)
        # Whole pages behind the end are no part of the data: the header says how long it is.
        assert store.told or broken.startswith(raw)
        store.close()
        assert rows_of(folder / FILE_NAME) == original


def test_a_newer_file_is_refused_and_not_taken_for_damage(filled, tmp_path):
    folder = copy_of(filled, tmp_path)
    store = Store(folder)
    with store.write() as db:
        db.execute("ALTER TABLE job ADD COLUMN colour TEXT")
        db.execute("PRAGMA user_version = 9000")
        meta.mark_version(db, 9000)
    store.close()
    with pytest.raises(Problem) as told:
        backups.open_store(folder)
    assert told.value.kind == "data-too-new"
    assert not (folder / "set-aside").exists()


def test_the_restore_is_told_by_the_server_until_someone_has_read_it(filled, tmp_path):
    from fieldapp import create_app
    from fieldapp.config import Settings

    folder = copy_of(filled, tmp_path)
    before = json.loads(json.dumps(generation(folder)))
    (folder / FILE_NAME).write_bytes(b"x" * 5000)
    app = create_app(Settings(folder))
    health = app.test_client().get("/api/health").get_json()
    store = app.extensions["pitsplice-store"]
    assert any("DAMAGED" in line for line in store.told)
    store.close()
    assert set(health["restored"]) == {"at", "from", "why"}
    assert health["generation"] != before


def generation(folder):
    store = Store(folder)
    value = meta.of_file(store.connection())["generation"]
    store.close()
    return value


def test_a_second_server_on_the_same_folder_exchanges_nothing(filled, tmp_path):
    folder = copy_of(filled, tmp_path)
    first = backups.open_store(folder)
    second = backups.open_store(folder)
    assert second.told == []
    second.close()
    first.close()


def test_a_kill_right_after_the_first_start_is_no_damage(tmp_path):
    store = Store(tmp_path / "data")
    # As a kill leaves it: all of it still in the log.
    copy = tmp_path / "copy"
    shutil.copytree(tmp_path / "data", copy)
    store.close()
    assert (copy / f"{FILE_NAME}-wal").stat().st_size > 0
    assert (copy / FILE_NAME).stat().st_size <= 4096
    again = backups.open_store(copy)
    assert again.told == []
    again.close()


def test_a_kill_before_the_first_table_is_no_damage(tmp_path):
    (tmp_path / "data").mkdir()
    db = sqlite3.connect(tmp_path / "data" / FILE_NAME)
    db.execute("PRAGMA journal_mode = WAL")
    db.close()
    store = backups.open_store(tmp_path / "data")
    assert store.told == []
    store.close()


JOBS = 40


@pytest.fixture(scope="module")
def killed(tmp_path_factory):
    """A data folder as a kill leaves it: 40 jobs, one write each, most of them in the log only."""
    folder = tmp_path_factory.mktemp("killed")
    store = Store(folder / "live")
    for number in range(JOBS):
        with store.write() as db:
            jobs.create(db, store, f"Job {number}", "Lee")
    shutil.copytree(folder / "live", folder / "data")
    store.close()
    return folder / "data"


def titles(folder):
    store = Store(folder)
    with store.read() as db:
        found = [job["title"] for job in jobs.every(db)][::-1]
    store.close()
    return found


def test_a_changed_byte_in_the_log_of_a_crash_loses_nothing_in_silence(killed, tmp_path):
    draw = random.Random(7)
    raw = (killed / f"{FILE_NAME}-wal").read_bytes()
    counted = Counter()
    every = [f"Job {number}" for number in range(JOBS)]
    for turn in range(40):
        folder = copy_of(killed, tmp_path)
        changed = bytearray(raw)
        # published: the log's head is its first 32 bytes; every fourth change falls there
        changed[draw.randrange(32) if turn % 4 == 0 else draw.randrange(len(raw))] ^= draw.randrange(1, 256)
        (folder / f"{FILE_NAME}-wal").write_bytes(changed)
        try:
            store = backups.open_store(folder)
        except Problem as problem:
            # The tables themselves were in the log: nothing is left to start with, and that is said.
            assert problem.kind == "data-damaged"
            counted["refused"] += 1
            continue
        told = store.told
        assert bool(told) == bool(meta.of_file(store.connection())["restored"])
        store.close()
        found = titles(folder)
        assert found == every[: len(found)]
        if told:
            assert (folder / "set-aside" / "001" / f"{FILE_NAME}-wal").read_bytes() == changed
        else:
            # The very last write alone cannot be told from one that the power cut off.
            assert len(found) >= JOBS - 1
        counted["told" if told else "harmless"] += 1
    print(dict(counted))
    assert counted["told"] > 20


def test_a_backup_with_more_than_the_damaged_log_is_taken(killed, tmp_path):
    folder = copy_of(killed, tmp_path)
    good = copy_of(killed, tmp_path / "other")
    store = Store(good)
    backup = store.backup()
    store.close()
    shutil.copytree(good / "backups", folder / "backups")
    raw = bytearray((folder / f"{FILE_NAME}-wal").read_bytes())
    raw[raw.index(b"Job 3") + 4] ^= 1
    (folder / f"{FILE_NAME}-wal").write_bytes(raw)
    store = backups.open_store(folder)
    assert meta.of_file(store.connection())["restored"]["from"] == backup.name
    store.close()
    assert len(titles(folder)) == JOBS


def test_a_command_leaves_a_damaged_log_for_the_server(killed, tmp_path):
    folder = copy_of(killed, tmp_path)
    raw = bytearray((folder / f"{FILE_NAME}-wal").read_bytes())
    raw[len(raw) // 2] ^= 1
    (folder / f"{FILE_NAME}-wal").write_bytes(raw)
    with pytest.raises(Problem) as told:
        backups.existing(folder)
    assert told.value.kind == "data-damaged"
    assert (folder / f"{FILE_NAME}-wal").read_bytes() == raw
