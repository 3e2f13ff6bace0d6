"""Size one outer sleeve: the one code path behind the page, the API and the command line.

Lengths in inches, angles in degrees.
"""

from __future__ import annotations

from typing import Any

from core.fit import clearance, fit_checks, tolerance_notes
from core.methods.common import (
    angle_check,
    blank,
    clearance_block,
    holes,
    material_notes,
    overlap_text,
    ranked,
    share_text,
    splice_summary,
    tube_echo,
)
from core.methods.replacement import LARGEST_BUTT_GAP, replacement_checks, replacement_result
from core.quantity import down, fine_text, near, quantity, ruler_text, up
from core.rosette import stations
from core.rules import DEFERENCE, Check, clause, verdict
from core.saw import USUAL_RUN, USUAL_STOP, saw_note, saw_setting
from core.size_input import SizeJob, read_size_job
from core.sleeve import overlap, required_overlap, rule_length, shorthand_length, weld_line


def size(data: Any) -> dict[str, Any]:
    """Return the full result of one sizing job as JSON-ready data.

    L = 3 D + gap + 2 (depth of the cut on the sleeve's outside)

    Parameters
    ----------
    data : mapping
        See `core.size_input.read_size_job`.

    Returns
    -------
    dict
        ``length`` (rule, shorthand, blank, cut_depth, bar_use), ``overlap`` (required,
        sleeve_outside, sleeve_inside, weld_root), ``weld_line``, ``clearance``, ``rosette``,
        ``saw``, ``checks``, ``assumptions``, ``sources``, ``warnings``, ``deference``; with an
        ``opening`` or a ``replacement`` also ``replacement`` (`core.methods.replacement`).
        Each length is ``{"mm", "in", "text"}``, mm and in unrounded.

    Raises
    ------
    Problem
        For input that cannot be used.

    Source: AC 43.13-1B (Change 1, 2001) 4-96, from memory; `core.sleeve`, `core.fit`, `core.rosette`.

    >>> import json
    >>> from core.size_input import EXAMPLE
    >>> size(json.loads(EXAMPLE))["length"]["blank"]["text"]
    '8-1/8 in'
    """
    return result(read_size_job(data))


def result(job: SizeJob) -> dict[str, Any]:
    """Return the result of a job already read (see `size`).

    Parameters
    ----------
    job : SizeJob

    Returns
    -------
    dict
        As `size`.

    Source: AC 43.13-1B (Change 1, 2001) 4-96, from memory.

    >>> import json
    >>> from core.size_input import EXAMPLE
    >>> result(read_size_job(json.loads(EXAMPLE)))["overlap"]["required"]["text"]
    '2.438 in'
    """
    numbers = _numbers(job)
    checks = [_overlap_check(job, numbers), *fit_checks(job.tube, job.sleeve, job.metric),
              _gap_check(job), _end_check(job), _angle_check(job)]  # fmt: skip
    replaced = job.opening or job.replacement
    if replaced:
        checks += replacement_checks(job, numbers["make"])
    return {
        "method": "outer-sleeve",
        "input": _echo(job),
        "length": numbers["length"],
        "overlap": numbers["overlap"],
        "weld_line": numbers["weld_line"],
        "clearance": numbers["clearance"],
        "rosette": _rosettes(job, numbers["make"]),
        "saw": _saw(job),
        **({"replacement": replacement_result(job, numbers["make"])} if replaced else {}),
        "checks": [check.as_dict() for check in checks],
        "assumptions": _assumptions(job),
        "sources": [clause(key).as_dict() for key in ("outer-sleeve", "larger-tube", "dom", "rosette", "plug", "shorthand", "rosette-practice", "seam-practice")],
        "warnings": ranked(checks, _notes(job, numbers)),
        "deference": DEFERENCE,
    }


def made_length(job: SizeJob) -> float:
    """Return the length the drawing and the holes go by: as given, else the blank, inches.

    Parameters
    ----------
    job : SizeJob

    Returns
    -------
    float
        Inches.

    Source: `blank_length`.

    >>> import json
    >>> from core.size_input import EXAMPLE
    >>> made_length(read_size_job({**json.loads(EXAMPLE), "length": "8-1/2 in"}))
    8.5
    """
    return float(job.length) if job.length else blank_length(job)


def blank_length(job: SizeJob) -> float:
    """Return rule length + twice the trim, rounded up to the shop's ruler, inches.

    Parameters
    ----------
    job : SizeJob
        Trim on each end 0 to 6 in, none if not given.

    Returns
    -------
    float
        Inches, on a 1/16 in ruler, or 1 mm for a metric job.

    Source: `core.sleeve.rule_length`; ruler common practice, no source.

    >>> import json
    >>> from core.size_input import EXAMPLE
    >>> [blank_length(read_size_job({**json.loads(EXAMPLE), "trim": trim})) for trim in ("0 in", "1/8 in")]
    [8.125, 8.375]
    """
    return blank(rule_length(job.D, job.Ds, job.g, job.cut) + 2 * float(job.trim or 0), job.metric)


def _numbers(job: SizeJob) -> dict[str, Any]:
    D, Ds, g, cut, metric = job.D, job.Ds, job.g, job.cut, job.metric
    rule, short, blank = rule_length(D, Ds, g, cut), shorthand_length(D, cut), blank_length(job)
    judged = float(job.length) if job.length else rule
    fit = clearance(job.tube, job.sleeve)

    def on_surfaces(length: float) -> dict[str, Any]:
        surfaces = {"sleeve_outside": Ds / 2, "sleeve_inside": job.sleeve.d / 2, "weld_root": D / 2}
        reach = {name: overlap(length, radius, Ds, g, cut) for name, radius in surfaces.items()}
        return {name: quantity(value, overlap_text(value, required_overlap(D), metric)) for name, value in reach.items()}

    return {
        "make": made_length(job),
        "length": {
            "rule": quantity(rule, ruler_text(rule, metric, "up")),
            "rule_surface": "tip to tip on the sleeve's outside",
            "shorthand": quantity(short, ruler_text(short, metric, "near")),
            "shorthand_overlap": on_surfaces(short),
            "blank": quantity(blank, ruler_text(blank, metric, "up")),
            "bar_use": up(blank + float(job.kerf or 0), metric),
            "cut_depth": near(cut.depth(Ds / 2), metric),
            **({"given": quantity(float(job.length), job.length.typed)} if job.length else {}),
        },
        "overlap": {"required": up(required_overlap(D), metric),
                    "judged_at": job.length.typed if job.length else "rule length", **on_surfaces(judged)},
        "weld_line": near(weld_line(D, cut), metric),
        "clearance": clearance_block(fit, metric),
    }  # fmt: skip


def _rosettes(job: SizeJob, made: float) -> dict[str, Any]:
    places = stations(made, job.Ds, job.g, job.cut)
    sizes = holes(job.tube.od.inches, job.sleeve, job.metric)
    largest = max(row["diameter"]["in"] for row in sizes)
    return {
        "sizes": sizes,
        "per_end": len(places),
        "stations": [{"angle_deg": place.angle_deg,
                      "from_tip": quantity(place.from_tip, _station_text(place.from_tip, job.metric)),
                      "from_middle": quantity(place.from_middle, _station_text(place.from_middle, job.metric)),
                      "edge_room": down(place.edge_room(largest), job.metric)} for place in places],
        "drill": "Drill the sleeve only, never the tube.",
    }  # fmt: skip


def _station_text(inches: float, metric: bool) -> str:
    return ruler_text(inches, metric, "near", None if metric else 1 / 32)


def _saw(job: SizeJob) -> dict[str, Any]:
    setting = saw_setting(job.cut, USUAL_STOP, USUAL_RUN, job.metric)
    return {
        "mitre_deg": job.cut.mitre_deg,
        "to_axis_deg": 90.0 - job.cut.mitre_deg,
        "cuts_per_end": {"pointed": 2, "fishmouth": 2, "scarf": 1, "square": 1}[job.cut.end],
        "note": saw_note(setting, USUAL_STOP, given=False),
    }


def _echo(job: SizeJob) -> dict[str, Any]:
    return {
        "tube": tube_echo(job.tube, job.metric), "sleeve": tube_echo(job.sleeve, job.metric), "end": job.cut.end, "mitre_deg": job.cut.mitre_deg,
        "gap": job.gap.echo(), "length": job.length.echo() if job.length else None, "units": "mm" if job.metric else "in",
        **{name: value.echo() for name in ("opening", "replacement") if (value := getattr(job, name))},
    }  # fmt: skip


def _overlap_check(job: SizeJob, numbers: dict[str, Any]) -> Check:
    least = numbers["overlap"]["sleeve_outside"]["in"]
    need = required_overlap(job.D)
    met = least >= need - 1e-9
    share = least / job.D
    if met:
        text = f"The sleeve reaches 1.5 D or more past each stub end ({share_text(share, 3)} D on its outside)."
    else:
        text = (f"Too short: {share_text(share, 3)} D on the sleeve's outside, {share_text(numbers['overlap']['sleeve_inside']['in'] / job.D, 3)} D on its inside, "
                f"{share_text(numbers['overlap']['weld_root']['in'] / job.D, 4)} D on the weld-root line. Cut a new sleeve at {numbers['length']['rule']['text']} or longer.")  # fmt: skip
    return Check("overlap", clause("outer-sleeve").label(), overlap_text(least, need, job.metric),
                 f"at least {fine_text(need, job.metric, 'up')} (1.5 D)", verdict(met), text)  # fmt: skip


def _gap_check(job: SizeJob) -> Check:
    met = job.g <= LARGEST_BUTT_GAP + 1e-12
    text = "The replacement bears on the stubs." if met else "The gap is too wide. Fit a longer replacement piece, or square the stub ends and fit again."
    limit = "0.79 mm" if job.metric else "1/32 in"
    return Check("gap", clause("outer-sleeve").label(), job.gap.typed, f"at most {limit} in total", verdict(met), text)


def _end_check(job: SizeJob) -> Check:
    met = job.cut.end != "square"
    text = {
        "fishmouth": "Fishmouth: the end the circular prefers. File the sharp crotch out round.",
        "scarf": "A diagonal end. The circular prefers a fishmouth wherever it can be used.",
        "pointed": "A pointed end is two diagonal cuts. The circular draws a diagonal and a fishmouth: ask the inspector if they take it.",
        "square": "The circular asks for diagonal or fishmouth ends. A square end puts the whole weld on one line around the tube.",
    }[job.cut.end]
    return Check("end", clause("outer-sleeve").label(), job.cut.end, "diagonal or fishmouth", verdict(met), text)


def _angle_check(job: SizeJob) -> Check:
    if job.cut.end == "square":
        return Check("end_angle", clause("split-sleeve").label(), "square", "30° to the axis", "not met",
                     "The circular's figures draw the ends 30° to the axis.")  # fmt: skip
    return angle_check(job.cut, clause("split-sleeve").label())


def _assumptions(job: SizeJob) -> list[str]:
    notes = [
        "The sleeve sits with its middle over the middle of the cut.",
        "Lengths are tip to tip on the sleeve's outside, ends as flat saw cuts.",
        "Shop shorthand leaves out the gap.",
        *tolerance_notes(job.tube, job.sleeve),
    ]
    if job.kerf is None:
        notes.append("No saw kerf was given; bar use counts the blank only.")
    if job.trim is None:
        notes.append("No trim was given; the blank has none beyond the ruler's rounding.")
    if job.sleeve.seam == "unknown" and job.sleeve.material.process in ("dom", "seamless"):
        notes.append(f"{job.sleeve.material.name} sleeve: taken as free of an inside bead. Look.")
    return notes


def _notes(job: SizeJob, numbers: dict[str, Any]) -> list[tuple[int, str]]:
    notes = []
    if numbers["length"]["shorthand_overlap"]["sleeve_outside"]["in"] < required_overlap(job.D) - 1e-9:
        short = numbers["length"]["rule"]["in"] - numbers["length"]["shorthand"]["in"]
        notes.append((2, f"Shop shorthand is short here by {fine_text(short, job.metric, 'up')}. Cut by the rule length."))
    notes += material_notes(Tube=job.tube, Sleeve=job.sleeve)
    return [*notes, (3, "The circular uses an outer sleeve only where other methods do not suit. Write down why it was chosen.")]


def summary(data: Any) -> dict[str, Any]:
    """Return the tag's essentials and the checklist's figures for one sizing job.

    Parameters
    ----------
    data : mapping
        See `core.size_input.read_size_job`.

    Returns
    -------
    dict
        ``tag``: tube, sleeve, material, end, mitre_deg, length, method, clause as text;
        ``context``: the members `core.checklist.checklist_for` takes.

    Raises
    ------
    Problem
        For input that cannot be used.

    Source: `size`.

    >>> import json
    >>> from core.size_input import EXAMPLE
    >>> summary(json.loads(EXAMPLE))["tag"]["method"]
    'outer sleeve'
    """
    job = read_size_job(data)
    hole = holes(job.tube.od.inches, job.sleeve, job.metric)[0]["diameter"]["text"]
    replaced = {"sleeves": 2} if job.opening or job.replacement else {}
    return splice_summary("outer sleeve", "outer-sleeve", job.tube, job.sleeve, job.cut, _numbers(job)["length"], job.metric,
                          hole_diameter=hole, end_shape=job.cut.end, **replaced)  # fmt: skip
