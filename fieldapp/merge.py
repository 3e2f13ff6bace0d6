"""Import an export folder, such as another laptop's: read it, check all of it, take it in once. No Flask here."""

from __future__ import annotations

import hashlib
import json
import re
import sqlite3
from fractions import Fraction
from pathlib import Path
from typing import Any

from core import record as seals
from core.problems import Problem
from core.tag import read_id
from fieldapp.export import FORMAT, ROWS_FILE, photo_file
from fieldapp.photos import LARGEST_BYTES
from fieldapp.refusals import store_trouble
from fieldapp.store import Store, rows
from fieldapp.store.merge import Merge, Report, Row, Tables
from fieldapp.strict_json import read_json

ALLOWED = "a whole folder that pitsplice export wrote."
PHOTO_ID = re.compile(r"[0-9a-f]{32}", re.ASCII)


def import_folder(store: Store, folder: Path) -> Report:
    """Take in an export folder in one transaction; a second time changes nothing.

    Raises
    ------
    Problem
        ``import-folder`` if it is no whole export or a seal in it does not match, ``not-saved``
        for a full disk: nothing was written.
    """
    tables = read_tables(folder)
    digests = {row["id"]: row["sha256"] for row in tables["photo"]}

    def picture(photo_id: str) -> bytes:
        content = _read(folder / photo_file(photo_id), LARGEST_BYTES)
        if hashlib.sha256(content).hexdigest() != digests[photo_id]:
            raise refused(folder, f"Photo {photo_id} does not match its hash.")
        return content

    for photo_id in digests:
        picture(photo_id)
    try:
        with store.write() as db:
            return Merge(db, tables, picture).run()
    except (sqlite3.IntegrityError, sqlite3.ProgrammingError, sqlite3.DataError) as error:
        raise refused(folder, f"Its rows do not fit together: {error}.") from error
    except sqlite3.DatabaseError as error:
        raise store_trouble(error, str(folder)) or error from error


def read_tables(folder: Path) -> Tables:
    """Return the rows of an export folder, every one checked against its digest.

    Raises
    ------
    Problem
        ``import-folder``.
    """
    if not (folder / ROWS_FILE).is_file():
        raise refused(folder, f"There is no {ROWS_FILE} in it.")
    try:
        data = read_json(_read(folder / ROWS_FILE))
        if data["program"] != "Pitsplice" or data["format"] != FORMAT:
            raise refused(folder, "Another program, or another version of this one, wrote it.")
        tables = data["tables"]
        if seals.seal(tables) != data["sha256"]:
            raise refused(folder, f"{ROWS_FILE} was changed or is damaged.")
        for name, columns in rows.COLUMNS.items():
            if name != "meta":
                _check_table(name, columns, tables[name])
        _check_whole(tables)
        _check_records(tables)
    except Problem as problem:
        raise refused(folder, problem.title) from problem
    except (ValueError, LookupError, TypeError, AttributeError, ArithmeticError, RecursionError) as error:
        raise refused(folder, f"{ROWS_FILE} is not as an export writes it: {type(error).__name__} {error}.") from error
    return tables


def _check_table(name: str, columns: tuple[str, ...], found: list[Row]) -> None:
    for row in found:
        if set(row) != {*columns, "row_sha256"} or rows.digest(name, *(row[c] for c in columns)) != row["row_sha256"]:
            raise ValueError(f"a row of {name} does not match its digest")
        for column, value in row.items():
            if not isinstance(value, (str, int, type(None))):
                raise ValueError(f"{column} of {name} is neither text nor a whole number")
            if column.endswith("_json"):
                json.loads(value)
            elif column.endswith("_exact") or column == "delta_inches":
                Fraction(value)
        # A photo's id becomes a file name.
        if name == "photo" and not PHOTO_ID.fullmatch(row["id"]):
            raise ValueError("a photo has no id of ours")
        if name == "job" and read_id(row["id"]) != row["id"]:
            raise ValueError("a job has no id of ours")


def _check_whole(tables: Tables) -> None:
    """Raise ValueError if a row belongs to one that is not there."""
    owners = {name: {row["id"] for row in tables[name]} for name in ("job", "record", "stock_item")}
    for name, found in tables.items():
        for row in found:
            for column, owner in (("job_id", "job"), ("record_id", "record"), ("item_id", "stock_item")):
                if row.get(column) is not None and row[column] not in owners[owner]:
                    raise ValueError(f"a row of {name} belongs to a {owner} that is not there")


def _check_records(tables: Tables) -> None:
    photos = {row["id"]: row["sha256"] for row in tables["photo"]}
    for row in tables["record"]:
        amendments = sorted((a for a in tables["amendment"] if a["record_id"] == row["id"]), key=lambda a: a["number"])
        body: Any = json.loads(row["body_json"])
        findings = seals.verify({**row, "body": body}, amendments)
        listed = body.get("photos", []) if isinstance(body, dict) else []
        findings += [f"Photo {photo['id']} is not the sealed one." for photo in listed if photos.get(photo["id"]) != photo["sha256"]]
        if findings:
            raise refused(Path(ROWS_FILE), f"Record {row['id']}: {findings[0]}")


def _read(path: Path, most: int | None = None) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read() if most is None else file.read(most + 1)
    except OSError as error:
        raise refused(path, f"A file cannot be read: {error.strerror or error}.") from error


def refused(given: Path, title: str) -> Problem:
    """Return the ``import-folder`` problem."""
    return Problem("import-folder", f"{title} Nothing was taken in.", given=str(given), allowed=ALLOWED,
                   next_step="Export again on the other laptop and copy the whole folder.")  # fmt: skip
