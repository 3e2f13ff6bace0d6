"""Problems that the store and the views raise; no Flask here."""

from __future__ import annotations

import sqlite3
from typing import Any

from core.problems import Problem

# SQLite's primary result codes (sqlite.org/rescode.html).
BUSY, LOCKED, READ_ONLY, IO_ERROR, CORRUPT, FULL, CANNOT_OPEN, NOT_A_DATABASE = 5, 6, 8, 10, 11, 13, 14, 26
STORE_TROUBLE = {
    BUSY: ("The data file is in use by another program.", "Wait a moment and send it again."),
    LOCKED: ("The data file is in use by another program.", "Wait a moment and send it again."),
    READ_ONLY: ("The data file cannot be written.", "Check the rights on the data folder, then send it again."),
    IO_ERROR: ("The disk refused a read or a write.", "Check the disk, then send it again."),
    CORRUPT: ("The data file is damaged.", "Stop the server, keep the data folder, start it again: it goes back to the newest good backup."),
    FULL: ("The disk of the laptop is full.", "Free some space on the laptop, then send it again."),
    CANNOT_OPEN: ("The data file cannot be opened.", "Check that the data folder is there, then send it again."),
    NOT_A_DATABASE: ("The data file is damaged.", "Stop the server, keep the data folder, start it again: it goes back to the newest good backup."),
}  # fmt: skip


class Refused(Problem):
    """A problem with members of its own, such as the ``current`` value a save collided with."""

    def __init__(self, kind: str, title: str, *, extra: dict[str, Any], **rest: Any) -> None:
        super().__init__(kind, title, **rest)
        self.extra = extra

    def as_dict(self) -> dict[str, Any]:
        """Return the problem+json object with the extra members."""
        return {**super().as_dict(), **self.extra}


def not_found(kind: str, title: str, given: object, allowed: str, next_step: str) -> Problem:
    """Return a 404 problem."""
    return Problem(kind, title, given=given, allowed=allowed, next_step=next_step, status=404)


def store_code(error: sqlite3.Error) -> int:
    """Return SQLite's primary result code of an error, 0 if it has none."""
    return (getattr(error, "sqlite_errorcode", None) or 0) & 0xFF


def store_trouble(error: sqlite3.Error, given: str) -> Problem | None:
    """Return the ``not-saved`` problem for an error of the disk or the file, None for a fault of the program."""
    if store_code(error) not in STORE_TROUBLE:
        return None
    title, next_step = STORE_TROUBLE[store_code(error)]
    return Problem("not-saved", f"{title} Nothing was saved.", given=given,
                   allowed="a data folder on a disk of this machine, with room, used by this program.",
                   next_step=next_step, status=503)  # fmt: skip
