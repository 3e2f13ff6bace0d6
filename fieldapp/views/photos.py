"""Photos: take one in, show one."""

from __future__ import annotations

import hashlib
import re

from flask import Blueprint, Response, request

from core.problems import Problem
from core.tag import read_id
from fieldapp.members import LONGEST_NOTE, only, text
from fieldapp.store import jobs as kept_jobs
from fieldapp.store import photos as kept
from fieldapp.writes import store, write

photos = Blueprint("photos", __name__, url_prefix="/api")

TYPES = ("image/jpeg", "image/png", "image/webp")
TIME = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d(\.\d{1,6})?)?(Z|[+-]\d\d:\d\d)", re.ASCII)


@photos.post("/jobs/<job>/photos")
def add(job: str) -> Response:
    """Keep a photo of an open job; the query says the step, who took it and when."""
    from fieldapp.photos import reencode

    job_id = read_id(job)
    asked = request.args.to_dict()
    only(asked, "step", "who", "when", "note")
    who, step = text(asked, "who"), text(asked, "step", required=False)
    note, when = text(asked, "note", required=False, longest=LONGEST_NOTE, lines=True), asked.get("when", "").strip()
    if when and not TIME.fullmatch(when):
        raise Problem("bad-text", "The time the photo was taken cannot be read.", given=when,
                      allowed="a time such as 2026-01-31T14:05:09Z.", next_step="Leave it out, or send it in that form.",
                      field="when")  # fmt: skip
    if request.mimetype not in TYPES:
        raise Problem("bad-content-type", "This address takes a photo.", given=request.mimetype or "no content type",
                      allowed=f"Content-Type: {', '.join(TYPES)}.", next_step="Send a JPEG, PNG or WebP picture.",
                      status=415)  # fmt: skip
    raw = request.get_data(cache=False)
    said = {"step": step, "note": note, "who": who, "when": when}
    with store().read() as db:
        # Said before the picture is worked on, and again inside the write.
        kept_jobs.get(db, job_id)
    picture = reencode(raw)

    def effect(db) -> dict:
        kept_jobs.open_job(db, job_id)
        return {"photo": kept.add(db, store(), job_id, picture, **said)}

    return write({**said, "sha256": hashlib.sha256(raw).hexdigest()}, effect, 201)


@photos.get("/photos/<photo>")
def one(photo: str) -> Response:
    """Show a photo. It never changes, so the browser may keep it."""
    with store().read() as db:
        content, digest = kept.content(db, photo)
    response = Response(content, mimetype="image/jpeg")
    response.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    response.headers["Content-Disposition"] = f'inline; filename="{photo}.jpg"'
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.set_etag(digest)
    return response.make_conditional(request)
