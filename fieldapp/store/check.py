"""Whether a data file is whole: SQLite's own check, then every row, photo and record against its digest.

SQLite's check sees a broken structure. A changed byte inside a text is no broken structure:
only the digests see it.
"""

from __future__ import annotations

import hashlib
import sqlite3
from dataclasses import dataclass, field
from pathlib import Path

from fieldapp.store import meta, photos, records, rows

# The data file format (sqlite.org/fileformat.html, section 1.3): what a file of ours has there.
# Format (44) and encoding (56) are 0 until the first tables have left the log; SQLite reads both the same then.
MAGIC = b"SQLite format 3\x00"
HEADER = {
    18: ((1, 2), 1), 19: ((1, 2), 1), 20: ((0,), 1), 21: ((64,), 1), 22: ((32,), 1), 23: ((32,), 1),
    44: ((4, 0), 4), 52: ((0,), 4), 56: ((1, 0), 4), 64: ((0,), 4), 68: ((0,), 4), 72: ((0,), 20),
}  # fmt: skip
WITH_DIGESTS = 4  # the data version from which rows carry digests
MOST_TOLD = 5


@dataclass
class Look:
    """What a look at a data file found: nothing in `findings` if it is whole.

    Attributes
    ----------
    findings : list of str
    content : str
        A digest of all that is in it, the same for two files with the same content.
    version : int
        Its data version.
    rows : int
        How many rows it has. Nothing is ever taken away, so of two states of one file the later has more.
    """

    findings: list[str] = field(default_factory=list)
    content: str = ""
    version: int = 0
    rows: int = 0

    def why(self) -> str:
        """Return the findings in one line."""
        more = len(self.findings) - MOST_TOLD
        return " ".join(self.findings[:MOST_TOLD]) + (f" And {more} more." if more > 0 else "")


def look(path: Path) -> Look:
    """Return what is wrong with the data file at `path`, which no other part of this process has open.

    It is opened for reading only: a damaged file stays as it is.
    """
    found = Look()
    try:
        _header(path, found)
        db = sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True, isolation_level=None)
        try:
            db.row_factory = sqlite3.Row
            db.execute("BEGIN")
            _content(db, found)
        finally:
            db.close()
    except (sqlite3.DatabaseError, OSError) as error:
        found.findings.append(f"The file cannot be read: {error}.")
    except (ValueError, LookupError, TypeError, OverflowError, RecursionError) as error:
        # What was meant as a number, a time or JSON is none any more.
        found.findings.append(f"A value cannot be read: {error}.")
    return found


def newest_version() -> int:
    """Return the newest data version this program knows."""
    return max(int(path.name[:4]) for path in (Path(__file__).parent / "migrations").glob("[0-9]*.sql"))


def _header(path: Path, found: Look) -> None:
    with path.open("rb") as file:
        head = file.read(100)
    if head[:16] != MAGIC:
        found.findings.append("It does not start as a data file does.")
        return
    for at, (allowed, size) in HEADER.items():
        if int.from_bytes(head[at : at + size], "big") not in allowed:
            found.findings.append(f"Its header differs at byte {at}.")


def _content(db: sqlite3.Connection, found: Look) -> None:
    said = [row[0] for row in db.execute("PRAGMA integrity_check")]
    if said != ["ok"]:
        found.findings += [f"SQLite: {line.strip()}." for line in said]
        return
    broken = db.execute("PRAGMA foreign_key_check").fetchall()
    found.findings += [f"A row of {row[0]} refers to one that is not there." for row in broken[:MOST_TOLD]]
    found.version = db.execute("PRAGMA user_version").fetchone()[0]
    names = rows.tables(db)
    if "meta" in names:
        if meta.get(db, "version") != str(found.version):
            found.findings.append("Its version number is not the one it was written with.")
        if meta.get(db, "schema_sha256") != meta.schema_digest(db):
            found.findings.append("Its tables are not declared as they were.")
        elif found.version > newest_version():
            # Written by a newer program, which knows what its rows are made of.
            return
    elif found.version >= WITH_DIGESTS or (found.version == 0) != (not names):
        found.findings.append("Its version number is not the one it was written with.")
    whole = hashlib.sha256()
    digested = rows.digested(db)
    for name in names:
        whole.update(name.encode())
        for part in _rows(db, name, name in digested, found):
            whole.update(part)
            found.rows += name != "meta"
    found.content = whole.hexdigest()
    if "photo" in names:
        _photos(db, found)
    if {"record", "photo"} <= set(names):
        broken_records = [record["id_text"] for record in records.every(db) if not record["intact"]]
        found.findings += [f"Record {one} does not match its seal." for one in broken_records]


def _rows(db: sqlite3.Connection, name: str, has_digest: bool, found: Look) -> list[bytes]:
    if not has_digest:
        return [repr(tuple(row)).encode("utf-8", "replace") for row in db.execute(f'SELECT * FROM "{name}"')]
    parts, columns = [], rows.COLUMNS[name]
    for row in db.execute(f"SELECT {', '.join(columns)}, row_sha256 FROM {name}"):
        parts.append(row["row_sha256"].encode())
        if rows.digest(name, *tuple(row)[:-1]) != row["row_sha256"]:
            found.findings.append(f"A row of {name} does not match its digest: {columns[0]} {row[0]}.")
    return parts


def _photos(db: sqlite3.Connection, found: Look) -> None:
    for row in db.execute("SELECT id FROM photo"):
        content, digest = photos.content(db, row["id"])
        if hashlib.sha256(content).hexdigest() != digest:
            found.findings.append(f"Photo {row['id']} does not match its hash.")
