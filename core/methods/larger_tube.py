"""Size one larger-diameter replacement tube: it slides over both stubs and spans the opening.

Lengths in inches, mitre in degrees.

Source: AC 43.13-1B (Change 1, 2001) 4-97; fitting travel and cover by hand.
"""

from __future__ import annotations

from typing import Any

from core.fit import clearance, tolerance_notes
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
from core.methods.larger_tube_checks import LONG_STUB, SHORT_STUB, all_checks
from core.methods.larger_tube_input import LargerJob, read_larger_job
from core.quantity import down, near, quantity, ruler_text, up
from core.rosette import stations
from core.rules import DEFERENCE, clause
from core.sleeve import overlap, required_overlap, rule_length, weld_line


def fitting_travel(length: float, opening: float) -> float:
    """Return the bare long stub the new tube needs to be slid on, L - opening.

    The stub ends stay where they are. The new tube goes onto the long stub until its other
    end, tips included, is level with the short stub's end; what does not fit in the opening
    then lies on the long stub.

    Parameters
    ----------
    length : float
        New tube, tip to tip on its outside, inches, > 0.
    opening : float
        Distance between the stub ends, inches, >= 0.

    Returns
    -------
    float
        Inches, never under 0.

    Source: geometry by hand.

    >>> fitting_travel(14.125, 6.0)
    8.125
    """
    return max(length - opening, 0.0)


def cover(length: float, opening: float) -> float:
    """Return the stub hidden under the centred new tube on each side, tips included, inches.

    (L - opening) / 2

    Parameters
    ----------
    length, opening : float
        As in `fitting_travel`, inches.

    Returns
    -------
    float
        Inches; negative when the new tube is shorter than the opening.

    Source: geometry by hand.

    >>> cover(14.125, 6.0)
    4.0625
    """
    return (length - opening) / 2


def size(data: Any) -> dict[str, Any]:
    """Return the full result of one larger replacement tube as JSON-ready data.

    L = opening + 3 D + 2 depth(Ds/2), `core.sleeve.rule_length` with the opening as gap.

    Parameters
    ----------
    data : mapping
        See `core.methods.larger_tube_input.read_larger_job`.

    Returns
    -------
    dict
        ``length`` (rule, blank, given, cut_depth), ``overlap``, ``stubs``, ``travel``,
        ``cover``, ``weld_line``, ``clearance``, ``rosette``, ``numbers``, ``order``,
        ``checks``, ``assumptions``, ``sources``, ``warnings``, ``deference``. Each length is
        ``{"mm", "in", "text"}``.

    Raises
    ------
    Problem
        For input that cannot be used.

    Source: AC 43.13-1B (Change 1, 2001) 4-97.

    >>> import json
    >>> from core.methods.larger_tube_input import EXAMPLE
    >>> size(json.loads(EXAMPLE))["length"]["blank"]["text"]
    '14-1/8 in'
    """
    return result(read_larger_job(data))


def result(job: LargerJob) -> dict[str, Any]:
    """Return the result of a job already read (see `size`).

    Parameters
    ----------
    job : LargerJob

    Returns
    -------
    dict
        As `size`.

    Source: AC 43.13-1B (Change 1, 2001) 4-97.

    >>> import json
    >>> from core.methods.larger_tube_input import EXAMPLE
    >>> result(read_larger_job(json.loads(EXAMPLE)))["stubs"]["short_least"]["text"]
    '4.063 in'
    """
    D, Ds, g, cut, metric = job.tube.D, job.sleeve.D, job.g, job.cut, job.metric
    rule = rule_length(D, Ds, g, cut)
    cut_to = blank(rule, metric)
    made_to = float(job.length) if job.length else cut_to
    judged = float(job.length) if job.length else rule
    need = required_overlap(D)
    surfaces = {"sleeve_outside": Ds / 2, "sleeve_inside": job.sleeve.d / 2, "weld_root": D / 2}
    reach = {name: overlap(judged, radius, Ds, g, cut) for name, radius in surfaces.items()}
    # The stubs must take the tube that is really made, so travel and cover go by the blank.
    travel, hidden = fitting_travel(made_to, g), cover(made_to, g)
    checks = all_checks(job, reach["sleeve_outside"], hidden, travel)
    made = {
        "method": "larger-tube",
        "input": _echo(job),
        "length": {
            "rule": quantity(rule, ruler_text(rule, metric, "up")),
            "rule_surface": "tip to tip on the new tube's outside",
            "blank": quantity(cut_to, ruler_text(cut_to, metric, "up")),
            "cut_depth": near(cut.depth(Ds / 2), metric),
            **({"given": quantity(float(job.length), job.length.typed)} if job.length else {}),
        },
        "overlap": {
            "required": up(need, metric),
            "judged_at": job.length.typed if job.length else "rule length",
            **{name: quantity(value, overlap_text(value, need, metric)) for name, value in reach.items()},
        },
        "stubs": {"short_least": up(SHORT_STUB * D, metric), "long_least": up(LONG_STUB * D, metric)},
        "travel": up(travel, metric),
        "cover": up(hidden, metric),
        "weld_line": near(weld_line(D, cut), metric),
        "clearance": clearance_block(clearance(job.tube, job.sleeve), metric),
        "rosette": _rosettes(job, made_to),
        "checks": [check.as_dict() for check in checks],
        "assumptions": _assumptions(job),
        "sources": [clause(key).as_dict() for key in ("larger-tube", "dom", "rosette", "plug", "rosette-practice", "seam-practice")],
        "warnings": ranked(checks, _notes(job)),
        "deference": DEFERENCE,
    }  # fmt: skip
    made["numbers"], made["order"] = _numbers(job, made), _order(job, made)
    return made


def _rosettes(job: LargerJob, made_to: float) -> dict[str, Any]:
    sizes = holes(job.tube.od.inches, job.sleeve, job.metric)
    largest = max(row["diameter"]["in"] for row in sizes)
    places = stations(made_to, job.sleeve.D, job.g, job.cut)
    return {
        "sizes": sizes,
        "per_end": len(places),
        "stations": [{"angle_deg": place.angle_deg, "from_tip": near(place.from_tip, job.metric),
                      "from_middle": near(place.from_middle, job.metric),
                      "edge_room": down(place.edge_room(largest), job.metric)} for place in places],
        "drill": "Drill the new tube only, never the stub.",
    }  # fmt: skip


def _echo(job: LargerJob) -> dict[str, Any]:
    def said(value):
        return value.echo() if value else None

    return {
        "tube": tube_echo(job.tube, job.metric), "sleeve": tube_echo(job.sleeve, job.metric), "end": job.cut.end,
        "mitre_deg": job.cut.mitre_deg, "opening": job.opening.echo(), "stub_short": said(job.stub_short),
        "stub_long": said(job.stub_long), "length": said(job.length), "units": "mm" if job.metric else "in",
    }  # fmt: skip


def mitre_text(job: LargerJob) -> str:
    """Return the saw's mitre as a person reads it: "60°" or "square".

    Parameters
    ----------
    job : LargerJob
        Its cut's mitre in degrees from square, over 0 and up to 75.

    Returns
    -------
    str

    Source: the project's own form; nothing is computed.

    >>> import json
    >>> from core.methods.larger_tube_input import EXAMPLE
    >>> mitre_text(read_larger_job(json.loads(EXAMPLE)))
    '60°'
    """
    return "square" if job.cut.end == "square" else f"{job.cut.mitre_deg:g}°"


def _numbers(job: LargerJob, made: dict[str, Any]) -> list[dict[str, Any]]:
    length, fit, rosette, stubs = made["length"], made["clearance"], made["rosette"], made["stubs"]
    rows = [
        number("New tube blank", length["blank"], "Tip to tip on its outside."),
        number("Saw mitre from square", mitre_text(job), f"Shape: {job.cut.end}, both ends."),
        number("Cut depth", length["cut_depth"], "Along the new tube's outside, tip to crotch or heel."),
        number("Short stub at least", stubs["short_least"], "2.5 D, end to the nearest joint, bend or tab."),
        number("Long stub at least", stubs["long_least"], "4.5 D."),
        number("Long stub to slide on", made["travel"], "Bare stub the new tube needs while its other end clears the short stub."),
        number("Stub under the new tube", made["cover"], "Each side, to the tips."),
        number("Overlap needed", made["overlap"]["required"], "Nearest metal past each stub end."),
        number("Overlap given", made["overlap"]["sleeve_outside"], f"On the new tube's outside, at {made['overlap']['judged_at']}."),
        number("Clearance on paper", fit["nominal"], "New tube inside minus old tube outside, diameters."),
        number("Clearance at worst", f"{fit['worst_min']['text']} to {fit['worst_max']['text']}", "New tube held by its inside diameter."),
    ]
    if fit["by_wall_min"]:
        rows.append(number("Clearance at worst", f"{fit['by_wall_min']['text']} to {fit['by_wall_max']['text']}",
                           "New tube bought by outside diameter and wall."))  # fmt: skip
    rows.append(number("Rosette hole", rosette["sizes"][0]["diameter"], "In the new tube, not the stub. " + rosette["sizes"][0]["source"]))
    if rosette["stations"]:
        rows.append(number("Hole from the tip", rosette["stations"][0]["from_tip"], f"On each tip line, {rosette['per_end']} an end."))
    rows += [
        number("Weld line, each end", made["weld_line"], "Round the old tube's outside."),
        number("Rule length", length["rule"], "Opening + 3 D + 2 × cut depth, tip to tip on the outside."),
    ]
    return rows


def _order(job: LargerJob, made: dict[str, Any]) -> list[str]:
    length = made["length"]
    crotch = ["File each crotch to a radius with a small round file."] if job.cut.end == "fishmouth" else []
    return [
        "Brace the frame across the damage.",
        "Cut the damage out square, past every crack.",
        "Measure both stubs to the nearest joint, bend or tab.",
        f"Cut the new tube: {length.get('given', length['blank'])['text']} tip to tip.",
        f"Cut both ends: {job.cut.end}" + (f", saw at {mitre_text(job)} from square." if job.cut.end != "square" else "."),
        *crotch,
        "Deburr the new tube and the stubs.",
        f"Mark the reach on each stub: {made['overlap']['required']['text']} back from its end.",
        "Slide the new tube fully onto the long stub.",
        "Align the stubs.",
        "Slide the new tube back over the short stub.",
        "Centre it on the opening. Check the marks.",
        "Tack each end in two places.",
        "Weld one end all round.",
        "Let it cool completely.",
        "Weld the other end all round.",
    ]


def _assumptions(job: LargerJob) -> list[str]:
    return [
        "The new tube sits with its middle over the middle of the opening.",
        "The stub ends are square. Lengths are tip to tip on the new tube's outside, ends as flat saw cuts.",
        "Sliding on: the stubs stay in line and where they are, and the long stub is straight and bare.",
        "The 4.5 D of the circular covers a square-ended tube. A cut end is longer and needs more of the long stub (by hand).",
        *(note.replace("sleeve", "new tube") for note in tolerance_notes(job.tube, job.sleeve)),
    ]


def _notes(job: LargerJob) -> list[tuple[int, str]]:
    notes = [(2, "Not near clusters, nor where a bracket needs the old diameter.")]
    return [*notes, *material_notes(Old_tube=job.tube, New_tube=job.sleeve)]


def summary(data: Any) -> dict[str, Any]:
    """Return the tag's essentials and the checklist's figures for one larger tube.

    Parameters
    ----------
    data : mapping
        See `core.methods.larger_tube_input.read_larger_job`.

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
    >>> from core.methods.larger_tube_input import EXAMPLE
    >>> summary(json.loads(EXAMPLE))["tag"]["end"]
    'fishmouth'
    """
    job = read_larger_job(data)
    hole = holes(job.tube.od.inches, job.sleeve, job.metric)[0]["diameter"]["text"]
    return splice_summary("larger tube", "larger-tube", job.tube, job.sleeve, job.cut, result(job)["length"], job.metric,
                          hole_diameter=hole, end_shape=job.cut.end)  # fmt: skip
