"""Writes that may be sent twice and take effect once."""

from __future__ import annotations

import hashlib
import json
import sqlite3
from collections.abc import Callable
from typing import Any

from flask import Response, current_app, request

from core.record import canonical
from fieldapp.body import answer_text, operation_key
from fieldapp.store import Store, operations


def store() -> Store:
    """Return the store of the running app."""
    return current_app.extensions["pitsplice-store"]


def write(payload: Any, effect: Callable[[sqlite3.Connection], Any], status: int = 200) -> Response:
    """Run `effect` in one write transaction and answer with what it returns.

    With an Idempotency-Key the answer is kept in the same transaction, so that a repeat gets
    the same answer and no second effect. A refusal is not kept: the corrected request may
    use the key again. The answer names the key: a phone forgets a write only when the answer
    says which one was kept, so no other program's page can pose as this one.

    Parameters
    ----------
    payload : JSON value or bytes
        What was sent; a repeat must send the same.
    effect : callable
        Takes the connection, returns the JSON answer.
    status : int
        Status of a success.
    """
    key = operation_key()
    digest = hashlib.sha256(payload if isinstance(payload, bytes) else canonical(payload)).hexdigest()
    route = f"{request.method} {request.path}"
    with store().write() as db:
        if key:
            kept = operations.find(db, key, route, digest)
            if kept:
                response = answer_text(kept.response_json, kept.status)
                response.headers["Idempotency-Replayed"] = "true"
                response.headers["Idempotency-Key"] = key
                return response
        body = json.dumps(effect(db), allow_nan=False)
        if key:
            operations.keep(db, key, route, digest, status, body, store().now())
    response = answer_text(body, status)
    if key:
        response.headers["Idempotency-Key"] = key
    return response
