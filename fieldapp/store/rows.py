"""Rows that carry their own digest: how they are written, so that a changed byte is found later."""

from __future__ import annotations

import hashlib
import json
import secrets
import sqlite3
from collections.abc import Mapping
from typing import Any

# What the digest covers, in order; the migration that fills old rows names the same. A photo's
# picture is covered by the SHA-256 beside it.
COLUMNS = {
    "operation": ("key", "route", "payload_sha256", "status", "response_json", "at"),
    "job": ("id", "title", "created_at", "created_by", "state", "demo", "uid"),
    "job_section": ("job_id", "name", "revision", "data_json", "at", "who", "uid"),
    "step_event": ("id", "job_id", "step", "action", "value_typed", "value_inches", "reason", "who", "at", "operation_key", "event_json", "uid"),
    "record": ("id", "job_id", "sealed_at", "sealed_by", "body_json", "sha256", "uid"),
    "amendment": ("record_id", "number", "at", "who", "text", "previous_sha256", "sha256", "uid"),
    "stock_item": ("id", "outside_diameter_typed", "od_inches_exact", "wall_typed", "wall_inches_exact", "material", "seam", "heat_number", "certificate", "location", "note", "added_at", "uid"),
    "stock_move": ("id", "item_id", "kind", "delta_inches", "typed", "reason", "job_id", "who", "at", "uid"),
    "stock_change": ("id", "item_id", "before_json", "after_json", "who", "at", "uid"),
    "photo": ("id", "job_id", "step", "note", "who", "taken_at", "at", "width", "height", "sha256"),
    "section_conflict": ("uid", "job_id", "name", "revision", "data_json", "at", "who", "beside"),
    "meta": ("name", "value"),
}  # fmt: skip
NUMBERED = ("step_event", "stock_item", "stock_move", "stock_change")


def digest(table: str, *values: Any) -> str:
    """Return the SHA-256 of a row: its table's name and the values of `COLUMNS` in order."""
    return hashlib.sha256(json.dumps([table, *values]).encode("ascii")).hexdigest()


def insert(db: sqlite3.Connection, table: str, row: Mapping[str, Any], **beside: Any) -> sqlite3.Row:
    """Write one row with its uid, number and digest, and return it; `beside` is not in the digest.

    The number is the highest so far and one, so that order of writing is order of numbers
    whatever the clock does. The caller holds the write transaction.
    """
    values = dict(row)
    columns = COLUMNS[table]
    if "uid" in columns:
        values.setdefault("uid", secrets.token_hex(16))
    if table in NUMBERED:
        values["id"] = db.execute(f"SELECT coalesce(max(id), 0) + 1 FROM {table}").fetchone()[0]
    kept = {name: values.pop(name) for name in columns}
    if values:
        raise TypeError(f"{table} has no {', '.join(values)}")
    kept = {**kept, **beside, "row_sha256": digest(table, *kept.values())}
    return db.execute(
        f"INSERT INTO {table} ({', '.join(kept)}) VALUES ({', '.join('?' * len(kept))}) RETURNING *",
        tuple(kept.values()),
    ).fetchone()


def update(db: sqlite3.Connection, table: str, key: Any, changes: Mapping[str, Any]) -> None:
    """Change a row, found by its first column, and its digest with it."""
    columns = COLUMNS[table]
    row = db.execute(f"SELECT * FROM {table} WHERE {columns[0]} = ?", (key,)).fetchone()
    after = {**{name: row[name] for name in columns}, **changes}
    said = ", ".join(f"{name} = ?" for name in (*changes, "row_sha256"))
    db.execute(
        f"UPDATE {table} SET {said} WHERE {columns[0]} = ?", (*changes.values(), digest(table, *after.values()), key)
    )


def raw(db: sqlite3.Connection) -> dict[str, list[dict[str, Any]]]:
    """Return every row that another laptop can take in, with its digest, in order of writing; photos without content."""
    return {
        name: [dict(row) for row in db.execute(f"SELECT {', '.join(columns)}, row_sha256 FROM {name} ORDER BY rowid")]
        for name, columns in COLUMNS.items()
        if name != "meta"
    }


def digested(db: sqlite3.Connection) -> list[str]:
    """Return the tables of this file whose rows carry a digest."""
    return [name for name in tables(db) if name in COLUMNS and "row_sha256" in columns_of(db, name)]


def tables(db: sqlite3.Connection) -> list[str]:
    """Return the names of all tables, in order."""
    rows = db.execute("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name")
    return [row[0] for row in rows]


def columns_of(db: sqlite3.Connection, table: str) -> list[str]:
    """Return the names of a table's columns."""
    return [row[1] for row in db.execute(f'PRAGMA table_info("{table}")')]
