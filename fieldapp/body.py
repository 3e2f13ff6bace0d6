"""Read a request strictly, and answer it."""

from __future__ import annotations

import json
import math
import re
import unicodedata
from typing import Any

from flask import Response, request

from core.problems import Problem, collect, shorten
from core.tube import unknown_members

DEEPEST = 32
ALLOWED_JSON = f"one JSON object (RFC 8259) in UTF-8, at most {DEEPEST} levels deep."
LONGEST_NAME, LONGEST_NOTE = 80, 2000


def json_object() -> dict[str, Any]:
    """Return the request's body, one JSON object.

    Raises
    ------
    Problem
        ``bad-content-type`` (415), or ``bad-json`` (400) for wrong syntax, NaN, an infinity, a
        member given twice, too many levels, text that is not UTF-8 or half a character pair.
    """
    if request.mimetype != "application/json":
        raise Problem("bad-content-type", "This address takes JSON.", given=request.mimetype or "no content type",
                      allowed="Content-Type: application/json.", next_step="Send the data as JSON.",
                      status=415)  # fmt: skip
    data = read_json(request.get_data(cache=False))
    if not isinstance(data, dict):
        raise _bad_json("The body is not an object.", data)
    return data


def read_json(raw: bytes) -> Any:
    """Return the JSON value in `raw`, refusing what a lenient reader would guess at."""
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        raise _bad_json("The body is not UTF-8 text.", f"byte {error.start}: {raw[error.start]:#04x}") from error
    try:
        value = json.loads(text, object_pairs_hook=_no_repeats, parse_constant=_no_constant, parse_float=_finite)
    except RecursionError as error:
        raise _too_deep() from error
    except json.JSONDecodeError as error:
        near = text[max(0, error.pos - 10) : error.pos + 10]
        raise _bad_json(f"The body is not JSON: {error.msg} at line {error.lineno}, column {error.colno}.", near) from error
    except Problem:
        raise
    except ValueError as error:
        # Python refuses whole numbers of more than 4300 digits.
        raise _bad_json("A number has too many digits.", "a very long number") from error
    _walk(value)
    return value


def _no_repeats(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise _bad_json("A member is given twice.", key)
        found[key] = value
    return found


def _no_constant(name: str) -> None:
    raise _bad_json("NaN and Infinity are no JSON numbers.", name)


def _finite(text: str) -> float:
    value = float(text)
    if not math.isfinite(value):
        raise _bad_json("A number is too large.", text)
    return value


def _walk(value: Any) -> None:
    waiting = [(value, 1)]
    while waiting:
        item, depth = waiting.pop()
        if depth > DEEPEST:
            raise _too_deep()
        if isinstance(item, dict):
            waiting += [(key, depth) for key in item] + [(child, depth + 1) for child in item.values()]
        elif isinstance(item, list):
            waiting += [(child, depth + 1) for child in item]
        elif isinstance(item, str) and any("\ud800" <= c <= "\udfff" for c in item):
            raise _bad_json("A text holds half of a character pair.", ascii(item))
        elif isinstance(item, int) and abs(item) >= 2**63:
            raise _bad_json("A whole number is too large.", shorten(str(item)))


def _bad_json(title: str, given: object) -> Problem:
    return Problem("bad-json", title, given=given, allowed=ALLOWED_JSON, next_step="Correct the body and send it again.",
                   status=400)  # fmt: skip


def _too_deep() -> Problem:
    return _bad_json("The body is nested too deeply.", f"more than {DEEPEST} levels")


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
