"""A sealed record and its amendments: canonical bytes, hashes, and the check that nothing changed.

The seal is a plain SHA-256 and the amendments form a hash chain. They show an edit, a lost
row or a damaged disk. They do not stop a person who rewrites the record and every hash after
it; a printed tag or a copy of the record elsewhere does.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Iterable, Mapping
from typing import Any

from core.problems import Problem


def canonical(obj: Any) -> bytes:
    """Return the one byte form of a JSON value: keys sorted, no spaces, UTF-8.

    Parameters
    ----------
    obj : JSON value
        Objects with text keys, arrays, text, finite numbers, true, false, null. Floats are
        written by `repr`, the shortest text that reads back the same float.

    Returns
    -------
    bytes

    Raises
    ------
    Problem
        ``not-canonical`` for NaN, an infinity, a key that is no text, a lone surrogate, or a
        value JSON does not have.

    Notes
    -----
    Source: common practice, no source. The key order is by code point, so it differs from
    RFC 8785 for keys outside the basic plane.

    >>> canonical({"b": 1.5, "a": [1, None, "é"]})
    b'{"a":[1,null,"\\xc3\\xa9"],"b":1.5}'
    """
    _check(obj)
    try:
        text = json.dumps(obj, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
        return text.encode("utf-8")
    except UnicodeEncodeError as error:
        raise _refuse("half of a character pair", "whole Unicode characters") from error


def seal(body: Any) -> str:
    """Return the SHA-256 of a record's canonical bytes, as 64 hex digits.

    Parameters
    ----------
    body : JSON value

    Raises
    ------
    Problem
        ``not-canonical``, see `canonical`.

    Notes
    -----
    Source: FIPS 180-4 (SHA-256), through the standard library.

    >>> seal({})
    '44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a'
    """
    return hashlib.sha256(canonical(body)).hexdigest()


def amend(previous_hash: str, number: int, at: str, who: str, text: str) -> str:
    """Return the hash of one amendment, chained to the hash before it.

    Parameters
    ----------
    previous_hash : str
        The record's seal for amendment 1, else the hash of the amendment before.
    number : int
        1, 2, 3 in order.
    at, who, text : str
        When (UTC), by whom, and what is corrected.

    Returns
    -------
    str
        64 hex digits.

    Notes
    -----
    Source: common practice (hash chain), no source.

    >>> amend("0" * 64, 1, "2026-01-01T00:00:00Z", "Sam", "Gap was 1/32 in.")[:12]
    '589a7992de34'
    """
    return seal({"previous": previous_hash, "number": number, "at": at, "who": who, "text": text})


def verify(record: Mapping[str, Any], amendments: Iterable[Mapping[str, Any]]) -> list[str]:
    """Return what does not match in a record and its amendments, an empty list if all does.

    Parameters
    ----------
    record : mapping
        ``id``, ``sealed_at``, ``sealed_by``, ``sha256`` and ``body``, where the body repeats
        the first three.
    amendments : iterable of mapping
        ``number``, ``at``, ``who``, ``text``, ``previous_sha256`` and ``sha256``, in order.

    Returns
    -------
    list of str
        One sentence a finding.

    Notes
    -----
    Source: common practice, no source.

    >>> body = {"id": "A", "sealed_at": "t", "sealed_by": "Sam"}
    >>> verify({**body, "body": body, "sha256": seal(body)}, [])
    []
    >>> verify({**body, "body": {**body, "gap": 1}, "sha256": seal(body)}, [])
    ['The record does not match its seal: it was changed after sealing, or the file is damaged.']
    """
    findings = []
    body = record["body"]
    try:
        matches = seal(body) == record["sha256"]
    except Problem:
        matches = False
    if not matches:
        findings.append("The record does not match its seal: it was changed after sealing, or the file is damaged.")
    for name in ("id", "sealed_at", "sealed_by"):
        if not isinstance(body, Mapping) or body.get(name) != record[name]:
            findings.append(f"The {name.replace('_', ' ')} beside the record differs from the one inside it.")
    previous = record["sha256"]
    for expected, item in enumerate(amendments, start=1):
        number = item["number"]
        if number != expected:
            findings.append(f"Amendment {expected} is missing or out of order: number {number} stands there.")
        if item["previous_sha256"] != previous:
            findings.append(f"Amendment {number} does not follow on from what stands before it.")
        if amend(item["previous_sha256"], number, item["at"], item["who"], item["text"]) != item["sha256"]:
            findings.append(f"Amendment {number} does not match its hash: it was changed after it was written.")
        previous = item["sha256"]
    return findings


def _check(obj: Any) -> None:
    """Refuse what `json.dumps` would write as something else without saying so."""
    waiting = [obj]
    while waiting:
        value = waiting.pop()
        if isinstance(value, dict):
            for key in value:
                if not isinstance(key, str):
                    raise _refuse(key, "text keys")
            waiting.extend(value.values())
        elif isinstance(value, (list, tuple)):
            waiting.extend(value)
        elif isinstance(value, float):
            if not math.isfinite(value):
                raise _refuse(value, "finite numbers")
        elif value is not None and not isinstance(value, (str, int)):
            raise _refuse(value, "objects, arrays, text, numbers, true, false and null")


def _refuse(given: object, allowed: str) -> Problem:
    return Problem(
        "not-canonical", "That cannot be written into a record.", given=given, allowed=f"{allowed}.",
        next_step="Correct that value and try again.",
    )  # fmt: skip
