"""Read a request strictly, and answer it."""

from __future__ import annotations

import json
import re
from typing import Any

from flask import Response, request

from core.problems import Problem
from fieldapp.strict_json import read_object


def json_object() -> dict[str, Any]:
    """Return the request's body, one JSON object.

    Raises
    ------
    Problem
        ``bad-content-type`` (415), or ``bad-json`` (400), see `fieldapp.strict_json`.
    """
    if request.mimetype != "application/json":
        raise Problem("bad-content-type", "This address takes JSON.", given=request.mimetype or "no content type",
                      allowed="Content-Type: application/json.", next_step="Send the data as JSON.",
                      status=415)  # fmt: skip
    return read_object(request.get_data(cache=False))


def answer(body: Any, status: int = 200) -> Response:
    """Return `body` as a JSON response that no cache keeps."""
    return answer_text(json.dumps(body, allow_nan=False), status)


def answer_text(body: str, status: int = 200) -> Response:
    """Return ready JSON text as a response that no cache keeps."""
    response = Response(body, status, mimetype="application/json")
    response.headers["Cache-Control"] = "no-store"
    return response


KEY = re.compile(r"[A-Za-z0-9_-]{1,64}", re.ASCII)


def operation_key() -> str | None:
    """Return the Idempotency-Key header, None if there is none, or raise ``bad-operation-key``."""
    key = request.headers.get("Idempotency-Key")
    if key is not None and not KEY.fullmatch(key):
        raise Problem("bad-operation-key", "That is no operation key.", given=key,
                      allowed="1 to 64 letters, digits, _ or -.", next_step="Send another key.", status=400)  # fmt: skip
    return key
