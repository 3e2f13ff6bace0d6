"""The cut list as short lines for a person at the saw; lengths in inches or millimetres.

Source of the wording: common practice, no source.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from core.quantity import mark_text

if TYPE_CHECKING:
    from core.cutting import CutPlan
    from core.cutting_layout import BarPlan, Cut


def cut_list_lines(plan: CutPlan, metric: bool = False) -> list[str]:
    """Return the lines of a plan; bars that are cut alike share one block.

    >>> from core.cutting import Bar, Piece, plan_cuts
    >>> cut_list_lines(plan_cuts([Piece("A", 8.5, 1)], [Bar("20 ft", 240.0)], 0.125))[7]
    '1. Cut square at 8-1/2 in. Mark the piece: A, 8-1/2 in.'
    """
    lines = [
        f"New bars: {plan.bars_used}. Remnants cut: {plan.remnants_used}.",
        plan.proof,
        f"First-fit, longest piece first, takes {plan.first_fit_bars} new bars.",
        f"Kerf {mark_text(plan.kerf, metric)}. Check it with a test cut.",
        "Put every mark on the bar before the first cut, measured from its first end.",
        "Put the blade beyond the mark, unless the line says before it.",
    ]
    blocks: dict[tuple, list[BarPlan]] = {}
    for bar in plan.bars:
        blocks.setdefault((bar.key, bar.pieces), []).append(bar)
    for same in blocks.values():
        lines += _block(same, metric)
    lines.append(f"Waste in all: {mark_text(plan.total_waste, metric)}. Remnants kept: {len(plan.kept)}.")
    return lines + list(plan.warnings)


def _block(same: list[BarPlan], metric: bool) -> list[str]:
    bar = same[0]
    kind = "Remnant" if bar.is_remnant else "Bar"
    number = f"no. {bar.number}" if len(same) == 1 else f"no. {bar.number} to {same[-1].number}, {len(same)} cut alike"
    lines = [f"{kind} {bar.key} {number}, {mark_text(bar.length, metric, 'down')} long:"]
    lengths = {piece.key: mark_text(piece.end - piece.start, metric) for piece in bar.pieces}
    lines += [f"{n}. {_cut(cut, metric, lengths)}" for n, cut in enumerate(bar.cuts, 1)]
    if sum(bool(cut.frees) for cut in bar.cuts) < len(bar.pieces):
        last = bar.pieces[-1].key
        lines.append(f"The rest is {last}, {lengths[last]}. It needs no cut.")
    if bar.keep:
        lines.append(f"Keep the offcut, {mark_text(bar.offcut, metric, 'down')}. Mark its size, material and heat number.")
    elif bar.offcut:
        lines.append(f"Scrap the offcut, {mark_text(bar.offcut, metric, 'down')}.")
    return lines


def _cut(cut: Cut, metric: bool, lengths: dict[str, str]) -> str:
    at, angle = mark_text(cut.position, metric), f"{cut.mitre_deg:g}°"
    frees = f" Mark the piece: {cut.frees}, {lengths[cut.frees]}." if cut.frees else ""
    if cut.kind == "mitre-first":
        return f"Mitre {angle} with the tip at {at} on the top line. Blade before the mark. Scrap the wedge."
    if cut.kind == "mitre":
        return f"Mitre {angle}, same way, at {at} on the top line.{frees}"
    if cut.kind == "mitre-off":
        return f"Mitre {angle}, same way, at {at} on the top line: the far end of the last scarf. Scrap the wedge.{frees}"
    if cut.kind == "trim":
        return f"Trim square at {at}. Less than a blade's width is left.{frees}"
    return f"Cut square at {at}.{frees}"
