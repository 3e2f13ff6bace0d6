"""The replaced section of an outer-sleeve splice: how long the piece is, and whether two sleeves fit on it.

The damage is cut out square, a replacement tube goes between the two stubs, and one sleeve
goes over each joint. The middle of a sleeve sits on its joint, so half of each sleeve, to
its tip, lies on the replacement. Lengths in inches.
"""

from __future__ import annotations

from typing import Any

from core.assess import WELD_ROOM
from core.methods.common import number
from core.quantity import down, fine_text, near, quantity, up
from core.rules import Check, clause, verdict
from core.size_input import SizeJob
from core.sleeve import rule_length

LARGEST_BUTT_GAP = 1 / 32
WELD_ROOM_WORDS = "common practice, no source"


def replacement_range(opening: float) -> tuple[float, float]:
    """Return the least and the most length of the replacement piece, inches.

    opening - 1/32 <= replacement <= opening

    Parameters
    ----------
    opening : float
        Stub end to stub end, inches, > 1/32.

    Returns
    -------
    tuple of float
        Least, most.

    Source: AC 43.13-1B (Change 1, 2001) 4-96, total gap up to 1/32 in, from memory.

    >>> replacement_range(12.0)
    (11.96875, 12.0)
    """
    return max(0.0, opening - LARGEST_BUTT_GAP), opening


def least_replacement(sleeve_length: float) -> float:
    """Return the shortest replacement that carries two sleeves with room to weld each, inches.

    L/2 + 1/4 + 1/4 + L/2 = L + 1/2

    Parameters
    ----------
    sleeve_length : float
        L, tip to tip on the sleeve's outside, the same for both, inches, > 0.

    Returns
    -------
    float
        Inches.

    Source: geometry by hand; 1/4 in of room at each weld is common practice, no source.

    >>> least_replacement(8.125)
    8.625
    """
    return sleeve_length + 2 * WELD_ROOM


def replacement_result(job: SizeJob, made: float) -> dict[str, Any]:
    """Return the ``replacement`` member of a sized outer sleeve.

    Parameters
    ----------
    job : SizeJob
        With ``opening``, ``replacement`` or both.
    made : float
        Sleeve length tip to tip, inches, > 0.

    Returns
    -------
    dict
        ``least``, ``most`` (None without an opening), ``given``, ``total_gap`` (None where
        not known), ``sleeve_reach``, ``between_sleeves``, ``least_for_two``,
        ``least_opening``, ``numbers``, ``order``.

    Source: `replacement_range`, `least_replacement`.

    >>> import json
    >>> from core.size_input import EXAMPLE, read_size_job
    >>> replacement_result(read_size_job({**json.loads(EXAMPLE), "opening": "12 in"}), 8.125)["between_sleeves"]["text"]
    '3.875 in'
    """
    metric, room = job.metric, least_replacement(made)
    least = most = gap = None
    if job.opening:
        least, most = replacement_range(float(job.opening))
        # In a tight opening the two sleeves, not the gap, set the shortest piece.
        least = max(least, room) if most >= room else least
        least, most = up(least, metric), down(most, metric)
    if job.opening and job.replacement:
        gap = near(total_gap(job), metric)
    between = None if _carrier(job) is None else down(_carrier(job) - made, metric)
    given = quantity(float(job.replacement), job.replacement.typed) if job.replacement else None
    parts = {
        "least": least, "most": most, "given": given, "total_gap": gap,
        "sleeve_reach": near(made / 2, metric), "between_sleeves": between,
        "least_for_two": up(room, metric), "least_opening": up(room, metric),
    }  # fmt: skip
    return {**parts, "numbers": _numbers(parts, job), "order": _order(parts)}


def total_gap(job: SizeJob) -> float:
    """Return opening - replacement, inches, from the exact typed values; negative is too long.

    Parameters
    ----------
    job : SizeJob
        With an opening and a replacement, each over 0 to 240 in.

    Returns
    -------
    float
        Inches.

    Source: hand.

    >>> import json
    >>> from core.size_input import EXAMPLE, read_size_job
    >>> total_gap(read_size_job({**json.loads(EXAMPLE), "opening": "12 in", "replacement": "11-31/32 in"}))
    0.03125
    """
    return float(job.opening.inches - job.replacement.inches)


def replacement_checks(job: SizeJob, made: float) -> list[Check]:
    """Return the checks of a replaced section: bearing, room for two sleeves, gap counted.

    Parameters
    ----------
    job : SizeJob
        With ``opening``, ``replacement`` or both.
    made : float
        Sleeve length tip to tip, inches, > 0.

    Returns
    -------
    list of Check

    Source: AC 43.13-1B 4-96 (from memory); room common practice, no source.

    >>> import json
    >>> from core.size_input import EXAMPLE, read_size_job
    >>> job = read_size_job({**json.loads(EXAMPLE), "opening": "12 in", "replacement": "12 in"})
    >>> [(check.id, check.verdict) for check in replacement_checks(job, 8.125)]
    [('replacement_bearing', 'met'), ('sleeves_apart', 'met'), ('gap_counted', 'met')]
    """
    return [_bearing_check(job), _apart_check(job, made), _counted_check(job, made)]


def _carrier(job: SizeJob) -> float | None:
    """Return the length the two sleeves share: the piece as cut, else the longest that goes in."""
    part = job.replacement or job.opening
    return None if part is None else float(part)


def _bearing_check(job: SizeJob) -> Check:
    rule = clause("outer-sleeve").label()
    limit = f"0 to {'0.79 mm' if job.metric else '1/32 in'} in total"
    if not job.opening or not job.replacement:
        ask = "Measure from stub end to stub end." if not job.opening else "Cut the replacement, measure it and type its length."
        return Check("replacement_bearing", rule, "not measured", limit, "unknown", ask)
    gap = total_gap(job)
    if gap < 0:
        met, text = False, "The replacement is longer than the opening. It will not go in. Trim it square."
    elif gap > LARGEST_BUTT_GAP + 1e-12:
        met, text = False, "The replacement is too short to bear on both stubs. Cut a longer one. Do not fill the gap."
    else:
        met, text = True, "The replacement bears on both stubs."
    return Check("replacement_bearing", rule, fine_text(gap, job.metric, "down" if gap < 0 else "up"), limit, verdict(met), text)


def _apart_check(job: SizeJob, made: float) -> Check:
    need, carrier = least_replacement(made), _carrier(job)
    met = carrier >= need - 1e-9
    needed = fine_text(need, job.metric, "up")
    if met:
        text = "Both sleeves fit on the replacement with room to weld."
    else:
        text = (f"Two sleeves of this length do not fit. The replacement and the opening must be {needed} or longer. "
                "Cut out more of the tube, use one longer sleeve over both joints, or use another method.")  # fmt: skip
    given = job.replacement.typed if job.replacement else f"at most {job.opening.typed}"
    return Check("sleeves_apart", WELD_ROOM_WORDS, given, f"at least {needed} (sleeve + room for two welds)", verdict(met), text)


def _counted_check(job: SizeJob, made: float) -> Check:
    """Return whether the sleeve keeps 1.5 D should the whole gap gather at one joint."""
    known = bool(job.opening and job.replacement)
    gap = min(max(total_gap(job), 0.0), LARGEST_BUTT_GAP) if known else LARGEST_BUTT_GAP
    need = rule_length(job.D, job.Ds, max(job.g, gap), job.cut)
    met = made >= need - 1e-9
    needed = fine_text(need, job.metric, "up")
    where = "the measured gap" if known else "the widest gap allowed"
    text = f"The sleeve keeps 1.5 D with {where} all at one joint." if met else f"Short with {where} all at one joint. Enter that gap as the gap, or cut the sleeves at {needed} or longer."
    return Check("gap_counted", clause("outer-sleeve").label(), fine_text(made, job.metric, "down" if not met else "near"),
                 f"at least {needed}", verdict(met), text)  # fmt: skip


def _numbers(parts: dict[str, Any], job: SizeJob) -> list[dict[str, Any]]:
    rows: list[tuple[str, Any, str]] = []
    if parts["least"]:
        rows += [("Opening, stub end to stub end", quantity(float(job.opening), job.opening.typed), ""),
                 ("Replacement, least", parts["least"], "Total gap up to 1/32 in (0.79 mm), and room for both sleeves."),
                 ("Replacement, most", parts["most"], "No gap.")]  # fmt: skip
    if parts["given"]:
        rows.append(("Replacement as cut", parts["given"], ""))
    if parts["total_gap"]:
        rows.append(("Total gap, both joints", parts["total_gap"], ""))
    rows += [("Each sleeve reaches over the replacement", parts["sleeve_reach"], "To its tip, on the sleeve's outside."),
             ("Between the sleeve tips", parts["between_sleeves"], "Needs 1/4 in (6.35 mm) for each weld; common practice, no source."),
             ("Least opening for two sleeves", parts["least_opening"], "Shorter: one longer sleeve over both joints, or another method.")]  # fmt: skip
    return [number(*row) for row in rows]


def _order(parts: dict[str, Any]) -> list[str]:
    cut = "Measure the opening. Cut the replacement to it."
    if parts["least"]:
        cut = f"Cut the replacement square, {parts['least']['text']} to {parts['most']['text']}."
    return [
        "Use the same tube as the damaged one: same material, same outside diameter, wall no thinner.",
        cut,
        "Deburr it. Slide both sleeves clear of the joints.",
        "Set the replacement between the stubs. Measure both gaps. Add them.",
        "Slide each sleeve over its joint, its middle on the joint.",
        "Tack each sleeve in two places.",
        "Weld both ends of one sleeve. Let it cool. Then weld the other sleeve.",
    ]
