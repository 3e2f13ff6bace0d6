"""The backups: whole, checked copies of the data file beside it, and which of them are kept."""

from __future__ import annotations

import os
import re
import shutil
import sqlite3
from contextlib import suppress
from pathlib import Path

from core.problems import Problem
from fieldapp.store import check

FOLDER = "backups"
NAME = re.compile(r"pitsplice-(?P<number>\d{6,})-(?P<day>\d{8})T\d{6}Z-(?P<content>[0-9a-f]{12})\.sqlite3")
NEWEST_KEPT, DAYS_KEPT = 24, 30
# A backup must not be what fills the disk that the next write needs.
LEFT_FREE = 64 * 1024 * 1024


def every(folder: Path) -> list[Path]:
    """Return the backups of a data folder, the newest first.

    Their order is their number: a clock that was set back does not make a new backup an old one.
    """
    there = [path for path in (folder / FOLDER).glob("pitsplice-*.sqlite3") if NAME.fullmatch(path.name)]
    return sorted(there, key=_number, reverse=True)


def save(db: sqlite3.Connection, folder: Path, at: str) -> Path:
    """Copy the open data file into a checked backup, thin out the older ones, and return its path.

    A backup with the same content as the newest one is not kept twice.

    Raises
    ------
    Problem
        ``no-room`` if the disk is nearly full, ``data-damaged`` if the copy is not whole: the
        backups there are stay as they are.
    """
    (folder / FOLDER).mkdir(exist_ok=True)
    size = db.execute("PRAGMA page_count").fetchone()[0] * db.execute("PRAGMA page_size").fetchone()[0]
    free = shutil.disk_usage(folder).free
    if free < size + LEFT_FREE:
        raise Problem("no-room", "There is no room on the disk for a backup.", given=f"{free // 2**20} MB free",
                      allowed=f"{(size + LEFT_FREE) // 2**20 + 1} MB or more.", next_step="Free some space on the laptop.",
                      status=507)  # fmt: skip
    part = folder / FOLDER / f".part-{os.getpid()}-{id(db)}"
    try:
        copy_to(db, part)
        seen = check.look(part)
        if seen.findings:
            raise damaged(part.parent.parent, seen)
        before = every(folder)
        newest = NAME.fullmatch(before[0].name) if before else None
        if newest and newest["content"] == seen.content[:12]:
            return before[0]
        number = int(newest["number"]) + 1 if newest else 1
        stamp = re.sub(r"[-:]", "", at)
        target = folder / FOLDER / f"pitsplice-{number:06}-{stamp}-{seen.content[:12]}.sqlite3"
        os.replace(part, target)
        flush(target.parent)
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)
    for old in superfluous(every(folder)):
        old.unlink(missing_ok=True)
    return target


def copy_to(db: sqlite3.Connection, target: Path) -> None:
    """Copy an open data file to `target`, one plain file, on the disk when this returns."""
    target.unlink(missing_ok=True)
    copy = sqlite3.connect(target, isolation_level=None)
    try:
        db.backup(copy)
        copy.execute("PRAGMA journal_mode = DELETE")
    finally:
        copy.close()
    flush(target)


def sweep(folder: Path) -> None:
    """Take away the unfinished copies that a power cut left; the caller holds the folder alone."""
    for part in (folder / FOLDER).glob(".part-*"):
        part.unlink(missing_ok=True)


def superfluous(newest_first: list[Path]) -> list[Path]:
    """Return the backups to take away: past the newest 24, one a day is kept for 30 days."""
    days: set[str] = set()
    out = []
    for path in newest_first[NEWEST_KEPT:]:
        day = NAME.fullmatch(path.name)["day"]
        if day in days or len(days) == DAYS_KEPT:
            out.append(path)
        else:
            days.add(day)
    return out


def flush(path: Path) -> None:
    """Wait until a file, or the names in a folder, are on the disk."""
    if os.name == "nt" and path.is_dir():  # pragma: no cover - only on Windows
        return
    handle = os.open(path, os.O_RDWR if path.is_file() else os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def damaged(given: Path, seen: check.Look) -> Problem:
    """Return the problem for a data file that is not whole."""
    return Problem("data-damaged", f"The data file is damaged. {seen.why()}", given=str(given),
                   allowed="a data file that is whole.",
                   next_step="Copy the whole data folder to another disk first. Then put a good backup back with "
                   "pitsplice restore FILE, or start with another folder with --data.", status=503)  # fmt: skip


def _number(path: Path) -> int:
    return int(NAME.fullmatch(path.name)["number"])
