"""Photos of a job. The JPEG is in the row, so that a photo and what is said of it are one write."""

from __future__ import annotations

import hashlib
import secrets
import sqlite3
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from fieldapp.refusals import not_found
from fieldapp.store import rows

if TYPE_CHECKING:
    from fieldapp.photos import Picture
    from fieldapp.store.connection import Store

TOLD = ("id", "sha256", "width", "height", "step", "note", "who", "taken_at", "at")


def add(
    db: sqlite3.Connection, store: Store, job_id: str, picture: Picture, *, step: str, note: str, who: str, when: str
) -> dict[str, Any]:
    """Keep a photo of a job and return what is told of it; `when` is "" if the phone did not say."""
    at = store.now()
    row = {
        "id": secrets.token_hex(16), "job_id": job_id, "step": step, "note": note, "who": who, "taken_at": when or at,
        "at": at, "width": picture.width, "height": picture.height,
        "sha256": hashlib.sha256(picture.content).hexdigest(),
    }  # fmt: skip
    return _told(rows.insert(db, "photo", row, content=picture.content))


def of_job(db: sqlite3.Connection, job_id: str) -> list[dict[str, Any]]:
    """Return what is told of a job's photos, in the order they came."""
    columns = ", ".join(TOLD)
    return [_told(row) for row in db.execute(f"SELECT {columns} FROM photo WHERE job_id = ? ORDER BY rowid", (job_id,))]


def content(db: sqlite3.Connection, photo_id: str) -> tuple[bytes, str]:
    """Return a photo's JPEG and its SHA-256, or raise ``no-photo`` (404)."""
    row = db.execute("SELECT content, sha256 FROM photo WHERE id = ?", (photo_id,)).fetchone()
    if row is None:
        raise not_found("no-photo", "No photo on this laptop has this id.", photo_id, "an id from a job's list of photos.",
                        "Open the job and look at its photos.")  # fmt: skip
    return row["content"], row["sha256"]


def findings(db: sqlite3.Connection, listed: Iterable[Mapping[str, Any]]) -> list[str]:
    """Return what does not match between the photos a record lists and the ones kept here."""
    found = []
    for number, photo in enumerate(listed, start=1):
        row = db.execute("SELECT content FROM photo WHERE id = ?", (photo.get("id"),)).fetchone()
        if row is None:
            found.append(f"Photo {number} is missing.")
        elif hashlib.sha256(row["content"]).hexdigest() != photo.get("sha256"):
            found.append(f"Photo {number} does not match its hash: it was changed, or the file is damaged.")
    return found


def _told(row: sqlite3.Row) -> dict[str, Any]:
    return {("when" if name == "taken_at" else name): row[name] for name in TOLD}
