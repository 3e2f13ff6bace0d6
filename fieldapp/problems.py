"""Every error as application/problem+json (RFC 9457): given, allowed, next."""

from __future__ import annotations

import json
import logging
import secrets
import sqlite3
from typing import Any

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException, MethodNotAllowed, NotFound, RequestEntityTooLarge

from core.problems import Problem, shorten
from fieldapp.refusals import BUSY, LOCKED, not_found, store_code, store_trouble

log = logging.getLogger("pitsplice")

def response_of(problem: Problem) -> Response:
    """Return `problem` as an HTTP response."""
    body = printable(problem.as_dict())
    response = Response(json.dumps(body, allow_nan=False), problem.status, mimetype="application/problem+json")
    response.headers["Cache-Control"] = "no-store"
    return response


def printable(value: Any) -> Any:
    """Return `value` with anything JSON or UTF-8 cannot hold replaced, so that an error always gets out."""
    if isinstance(value, dict):
        return {str(key): printable(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [printable(item) for item in value]
    if isinstance(value, str):
        return value.encode("utf-8", "replace").decode("utf-8")
    if isinstance(value, float) and value - value != 0:
        return str(value)
    return value


def register(app: Flask) -> None:
    """Make every error of `app` a problem."""
    app.register_error_handler(Problem, response_of)
    app.register_error_handler(HTTPException, _http)
    app.register_error_handler(sqlite3.DatabaseError, _store)
    app.register_error_handler(Exception, _unexpected)


def _http(error: HTTPException) -> Response:
    problem = http_problem(error)
    response = response_of(problem)
    if isinstance(error, MethodNotAllowed) and error.valid_methods:
        response.headers["Allow"] = ", ".join(sorted(error.valid_methods))
    return response


def http_problem(error: HTTPException) -> Problem:
    """Return the problem for an HTTP error that Flask or Werkzeug raised."""
    path = shorten(request.path)
    if isinstance(error, NotFound):
        return not_found("not-found", "There is nothing at this address.", path,
                         "the addresses listed in DEVELOPERS.md, section API.",
                         "Check the address, or start again from the first page.")  # fmt: skip
    if isinstance(error, MethodNotAllowed):
        allowed = ", ".join(sorted(error.valid_methods or ()))
        return Problem("method-not-allowed", "This address does not take that kind of request.",
                       given=f"{request.method} {path}", allowed=f"{allowed}.",
                       next_step="Use one of the allowed methods.", status=405)  # fmt: skip
    if isinstance(error, RequestEntityTooLarge):
        return too_large(request.content_length, request.max_content_length)
    status = error.code if error.code and 400 <= error.code < 500 else 400
    return Problem("bad-request", f"The request cannot be read: {error.name}.", given=f"{request.method} {path}",
                   allowed="a well-formed HTTP request.", next_step="Load the page again and send it again.",
                   status=status)  # fmt: skip


def too_large(given: int | None, limit: int | None) -> Problem:
    """Return the 413 problem for a body of `given` bytes."""
    return Problem("too-large", "That is more than this takes at once.",
                   given=f"{given} bytes" if given else "a body without a length", allowed=f"{limit} bytes or less.",
                   next_step="Send less at once.", status=413)  # fmt: skip


def _store(error: sqlite3.DatabaseError) -> Response:
    problem = store_trouble(error, f"{request.method} {shorten(request.path)}")
    if problem is None:
        return _unexpected(error)
    log.error("store trouble: %s", error)
    response = response_of(problem)
    if store_code(error) in (BUSY, LOCKED):
        response.headers["Retry-After"] = "2"
    return response


def _unexpected(error: Exception) -> Response:
    number = secrets.token_hex(3)
    log.error("error %s at %s %s", number, request.method, request.path, exc_info=error)
    return response_of(
        Problem("internal", "The program failed. This is a fault in it, not in what you typed.", given=f"error number {number}",
                allowed="nothing to change on your side.",
                next_step=f"Note error number {number} and look for it in the server's log.", status=500)
    )  # fmt: skip
