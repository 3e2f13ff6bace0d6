"""Sealed records: recall, amend, tag."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response, request

from core.tag import payload, read_id
from core.tube import one_of
from fieldapp import plan
from fieldapp.body import answer, json_object
from fieldapp.members import LONGEST_NOTE, only, text
from fieldapp.store import records as kept
from fieldapp.writes import store, write

records = Blueprint("records", __name__, url_prefix="/api/records")


@records.get("/<record>")
def one(record: str) -> Response:
    """Show a record and whether it still matches its seal."""
    return answer(_get(record))


@records.post("/<record>/amendments")
def amend(record: str) -> Response:
    """Add a correction; the record itself stays as it was sealed."""
    data = json_object()
    record_id = read_id(record)
    only(data, "who", "text")
    who, words = text(data, "who"), text(data, "text", longest=LONGEST_NOTE, lines=True)
    return write(data, lambda db: kept.amend(db, store(), record_id, who, words), 201)


@records.get("/<record>/tag.svg")
def tag_svg(record: str) -> Response:
    """Draw the QR symbol of the record's tag."""
    from fieldapp import labels

    found = _get(record)
    drawn = labels.tag_svg(payload(plan.essentials(found), bool(found["body"].get("demo"))))
    return _file(drawn.encode("utf-8"), "image/svg+xml")


@records.get("/<record>/tag.pdf")
def tag_pdf(record: str) -> Response:
    """Print the record's tag."""
    from fieldapp import labels

    sheet = one_of("sheet", request.args.get("sheet", "single"), ("single", "a4", "letter"))
    found = _get(record)
    told = found["body"].get("result", {}).get("tag") or {}
    tag = labels.Tag(
        plan.essentials(found),
        bool(found["body"].get("demo")),
        str(told.get("material") or ""),
        str(told.get("clause") or ""),
    )
    return _file(labels.tag_pdf([tag], sheet), "application/pdf")


def _get(record: str) -> dict[str, Any]:
    with store().read() as db:
        return kept.get(db, read_id(record))


def _file(content: bytes, kind: str) -> Response:
    response = Response(content, mimetype=kind)
    response.headers["Cache-Control"] = "no-store"
    return response
