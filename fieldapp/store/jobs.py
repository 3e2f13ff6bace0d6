"""Jobs, the history of their sections, and what was done at each step."""

from __future__ import annotations

import json
import secrets
import sqlite3
from typing import Any

from core.problems import Problem
from core.tag import ID_COUNT, id_text, make_id
from fieldapp.refusals import Refused, not_found
from fieldapp.store import photos, rows
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
    row = {"id": job_id, "title": title, "created_at": store.now(), "created_by": who, "demo": int(store.demo)}
    rows.insert(db, "job", {**row, "state": "open"})
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
        "conflicts": conflicts(db, job_id),
    }


def every(db: sqlite3.Connection) -> list[dict[str, Any]]:
    """Return all jobs without their sections, steps and photos, the last made first, whatever the clock said."""
    found = db.execute(
        "SELECT job.*, record.id AS record_id, record.sealed_at FROM job LEFT JOIN record ON record.job_id = job.id "
        "ORDER BY job.rowid DESC"
    )
    return [_head(row) for row in found]


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
    row = {"job_id": job_id, "name": name, "revision": at_revision + 1, "at": store.now(), "who": who}
    rows.insert(db, "job_section", {**row, "data_json": json.dumps(data, allow_nan=False)})
    return get(db, job_id)


def add_event(
    db: sqlite3.Connection, store: Store, job_id: str, event: dict[str, Any], key: str | None
) -> dict[str, Any]:
    """Write down one step event as `core.checklist.check_event` returned it, and return it."""
    at = store.now()
    event = {"when": at, **event}
    row = {
        "job_id": job_id, "step": event["step"], "action": event["action"], "value_typed": event.get("value"),
        "value_inches": event.get("value_inches"), "reason": event.get("reason"), "who": event["who"], "at": at,
        "operation_key": key, "event_json": json.dumps(event, allow_nan=False),
    }  # fmt: skip
    return _event(rows.insert(db, "step_event", row))


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
    found = db.execute("SELECT * FROM job_section WHERE job_id = ? ORDER BY rowid", (job_id,))
    return [{"name": row["name"], **_section(row)} for row in found]


def conflicts(db: sqlite3.Connection, job_id: str) -> list[dict[str, Any]]:
    """Return what another laptop saved of a section beside this one's newest, until someone saves it again here."""
    found = db.execute(
        "SELECT * FROM section_conflict AS other WHERE job_id = ? AND beside = "
        "(SELECT coalesce(MAX(revision), 0) FROM job_section WHERE job_id = other.job_id AND name = other.name) ORDER BY rowid",
        (job_id,),
    )
    return [{"name": row["name"], **_section(row)} for row in found]


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
    newest = db.execute(
        "SELECT name, MAX(revision) AS revision, data_json, at, who FROM job_section WHERE job_id = ? GROUP BY name",
        (job_id,),
    )
    found = {row["name"]: _section(row) for row in newest}
    return {name: found[name] for name in SECTIONS if name in found}


def _section(row: sqlite3.Row) -> dict[str, Any]:
    return {"revision": row["revision"], "data": json.loads(row["data_json"]), "at": row["at"], "who": row["who"]}


def _event(row: sqlite3.Row) -> dict[str, Any]:
    return {"id": row["id"], "value": None, "reason": None, **json.loads(row["event_json"]), "at": row["at"]}
