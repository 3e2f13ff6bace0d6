"""Size one inner sleeve: a tube inside the damaged tube, welded through a diagonal gap.

Geometry: `core.methods.inner_sleeve_geometry`. Lengths in inches, mitre in degrees.

Source: AC 43.13-1B (Change 1, 2001) 4-95, from memory.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from core.fit import Clearance, clearance
from core.methods.common import (
    blank,
    clearance_block,
    holes,
    material_notes,
    number,
    overlap_text,
    ranked,
    splice_summary,
    tube_echo,
)
from core.methods.inner_sleeve_checks import all_checks
from core.methods.inner_sleeve_geometry import gap_across, inner_overlap, inner_rule_length
from core.methods.inner_sleeve_input import InnerJob, read_inner_job
from core.methods.inner_sleeve_options import options
from core.quantity import down, fine_text, near, quantity, ruler_text, up
from core.rules import DEFERENCE, clause
from core.sleeve import required_overlap, weld_line
from core.tolerances import diameter_tolerance, wall_tolerance

SLEEVES = 2


def inner_clearance(job: InnerJob, outer) -> Clearance:
    """Return the diameter clearance of the sleeve inside `outer`, inches.

    Tube ID - sleeve OD. Worst case as in `core.fit.clearance`, with the parts swapped. A
    turned sleeve is as measured on the lathe: its diameter has no mill tolerance.

    Parameters
    ----------
    job : InnerJob
    outer : Tube
        The tube around the sleeve.

    Returns
    -------
    Clearance
        Inches.

    Source: ASTM A513 type 5 tables (`core.tolerances`).

    >>> import json
    >>> from core.methods.inner_sleeve_input import EXAMPLE
    >>> job = read_inner_job(json.loads(EXAMPLE))
    >>> fit = inner_clearance(job, job.tube)
    >>> round(fit.nominal, 3), round(fit.worst_min, 3)
    (0.01, 0.0)
    """
    fit = clearance(job.sleeve, outer)
    over = diameter_tolerance(job.sleeve.D) or 0.0
    if job.turned is None:
        return fit
    by_wall = None if fit.by_wall_min is None else fit.by_wall_min + over
    return replace(fit, worst_min=fit.worst_min + over, by_wall_min=by_wall)


def size(data: Any) -> dict[str, Any]:
    """Return the full result of one inner sleeve as JSON-ready data.

    Parameters
    ----------
    data : mapping
        See `core.methods.inner_sleeve_input.read_inner_job`.

    Returns
    -------
    dict
        ``length`` (rule, blank, given), ``overlap`` (required, given), ``stub_cut`` (angle and
        depth), ``weld_line``, ``clearance`` (nominal, worst, with_bead), ``rosette``,
        ``options``, ``numbers``, ``order``, ``checks``, ``assumptions``, ``sources``,
        ``warnings``, ``deference``. Each length is ``{"mm", "in", "text"}``.

    Raises
    ------
    Problem
        For input that cannot be used.

    Source: AC 43.13-1B (Change 1, 2001) 4-95, from memory.

    >>> import json
    >>> from core.methods.inner_sleeve_input import EXAMPLE
    >>> size(json.loads(EXAMPLE))["length"]["blank"]["text"]
    '7-7/8 in'
    """
    return result(read_inner_job(data))


def result(job: InnerJob) -> dict[str, Any]:
    """Return the result of a job already read (see `size`).

    Parameters
    ----------
    job : InnerJob

    Returns
    -------
    dict
        As `size`.

    Source: AC 43.13-1B (Change 1, 2001) 4-95, from memory.

    >>> import json
    >>> from core.methods.inner_sleeve_input import EXAMPLE
    >>> result(read_inner_job(json.loads(EXAMPLE)))["overlap"]["required"]["text"]
    '2.438 in'
    """
    D, g, cut, metric = job.tube.D, float(job.gap), job.cut, job.metric
    rule = inner_rule_length(D, g, cut)
    cut_to = blank(rule, metric)
    judged = float(job.length) if job.length else rule
    reach, need = inner_overlap(judged, D, g, cut), required_overlap(D)
    fit = inner_clearance(job, job.tube)
    spare_fit = inner_clearance(job, job.replacement) if job.replacement_given else None
    checks = all_checks(job, reach, fit, spare_fit)
    made = {
        "method": "inner-sleeve",
        "input": _echo(job),
        "length": {
            "rule": quantity(rule, ruler_text(rule, metric, "up")),
            "rule_surface": "between the sleeve's square ends",
            "blank": quantity(cut_to, ruler_text(cut_to, metric, "up")),
            **({"given": quantity(float(job.length), job.length.typed)} if job.length else {}),
        },
        "overlap": {
            "required": up(need, metric),
            "given": quantity(reach, overlap_text(reach, need, metric)),
            "judged_at": job.length.typed if job.length else "rule length",
            "measured": "sleeve end to the nearest end of the diagonal cut, on the tube's outside, each side",
        },
        "stub_cut": {
            "mitre_deg": cut.mitre_deg, "to_axis_deg": 90 - cut.mitre_deg, "depth": near(cut.depth(D / 2), metric),
            "gap_axial": quantity(g, job.gap.typed), "gap_across": near(gap_across(g, cut), metric),
        },
        "weld_line": near(weld_line(D, cut), metric),
        "clearance": {
            **clearance_block(fit, metric),
            **({"with_bead": clearance_block(fit, metric, float(job.bead))} if job.bead else {}),
            **({"in_replacement": clearance_block(spare_fit, metric)} if spare_fit else {}),
        },
        "wall_left": near(job.sleeve.t, metric),
        "rosette": _rosettes(job, inner_overlap(float(job.length) if job.length else cut_to, D, g, cut)),
        "options": options(job),
        "checks": [check.as_dict() for check in checks],
        "assumptions": _assumptions(job),
        "sources": [clause(key).as_dict() for key in ("inner-sleeve", "dom", "rosette", "plug", "seam-practice")],
        "warnings": ranked(checks, _notes(job)),
        "deference": DEFERENCE,
    }  # fmt: skip
    made["numbers"], made["order"] = _numbers(job, made), _order(made)
    return made


def _rosettes(job: InnerJob, reach: float) -> dict[str, Any]:
    sizes = holes(job.sleeve.od.inches, job.tube, job.metric)
    largest = max(row["diameter"]["in"] for row in sizes)
    place = max(reach, 0.0) / 2
    return {
        "sizes": sizes,
        "per_side": 2,
        "from_cut": near(place, job.metric),
        "edge_room": down(place - largest / 2, job.metric),
        "where": "Half of the overlap back from the nearest end of the cut, on two opposite sides of the tube.",
        "count_source": "common practice, no source; the circular gives no count",
        "drill": "Drill the tube and the replacement only, never the sleeve.",
    }


def _echo(job: InnerJob) -> dict[str, Any]:
    return {
        "tube": tube_echo(job.tube, job.metric), "sleeve": tube_echo(job.sleeve, job.metric),
        "sleeve_bought": tube_echo(job.bought, job.metric), "replacement": tube_echo(job.replacement, job.metric),
        "mitre_deg": job.cut.mitre_deg, "gap": job.gap.echo(), "length": job.length.echo() if job.length else None,
        "bead": job.bead.echo() if job.bead else None, "turned_od": job.turned.echo() if job.turned else None,
        "units": "mm" if job.metric else "in",
    }  # fmt: skip


def _numbers(job: InnerJob, made: dict[str, Any]) -> list[dict[str, Any]]:
    length, fit, rosette = made["length"], made["clearance"], made["rosette"]
    stub = made["stub_cut"]
    rows = [
        number("Sleeve blank", length["blank"], f"Square ends. Cut {SLEEVES}, one for each cut."),
        number("Saw mitre from square", f"{stub['mitre_deg']:g}°", f"{stub['to_axis_deg']:g}° to the tube's axis."),
        number("Cut depth along the tube", stub["depth"], "On the tube's outside, tip to heel."),
        number("Gap along the axis", stub["gap_axial"], f"Square across the slant: {stub['gap_across']['text']}."),
        number("Overlap needed", made["overlap"]["required"], "Sleeve end past the nearest end of the cut, each side."),
        number("Overlap given", made["overlap"]["given"], f"Each side, at {made['overlap']['judged_at']}."),
        number("Clearance on paper", fit["nominal"], "Tube inside minus sleeve outside, diameters."),
        number("Clearance at worst", f"{fit['worst_min']['text']} to {fit['worst_max']['text']}", "Tube held by its inside diameter."),
    ]
    if fit["by_wall_min"]:
        rows.append(number("Clearance at worst", f"{fit['by_wall_min']['text']} to {fit['by_wall_max']['text']}",
                           "Tube bought by outside diameter and wall."))  # fmt: skip
    if job.bead:
        rows.append(number("Clearance past the bead", fit["with_bead"]["nominal"], f"The bead takes {job.bead.typed} once, not twice."))
    if job.turned:
        rows.append(number("Sleeve wall after turning", made["wall_left"], f"Turned to {job.turned.typed}."))
    rows += [
        number("Rosette hole", rosette["sizes"][0]["diameter"], "In the tube, not the sleeve. " + rosette["sizes"][0]["source"]),
        number("Hole from the cut", rosette["from_cut"], rosette["where"]),
        number("Weld line, each cut", made["weld_line"], "Round the tube's outside, along the slant."),
        number("Shortest replacement to hide both sleeves", up(2 * made_length(job), job.metric), "On its shortest side."),
        number("Rule length", length["rule"], "3 D + D × tan(mitre) + gap."),
    ]
    return rows


def made_length(job: InnerJob) -> float:
    """Return the length the sleeve is made to: as given, else the blank, inches.

    Parameters
    ----------
    job : InnerJob

    Returns
    -------
    float
        Inches.

    Source: `inner_rule_length` and the shop's ruler (`core.methods.common.blank`).

    >>> import json
    >>> from core.methods.inner_sleeve_input import EXAMPLE
    >>> made_length(read_inner_job(json.loads(EXAMPLE)))
    7.875
    """
    if job.length:
        return float(job.length)
    return blank(inner_rule_length(job.tube.D, float(job.gap), job.cut), job.metric)


def _order(made: dict[str, Any]) -> list[str]:
    stub, length = made["stub_cut"], made["length"]
    return [
        "Brace the frame across the damage.",
        "Feel inside the tube for a weld bead.",
        f"Cut the damage out on the slant: saw at {stub['mitre_deg']:g}° from square.",
        f"Cut the replacement on the same slant. Leave {stub['gap_axial']['text']} along the axis at each cut.",
        f"Cut two sleeves: {length.get('given', length['blank'])['text']}. Square ends.",
        "Deburr every end, inside and outside.",
        "Scribe a line round the middle of each sleeve.",
        "Drill rosette holes in the tube and the replacement, if used. Deburr inside.",
        "Slide both sleeves into the replacement.",
        "Set the replacement in line between the stubs.",
        "Draw each sleeve out until its middle line shows in the gap.",
        "Measure the reach of each sleeve past the nearest end of its cut.",
        "Check alignment. Tack.",
        "Weld the first gap all round, into the sleeve.",
        "Let it cool completely.",
        "Weld the second gap all round, into the sleeve.",
    ]


def _assumptions(job: InnerJob) -> list[str]:
    notes = [
        "The sleeve sits with its middle in the middle of the gap.",
        "Both faces of the gap lie on the same slant. The cut is a flat saw cut.",
        "The gap is counted along the tube's axis. The circular's 1/8 in does not say which way it is measured (from memory).",
        "Worst case uses the DOM tolerances of ASTM A513 type 5. A used or bent tube can be outside them: measure both.",
    ]
    for what, part in (("tube", job.tube), ("sleeve", job.sleeve)):
        if part is job.sleeve and job.turned:
            notes.append("The sleeve is turned: its outside diameter is taken as measured, with no mill tolerance. Its bore is taken as central.")
            continue
        if part.material.process != "dom":
            notes.append(f"The {what} is {part.material.name}; its own tolerance table is not at hand, so the DOM table stands in.")
        if diameter_tolerance(part.D) is None:
            notes.append(f"The {what} is past the diameter tolerance table; no tolerance is counted for it.")
    wall = wall_tolerance(job.tube.D, job.tube.t)
    if wall is None:
        notes.append("The tube's wall is past the wall tolerance table; only the diameter tolerance is counted.")
    elif not wall.listed:
        notes.append("The tube's wall is between two rows of the wall table; the thicker row is used.")
    if not job.replacement_given:
        notes.append("The replacement is the same tube as the damaged one.")
    if job.bead:
        notes.append("The bead runs along one side, so it takes its height once from the diameter that is free.")
    return notes


def _notes(job: InnerJob) -> list[tuple[int, str]]:
    axial = float(job.gap)
    across = gap_across(axial, job.cut)
    notes = [(2, f"The gap is {job.gap.typed} along the axis: {fine_text(across, job.metric)} square across the slant. "
                 "If your rule measures it square across, enter the gap along the axis that gives it.")]  # fmt: skip
    return [*notes, *material_notes(Tube=job.tube, Sleeve=job.sleeve)]


def summary(data: Any) -> dict[str, Any]:
    """Return the tag's essentials and the checklist's figures for one inner sleeve.

    Parameters
    ----------
    data : mapping
        See `core.methods.inner_sleeve_input.read_inner_job`.

    Returns
    -------
    dict
        ``tag`` and ``context``, as `core.methods.outer_sleeve.summary`.

    Raises
    ------
    Problem
        For input that cannot be used.

    Source: `size`.

    >>> import json
    >>> from core.methods.inner_sleeve_input import EXAMPLE
    >>> summary(json.loads(EXAMPLE))["tag"]["length"]
    '7-7/8 in'
    """
    job = read_inner_job(data)
    hole = holes(job.sleeve.od.inches, job.tube, job.metric)[0]["diameter"]["text"]
    return splice_summary("inner sleeve", "inner-sleeve", job.tube, job.sleeve, job.cut, result(job)["length"], job.metric,
                          hole_diameter=hole, sleeves=SLEEVES)  # fmt: skip
