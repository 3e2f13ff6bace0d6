"""Jobs, the history of their sections, and what was done at each step."""

from __future__ import annotations

import json
import secrets
import sqlite3
from typing import Any

from core.problems import Problem
from core.tag import ID_COUNT, id_text, make_id
from fieldapp.refusals import Refused, not_found
from fieldapp.store import photos
from fieldapp.store.connection import Store

SECTIONS = ("measure", "assess", "choose", "stock", "size", "make")
ACTIONS = ("done", "skip", "undo", "note")


def create(db: sqlite3.Connection, store: Store, title: str, who: str, job_id: str | None = None) -> dict[str, Any]:
    """Make a job and return it; `job_id` is one a phone proposed, already read.

    Raises
    ------
    Problem
        ``id-taken`` (409) if another job has the proposed id.
    """
    if job_id and _exists(db, job_id):
        raise Problem("id-taken", "Another job has this id.", given=id_text(job_id), allowed="an id no job has.",
                      next_step="Leave the id out, and one is made.", field="id", status=409)  # fmt: skip
    while not job_id or _exists(db, job_id):
        job_id = make_id(secrets.randbelow(ID_COUNT))
    db.execute(
        "INSERT INTO job (id, title, created_at, created_by, demo) VALUES (?, ?, ?, ?, ?)",
        (job_id, title, store.now(), who, int(store.demo)),
    )
    return get(db, job_id)


def get(db: sqlite3.Connection, job_id: str) -> dict[str, Any]:
    """Return one job with its newest sections, its steps and photos in order and its record's id.

    Raises
    ------
    Problem
        ``no-job`` (404).
    """
    row = db.execute(
        "SELECT job.*, record.id AS record_id, record.sealed_at FROM job LEFT JOIN record ON record.job_id = job.id "
        "WHERE job.id = ?",
        (job_id,),
    ).fetchone()
    if row is None:
        raise not_found("no-job", "No job on this laptop has this id.", id_text(job_id), "an id from the list of jobs.",
                        "Look at the list of jobs. The job may be on another laptop.")  # fmt: skip
    return {
        **_head(row),
        "sections": _sections(db, job_id),
        "steps": events(db, job_id),
        "photos": photos.of_job(db, job_id),
    }


def every(db: sqlite3.Connection) -> list[dict[str, Any]]:
    """Return all jobs without their sections, steps and photos, the newest first."""
    rows = db.execute(
        "SELECT job.*, record.id AS record_id, record.sealed_at FROM job LEFT JOIN record ON record.job_id = job.id "
        "ORDER BY job.created_at DESC, job.rowid DESC"
    )
    return [_head(row) for row in rows]


def save_section(
    db: sqlite3.Connection, store: Store, job_id: str, name: str, base_revision: int, data: dict[str, Any], who: str
) -> dict[str, Any]:
    """Save a section on top of `base_revision` (0 for a new one) and return the job.

    Raises
    ------
    Problem
        ``no-job``, ``sealed``, or ``section-changed`` (409) carrying ``current``.
    """
    job = open_job(db, job_id)
    current = job["sections"].get(name)
    at_revision = current["revision"] if current else 0
    if base_revision != at_revision:
        raise Refused(
            "section-changed", "Someone saved this section after you opened it.",
            given=f"based on revision {base_revision}", allowed=f"based on revision {at_revision}.",
            next_step="Look at what is there now, put your change into it and save again.",
            field="base_revision", status=409, extra={"current": current},
        )  # fmt: skip
    db.execute(
        "INSERT INTO job_section (job_id, name, revision, data_json, at, who) VALUES (?, ?, ?, ?, ?, ?)",
        (job_id, name, at_revision + 1, json.dumps(data, allow_nan=False), store.now(), who),
    )
    return get(db, job_id)


def add_event(
    db: sqlite3.Connection, store: Store, job_id: str, event: dict[str, Any], key: str | None
) -> dict[str, Any]:
    """Write down one step event as `core.checklist.check_event` returned it, and return it."""
    at = store.now()
    event = {"when": at, **event}
    row = db.execute(
        "INSERT INTO step_event (job_id, step, action, value_typed, value_inches, reason, who, at, operation_key, "
        "event_json) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) RETURNING *",
        (
            job_id, event["step"], event["action"], event.get("value"), event.get("value_inches"),
            event.get("reason"), event["who"], at, key, json.dumps(event, allow_nan=False),
        ),
    ).fetchone()  # fmt: skip
    return _event(row)


def events(db: sqlite3.Connection, job_id: str) -> list[dict[str, Any]]:
    """Return a job's step events in the order they were written."""
    return [_event(row) for row in db.execute("SELECT * FROM step_event WHERE job_id = ? ORDER BY id", (job_id,))]


def open_job(db: sqlite3.Connection, job_id: str) -> dict[str, Any]:
    """Return a job that may still be written to, or raise ``sealed`` (409)."""
    job = get(db, job_id)
    if job["state"] == "sealed":
        raise Problem(
            "sealed", "This job is sealed. Its record does not change.", given=job["id_text"],
            allowed="an amendment to the record.", next_step="Write an amendment, or start a new job.", status=409,
        )  # fmt: skip
    return job


def history(db: sqlite3.Connection, job_id: str) -> list[dict[str, Any]]:
    """Return every revision of a job's sections, in the order they were saved."""
    rows = db.execute("SELECT * FROM job_section WHERE job_id = ? ORDER BY rowid", (job_id,))
    return [{"name": row["name"], **_section(row)} for row in rows]


def _exists(db: sqlite3.Connection, job_id: str) -> bool:
    return db.execute("SELECT 1 FROM job WHERE id = ?", (job_id,)).fetchone() is not None


def _head(row: sqlite3.Row) -> dict[str, Any]:
    return {
        "id": row["id"],
        "id_text": id_text(row["id"]),
        "title": row["title"],
        "state": row["state"],
        "created_at": row["created_at"],
        "created_by": row["created_by"],
        "demo": bool(row["demo"]),
        "record": {"id": row["record_id"], "sealed_at": row["sealed_at"]} if row["record_id"] else None,
    }


def _sections(db: sqlite3.Connection, job_id: str) -> dict[str, Any]:
    # SQLite takes the other columns from the row that holds the MAX (documented, lang_select).
    rows = db.execute(
        "SELECT name, MAX(revision) AS revision, data_json, at, who FROM job_section WHERE job_id = ? GROUP BY name",
        (job_id,),
    )
    found = {row["name"]: _section(row) for row in rows}
    return {name: found[name] for name in SECTIONS if name in found}


def _section(row: sqlite3.Row) -> dict[str, Any]:
    return {"revision": row["revision"], "data": json.loads(row["data_json"]), "at": row["at"], "who": row["who"]}


def _event(row: sqlite3.Row) -> dict[str, Any]:
    return {"id": row["id"], "value": None, "reason": None, **json.loads(row["event_json"]), "at": row["at"]}
