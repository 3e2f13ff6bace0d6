"""Fill a store through the app's own functions, and read a data file back whole."""

import io
import sqlite3

from PIL import Image

from fieldapp import demo, photos
from fieldapp.store import jobs, operations, records, stock
from fieldapp.store import photos as kept_photos


def picture(size=(64, 48), colour=(200, 40, 40)):
    """Return a small JPEG."""
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, "JPEG")
    return out.getvalue()


def add_photo(db, store, job_id, colour=(200, 40, 40), **said):
    """Keep a photo of a job."""
    made = photos.reencode(picture(colour=colour))
    return kept_photos.add(
        db, store, job_id, made, **{"step": "", "note": "", "who": "Lee", "when": "2026-03-01T09:00:00Z", **said}
    )


def fill_store(store):
    """Put something into every table: the demo's jobs and rack, photos, an amendment, a change, answers."""
    demo.load(store)
    with store.write() as db:
        made = jobs.every(db)
        sealed = next(job["id"] for job in made if job["state"] == "sealed")
        open_one = next(job["id"] for job in made if job["state"] == "open")
        add_photo(db, store, open_one, note="Dent from above")
        add_photo(db, store, open_one, colour=(0, 90, 0))
        records.amend(db, store, sealed, "Sam", "The gap was read twice.")
        stock.describe(db, store, 2, {"location": "bench", "note": "short end"}, "Sam")
        for number in range(20):
            answer = '{"id": "' + "x" * 50 + '"}'
            operations.keep(db, f"key-{number}", "POST /api/jobs", f"{number:064}", 201, answer, store.now())


def rows_of(path, without=("meta",)):
    """Return every row of every table of a data file."""
    db = sqlite3.connect(path)
    try:
        names = [row[0] for row in db.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        return {name: sorted(db.execute(f"SELECT * FROM {name}"), key=repr) for name in names if name not in without}
    finally:
        db.close()
