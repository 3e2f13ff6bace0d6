"""All data in one folder that opens without this program: JSON, CSV and readable pages."""

from __future__ import annotations

import csv
import io
import json
from html import escape
from pathlib import Path
from typing import Any

from core.problems import Problem
from core.record import seal
from fieldapp import __version__, stock_csv
from fieldapp.store import Store, jobs, photos, records, rows, stock

ROWS_FILE, FORMAT = "rows.json", 1
STYLE = (
    "body{font:16px/1.5 sans-serif;max-width:60em;margin:1em auto;padding:0 1em;color:#111}"
    "table{border-collapse:collapse}th,td{border:1px solid #777;padding:.2em .5em;text-align:left;vertical-align:top}"
    "img{max-width:100%}"
    "@media print{body{font-size:11px}}"
)
CAUTION = "A plan and a record, not a verdict. The rule book, the inspector and a qualified welder decide."
JOB_COLUMNS = ("id", "title", "state", "created_at", "created_by", "demo")
STEP_COLUMNS = ("job", "step", "action", "value", "verdict", "reason", "who", "when", "at")
MOVE_COLUMNS = ("item", "kind", "typed", "delta", "left", "reason", "job", "who", "at")


def everything(store: Store) -> dict[str, Any]:
    """Return the whole data set as of one moment."""
    with store.read() as db:
        items = stock.every(db)
        return {
            "program": "Pitsplice",
            "rows": rows.raw(db),
            "version": __version__,
            "exported_at": store.now(),
            "jobs": [{**jobs.get(db, j["id"]), "history": jobs.history(db, j["id"])} for j in jobs.every(db)],
            "records": records.every(db),
            "stock": [
                {**item, "moves": stock.moves(db, item["id"]), "changes": stock.changes(db, item["id"])}
                for item in items
            ],
        }


def export(store: Store, target: Path) -> int:
    """Write the whole data set into `target` and return the number of files.

    Raises
    ------
    Problem
        ``export-folder`` if `target` is not empty or cannot be written.
    """
    try:
        target.mkdir(parents=True, exist_ok=True)
        if any(target.iterdir()):
            raise _refuse(target, "That folder is not empty; nothing was written.")
        data = everything(store)
        files = _files(data)
        pictures = [photo["id"] for job in data["jobs"] for photo in job["photos"]]
        for name, text in files.items():
            _put(target / name, text.encode("utf-8"))
        for photo in pictures:
            with store.read() as db:
                _put(target / photo_file(photo), photos.content(db, photo)[0])
    except OSError as error:
        raise _refuse(target, f"The export could not be written: {error.strerror or error}.") from error
    return len(files) + len(pictures)


def photo_file(photo_id: str) -> str:
    """Return the name of a photo inside an export."""
    return f"photos/{photo_id}.jpg"


def _put(path: Path, content: bytes) -> None:
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(content)


def _files(data: dict[str, Any]) -> dict[str, str]:
    pages = {f"records/{record['id']}.html": record_page(record) for record in data["records"]}
    steps = [{"job": job["id"], **event} for job in data["jobs"] for event in job["steps"]]
    moves = [
        {**move, "item": str(item["id"]), "delta": move["delta"]["text"], "left": move["left"]["text"]}
        for item in data["stock"]
        for move in item["moves"]
    ]
    raw = data.pop("rows")
    head = {name: data[name] for name in ("program", "version", "exported_at")}
    return {
        # For another laptop; the digests tell it whether the copy is whole.
        ROWS_FILE: json.dumps({**head, "format": FORMAT, "sha256": seal(raw), "tables": raw},
                              ensure_ascii=False, allow_nan=False, separators=(",", ":")),
        "data.json": json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False),
        "stock.csv": stock_csv.write(data["stock"]),
        "stock-moves.csv": _table(moves, MOVE_COLUMNS),
        "jobs.csv": _table(data["jobs"], JOB_COLUMNS),
        "steps.csv": _table(steps, STEP_COLUMNS),
        "index.html": _index(data),
        **pages,
    }


def record_page(record: dict[str, Any]) -> str:
    """Return a sealed record as a page that needs nothing else."""
    body = record["body"]
    demo = "<p><strong>DEMO: made-up data, not a repair.</strong></p>" if body.get("demo") else ""
    intact = "Matches its seal." if record["intact"] else " ".join(record["findings"])
    amendments = "".join(
        f"<li>{escape(a['at'])}, {escape(a['who'])}: {escape(a['text'])}</li>" for a in record["amendments"]
    )
    head = (
        f"<h1>{escape(record['id_text'])} {escape(str(body.get('title', '')))}</h1>{demo}<p>{CAUTION}</p>"
        f"<p>Sealed {escape(record['sealed_at'])} by {escape(record['sealed_by'])}. {escape(intact)}</p>"
        f"<p>SHA-256 {record['sha256']}</p>"
        f"<h2>Amendments</h2>{f'<ol>{amendments}</ol>' if amendments else '<p>None.</p>'}"
    )
    pictures = "".join(
        f'<figure><img src="../{photo_file(escape(p["id"]))}" alt="Photo by {escape(p["who"])}">'
        f"<figcaption>{escape(' '.join(filter(None, (p['note'], p['step'], p['who'], p['when']))))}</figcaption></figure>"
        for p in body.get("photos", [])
    )
    photos_part = f"<h2>Photos</h2>{pictures}" if pictures else ""
    return _page(record["id_text"], head + photos_part + f"<h2>Record</h2>{_readable(body)}")


def _index(data: dict[str, Any]) -> str:
    rows = "".join(
        f'<tr><td><a href="records/{r["id"]}.html">{escape(r["id_text"])}</a></td>'
        f"<td>{escape(str(r['body'].get('title', '')))}</td><td>{escape(r['sealed_at'])}</td>"
        f"<td>{'yes' if r['intact'] else 'NO'}</td></tr>"
        for r in data["records"]
    )
    return _page(
        "Pitsplice export",
        f"<h1>Pitsplice export</h1><p>{CAUTION}</p><p>{escape(data['exported_at'])}. "
        f"{len(data['jobs'])} jobs, {len(data['records'])} sealed, {len(data['stock'])} bars of stock. "
        'Everything is in <a href="data.json">data.json</a>; tables: <a href="jobs.csv">jobs</a>, '
        '<a href="steps.csv">steps</a>, <a href="stock.csv">stock</a>, <a href="stock-moves.csv">stock moves</a>.</p>'
        f"<table><tr><th>Id<th>Title<th>Sealed<th>Matches its seal</tr>{rows}</table>",
    )


def _page(title: str, content: str) -> str:
    return (
        f'<!doctype html><html lang="en"><meta charset="utf-8"><title>{escape(title)}</title>'
        f"<style>{STYLE}</style><body>{content}</body></html>\n"
    )


def _readable(value: Any) -> str:
    if isinstance(value, dict):
        rows = "".join(
            f"<tr><th>{escape(str(name).replace('_', ' '))}</th><td>{_readable(item)}</td></tr>"
            for name, item in value.items()
        )
        return f"<table>{rows}</table>" if rows else "none"
    if isinstance(value, list):
        return f"<ol>{''.join(f'<li>{_readable(item)}</li>' for item in value)}</ol>" if value else "none"
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return escape(str(value))


def _table(rows: list[dict[str, Any]], columns: tuple[str, ...]) -> str:
    out = io.StringIO(newline="")
    table = csv.writer(out)
    table.writerow(columns)
    for row in rows:
        cells = ("" if row.get(name) is None else str(row[name]) for name in columns)
        table.writerow([stock_csv.guarded(cell) for cell in cells])
    return out.getvalue()


def _refuse(target: Path, title: str) -> Problem:
    return Problem("export-folder", title, given=str(target), allowed="a new or empty folder you may write to.",
                   next_step="Give another folder.")  # fmt: skip
