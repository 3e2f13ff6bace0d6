"""Who has the data folder open, so that no file is exchanged under a running server."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from core.problems import Problem

FILE_NAME = "in-use.lock"


def _connect(folder: Path, wait: float) -> sqlite3.Connection:
    return sqlite3.connect(folder / FILE_NAME, isolation_level=None, check_same_thread=False, timeout=wait)


def share(folder: Path) -> sqlite3.Connection:
    """Say that the folder is in use until the returned connection is closed or the process ends.

    SQLite's own lock on an empty file: it works the same on every system and outlives no process.
    """
    lock = _connect(folder, 5)
    try:
        lock.execute("BEGIN")
        lock.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except BaseException:
        lock.close()
        raise
    return lock


@contextmanager
def alone(folder: Path) -> Iterator[None]:
    """Hold the folder for one program alone.

    Raises
    ------
    Problem
        ``data-in-use`` if another program has it open.
    """
    with closing(_connect(folder, 0.2)) as lock:
        try:
            lock.execute("BEGIN EXCLUSIVE")
        except sqlite3.OperationalError as error:
            raise Problem("data-in-use", "Another program has this data folder open.", given=str(folder),
                          allowed="a data folder that no server is using.", next_step="Stop the server, then do it again.",
                          status=409) from error  # fmt: skip
        yield
