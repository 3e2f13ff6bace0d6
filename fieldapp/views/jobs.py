"""Jobs: their sections, their checklist, and sealing."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, Response

from core import checklist as checklists
from core.problems import Problem
from core.tag import read_id
from core.tube import one_of
from fieldapp import plan
from fieldapp.body import answer, json_object, operation_key
from fieldapp.members import only, text
from fieldapp.rule_sheet import current_sheet
from fieldapp.store import jobs as kept_jobs
from fieldapp.store import records as kept_records
from fieldapp.views.compute import template_file
from fieldapp.writes import store, write

jobs = Blueprint("jobs", __name__, url_prefix="/api/jobs")


@jobs.get("")
def index() -> Response:
    """List the jobs."""
    with store().read() as db:
        return answer({"jobs": kept_jobs.every(db)})


@jobs.post("")
def create() -> Response:
    """Make a job."""
    data = json_object()
    only(data, "title", "who", "id")
    title, who = text(data, "title"), text(data, "who")
    proposed = read_id(data["id"]) if data.get("id") is not None else None
    return write(data, lambda db: plan.shown(kept_jobs.create(db, store(), title, who, proposed)), 201)


@jobs.get("/<job>")
def one(job: str) -> Response:
    """Show a job."""
    with store().read() as db:
        return answer(plan.shown(kept_jobs.get(db, read_id(job))))


@jobs.put("/<job>/sections/<name>")
def save_section(job: str, name: str) -> Response:
    """Save a section on top of the revision it was opened at."""
    data = json_object()
    job_id = read_id(job)
    one_of("section", name, kept_jobs.SECTIONS)
    only(data, "base_revision", "data", "who")
    who = text(data, "who")
    base, section = data.get("base_revision"), data.get("data")
    if isinstance(base, bool) or not isinstance(base, int) or base < 0:
        raise Problem("bad-revision", "The revision this change is based on is missing.", given=base,
                      allowed="a whole number: the section's revision when it was opened, 0 for a new section.",
                      next_step="Load the job again and save again.", field="base_revision")  # fmt: skip
    if not isinstance(section, dict):
        raise Problem("bad-section", "A section is an object.", given=section, allowed="an object with the section's members.",
                      next_step="Send the section in data.", field="data")  # fmt: skip
    try:
        plan.check_section(name, section, current_sheet())
    except Problem as problem:
        for one in (problem, *problem.others):
            one.at("data")
        raise
    return write(data, lambda db: plan.shown(kept_jobs.save_section(db, store(), job_id, name, base, section, who)))


@jobs.get("/<job>/checklist")
def checklist(job: str) -> Response:
    """Show the checklist and where the job stands on it."""
    with store().read() as db:
        found = kept_jobs.get(db, read_id(job))
    made = plan.checklist_of(found)
    return answer({"checklist": made.to_dict(), "state": checklists.state(made, found["steps"])})


@jobs.get("/<job>/template")
def template(job: str) -> Response:
    """Draw the wrap template of the saved size section: kind svg, pdf or dxf, sheet a4 or letter."""
    with store().read() as db:
        found = kept_jobs.get(db, read_id(job))
    if "size" not in found["sections"]:
        raise Problem("not-sized", "The sleeve of this job is not sized yet.", given=found["id_text"], allowed="a job with its size saved.",
                      next_step="Save the size first.", status=409)  # fmt: skip
    return template_file(found["sections"]["size"]["data"], found["id_text"])


@jobs.post("/<job>/steps")
def mark_step(job: str) -> Response:
    """Write down what was done at a step, if the checklist takes it."""
    data = json_object()
    job_id = read_id(job)

    def effect(db: Any) -> dict[str, Any]:
        found = kept_jobs.open_job(db, job_id)
        made = plan.checklist_of(found)
        event = checklists.check_event(made, found["steps"], data)
        saved = kept_jobs.add_event(db, store(), job_id, event, operation_key())
        return {"event": saved, "state": checklists.state(made, [*found["steps"], saved])}

    return write(data, effect)


@jobs.post("/<job>/seal")
def seal(job: str) -> Response:
    """Seal a finished job into a record that does not change any more."""
    data = json_object()
    job_id = read_id(job)
    only(data, "who")
    who = text(data, "who")

    def effect(db: Any) -> dict[str, Any]:
        found = kept_jobs.open_job(db, job_id)
        return kept_records.seal(db, plan.record_body(found, who, store().now(), current_sheet()))

    return write(data, effect, 201)
