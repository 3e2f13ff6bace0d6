"""What the data file says of itself: its generation, its version, and whether it came from a backup."""

from __future__ import annotations

import hashlib
import json
import secrets
import sqlite3
from typing import Any

from fieldapp.store import rows


def get(db: sqlite3.Connection, name: str) -> str | None:
    """Return one value, None where there is none."""
    row = db.execute("SELECT value FROM meta WHERE name = ?", (name,)).fetchone()
    return row["value"] if row else None


def put(db: sqlite3.Connection, name: str, value: str) -> None:
    """Set one value."""
    if get(db, name) is None:
        rows.insert(db, "meta", {"name": name, "value": value})
    else:
        rows.update(db, "meta", name, {"value": value})


def of_file(db: sqlite3.Connection) -> dict[str, Any]:
    """Return ``generation`` and ``restored`` (null, or ``at``, ``from`` and ``why``) as health tells them."""
    restored = get(db, "restored")
    return {"generation": get(db, "generation"), "restored": json.loads(restored) if restored else None}


def mark_restored(db: sqlite3.Connection, at: str, source: str, why: str) -> None:
    """Give the file a new generation, so that phones send again what they keep, and say why."""
    put(db, "generation", secrets.token_hex(16))
    put(db, "restored", json.dumps({"at": at, "from": source, "why": why}))


def last_written(db: sqlite3.Connection) -> str:
    """Return the latest time in the file, "" in a new one."""
    found = [
        db.execute(f"SELECT max({column}) FROM {table}").fetchone()[0]
        for table, column in (("job", "created_at"), *((name, "at") for name in rows.COLUMNS if "at" in rows.COLUMNS[name]))
    ]
    return max((time for time in found if time), default="")


def mark_version(db: sqlite3.Connection, version: int) -> None:
    """Note version and schema beside the file's own, so that a changed byte in either is found."""
    put(db, "version", str(version))
    put(db, "schema_sha256", schema_digest(db))


def schema_digest(db: sqlite3.Connection) -> str:
    """Return the SHA-256 of what the tables, indexes and triggers are declared as."""
    said = db.execute("SELECT type, name, tbl_name, sql FROM sqlite_master ORDER BY type, name").fetchall()
    return hashlib.sha256(json.dumps([list(row) for row in said]).encode("ascii")).hexdigest()
