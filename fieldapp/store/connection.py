"""The data file: one connection a thread, migrations, and write transactions."""

from __future__ import annotations

import re
import sqlite3
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path

from core.problems import Problem
from fieldapp.store import copies, lock, meta, rows
from fieldapp.store.folder import check_folder

MIGRATIONS = Path(__file__).parent / "migrations"
FILE_NAME = "pitsplice.sqlite3"
WAIT_FOR_LOCK_MS = 5000
FULL = 2


def utc_now() -> str:
    """Return the time now as UTC text, to the second."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


class Store:
    """One data folder.

    Parameters
    ----------
    folder : Path
        Made if it is not there.
    clock : callable
        Returns the time now as UTC text with Z.
    demo : bool
        Whether what is made here is marked as demo.
    migrations : Path
        Folder of the numbered .sql files.

    Attributes
    ----------
    told : list of str
        What the person who starts the server must be told of the file.
    """

    def __init__(
        self,
        folder: Path,
        clock: Callable[[], str] = utc_now,
        *,
        demo: bool = False,
        migrations: Path = MIGRATIONS,
    ) -> None:
        self.folder = Path(folder)
        self.path = self.folder / FILE_NAME
        self.now = clock
        self.demo = demo
        self.told: list[str] = []
        self._here = threading.local()
        self._all: list[sqlite3.Connection] = []
        self._lock = threading.Lock()
        check_folder(self.folder)
        self._in_use = lock.share(self.folder)
        try:
            self._migrate(migrations)
        except BaseException:
            self.close()
            raise

    def connection(self) -> sqlite3.Connection:
        """Return this thread's connection, opened on first use."""
        found = getattr(self._here, "connection", None)
        if found is None:
            found = self._here.connection = _open(self.path)
            with self._lock:
                self._all.append(found)
        return found

    @contextmanager
    def write(self) -> Iterator[sqlite3.Connection]:
        """Give a connection inside one write transaction: all of it is kept, or nothing.

        The write lock is taken at the start, so that what is read inside cannot change
        before what is written on the strength of it.
        """
        db = self.connection()
        db.execute("BEGIN IMMEDIATE")
        try:
            yield db
            db.execute("COMMIT")
        except BaseException:
            # SQLite has rolled back by itself after some errors (a full disk).
            with suppress(sqlite3.Error):
                if db.in_transaction:
                    db.execute("ROLLBACK")
            raise

    @contextmanager
    def read(self) -> Iterator[sqlite3.Connection]:
        """Give a connection inside one read transaction: all reads see the same moment."""
        db = self.connection()
        db.execute("BEGIN")
        try:
            yield db
        finally:
            with suppress(sqlite3.Error):
                if db.in_transaction:
                    db.execute("ROLLBACK")

    def close(self) -> None:
        """Close every connection; for the end of the server and of a test."""
        with self._lock:
            for connection in self._all:
                connection.close()
            self._all.clear()
        self._in_use.close()
        self._here = threading.local()

    def backup(self) -> Path:
        """Make a checked backup while the data file is in use, and return it (`copies.save`)."""
        return copies.save(self.connection(), self.folder, self.now())

    def _migrate(self, migrations: Path) -> None:
        steps = sorted((int(p.name[:4]), p) for p in migrations.glob("*.sql") if re.match(r"\d{4}_", p.name))
        db = self.connection()
        at = _version(db)
        newest = steps[-1][0]
        if at > newest:
            raise Problem(
                "data-too-new", "A newer version of Pitsplice wrote this data folder.", given=f"data version {at}",
                allowed=f"data version {newest} or older.",
                next_step="Start the newer version, or choose another folder with --data.", status=400,
            )  # fmt: skip
        if 0 < at < newest:
            self.backup()
        for number, path in steps:
            with self.write():
                # Another process may have done it while this one waited for the lock.
                if _version(db) >= number:
                    continue
                for statement in statements(path.read_text(encoding="utf-8")):
                    db.execute(statement)
                db.execute(f"PRAGMA user_version = {number}")
                if "meta" in rows.tables(db):
                    meta.mark_version(db, number)


def statements(script: str) -> Iterator[str]:
    """Yield the statements of an SQL script one by one, triggers whole."""
    held = ""
    for line in script.splitlines(keepends=True):
        if not held.strip() and line.lstrip().startswith("--"):
            continue
        held += line
        if sqlite3.complete_statement(held):
            yield held
            held = ""


def _version(db: sqlite3.Connection) -> int:
    return db.execute("PRAGMA user_version").fetchone()[0]


def _wal(db: sqlite3.Connection) -> str:
    """Switch to the write-ahead log; SQLite does not wait by itself when another start does the same."""
    until = time.monotonic() + WAIT_FOR_LOCK_MS / 1000
    while True:
        try:
            return db.execute("PRAGMA journal_mode = WAL").fetchone()[0]
        except sqlite3.OperationalError:
            if time.monotonic() > until:
                raise
            time.sleep(0.02)


def _open(path: Path) -> sqlite3.Connection:
    # Closed by Store.close from another thread, hence no same-thread check; used by one only.
    db = sqlite3.connect(path, isolation_level=None, check_same_thread=False, timeout=WAIT_FOR_LOCK_MS / 1000)
    try:
        db.row_factory = sqlite3.Row
        db.execute(f"PRAGMA busy_timeout = {WAIT_FOR_LOCK_MS}")
        db.create_function("row_sha256", -1, rows.digest, deterministic=True)
        mode = _wal(db)
        db.execute("PRAGMA synchronous = FULL")
        db.execute("PRAGMA foreign_keys = ON")
        db.execute("PRAGMA recursive_triggers = ON")
        kept = db.execute("PRAGMA synchronous").fetchone()[0]
        if mode != "wal" or kept != FULL or not db.execute("PRAGMA foreign_keys").fetchone()[0]:
            raise Problem(
                "data-folder", "The data file cannot be opened so that every write survives a power cut.",
                given=f"{path}: journal {mode}, synchronous {kept}", allowed="journal wal, synchronous 2 (full).",
                next_step="Choose a folder on a disk of this machine with --data.", status=400,
            )  # fmt: skip
    except BaseException:
        db.close()
        raise
    return db
