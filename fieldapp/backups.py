"""Backups by the clock, and the way back from one when the data file is damaged. No Flask here."""

from __future__ import annotations

import logging
import os
import shutil
import sqlite3
import threading
from collections.abc import Callable
from pathlib import Path

from core.problems import Problem
from fieldapp.refusals import store_trouble
from fieldapp.store import Store, check, copies, lock, meta, utc_now
from fieldapp.store.connection import FILE_NAME
from fieldapp.store.folder import check_folder
from fieldapp.store.log_check import lost_commits

log = logging.getLogger("pitsplice")

EVERY_S = 3600
ASIDE, WORK = "set-aside", "restoring"
UP_TO_DAMAGE = "the data file up to the damage"
PARTS = ("", "-wal", "-shm")


def open_store(folder: Path, clock: Callable[[], str] = utc_now, *, demo: bool = False) -> Store:
    """Open a data folder for the server: look at the file first, go back to a backup if it is damaged.

    Raises
    ------
    Problem
        ``data-folder``, ``data-too-new``, ``not-saved``, or ``data-damaged`` if the file is damaged
        and no backup is whole: then nothing was touched.
    """
    folder = Path(folder)
    check_folder(folder)
    try:
        told: list[str] = []
        short = ""
        try:
            with lock.alone(folder):
                copies.sweep(folder)
                _writable(folder / FILE_NAME)
                short = _log_damage(folder)
                if short:
                    _copy_aside(folder)
                seen = _damage(folder)
                if seen:
                    used = _put_back(folder, copies.every(folder), seen.why(), clock, copies.damaged(folder, seen))
                    short = ""
                    told = _told(folder, seen.why(), used.name)
                elif short:
                    used = _with_more(folder)
                    told = _told(folder, short, used.name if used else UP_TO_DAMAGE)
                    if used:
                        _put_back(folder, [used], short, clock, copies.damaged(folder, check.Look([short])))
                        short = ""
        except Problem as problem:
            # Another server has it open: it looked when it started, and nothing may be exchanged under it.
            if problem.kind != "data-in-use":
                raise
        store = Store(folder, clock, demo=demo)
        if short:
            with store.write() as db:
                meta.mark_restored(db, clock(), UP_TO_DAMAGE, short)
        last = meta.last_written(store.connection())
        if last > clock():
            told.append(f"The clock of this laptop is behind: it says {clock()}, the data was written until {last}. Set it.")
        store.told = told
        return store
    except (sqlite3.DatabaseError, OSError) as error:
        raise start_trouble(error, folder) from error


def existing(folder: Path) -> Store:
    """Open a data folder that a server has used, or raise ``no-data``.

    The file is looked at where no server has it open; a damaged one is told, not exchanged.
    """
    if not (folder / FILE_NAME).is_file():
        raise Problem("no-data", "There is no data in that folder.", given=str(folder),
                      allowed="a data folder that the server has used.", next_step="Give it with --data.")  # fmt: skip
    try:
        try:
            with lock.alone(folder):
                short = _log_damage(folder)
                seen = check.Look([short]) if short else _damage(folder)
                if seen:
                    raise copies.damaged(folder, seen)
        except Problem as problem:
            if problem.kind != "data-in-use":
                raise
        return Store(folder)
    except (sqlite3.DatabaseError, OSError) as error:
        raise start_trouble(error, folder) from error


def _told(folder: Path, why: str, now: str) -> list[str]:
    return [
        f"THE DATA FILE WAS DAMAGED. {why}",
        f"In its place now: {now}",
        f"The damaged file is kept in {folder / ASIDE}.",
        "Phones send again what they still have. Look at what was written last.",
    ]


def _log_damage(folder: Path) -> str:
    """Return what is wrong with the log a crash left, "" if nothing."""
    path = folder / FILE_NAME
    lost = lost_commits(path.with_name(f"{FILE_NAME}-wal"), path) if path.is_file() else 0
    # See `lost_commits` for why two.
    return f"The log of the last writes is damaged: {lost} of them cannot be read." if lost > 1 else ""


def _copy_aside(folder: Path) -> None:
    """Keep file and log as they are before anyone opens them: SQLite would cut the log off."""
    aside = _aside(folder)
    for part in PARTS[:2]:
        shutil.copyfile(folder / f"{FILE_NAME}{part}", aside / f"{FILE_NAME}{part}")
        copies.flush(aside / f"{FILE_NAME}{part}")


def _with_more(folder: Path) -> Path | None:
    """Return the newest good backup if it has more than the data file up to the damage of its log."""
    looks = ((path, check.look(path)) for path in copies.every(folder))
    newest = next(((path, seen) for path, seen in looks if not seen.findings), None)
    return newest[0] if newest and newest[1].rows > check.look(folder / FILE_NAME).rows else None


def restore(folder: Path, source: Path | None = None, clock: Callable[[], str] = utc_now) -> Path:
    """Put a backup in the place of the data file, which is moved aside, and return the one used.

    Parameters
    ----------
    folder : Path
        The data folder.
    source : Path
        The backup; the newest that is whole if left out.
    clock : callable
        Returns the time now.

    Raises
    ------
    Problem
        ``data-in-use``, or ``no-backup`` if there is none, or the one named is not whole.
    """
    if source is None and not copies.every(folder):
        raise _no_backup(folder / copies.FOLDER, "There is no backup in that data folder.")
    if source is not None and not source.is_file():
        raise _no_backup(source, "There is no such backup.")
    check_folder(folder)
    sources = [source] if source else copies.every(folder)
    otherwise = _no_backup(source or folder / copies.FOLDER, "No backup there is whole.")
    try:
        with lock.alone(folder):
            return _put_back(folder, sources, "asked for on the command line", clock, otherwise)
    except (sqlite3.DatabaseError, OSError) as error:
        raise start_trouble(error, folder) from error


def start_trouble(error: Exception, folder: Path) -> Problem:
    """Return the problem for a data folder that an error of the disk keeps from being used."""
    problem = store_trouble(error, str(folder)) if isinstance(error, sqlite3.Error) else None
    return problem or Problem(
        "not-saved", f"The data folder cannot be used: {error}. Nothing was changed.", given=str(folder),
        allowed="a folder on a disk of this machine, with room, that you may write to.",
        next_step="Check the disk and the rights on the folder, then start again.", status=503,
    )  # fmt: skip


def _writable(path: Path) -> None:
    """Raise ``data-folder`` for a file that may only be read: SQLite would open it and fail at the first write."""
    try:
        if path.exists():
            path.open("r+b").close()
    except OSError as error:
        raise Problem("data-folder", f"The data file cannot be written: {error.strerror or error}.", given=str(path),
                      allowed="a file that you may write to.", next_step="Set the rights on the data folder and start again.",
                      status=400) from error  # fmt: skip


def _damage(folder: Path) -> check.Look | None:
    """Return what is wrong with the data file, None if it is whole or none was ever there."""
    path = folder / FILE_NAME
    if path.exists() and path.stat().st_size:
        seen = check.look(path)
        return seen if seen.findings else None
    # A restore that the power cut short leaves no file, but backups.
    return check.Look(["The data file is missing or empty."]) if copies.every(folder) else None


def _put_back(folder: Path, sources: list[Path], why: str, clock: Callable[[], str], otherwise: Problem) -> Path:
    """Exchange the data file for the first whole one of `sources`, or raise `otherwise`."""
    source = next((one for one in sources if not check.look(one).findings), None)
    if source is None:
        raise otherwise
    work = folder / WORK
    shutil.rmtree(work, ignore_errors=True)
    work.mkdir()
    # Made ready beside the data file, a new generation included: the exchange is one rename.
    backup = sqlite3.connect(f"{source.resolve().as_uri()}?mode=ro", uri=True)
    try:
        copies.copy_to(backup, work / FILE_NAME)
    finally:
        backup.close()
    made = Store(work, clock)
    try:
        with made.write() as db:
            meta.mark_restored(db, clock(), source.name, why)
    finally:
        made.close()
    copies.flush(work / FILE_NAME)
    aside = _aside(folder)
    # The file before its log: a log without its file is harmless, a file without its log has lost writes.
    for part in PARTS:
        here = folder / f"{FILE_NAME}{part}"
        if here.exists():
            os.replace(here, aside / here.name)
    copies.flush(aside)
    os.replace(work / FILE_NAME, folder / FILE_NAME)
    copies.flush(folder)
    shutil.rmtree(work, ignore_errors=True)
    return source


def _aside(folder: Path) -> Path:
    number = 1
    while (folder / ASIDE / f"{number:03}").exists():
        number += 1
    made = folder / ASIDE / f"{number:03}"
    made.mkdir(parents=True)
    return made


def _no_backup(given: Path, title: str) -> Problem:
    return Problem("no-backup", title, given=str(given), allowed="a backup that passes every check, such as the ones in backups/.",
                   next_step="Name another backup: pitsplice restore FILE. The data file is as it was.", status=404)  # fmt: skip


class Keeper(threading.Thread):
    """Makes a backup at the start and then every hour in which something was written.

    Attributes
    ----------
    trouble : str
        Why the last try failed, "" if it did not.
    """

    def __init__(self, store: Store, every_s: float = EVERY_S) -> None:
        super().__init__(name="backups", daemon=True)
        self.store = store
        self.every_s = every_s
        self.trouble = ""
        self._stop_asked = threading.Event()

    def run(self) -> None:
        """Keep on until `stop`."""
        seen = None
        while True:
            try:
                # Tells this connection whether another one has written since.
                now = self.store.connection().execute("PRAGMA data_version").fetchone()[0]
                if now != seen or self.trouble:
                    self.store.backup()
                seen, self.trouble = now, ""
            except (Problem, sqlite3.Error, OSError) as error:
                self.trouble = error.title if isinstance(error, Problem) else f"The backup failed: {error}."
                log.error("no backup was made: %s", error)
            if self._stop_asked.wait(self.every_s):
                return

    def stop(self) -> None:
        """Stop, after a backup under way."""
        self._stop_asked.set()
        if self.ident:
            self.join()
