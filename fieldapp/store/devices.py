"""Pairings and the phones they let in. Secrets are drawn here, given out once, and kept as SHA-256."""

from __future__ import annotations

import hashlib
import hmac
import secrets
import sqlite3
from datetime import UTC, datetime, timedelta
from typing import Any

from core.problems import Problem
from core.tag import ALPHABET
from fieldapp.refusals import not_found
from fieldapp.store.connection import Store

ROLES = ("plan", "weld", "view")
PAIRING_MINUTES = 10
SECRET_BYTES, TOKEN_BYTES = 16, 32
CODE_LENGTH = 6
SEEN_SECONDS = 60
FORM = "%Y-%m-%dT%H:%M:%SZ"
SHOWN = "id, name, role, paired_at, last_seen_at, revoked_at"


def start(db: sqlite3.Connection, store: Store, role: str, name: str) -> dict[str, Any]:
    """Make a pairing and return its secret and its typed code, which nobody can read again."""
    secret = secrets.token_urlsafe(SECRET_BYTES)
    code = "".join(secrets.choice(ALPHABET) for _ in range(CODE_LENGTH))
    now = store.now()
    expires = _text(_time(now) + timedelta(minutes=PAIRING_MINUTES))
    db.execute(
        "INSERT INTO pairing (name, role, secret_sha256, code_sha256, made_at, expires_at) VALUES (?, ?, ?, ?, ?, ?)",
        (name, role, _digest(secret), _digest(code), now, expires),
    )
    return {"secret": secret, "code": f"{code[:3]}-{code[3:]}", "role": role, "name": name, "expires_at": expires}


def pair(
    db: sqlite3.Connection, store: Store, secret: str | None, code: str | None, name: str
) -> tuple[dict[str, Any], str]:
    """Turn an open pairing into a device; return it and the token for its cookie.

    Raises
    ------
    Problem
        ``bad-pairing`` (403): wrong, used or too old; which of them is not told.
    """
    now = store.now()
    digest = _digest(secret if secret is not None else typed(code or ""))
    column = "secret_sha256" if secret is not None else "code_sha256"
    found = None
    # Every open one is compared, in the same time whether it fits or not.
    for row in db.execute("SELECT * FROM pairing WHERE device_id IS NULL AND expires_at > ?", (now,)).fetchall():
        if hmac.compare_digest(row[column], digest):
            found = row
    if found is None:
        raise Problem("bad-pairing", "This pairing is not open.", given="a secret" if secret is not None else code,
                      allowed=f"a pairing made less than {PAIRING_MINUTES} minutes ago and not used yet.",
                      next_step="Make a new one on the laptop, under Devices, and scan or type that.", status=403)  # fmt: skip
    device_id, token = secrets.token_hex(8), secrets.token_urlsafe(TOKEN_BYTES)
    db.execute(
        "INSERT INTO device (id, name, role, token_sha256, paired_at, last_seen_at) VALUES (?, ?, ?, ?, ?, ?)",
        (device_id, name or found["name"], found["role"], _digest(token), now, now),
    )
    db.execute("UPDATE pairing SET device_id = ? WHERE id = ?", (device_id, found["id"]))
    return get(db, device_id), f"{device_id}.{token}"


def typed(code: str) -> str:
    """Return a typed code without the hyphen, the spaces and the small letters a person puts in."""
    return "".join(code.split()).replace("-", "").upper()


def known(db: sqlite3.Connection, token: str) -> dict[str, Any] | None:
    """Return the device whose cookie this is, revoked or not, None for a token nobody was given."""
    device_id, _, given = token.partition(".")
    row = db.execute("SELECT token_sha256 FROM device WHERE id = ?", (device_id,)).fetchone()
    # An unknown id costs the same comparison as a known one.
    kept = row["token_sha256"] if row else _digest("")
    return get(db, device_id) if hmac.compare_digest(kept, _digest(given)) and row else None


def seen_long_ago(store: Store, device: dict[str, Any]) -> bool:
    """Tell whether the device was last noted a minute ago or more."""
    return _time(store.now()) - _time(device["last_seen_at"]) >= timedelta(seconds=SEEN_SECONDS)


def see(db: sqlite3.Connection, store: Store, device_id: str) -> None:
    """Note that the device was here now."""
    db.execute("UPDATE device SET last_seen_at = ? WHERE id = ?", (store.now(), device_id))


def every(db: sqlite3.Connection) -> list[dict[str, Any]]:
    """Return all devices, the newest first, the revoked last."""
    rows = db.execute(f"SELECT {SHOWN} FROM device ORDER BY revoked_at IS NOT NULL, paired_at DESC, rowid DESC")
    return [dict(row) for row in rows]


def get(db: sqlite3.Connection, device_id: str) -> dict[str, Any]:
    """Return a device, or raise ``no-device``."""
    row = db.execute(f"SELECT {SHOWN} FROM device WHERE id = ?", (device_id,)).fetchone()
    if row is None:
        raise not_found("no-device", "No device has this number.", device_id, "a device on the list.",
                        "Load the list of devices again.")  # fmt: skip
    return dict(row)


def revoke(db: sqlite3.Connection, store: Store, device_id: str) -> dict[str, Any]:
    """Take a device's pairing back; a second time changes nothing."""
    if get(db, device_id)["revoked_at"] is None:
        db.execute("UPDATE device SET revoked_at = ? WHERE id = ?", (store.now(), device_id))
    return get(db, device_id)


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def _time(text: str) -> datetime:
    return datetime.strptime(text, FORM).replace(tzinfo=UTC)


def _text(time: datetime) -> str:
    return time.strftime(FORM)
