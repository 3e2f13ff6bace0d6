"""Size a welded patch over a small dent or hole.

The circular's text limits the damage and the patch's wall and material. It gives no figure
for how far the patch reaches past the damage: that is in its figure 4-36, which was not at
hand. The least outline here is the damage alone; a margin is used only if a person gives it.
Lengths in inches, angles in degrees.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

from core.assess import assess
from core.gauges import GAUGE_INCHES, gauge_for, gauge_text, next_thicker
from core.lengths import Length
from core.materials import Material, same_class
from core.methods.common import number
from core.methods.patch_input import ASKED, PatchJob, read_patch_job
from core.quantity import down, fine_text, near, quantity, ruler_text, up
from core.rules import DEFERENCE, Check, clause, verdict
from core.tube import Tube, plain_size

MARGIN_TEXT = "How far the patch reaches past the damage comes from the circular's figure 4-36 or from the inspector."

# A wall typed as a rounded millimetre sits a hair off its gauge; gauges are .007 in apart at the least.
GAUGE_SLACK = Fraction(3, 1000)


def flat_width(arc: float, D: float, wall: float) -> float:
    """Return the width to cut from flat sheet for a patch that covers an arc of the tube, inches.

    w = arc (1 + t / D): the same angle at the middle of the patch's wall, radius (D + t) / 2.

    Parameters
    ----------
    arc : float
        Along the tube's outside, inches, > 0 and under pi D.
    D, wall : float
        Tube outside diameter and wall t of the patch, inches, > 0.

    Returns
    -------
    float
        Inches.

    Source: geometry by hand; no stretch at mid-wall is common practice, no source.

    >>> round(flat_width(1.75, 1.625, 0.134), 4)
    1.8943
    """
    return arc * (1 + wall / D)


def size(data: Any) -> dict[str, Any]:
    """Return the full result of one patch as JSON-ready data.

    Parameters
    ----------
    data : mapping
        See `core.methods.patch_input.read_patch_job`.

    Returns
    -------
    dict
        ``method``, ``input``, ``limits`` (depth, around, length), ``wall`` (next_gauge),
        ``outline`` (least and, with a margin, patch), ``length`` (blank, with a margin),
        ``numbers``, ``order``, ``checks``, ``assumptions``, ``sources``, ``warnings``,
        ``deference``.

    Raises
    ------
    Problem
        For input that cannot be used.

    Source: AC 43.13-1B (Change 1, 2001) 4-94, read; place rule from memory.

    >>> import json
    >>> from core.methods.patch_input import EXAMPLE
    >>> size(json.loads(EXAMPLE))["wall"]["next_gauge"]["text"]
    '10 ga (0.134 in, 3.4 mm)'
    """
    return result(read_patch_job(data), data)


def result(job: PatchJob, data: dict[str, Any]) -> dict[str, Any]:
    """Return the result of a job already read (see `size`).

    Parameters
    ----------
    job : PatchJob
    data : mapping
        What `job` was read from.

    Returns
    -------
    dict
        As `size`.

    Source: AC 43.13-1B (Change 1, 2001) 4-94, read.

    >>> import json
    >>> from core.methods.patch_input import EXAMPLE
    >>> data = json.loads(EXAMPLE)
    >>> result(read_patch_job(data), data)["limits"]["depth"]["text"]
    '0.162 in'
    """
    found, metric = job.found, job.metric
    outline = _outline(job)
    checks = _checks(job, data)
    blank = {"length": {"blank": outline["patch"]["length"]}} if outline["patch"] else {}
    parts = {
        "limits": {"length": down(found.D, metric), "around": down(math.pi * found.D / 4, metric),
                   **({"depth": down(found.D / 10, metric)} if found.damage == "dent" else {})},
        "wall": {"tube": quantity(found.tube.t, found.tube.wall.typed), "patch": quantity(float(job.wall), job.wall.typed),
                 "next_gauge": _gauge_quantity(job)},
        "outline": outline, **blank,
    }  # fmt: skip
    return {
        "method": "patch",
        "input": _echo(job),
        **parts,
        "numbers": _numbers(job, parts),
        "order": _order(job, outline),
        "checks": [check.as_dict() for check in checks],
        "assumptions": _assumptions(job),
        "sources": [clause(key).as_dict() for key in ("patch", "patch-place")],
        "warnings": _warnings(job, checks),
        "deference": DEFERENCE,
    }


def _outline(job: PatchJob) -> dict[str, Any]:
    length, around = job.found.inches("damage_length"), job.found.inches("around")
    margin = float(job.margin) if job.margin else None
    patch = None if margin is None else _extent(job, length + 2 * margin, around + 2 * margin, "up")
    return {
        "least": _extent(job, length, around, "fine"),
        "margin": None if margin is None else quantity(margin, job.margin.typed),
        "patch": patch, "note": "Ruler sizes are rounded up." if patch else MARGIN_TEXT,
    }  # fmt: skip


def _extent(job: PatchJob, length: float, around: float, way: str) -> dict[str, Any]:
    D, wall, metric = job.found.D, float(job.wall), job.metric
    flat = flat_width(around, D, wall)

    def ruler(inches: float) -> dict[str, Any]:
        return quantity(inches, ruler_text(inches, metric, "up")) if way == "up" else up(inches, metric)

    return {"length": ruler(length), "around": ruler(around), "around_surface": "along the tube's outside",
            "flat_width": ruler(flat), "flat_surface": "at the middle of the patch's wall",
            "angle_deg": math.degrees(2 * around / D)}  # fmt: skip


def gauge_wanted(tube_wall: Fraction) -> Fraction | None:
    """Return the wall one gauge over the tube's, inches, None past 7 gauge.

    A wall within .003 in of a gauge counts as that gauge: 3 mm tube is 11 gauge, so its
    patch is 10 gauge, not 11.

    Parameters
    ----------
    tube_wall : Fraction
        Wall of the damaged tube, inches, > 0.

    Returns
    -------
    Fraction or None
        Inches.

    Source: AC 43.13-1B (Change 1, 2001) 4-94; the .003 in is common practice, no source.

    >>> gauge_wanted(Fraction(120, 1000)), gauge_wanted(Fraction(300, 2540))
    (Fraction(67, 500), Fraction(67, 500))
    """
    nearest = min(GAUGE_INCHES.values(), key=lambda gauge: abs(gauge - tube_wall))
    return next_thicker(float(nearest if abs(nearest - tube_wall) <= GAUGE_SLACK else tube_wall))


def _gauge_quantity(job: PatchJob) -> dict[str, Any] | None:
    first = gauge_wanted(job.found.tube.wall.inches)
    return None if first is None else quantity(float(first), gauge_text(first))


def _checks(job: PatchJob, data: dict[str, Any]) -> list[Check]:
    # The limits of the damage are the assessment's own: one place decides them.
    fields = {name: data[name] for name in ("tube", "damage", "depth", "damage_length", "around", "units", *ASKED) if name in data}
    (entry,) = [method for method in assess(fields)["methods"] if method["key"] == "patch"]
    return [*(Check(**check) for check in entry["checks"]), _joint_check(job), *stock_rules(job.found.tube, job.wall, job.material),
            _margin_check(job)]  # fmt: skip


def _joint_check(job: PatchJob) -> Check:
    outcome = None if job.over_joint is None else not job.over_joint
    words = {True: "yes", False: "no", None: "not looked at"}[job.over_joint]
    text = {True: "The patch stays clear of joints.", False: "No patch over a joint. Use another method.",
            None: "Look first. Would the patch cover a joint?"}[outcome]  # fmt: skip
    return Check("over_joint", clause("patch-place").label(), words, "no", verdict(outcome), text)


def stock_rules(tube: Tube, wall: Length, steel: Material) -> list[Check]:
    """Return the checks of what a patch is cut from: wall and material.

    Parameters
    ----------
    tube : Tube
        The damaged tube.
    wall : Length
        Wall of the patch, inches, .020 to .750.
    steel : Material
        Of the patch.

    Returns
    -------
    list of Check
        Wall, then material.

    Source: AC 43.13-1B (Change 1, 2001) 4-94, read.

    >>> from core.lengths import read_length
    >>> from core.materials import MATERIALS
    >>> from core.tube import read_tube
    >>> tube = read_tube({"od": "1-5/8", "wall": ".120", "material": "dom-1020"})
    >>> [check.verdict for check in stock_rules(tube, read_length(".134 in"), MATERIALS["dom-1020"])]
    ['met', 'met']
    """
    return [_wall_check(tube, wall), _material_check(tube, steel)]


def _wall_check(tube: Tube, patch: Length) -> Check:
    rule = clause("patch").label()
    first = gauge_wanted(tube.wall.inches)
    if first is None:
        return Check("wall", rule, patch.typed, "one gauge thicker than the tube", "unknown",
                     "The gauge table ends at 7 gauge (.180 in). Ask the inspector which wall to use.")  # fmt: skip
    limit = f"one gauge thicker than the tube: {gauge_text(first)}"
    second = next_thicker(float(first))
    if patch.inches < first - GAUGE_SLACK:
        outcome, text = False, f"Too thin. The circular asks for one gauge thicker than the tube: {gauge_text(first)}."
    elif second is not None and patch.inches >= second - GAUGE_SLACK:
        outcome, text = None, "More than one gauge thicker. The circular says one gauge. Ask the inspector."
    else:
        outcome, text = True, "One gauge thicker than the tube."
    return Check("wall", rule, patch.typed, limit, verdict(outcome), text)


def _material_check(tube: Tube, steel: Material) -> Check:
    outcome = same_class(tube.material, steel)
    text = {True: "Tube and patch are of the same class of steel.",
            None: "The steel of one of them is not known. Find the certificate or the mark first.",
            False: "Tube and patch are of different steels. The circular asks for the same material. Choose another patch."}[outcome]  # fmt: skip
    return Check("material", clause("patch").label(), f"{steel.name} on {tube.material.name}", "the same material", verdict(outcome), text)


def _margin_check(job: PatchJob) -> Check:
    text = MARGIN_TEXT if job.margin is None else f"The margin is yours; nothing here can judge it. {MARGIN_TEXT}"
    given = "not given" if job.margin is None else job.margin.typed
    return Check("margin", "AC 43.13-1B figure 4-36 (not at hand)", given, "as the figure draws it", "unknown", text)


def _numbers(job: PatchJob, parts: dict[str, Any]) -> list[dict[str, Any]]:
    found, limits, outline = job.found, parts["limits"], parts["outline"]
    rows: list[tuple[str, Any, str]] = []
    gauge = parts["wall"]["next_gauge"]
    rows.append(("Wall of the patch", gauge or "ask the inspector", "One gauge thicker than the tube. Tubing gauge; sheet gauge differs."))
    if outline["patch"]:
        patch = outline["patch"]
        rows += [("Cut the patch, along the tube", patch["length"], "Damage and the margin on both sides."),
                 ("Cut the patch, from flat sheet", patch["flat_width"], "Width before it is formed, at the middle of its wall."),
                 ("Patch once formed, around the tube", patch["around"], "Along the tube's outside."),
                 ("Patch, part of the way around", f"{patch['angle_deg']:.0f}°", "")]  # fmt: skip
    else:
        least = outline["least"]
        rows += [("Least outline, along the tube", least["length"], "The damage alone. The patch must be longer."),
                 ("Least outline, around the tube", least["around"], "The damage alone, along the tube's outside. The patch must be wider."),
                 ("Least outline, as flat sheet", least["flat_width"], "The damage alone, at the middle of the patch's wall."),
                 ("Reach past the damage", "unknown", MARGIN_TEXT)]  # fmt: skip
    rows += [("Damage along the tube, most", limits["length"], "D."), ("Damage around the tube, most", limits["around"], "1/4 of the way around.")]
    if found.damage == "dent":
        rows.append(("Depth of the dent, most", limits["depth"], "D/10."))
    return [number(*row) for row in rows]


def _order(job: PatchJob, outline: dict[str, Any]) -> list[str]:
    cut = "Get the patch's reach past the damage: figure 4-36 or the inspector. Then cut the patch."
    if outline["patch"]:
        cut = f"Cut the patch: {_blank_text(outline)}."
    first = ["Look for cracks, scrapes and sharp corners. Found one: stop, no patch.", "Work the dent back to shape. It cracks: stop, no patch."]
    return [
        *(first if job.found.damage == "dent" else ["Look for cracks at the edge of the hole. Found one: stop and ask the inspector."]),
        cut,
        "Form the patch until it lies on the tube all round. Round its corners.",
        "Clean tube and patch to bright metal.",
        "Tack the patch at its corners.",
        "Weld half of the edge. Let it cool. Weld the rest.",
    ]


def _blank_text(outline: dict[str, Any]) -> str:
    return f"{outline['patch']['length']['text']} long, {outline['patch']['flat_width']['text']} wide flat"


def _assumptions(job: PatchJob) -> list[str]:
    notes = [
        "Damage around the tube is measured along its outside.",
        "Flat width holds at the middle of the patch's wall; a patch cut from tube of a near size needs less forming. Common practice, no source.",
        "Corners, tacks and welding in two halves: common practice, no source.",
        MARGIN_TEXT,
    ]
    if gauge_for(job.found.tube.wall.inches) is None:
        notes.append("The tube's wall is not a gauge of the table. Within .003 in it counts as that gauge; else the next gauge over it is used.")
    if job.found.damage == "hole" and job.found.lengths["depth"] is not None:
        notes.append("A depth was given for a hole; it is not judged. A hole in a dent is a dent as well: look at both.")
    return notes


def _warnings(job: PatchJob, checks: list[Check]) -> list[dict[str, Any]]:
    """Return warnings, the ones that can hurt someone first."""
    found = [(1, f"{check.text} Patch rule not met: {check.given}; {check.limit}.") for check in checks if check.verdict == "not met"]
    found += [(2 if check.id == "margin" else 3, check.text) for check in checks if check.verdict == "unknown"]
    for steel, what in ((job.found.tube.material, "Tube"), (job.material, "Patch")):
        if steel.note:
            found.append((3, f"{what}: {steel.note}"))
    return [{"rank": rank, "text": text} for rank, text in sorted(found, key=lambda item: item[0])]


def _echo(job: PatchJob) -> dict[str, Any]:
    found = job.found
    lengths = {name: value.echo() for name in ("depth", "damage_length", "around") if (value := found.lengths[name])}
    tube = {"od": found.tube.od.echo(), "wall": found.tube.wall.echo(), "inside": near(found.tube.d, job.metric),
            "material": found.tube.material.key, "material_name": found.tube.material.name, "seam": found.tube.seam}  # fmt: skip
    patch = {"wall": job.wall.echo(), "material": job.material.key, "material_name": job.material.name}
    return {"tube": tube, "patch": patch, "damage": found.damage, **lengths, "margin": job.margin.echo() if job.margin else None,
            "units": "mm" if job.metric else "in"}  # fmt: skip


def summary(data: Any) -> dict[str, Any]:
    """Return the tag's essentials and the checklist's figures for one patch.

    Parameters
    ----------
    data : mapping
        See `core.methods.patch_input.read_patch_job`.

    Returns
    -------
    dict
        ``tag``: tube, sleeve (the patch), material, end, mitre_deg, length, method, clause as
        text; ``context``: the members `core.checklist.checklist_for` takes.

    Raises
    ------
    Problem
        For input that cannot be used.

    Source: `size`.

    >>> import json
    >>> from core.methods.patch_input import EXAMPLE
    >>> summary({**json.loads(EXAMPLE), "margin": "1/2 in"})["tag"]["length"]
    '2 in'
    """
    job = read_patch_job(data)
    outline = _outline(job)
    tube = job.found.tube
    wall = fine_text(float(job.wall), job.metric)
    length = outline["patch"]["length"]["text"] if outline["patch"] else "not set"
    steel, first = tube.material.steel_class, gauge_wanted(tube.wall.inches)
    return {
        "tag": {
            "tube": plain_size(tube), "sleeve": f"patch {wall} {job.material.name}", "material": job.material.name, "end": "patch",
            "mitre_deg": "none", "length": length, "method": "patch", "clause": clause("patch").label(),
        },
        "context": {
            "tube": plain_size(tube), "sleeve": f"{wall} {job.material.name}", "material": job.material.name, "od": tube.D, "wall": tube.t,
            "metric": job.metric,
            **({"blank_length": _blank_text(outline)} if outline["patch"] else {}),
            **({"patch_wall": float(first)} if first else {}),
            **({"material_class": steel} if steel != "unknown" else {}),
        },
    }  # fmt: skip
