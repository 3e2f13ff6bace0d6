"""The shop's bars and remnants, and the ledger of what was put in and taken out."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from core.lengths import Length, read_length
from core.problems import Problem
from core.quantity import decimal_text, quantity, ruler_text
from core.units import MM_PER_INCH
from fieldapp.refusals import Refused, not_found
from fieldapp.store.connection import Store
from fieldapp.store.rows import insert, update

DESCRIPTIVE = ("heat_number", "certificate", "location", "note")
# Every 1/64 in, 0.0001 in and 0.01 mm is a whole number of these, so sums stay exact and
# can be written as a short decimal.
MARKS_PER_INCH = 5_080_000
LONGEST_BAR = Fraction(12 * 100)


def stock_length(text: object, *, allow_zero: bool = False, field: str = "length") -> Length:
    """Return a length of stock as typed: at most 100 ft, no finer than 1/64 in, .0001 in or 0.01 mm."""
    try:
        length = read_length(text, allow_zero=allow_zero)
    except Problem as problem:
        raise problem.at(field) from None
    if length.inches > LONGEST_BAR:
        raise Problem("out-of-range", "That is longer than a bar.", given=text, allowed="up to 100 ft (30.48 m).",
                      next_step="Check the number and its unit.", field=field)  # fmt: skip
    if MARKS_PER_INCH % length.inches.denominator:
        raise Problem("too-fine", "That is finer than stock is measured.", given=text,
                      allowed="whole steps of 1/64 in, .0001 in or 0.01 mm.", next_step="Round it down to such a step.",
                      field=field)  # fmt: skip
    return length


def exact_text(inches: Fraction) -> str:
    """Return stock inches as a text that reads back as exactly the same length.

    >>> exact_text(Fraction(1, 8)), exact_text(Fraction(41, 1) / Fraction(127, 5))
    ('0.125 in', '41 mm')
    """
    if MARKS_PER_INCH // 127 % inches.denominator == 0:
        return f"{decimal_text(inches, 10)} in"
    return f"{decimal_text(inches * MM_PER_INCH, 10)} mm"


def add(
    db: sqlite3.Connection, store: Store, od: Length, wall: Length, material: str, seam: str, length: Length,
    about: Mapping[str, str], who: str,
) -> dict[str, Any]:  # fmt: skip
    """Add a bar or remnant with its first length and return it."""
    item = {
        "outside_diameter_typed": od.typed, "od_inches_exact": str(od.inches), "wall_typed": wall.typed,
        "wall_inches_exact": str(wall.inches), "material": material, "seam": seam, "added_at": store.now(),
    }  # fmt: skip
    row = insert(db, "stock_item", {**item, **{name: about.get(name, "") for name in DESCRIPTIVE}})
    if length.inches:
        _move(db, store, row["id"], "add", length.inches, length.typed, "", None, who)
    return get(db, row["id"])


def get(db: sqlite3.Connection, item_id: int) -> dict[str, Any]:
    """Return one item with its length on hand, or raise ``no-stock-item`` (404)."""
    row = None
    if item_id < 2**63:
        row = db.execute("SELECT * FROM stock_item WHERE id = ?", (item_id,)).fetchone()
    if row is None:
        raise not_found("no-stock-item", "No stock has this number.", str(item_id), "a number from the stock list.",
                        "Look at the stock list.")  # fmt: skip
    return _item(row, on_hand(db, item_id))


def every(db: sqlite3.Connection) -> list[dict[str, Any]]:
    """Return all items in the order they were added, used-up ones too."""
    sums: dict[int, Fraction] = {}
    for move in db.execute("SELECT item_id, delta_inches FROM stock_move"):
        sums[move["item_id"]] = sums.get(move["item_id"], Fraction(0)) + Fraction(move["delta_inches"])
    rows = db.execute("SELECT * FROM stock_item ORDER BY id")
    return [_item(row, sums.get(row["id"], Fraction(0))) for row in rows]


def on_hand(db: sqlite3.Connection, item_id: int) -> Fraction:
    """Return the exact inches on hand: the sum of the item's moves."""
    rows = db.execute("SELECT delta_inches FROM stock_move WHERE item_id = ?", (item_id,))
    return sum((Fraction(row["delta_inches"]) for row in rows), Fraction(0))


def describe(db: sqlite3.Connection, store: Store, item_id: int, about: Mapping[str, str], who: str) -> dict[str, Any]:
    """Change the descriptive members given in `about`, keep what they were, and return the item."""
    item = get(db, item_id)
    changed = {name: about[name] for name in DESCRIPTIVE if name in about and about[name] != item[name]}
    if changed:
        update(db, "stock_item", item_id, changed)
        before = json.dumps({name: item[name] for name in changed})
        row = {"item_id": item_id, "before_json": before, "after_json": json.dumps(changed)}
        insert(db, "stock_change", {**row, "who": who, "at": store.now()})
    return get(db, item_id)


def changes(db: sqlite3.Connection, item_id: int) -> list[dict[str, Any]]:
    """Return what was changed beside an item, in order, with what stood there before."""
    return [
        {
            "before": json.loads(row["before_json"]),
            "after": json.loads(row["after_json"]),
            "who": row["who"],
            "at": row["at"],
        }
        for row in db.execute("SELECT * FROM stock_change WHERE item_id = ? ORDER BY id", (item_id,))
    ]


def take(
    db: sqlite3.Connection, store: Store, item_id: int, length: Length, reason: str, job_id: str | None, who: str
) -> dict[str, Any]:
    """Take a length off an item inside the caller's write transaction and return the item.

    Raises
    ------
    Problem
        ``not-enough-stock`` (409) telling how much there is.
    """
    item = get(db, item_id)
    if length.inches > on_hand(db, item_id):
        there = item["on_hand"]["text"]
        raise Refused(
            "not-enough-stock", "There is not that much of it.", given=length.typed, allowed=f"up to {there}.",
            next_step="Take less, take another bar, or count this one again and adjust it.",
            field="length", status=409, extra={"on_hand": item["on_hand"]},
        )  # fmt: skip
    _move(db, store, item_id, "take", -length.inches, length.typed, reason, job_id, who)
    return get(db, item_id)


def put_back(
    db: sqlite3.Connection, store: Store, item_id: int, length: Length, reason: str, job_id: str | None, who: str
) -> dict[str, Any]:
    """Put a length back and return the item."""
    item = get(db, item_id)
    if on_hand(db, item_id) + length.inches > LONGEST_BAR:
        raise Problem("out-of-range", "That makes the bar longer than a bar is.", given=length.typed,
                      allowed=f"up to 100 ft in all; {item['on_hand']['text']} is there.",
                      next_step="Check the length, or add it as another bar.", field="length")  # fmt: skip
    _move(db, store, item_id, "return", length.inches, length.typed, reason, job_id, who)
    return get(db, item_id)


def adjust(
    db: sqlite3.Connection, store: Store, item_id: int, counted: Length, reason: str, who: str
) -> dict[str, Any]:
    """Set the length on hand to what was counted and return the item."""
    get(db, item_id)
    delta = counted.inches - on_hand(db, item_id)
    _move(db, store, item_id, "adjust", delta, counted.typed, reason, None, who)
    return get(db, item_id)


def moves(db: sqlite3.Connection, item_id: int) -> list[dict[str, Any]]:
    """Return an item's moves in the order they were written, each with what was left after it."""
    get(db, item_id)
    left, found = Fraction(0), []
    for row in db.execute("SELECT * FROM stock_move WHERE item_id = ? ORDER BY id", (item_id,)):
        delta = Fraction(row["delta_inches"])
        left += delta
        found.append(
            {
                "id": row["id"], "kind": row["kind"], "typed": row["typed"],
                "delta": quantity(delta, exact_text(delta)), "left": _on_hand(left),
                "reason": row["reason"], "job": row["job_id"], "who": row["who"], "at": row["at"],
            }
        )  # fmt: skip
    return found


def _move(
    db: sqlite3.Connection, store: Store, item_id: int, kind: str, delta: Fraction, typed: str, reason: str,
    job_id: str | None, who: str,
) -> None:  # fmt: skip
    row = {"item_id": item_id, "kind": kind, "delta_inches": str(delta), "typed": typed, "reason": reason}
    insert(db, "stock_move", {**row, "job_id": job_id, "who": who, "at": store.now()})


def _item(row: sqlite3.Row, inches: Fraction) -> dict[str, Any]:
    return {
        "id": row["id"],
        "od": _size(row["outside_diameter_typed"], row["od_inches_exact"]),
        "wall": _size(row["wall_typed"], row["wall_inches_exact"]),
        "material": row["material"],
        "seam": row["seam"],
        **{name: row[name] for name in DESCRIPTIVE},
        "added_at": row["added_at"],
        "on_hand": {**_on_hand(inches), "exact": exact_text(inches)},
    }


def _size(typed: str, exact: str) -> dict[str, Any]:
    inches = Fraction(exact)
    return {"typed": typed, "in": float(inches), "mm": float(inches * MM_PER_INCH)}


def _on_hand(inches: Fraction) -> dict[str, Any]:
    # What is available rounds down, to a sixteenth.
    return quantity(inches, ruler_text(float(inches), False, "down"))
