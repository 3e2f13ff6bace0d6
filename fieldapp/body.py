"""Read a request strictly, and answer it."""

from __future__ import annotations

import json
import re
import unicodedata
from typing import Any

from flask import Response, request

from core.problems import Problem, collect
from core.tube import unknown_members
from fieldapp.strict_json import read_object

LONGEST_NAME, LONGEST_NOTE = 80, 2000


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


def only(data: dict[str, Any], *known: str) -> None:
    """Raise ``unknown-member`` for each member of `data` that is not known."""
    problems: list[Problem] = []
    unknown_members(data, set(known), problems)
    collect(problems)


def text(
    data: dict[str, Any], field: str, *, required: bool = True, longest: int = LONGEST_NAME, lines: bool = False
) -> str:
    """Return the text member `field`, trimmed, "" where it may be left out.

    Raises
    ------
    Problem
        ``missing`` or ``bad-text``.
    """
    value = data.get(field)
    if lines and isinstance(value, str):
        value = value.replace("\r\n", "\n")
    what = f"text of 1 to {longest} characters" + ("." if lines else " on one line.")
    if value is None or (isinstance(value, str) and not value.strip()):
        if required:
            raise Problem("missing", f"The {field} is missing.", given="" if value is None else value, allowed=what,
                          next_step=f"Give the {field}.", field=field)  # fmt: skip
        return ""
    keep = "\n\t" if lines else ""
    if not isinstance(value, str) or len(value) > longest or any(
        unicodedata.category(c) in ("Cc", "Cs", "Zl", "Zp") and c not in keep for c in value.strip()
    ):  # fmt: skip
        raise Problem("bad-text", f"The {field} cannot be kept as it is.", given=value, allowed=what,
                      next_step="Shorten it or type it again.", field=field)  # fmt: skip
    return value.strip()


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
