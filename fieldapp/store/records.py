"""Sealed records and their amendments."""

from __future__ import annotations

import json
import sqlite3
from typing import TYPE_CHECKING, Any

from core import record as seals
from core.tag import id_text
from fieldapp.refusals import not_found
from fieldapp.store import photos, rows

if TYPE_CHECKING:
    from fieldapp.store.connection import Store


def seal(db: sqlite3.Connection, body: dict[str, Any]) -> dict[str, Any]:
    """Seal a finished job's body (with id, sealed_at, sealed_by) and return the record."""
    row = {"id": body["id"], "job_id": body["id"], "sealed_at": body["sealed_at"], "sealed_by": body["sealed_by"]}
    text = seals.canonical(body).decode("utf-8")
    rows.insert(db, "record", {**row, "body_json": text, "sha256": seals.seal(body)})
    rows.update(db, "job", body["id"], {"state": "sealed"})
    return get(db, body["id"])


def get(db: sqlite3.Connection, record_id: str) -> dict[str, Any]:
    """Return a record with its amendments and whether all of it still matches its seal.

    Raises
    ------
    Problem
        ``not-sealed`` (404) where the job is there but not finished, ``no-record`` (404) else.
    """
    row = db.execute("SELECT * FROM record WHERE id = ?", (record_id,)).fetchone()
    if row is None:
        if db.execute("SELECT 1 FROM job WHERE id = ?", (record_id,)).fetchone():
            raise not_found("not-sealed", "This job is here, but it is not sealed yet.", id_text(record_id),
                            "the id of a sealed job.", f"Open job {record_id} and finish it.")  # fmt: skip
        raise not_found("no-record", "No record on this laptop has this id.", id_text(record_id),
                        "the id on a tag that this laptop printed.",
                        "The record may be on another laptop: look there. The tag itself shows the essentials.")  # fmt: skip
    amendments = [
        {key: item[key] for key in ("number", "at", "who", "text", "previous_sha256", "sha256")}
        for item in db.execute("SELECT * FROM amendment WHERE record_id = ? ORDER BY number", (record_id,))
    ]
    found = {key: row[key] for key in ("id", "sealed_at", "sealed_by", "sha256")}
    try:
        found["body"] = json.loads(row["body_json"])
        findings = seals.verify(found, amendments) + photos.findings(db, found["body"].get("photos", []))
    except (ValueError, AttributeError):
        found["body"] = {}
        findings = ["The record cannot be read: the file is damaged or was changed."]
    return {
        **found,
        "id_text": id_text(record_id),
        "intact": not findings,
        "findings": findings,
        "amendments": amendments,
    }


def amend(db: sqlite3.Connection, store: Store, record_id: str, who: str, text: str) -> dict[str, Any]:
    """Add an amendment to a record and return the record."""
    record = get(db, record_id)
    last = record["amendments"][-1] if record["amendments"] else None
    previous = last["sha256"] if last else record["sha256"]
    number, at = (last["number"] if last else 0) + 1, store.now()
    row = {"record_id": record_id, "number": number, "at": at, "who": who, "text": text, "previous_sha256": previous}
    rows.insert(db, "amendment", {**row, "sha256": seals.amend(previous, number, at, who, text)})
    return get(db, record_id)


def every(db: sqlite3.Connection) -> list[dict[str, Any]]:
    """Return all records, the oldest first."""
    ids = [row["id"] for row in db.execute("SELECT id FROM record ORDER BY rowid")]
    return [get(db, record_id) for record_id in ids]
