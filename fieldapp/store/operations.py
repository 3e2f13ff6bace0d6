"""What was answered to each write that carried an operation key."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from core.problems import Problem
from fieldapp.store import rows


@dataclass(frozen=True)
class Kept:
    """A kept answer."""

    status: int
    response_json: str


def find(db: sqlite3.Connection, key: str, route: str, payload_sha256: str) -> Kept | None:
    """Return the answer kept under `key`, None for a new key.

    Raises
    ------
    Problem
        ``operation-mismatch`` if the key was used for another request.
    """
    row = db.execute("SELECT * FROM operation WHERE key = ?", (key,)).fetchone()
    if row is None:
        return None
    if (row["route"], row["payload_sha256"]) != (route, payload_sha256):
        raise Problem(
            "operation-mismatch", "This operation key was used for something else.", given=f"{key} for {route}",
            allowed=f"the same request as at {row['at']} ({row['route']}), or a new key.",
            next_step="Look at what is there, then send it under a new key.",
        )  # fmt: skip
    return Kept(row["status"], row["response_json"])


def keep(
    db: sqlite3.Connection, key: str, route: str, payload_sha256: str, status: int, response_json: str, at: str
) -> None:
    """Keep an answer under `key`."""
    row = {"key": key, "route": route, "payload_sha256": payload_sha256, "status": status, "at": at}
    rows.insert(db, "operation", {**row, "response_json": response_json})
