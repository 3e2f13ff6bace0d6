"""The shop's stock: list, ledger, CSV out and in."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from typing import Any

from flask import Blueprint, Response, request

from core.problems import Problem
from core.tag import read_id
from fieldapp import stock_csv
from fieldapp.body import answer, json_object
from fieldapp.members import only, text
from fieldapp.store import jobs as kept_jobs
from fieldapp.store import stock as kept
from fieldapp.writes import store, write

stock = Blueprint("stock", __name__, url_prefix="/api")


@stock.get("/stock")
def index() -> Response:
    """List the stock."""
    with store().read() as db:
        return answer({"items": kept.every(db)})


@stock.post("/stock")
def add() -> Response:
    """Add a bar or remnant."""
    data = json_object()
    only(data, *stock_csv.COLUMNS, "who")
    who = text(data, "who")
    tube, length, about = stock_csv.read_item(data)
    return write(
        data,
        lambda db: kept.add(db, store(), tube.od, tube.wall, tube.material.key, tube.seam, length, about, who),
        201,
    )


@stock.put("/stock/<int:item>")
def describe(item: int) -> Response:
    """Change what is written beside an item: heat number, certificate, location, note."""
    data = json_object()
    only(data, *kept.DESCRIPTIVE, "who")
    who = text(data, "who", required=False)
    about = stock_csv.about(data)
    return write(data, lambda db: kept.describe(db, store(), item, about, who))


@stock.post("/stock/<int:item>/take")
def take(item: int) -> Response:
    """Take a length off an item."""
    return _move(item, kept.take)


@stock.post("/stock/<int:item>/return")
def put_back(item: int) -> Response:
    """Put a length back."""
    return _move(item, kept.put_back)


@stock.post("/stock/<int:item>/adjust")
def adjust(item: int) -> Response:
    """Set the length on hand to what was counted."""
    data = json_object()
    only(data, "length", "reason", "who")
    who, reason = text(data, "who"), text(data, "reason", longest=200)
    counted = kept.stock_length(data.get("length"), allow_zero=True)
    return write(data, lambda db: kept.adjust(db, store(), item, counted, reason, who))


@stock.get("/stock/<int:item>/moves")
def moves(item: int) -> Response:
    """Show an item's ledger."""
    with store().read() as db:
        return answer({"item": kept.get(db, item), "moves": kept.moves(db, item), "changes": kept.changes(db, item)})


@stock.get("/stock.csv")
def as_csv() -> Response:
    """Give the stock list as CSV."""
    with store().read() as db:
        table = stock_csv.write(kept.every(db))
    response = Response(table.encode("utf-8"), mimetype="text/csv")
    response.headers["Content-Disposition"] = 'attachment; filename="stock.csv"'
    response.headers["Cache-Control"] = "no-store"
    return response


@stock.post("/stock/import")
def import_csv() -> Response:
    """Add every row of a CSV file, or none of them."""
    who = text({"who": request.values.get("who")}, "who")
    raw = _file()
    bars = stock_csv.read(raw)

    def effect(db: sqlite3.Connection) -> dict[str, Any]:
        added = [
            kept.add(db, store(), tube.od, tube.wall, tube.material.key, tube.seam, length, about, who)
            for tube, length, about in bars
        ]
        return {"imported": len(added), "items": added}

    return write(raw, effect, 201)


def _file() -> bytes:
    if request.mimetype == "text/csv":
        return request.get_data(cache=False)
    if request.mimetype == "multipart/form-data" and "file" in request.files:
        return request.files["file"].read()
    raise Problem("bad-content-type", "This address takes a CSV file.", given=request.mimetype or "no content type",
                  allowed="Content-Type: text/csv, or multipart/form-data with the file in file.",
                  next_step="Choose a CSV file and send it again.", status=415)  # fmt: skip


def _move(item: int, change: Callable[..., dict[str, Any]]) -> Response:
    data = json_object()
    only(data, "length", "reason", "job", "who")
    who, reason = text(data, "who"), text(data, "reason", longest=200)
    length = kept.stock_length(data.get("length"))
    job_id = read_id(data["job"]) if data.get("job") is not None else None

    def effect(db: sqlite3.Connection) -> dict[str, Any]:
        if job_id:
            kept_jobs.get(db, job_id)
        return change(db, store(), item, length, reason, job_id, who)

    return write(data, effect)
