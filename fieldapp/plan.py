"""What a job's sections mean for its checklist, its record and its tag."""

from __future__ import annotations

from typing import Any

from core import checklist as checklists
from core.problems import Problem
from core.shop_rules import RuleSheet
from core.sleeve import read_end_cut
from core.tag import TagEssentials
from core.tube import one_of, read_tube
from fieldapp import __version__, services
from fieldapp.members import text
from fieldapp.refusals import Refused

NEEDED = ("measure", "choose", "stock", "size")


def checklist_of(job: dict[str, Any]) -> checklists.Checklist:
    """Return the checklist of a job's chosen method, worded with the sized plan where there is one.

    Raises
    ------
    Problem
        ``no-method`` (409) before a method is chosen.
    """
    method = _data(job, "choose").get("method")
    if not isinstance(method, str) or method not in checklists.METHODS:
        raise Problem(
            "no-method", "There is no checklist before the repair method is chosen.", given=method or "",
            allowed=f"section choose saved with a method: {', '.join(checklists.METHODS)}.",
            next_step="Choose the method first.", field="choose.method", status=409,
        )  # fmt: skip
    context: dict[str, Any] = {}
    if "size" in job["sections"]:
        context = services.summary(_data(job, "size"))["context"]
    sleeves = _data(job, "choose").get("sleeves")
    # Only an outer sleeve leaves the choice; the other methods say themselves how many they take.
    if sleeves is not None and method == "outer-sleeve":
        context = {**context, "sleeves": sleeves}
    return checklists.checklist_for(method, context)


def check_section(name: str, data: dict[str, Any], sheet: RuleSheet | None = None) -> None:
    """Raise a Problem for section data that the rest of the job could not be built on.

    A section is kept as it was typed, so what is kept must be readable later.
    """
    if name == "measure":
        services.assess(data, sheet)
    elif name == "size":
        services.size(data, sheet)
    elif name == "stock":
        read_tube({part: data.get(part) for part in ("od", "wall", "material", "seam")})
    elif name == "choose":
        one_of_at("method", "repair method", data.get("method"), tuple(checklists.METHODS))
        if data.get("end") is not None:
            read_end_cut(data["end"], data.get("mitre_deg"))
        sleeves = data.get("sleeves")
        if sleeves is not None and (type(sleeves) is not int or sleeves not in (1, 2)):
            raise Problem("bad-choice", "A splice here has one sleeve or two.", given=sleeves, allowed="1 or 2.",
                          next_step="Give 1 for one clean cut, 2 for a replaced section.", field="sleeves")  # fmt: skip
        text(data, "reason", required=False, longest=500, lines=True)


def one_of_at(field: str, what: str, value: object, allowed: tuple[str, ...]) -> str:
    """Return a word of a choice, or raise its problem at `field`."""
    try:
        return one_of(what, value, allowed)
    except Problem as problem:
        raise problem.at(field) from None


def shown(job: dict[str, Any]) -> dict[str, Any]:
    """Return a job as the page reads it: with whether its checklist is finished."""
    if not _data(job, "choose").get("method"):
        return {**job, "finished": False}
    return {**job, "finished": checklists.state(checklist_of(job), job["steps"])["finished"]}


def record_body(job: dict[str, Any], who: str, at: str, sheet: RuleSheet | None = None) -> dict[str, Any]:
    """Return the body to seal for a finished job.

    Raises
    ------
    Problem
        ``not-finished`` (409) with ``missing``: what is still to do.
    """
    missing = [
        {"section": name, "what": f"The section {name} is not saved."} for name in NEEDED if name not in job["sections"]
    ]
    result: dict[str, Any] = {}
    if "size" in job["sections"]:
        try:
            result = services.size(_data(job, "size"), sheet)
            result["tag"] = services.summary(_data(job, "size"))["tag"]
        except Problem as problem:
            missing.append({"section": "size", "what": f"The sizes do not compute: {problem.title}"})
    assessment: dict[str, Any] = {}
    if "measure" in job["sections"]:
        try:
            assessment = services.assess(_data(job, "measure"), sheet)
        except Problem as problem:
            missing.append({"section": "measure", "what": f"{problem.title} {problem.next_step}"})
    made = state = None
    try:
        made = checklist_of(job)
    except Problem as problem:
        missing.append({"section": "choose", "what": problem.title})
    if made:
        state = checklists.state(made, job["steps"])
        texts = {step.key: step.text for step in made.steps}
        missing += [{"step": key, "what": texts[key]} for key in state["missing"]]
        missing += [
            {"step": key, "what": f"Look again, an earlier step was reopened: {texts[key]}"}
            for key in state["look_again"]
            if key not in state["missing"]
        ]
    if missing:
        count = f"{len(missing)} thing{'s' if len(missing) > 1 else ''} missing"
        raise Refused(
            "not-finished", "This job is not finished, so it is not sealed.", given=count,
            allowed="a job with every section saved and every step done, or skipped with a reason.",
            next_step=missing[0]["what"], status=409, extra={"missing": missing},
        )  # fmt: skip
    return {
        "id": job["id"],
        "title": job["title"],
        "created_at": job["created_at"],
        "created_by": job["created_by"],
        "sealed_at": at,
        "sealed_by": who,
        "demo": job["demo"],
        "software": {"name": "Pitsplice", "version": __version__},
        "sections": job["sections"],
        "assessment": assessment,
        "result": result,
        "checklist": {"version": made.version, "wording": made.to_dict(), "state": state},
        "events": job["steps"],
        "photos": job["photos"],
    }


def essentials(record: dict[str, Any]) -> TagEssentials:
    """Return what the tag of a record says."""
    body = record["body"]
    told = body.get("result", {}).get("tag") or {}
    size = body.get("sections", {}).get("size", {}).get("data", {})

    def word(name: str, otherwise: str = "") -> str:
        return str(told.get(name) or otherwise)

    return TagEssentials(
        id=record["id"], tube=word("tube", _tube_name(size.get("tube"))),
        sleeve=word("sleeve", _tube_name(size.get("sleeve"))), end=word("end", str(size.get("end") or "")),
        mitre_deg=word("mitre_deg"), length=word("length"), date=record["sealed_at"][:10],
        method=word("method", str(body.get("sections", {}).get("choose", {}).get("data", {}).get("method") or "")),
    )  # fmt: skip


def _data(job: dict[str, Any], name: str) -> dict[str, Any]:
    return job["sections"].get(name, {}).get("data", {})


def _tube_name(data: object) -> str:
    try:
        return read_tube(data).name()
    except Problem:
        return ""
