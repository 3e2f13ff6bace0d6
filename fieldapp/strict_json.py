"""Read JSON strictly: nothing is guessed, dropped or rounded to infinity.

Flask is not needed here, so that the command reads its input by the same rules.
"""

from __future__ import annotations

import json
import math
from typing import Any

from core.problems import Problem, shorten

DEEPEST = 32
ALLOWED_JSON = f"one JSON object (RFC 8259) in UTF-8, at most {DEEPEST} levels deep."


def read_object(raw: bytes) -> dict[str, Any]:
    """Return the JSON object in `raw`.

    Raises
    ------
    Problem
        ``bad-json`` (400) for wrong syntax, NaN, an infinity, a member given twice, too many
        levels, text that is not UTF-8, half a character pair, or a value that is no object.
    """
    data = read_json(raw)
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
        raise _bad_json(
            f"The body is not JSON: {error.msg} at line {error.lineno}, column {error.colno}.", near
        ) from error
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
