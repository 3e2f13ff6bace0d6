"""Size a split sleeve: two half sleeves welded over a straightened dent, crack or bend.

The geometry is that of an outer sleeve whose gap is the damage: the nearest sleeve metal
lies 1.5 D past each end of the damage. Two slits take metal out of the sleeve's
circumference, which decides whether the halves meet around the tube. Lengths in inches.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from core.fit import fit_checks, nominal_clearance, tolerance_notes
from core.lengths import Length
from core.methods.common import material_notes, number, overlap_text, ranked, share_text, splice_summary
from core.methods.outer_sleeve import blank_length, made_length
from core.methods.split_sleeve_input import SplitJob, read_split_job
from core.quantity import down, fine_text, near, quantity, ruler_text, up
from core.rules import DEFERENCE, PRACTICE, Check, clause, verdict
from core.size_input import SizeJob
from core.sleeve import EndCut, overlap, required_overlap, rule_length, weld_line
from core.tube import Tube

DAMAGE = ("dent", "crack", "bend")
STOP_DRILL = 0.098


def closed_bore(bore: float, kerf: float) -> float:
    """Return the bore two halves have when bent round until both slits close, inches.

    (pi d - 2 k) / pi = d - 2 k / pi

    Parameters
    ----------
    bore : float
        Inside diameter d before slitting, inches, > 0.
    kerf : float
        Width k of one slit, inches, 0 to 1/2.

    Returns
    -------
    float
        Inches.

    Source: hand; two slits take 2 k out of the circumference.

    >>> round(closed_bore(1.635, 0.0625), 4)
    1.5952
    """
    return bore - 2 * kerf / math.pi


def seam_gap(tube_od: float, bore: float, kerf: float) -> float:
    """Return the opening left at each seam with both halves clamped onto the tube, inches.

    (pi D - (pi d - 2 k)) / 2 = k - pi (d - D) / 2, never under 0

    Parameters
    ----------
    tube_od, bore, kerf : float
        D, d and k, inches; D and d over 0, k 0 to 1/2.

    Returns
    -------
    float
        Inches.

    Source: hand; what the tube's circumference has over the two half bores.

    >>> round(seam_gap(1.625, 1.635, 0.0625), 4)
    0.0468
    """
    return max(0.0, kerf - math.pi * (bore - tube_od) / 2)


def seam_lengths(length: float, Ds: float, cut: EndCut) -> tuple[float, float]:
    """Return the least and the most length of both long seams together, on the sleeve's outside.

    A seam at angle a is L - 2 (tip reach) + 2 profile(a) long; both lie half a turn apart.
    Scarf: 2 L - 2 Ds T wherever the slits are. Pointed and fishmouth: from 2 L - 2 Ds T with
    the slits in the valleys to 2 L with the slits through the tips.

    Parameters
    ----------
    length, Ds : float
        Sleeve length tip to tip on its outside and sleeve outside diameter, inches.
    cut : EndCut

    Returns
    -------
    tuple of float
        Least, most; inches, never under 0.

    Source: geometry by hand; tests compare with a sampling of the profile.

    >>> [round(x, 3) for x in seam_lengths(12.375, 1.875, EndCut("scarf", 60))]
    [18.255, 18.255]
    """
    shorter = max(0.0, 2 * length - 2 * Ds * cut.slope)
    return shorter, shorter if cut.end == "scarf" else 2 * length


def size(data: Any) -> dict[str, Any]:
    """Return the full result of one split sleeve as JSON-ready data.

    L = damage + 3 D + 2 (depth of the cut on the sleeve's outside)

    Parameters
    ----------
    data : mapping
        See `core.methods.split_sleeve_input.read_split_job`.

    Returns
    -------
    dict
        ``method``, ``input``, ``length`` (rule, blank, bar_use, cut_depth, given), ``overlap``,
        ``slit``, ``weld``, ``numbers``, ``order``, ``checks``, ``assumptions``, ``sources``,
        ``warnings``, ``deference``.

    Raises
    ------
    Problem
        For input that cannot be used.

    Source: AC 43.13-1B (Change 1, 2001) 4-92, read; geometry `core.sleeve`.

    >>> import json
    >>> from core.methods.split_sleeve_input import EXAMPLE
    >>> size(json.loads(EXAMPLE))["length"]["blank"]["text"]
    '12-3/8 in'
    """
    return result(read_split_job(data))


def result(job: SplitJob) -> dict[str, Any]:
    """Return the result of a job already read (see `size`).

    Parameters
    ----------
    job : SplitJob

    Returns
    -------
    dict
        As `size`.

    Source: AC 43.13-1B (Change 1, 2001) 4-92, read.

    >>> import json
    >>> from core.methods.split_sleeve_input import EXAMPLE
    >>> result(read_split_job(json.loads(EXAMPLE)))["slit"]["seam_gap"]["text"]
    '0.047 in'
    """
    sized = job.sized
    parts = {"length": _lengths(sized), "overlap": _overlaps(sized), "slit": _slit(sized), "weld": _welds(sized)}
    checks = _checks(job, parts)
    return {
        "method": "split-sleeve",
        "input": _echo(job),
        **parts,
        "numbers": _numbers(job, parts),
        "order": _order(job, parts),
        "checks": [check.as_dict() for check in checks],
        "assumptions": _assumptions(job),
        "sources": [clause(key).as_dict() for key in ("split-sleeve", "larger-tube", "dom", "seam-practice")],
        "warnings": ranked(checks, _notes(job)),
        "deference": DEFERENCE,
    }


def _lengths(job: SizeJob) -> dict[str, Any]:
    rule, blank = rule_length(job.D, job.Ds, job.g, job.cut), blank_length(job)
    return {
        "rule": quantity(rule, ruler_text(rule, job.metric, "up")),
        "rule_surface": "tip to tip on the sleeve's outside",
        "blank": quantity(blank, ruler_text(blank, job.metric, "up")),
        "bar_use": up(blank + float(job.kerf or 0), job.metric),
        "cut_depth": near(job.cut.depth(job.Ds / 2), job.metric),
        **({"given": quantity(float(job.length), job.length.typed)} if job.length else {}),
    }


def _overlaps(job: SizeJob) -> dict[str, Any]:
    judged = float(job.length) if job.length else rule_length(job.D, job.Ds, job.g, job.cut)
    need = required_overlap(job.D)
    surfaces = {"sleeve_outside": job.Ds / 2, "sleeve_inside": job.sleeve.d / 2, "weld_root": job.D / 2}
    reach = {name: overlap(judged, radius, job.Ds, job.g, job.cut) for name, radius in surfaces.items()}
    return {"required": up(need, job.metric), "judged_at": job.length.typed if job.length else "rule length",
            **{name: quantity(value, overlap_text(value, need, job.metric)) for name, value in reach.items()}}  # fmt: skip


def _slit(job: SizeJob) -> dict[str, Any]:
    if job.kerf is None:
        return {"kerf": None, "bore_lost": None, "closed_bore": None, "seam_gap": None, "least_bore": None}
    kerf, metric = float(job.kerf), job.metric
    lost = 2 * kerf / math.pi
    return {
        "kerf": quantity(kerf, job.kerf.typed),
        "bore_lost": up(lost, metric),
        "closed_bore": down(closed_bore(job.sleeve.d, kerf), metric),
        "seam_gap": up(seam_gap(job.D, job.sleeve.d, kerf), metric),
        "least_bore": up(job.D + lost, metric),
    }


def _welds(job: SizeJob) -> dict[str, Any]:
    least, most = seam_lengths(made_length(job), job.Ds, job.cut)
    end = weld_line(job.D, job.cut)
    return {
        "seams_least": near(least, job.metric), "seams_most": near(most, job.metric),
        "seams_surface": "on the sleeve's outside", "each_end": near(end, job.metric),
        "each_end_surface": "on the tube's outside", "total_most": up(most + 2 * end, job.metric),
    }  # fmt: skip


def _checks(job: SplitJob, parts: dict[str, Any]) -> list[Check]:
    sized, rule = job.sized, clause("split-sleeve").label()
    return [_damage_check(job, rule), _overlap_check(sized, parts, rule), _end_check(sized, rule), _angle_check(sized, rule),
            *fit_rules(sized.tube, sized.sleeve, sized.metric), _slit_check(sized, parts)]  # fmt: skip


def fit_rules(tube: Tube, sleeve: Tube, metric: bool) -> list[Check]:
    """Return the checks of the sleeve alone, before it is slit, as `core.fit.fit_checks`.

    Parameters
    ----------
    tube, sleeve : Tube
        Sizes in inches.
    metric : bool

    Returns
    -------
    list of Check

    Source: AC 43.13-1B (Change 1, 2001) 4-92; clearance limit 4-97.

    >>> from core.tube import read_tube
    >>> tube, sleeve = (read_tube({"od": od, "wall": ".120", "material": "dom-1020"}) for od in ("1-5/8", "1-7/8"))
    >>> [check.verdict for check in fit_rules(tube, sleeve, False)]
    ['met', 'unknown', 'met', 'met', 'met']
    """
    fits = {check.id: check for check in fit_checks(tube, sleeve, metric)}
    # 4-92 asks for the same wall and material itself; its "approximately equal" bore has no figure.
    for name in ("wall", "material"):
        fits[name] = replace(fits[name], clause=clause("split-sleeve").label())
    fits["clearance"] = replace(fits["clearance"], clause=clause("larger-tube").label())
    return list(fits.values())


def _damage_check(job: SplitJob, rule: str) -> Check:
    met = job.damage in DAMAGE
    text = "The method is for this kind of damage." if met else f"The method is for a dent, crack or bend, not for a {job.damage}. Choose another method."
    return Check("damage", rule, job.damage, "dent, crack or bend", verdict(met), text)


def _overlap_check(job: SizeJob, parts: dict[str, Any], rule: str) -> Check:
    least, need = parts["overlap"]["sleeve_outside"]["in"], required_overlap(job.D)
    met = least >= need - 1e-9
    share = share_text(least / job.D, 3)
    if met:
        text = f"The sleeve reaches 1.5 D or more past each end of the damage ({share} D on its outside)."
    else:
        text = f"Too short: {share} D on the sleeve's outside. Cut a new sleeve at {parts['length']['rule']['text']} or longer."
    return Check("overlap", rule, overlap_text(least, need, job.metric), f"at least {fine_text(need, job.metric, 'up')} (1.5 D)", verdict(met), text)


def _end_check(job: SizeJob, rule: str) -> Check:
    met = True if job.cut.end == "scarf" else None
    text = "A diagonal end, as the circular words it." if met else f"The circular words a diagonal cut here, not a {job.cut.end}. Ask the inspector about this end."
    return Check("end", rule, job.cut.end, "diagonal (scarf)", verdict(met), text)


def _angle_check(job: SizeJob, rule: str) -> Check:
    angle = 90 - job.cut.mitre_deg
    met = abs(angle - 30) < 1e-9
    text = "The angle the circular asks for." if met else "The circular asks for 30° to the axis: set the saw at 60° from square."
    return Check("end_angle", rule, f"{angle:g}° to the axis", "30° to the axis", verdict(met), text)


def _slit_check(job: SizeJob, parts: dict[str, Any]) -> Check:
    limit = "halves meet edge to edge on the tube"
    if job.kerf is None:
        return Check("slit", PRACTICE, "kerf not given", limit, "unknown", "Measure the width of the saw cut and give it.")
    slit = parts["slit"]
    # Exact typed values; pi alone is inexact, and no typed kerf meets it to the last digit.
    closes = float(nominal_clearance(job.tube, job.sleeve)) * math.pi >= 2 * float(job.kerf) - 1e-12
    if closes:
        return Check("slit", PRACTICE, "no gap", limit, "met", "The halves meet at both seams on the tube.")
    text = (f"The two slits take {slit['bore_lost']['text']} off the bore if the halves are closed up: they would be too small for the tube. "
            f"Weld across a gap of about {slit['seam_gap']['text']} at each seam, or slit stock with a bore of {slit['least_bore']['text']} or more, "
            "inside the clearance limit once closed. Ask the qualified welder about the gap.")  # fmt: skip
    return Check("slit", PRACTICE, f"gap {slit['seam_gap']['text']} at each seam", limit, "unknown", text)


def _numbers(job: SplitJob, parts: dict[str, Any]) -> list[dict[str, Any]]:
    length, slit, weld = parts["length"], parts["slit"], parts["weld"]
    rows: list[tuple[str, Any, str]] = [
        ("Damage, along the tube", quantity(job.sized.g, job.sized.gap.typed), "Measure it after straightening, to the ends of the stop holes."),
        ("Reach past each end of the damage, least", parts["overlap"]["required"], "1.5 D, to the nearest sleeve metal."),
        ("Rule length", length["rule"], "Tip to tip on the sleeve's outside."),
        ("Cut the blank at", length["blank"], "Tip to tip, rounded up to the ruler."),
        ("Depth of each cut end", length["cut_depth"], "Tip to valley, on the sleeve's outside."),
    ]
    if job.damage == "crack":
        rows.append(("Stop hole at each crack end", quantity(STOP_DRILL, "No. 40 (0.098 in, 2.49 mm)"), "AC 43.13-1B 4-92."))
    if slit["kerf"]:
        rows += [("Bore lost if the slits are closed", slit["bore_lost"], "2 slits, 2 k / π on the diameter."),
                 ("Gap at each seam, halves clamped on the tube", slit["seam_gap"], "0 means the halves meet."),
                 ("Bore for halves that meet, least", slit["least_bore"], "Before slitting.")]  # fmt: skip
    seams = f"{weld['seams_least']['text']} to {weld['seams_most']['text']}"
    rows += [("Both long seams together", weld["seams_most"] if job.sized.cut.end == "scarf" else seams, "On the sleeve's outside; slits in the valleys to slits through the tips." if job.sized.cut.end != "scarf" else "On the sleeve's outside."),
             ("Weld at each end", weld["each_end"], "On the tube's outside."),
             ("All weld, most", weld["total_most"], "Both seams and both ends.")]  # fmt: skip
    return [number(*row) for row in rows]


def _order(job: SplitJob, parts: dict[str, Any]) -> list[str]:
    stop = ["Drill a No. 40 hole (0.098 in) at each end of the crack."] if job.damage == "crack" else []
    blank = parts["length"].get("given", parts["length"]["blank"])["text"]
    return [
        "Straighten the tube carefully. Look for new cracks.",
        *stop,
        "Do not fill the dent or crack with rod.",
        f"Cut the sleeve at {blank}. Saw both ends {90 - job.sized.cut.mitre_deg:g}° to the axis.",
        "Slit the sleeve full length on two opposite lines. Mark the halves.",
        "Clamp both halves over the damage. Turn the seams clear of the crack.",
        f"Measure the reach past the damage on both sides: {parts['overlap']['required']['text']} or more.",
        "Weld both long seams.",
        "Weld one end all round. Let it cool. Weld the other end.",
    ]


def _assumptions(job: SplitJob) -> list[str]:
    notes = [
        "The sleeve sits with its middle over the middle of the damage.",
        "Lengths are tip to tip on the sleeve's outside, ends as flat saw cuts.",
        "The circular asks for a bore about the tube's outside diameter and gives no figure here; the 1/16 in of 4-97 is used.",
        "Cool between the ends and seams clear of the crack: common practice, no source.",
        *tolerance_notes(job.sized.tube, job.sized.sleeve),
    ]
    if job.sized.kerf is None:
        notes.append("No kerf was given; the fit of the halves is not worked out, bar use counts the blank only.")
    else:
        notes.append("The kerf is taken the same for the slits and for cutting the bar.")
    return notes


def _notes(job: SplitJob) -> list[tuple[int, str]]:
    notes = [(1, "Filling a dent or crack with rod instead of a sleeve is not acceptable to the circular.")]
    if job.damage == "crack":
        notes.append((1, "Find both ends of the crack and stop-drill them first. A crack that runs into a joint is another repair."))
    return [*notes, *material_notes(Tube=job.sized.tube, Sleeve=job.sized.sleeve)]


def _echo(job: SplitJob) -> dict[str, Any]:
    def echo(part: Length | None) -> str | None:
        return part.echo() if part else None

    def tube(part: Tube) -> dict[str, Any]:
        return {"od": part.od.echo(), "wall": part.wall.echo(), "inside": near(part.d, job.sized.metric),
                "material": part.material.key, "material_name": part.material.name, "seam": part.seam}  # fmt: skip

    sized = job.sized
    return {"tube": tube(sized.tube), "sleeve": tube(sized.sleeve), "damage": job.damage, "damage_length": sized.gap.echo(),
            "end": sized.cut.end, "mitre_deg": sized.cut.mitre_deg, "length": echo(sized.length), "kerf": echo(sized.kerf),
            "units": "mm" if sized.metric else "in"}  # fmt: skip


def summary(data: Any) -> dict[str, Any]:
    """Return the tag's essentials and the checklist's figures for one split sleeve.

    Parameters
    ----------
    data : mapping
        See `core.methods.split_sleeve_input.read_split_job`.

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
    >>> from core.methods.split_sleeve_input import EXAMPLE
    >>> summary(json.loads(EXAMPLE))["tag"]["length"]
    '12-3/8 in'
    """
    job = read_split_job(data)
    sized = job.sized
    return splice_summary("split sleeve", "split-sleeve", sized.tube, sized.sleeve, sized.cut, _lengths(sized), sized.metric,
                          end_shape=sized.cut.end)  # fmt: skip
