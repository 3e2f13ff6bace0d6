"""The stock list as a CSV file, out and back in."""

from __future__ import annotations

import csv
import io
import re
from typing import Any

from core.lengths import Length
from core.problems import Problem
from core.tube import Tube, read_tube
from fieldapp.members import LONGEST_NOTE, text
from fieldapp.refusals import Refused
from fieldapp.store.stock import DESCRIPTIVE, stock_length

NEEDED = ("od", "wall", "material", "length")
COLUMNS = ("od", "wall", "material", "seam", "length", *DESCRIPTIVE)
MOST_ROWS = 5000
# A spreadsheet runs a cell that starts so as a formula.
FORMULA = re.compile(r"'*[=+\-@\t\r]")
ESCAPED = re.compile(r"'+[=+\-@\t\r]")
ALLOWED_FILE = (
    f"UTF-8 CSV; first row the names {', '.join(NEEDED)}, and if you like seam, {', '.join(DESCRIPTIVE)}; "
    f"at most {MOST_ROWS} rows."
)


def guarded(cell: str) -> str:
    """Return a cell that no spreadsheet runs: a leading apostrophe before = + - @.

    >>> guarded("=1+1"), guarded("A-12"), unguarded(guarded("=1+1"))
    ("'=1+1", 'A-12', '=1+1')
    """
    return f"'{cell}" if FORMULA.match(cell) else cell


def unguarded(cell: str) -> str:
    """Return a cell as it was before `guarded`."""
    return cell[1:] if ESCAPED.match(cell) else cell


def write(items: list[dict[str, Any]]) -> str:
    """Return the stock list as CSV text; lengths on hand are exact."""
    out = io.StringIO(newline="")
    table = csv.writer(out)
    table.writerow(COLUMNS)
    for item in items:
        row = {**item, "od": item["od"]["typed"], "wall": item["wall"]["typed"], "length": item["on_hand"]["exact"]}
        table.writerow([guarded(row[name]) for name in COLUMNS])
    return out.getvalue()


def about(data: dict[str, Any]) -> dict[str, str]:
    """Return the descriptive members that `data` has, checked."""
    return {
        name: text(data, name, required=False, longest=LONGEST_NOTE if name == "note" else 80, lines=name == "note")
        for name in DESCRIPTIVE
        if name in data
    }


def read_item(data: dict[str, Any], *, allow_zero: bool = False) -> tuple[Tube, Length, dict[str, str]]:
    """Return tube, length and description of one bar, or raise its first problem with the others inside."""
    problems: list[Problem] = []
    found: list[Any] = []
    tube_data = {name: data[name] for name in ("od", "wall", "material", "seam") if data.get(name) is not None}
    for read in (
        lambda: read_tube(tube_data),
        lambda: stock_length(data.get("length"), allow_zero=allow_zero),
        lambda: about(data),
    ):
        try:
            found.append(read())
        except Problem as problem:
            problems += [problem, *problem.others]
    if problems:
        first, *others = problems
        first.others = tuple(others)
        raise first
    return found[0], found[1], found[2]


def read(raw: bytes) -> list[tuple[Tube, Length, dict[str, str]]]:
    """Return the bars in a CSV file.

    Raises
    ------
    Problem
        ``bad-csv`` for a file that is no such table, ``bad-rows`` listing every bad cell.
    """
    header, rows = _table(raw)
    found, bad = [], []
    for number, cells in rows:
        if len(cells) > len(header) and any(cells[len(header) :]):
            bad.append(
                _bad_row(
                    number, "", f"{len(cells)} cells", f"{len(header)} cells", "Quote a cell that holds the separator."
                )
            )
            continue
        data = {name: unguarded(cell.strip()) for name, cell in zip(header, cells, strict=False) if cell.strip()}
        try:
            found.append(read_item(data, allow_zero=True))
        except Problem as problem:
            bad += [
                _bad_row(number, p.field, p.given, p.allowed, p.next_step, p.title) for p in (problem, *problem.others)
            ]
    if bad:
        raise Refused(
            "bad-rows", "Some rows cannot be read. Nothing was imported.", given=f"{len(bad)} bad cells",
            allowed=ALLOWED_FILE, next_step=f"Correct row {bad[0]['row']} and the others listed, then import again.",
            extra={"rows": bad},
        )  # fmt: skip
    return found


def _table(raw: bytes) -> tuple[list[str], list[tuple[int, list[str]]]]:
    try:
        content = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _bad_file("The file is not UTF-8 text.", "Save it as CSV UTF-8 and import it again.") from error
    first_line = content.lstrip().partition("\n")[0]
    separator = max((";", "\t", ","), key=lambda mark: (first_line.count(mark), mark == ","))
    try:
        lines = [
            (number, cells)
            for number, cells in enumerate(
                csv.reader(io.StringIO(content, newline=""), delimiter=separator, strict=True), 1
            )
            if any(cell.strip() for cell in cells)
        ]
    except csv.Error as error:
        raise _bad_file(
            f"The file is not CSV: {error}.", "Save it as CSV from a spreadsheet and import it again."
        ) from error
    if not lines:
        raise _bad_file("The file is empty.", "Put the names into the first row.")
    header = [re.sub(r"[\s-]+", "_", cell.strip().lower()) for cell in lines[0][1]]
    while header and not header[-1]:
        header.pop()
    problems = [f"{name or 'an empty name'} is not known" for name in dict.fromkeys(header) if name not in COLUMNS]
    problems += [f"{name} stands there twice" for name in COLUMNS if header.count(name) > 1]
    problems += [f"{name} is missing" for name in NEEDED if name not in header]
    if problems:
        raise _bad_file(f"The first row does not fit: {'; '.join(problems)[:300]}.", "Correct the names in the first row.",
                        ", ".join(header))  # fmt: skip
    if len(lines) - 1 > MOST_ROWS:
        raise _bad_file("The file has too many rows.", "Import it in parts.", f"{len(lines) - 1} rows")
    return header, lines[1:]


def _bad_file(title: str, next_step: str, given: str = "the file") -> Problem:
    return Problem("bad-csv", f"{title} Nothing was imported.", given=given, allowed=ALLOWED_FILE, next_step=next_step)


def _bad_row(number: int, field: str, given: object, allowed: str, next_step: str, title: str = "") -> dict[str, Any]:
    return {
        "row": number, "field": field, "title": title or "The row has more cells than the first row.",
        "given": given, "allowed": allowed, "next": next_step,
    }  # fmt: skip
