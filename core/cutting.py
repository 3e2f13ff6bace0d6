"""Cut planning: sleeves and blanks of one size and material over bars and remnants.

**Kerf.** A square cut eats k. Pieces in a row take l + k each, and the last cut of a bar may run
out at the bar's end: a piece that ends there needs no cut. So n pieces fit when
sum(l + k) <= bar + k. By hand: a 20 in bar and k = 1/8 in yields two 9-15/16 in blanks
(9.9375 + 0.125 + 9.9375 = 20), no second cut.

**Mitres.** A mitre of m from square spans W = Ds tan m along the bar and its kerf eats k / cos m
(2 k at 60°). The two ends of a scarf are parallel, so neighbours nest: they share one mitred
cut, and each takes (L - W) + k / cos m, with L the overall length, tip to tip. A run of scarfs
starts with one trim end and is cut off the bar square, so a run of n takes
n (L - W + k / cos m) + (W + k - k / cos m) = L + (n - 1)(L - W + k / cos m) + k.
By hand: Ds 1.875 in, m 60°, k 1/8 in, L 11.370 in: W = 3.248, k / cos m = 0.250, each nested
scarf 8.372; three take 11.370 + 2 × 8.372 + 0.125 = 28.239 in, against 34.485 in as square
blanks. Different mitres do not nest; each mitre on a bar has its own run.

**Order of wishes.** 1. Fewest new bars. 2. Least cost of the new bars. 3. Remnants first: the
least length of pieces from new bars. 4. Least waste: all that is neither piece nor kept
offcut. 5. The longest kept remnant. Each is decided before the next.

Lengths in inches. Source: geometry by hand; the order of wishes, common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from core.cutting_input import (
    Bar,
    Inches,
    Piece,
    Scale,
    bad,
    check,
    exact,
    is_length,
    mitre_use,
    read_cutting,
    to_units,
)
from core.cutting_layout import BarPlan, Cut, Placed, lay_out
from core.cutting_master import Solution, rank, solve
from core.cutting_text import cut_list_lines
from core.problems import Problem

__all__ = ["Bar", "BarPlan", "Cut", "CutPlan", "Piece", "Placed", "plan_cuts", "read_cutting"]

ASSUMPTIONS = (
    "All pieces and bars are one size and one material. Bars are straight, with square ends.",
    "The last cut of a bar may run out at its end. A cut that would leave less than a kerf is a trim cut.",
    "Scarfs are nested with parallel mitres; their length is overall, tip to tip.",
    "Order of wishes: fewest new bars, then least cost, then remnants first, then least waste, then the longest remnant.",
)


@dataclass(frozen=True)
class CutPlan:
    """A cut plan; lengths in inches.

    Attributes
    ----------
    bars : tuple of BarPlan
        Remnants first, each with its pieces and cuts in sawing order.
    bars_used, remnants_used : int
        New bars and remnants that get cut.
    bound : int
        No plan needs fewer new bars than this.
    proved : bool
        Whether `bars_used` equals `bound`.
    proof : str
        The bound in words.
    weights : dict
        A weight for each piece: the certificate of the bound, empty when a search gave it.
    ties_proved : bool
        Whether the lower wishes (cost, remnants, waste, longest remnant) are proved as well.
    first_fit_bars : int
        New bars of the first-fit-decreasing plan, for comparison.
    total_waste : float
        Kerfs, trim ends and offcuts too short to keep.
    kept : tuple of float
        Offcuts kept as remnants, longest first.
    """

    bars: tuple[BarPlan, ...]
    bars_used: int
    remnants_used: int
    bound: int
    proved: bool
    proof: str
    weights: dict[str, int]
    ties_proved: bool
    first_fit_bars: int
    total_waste: float
    kept: tuple[float, ...]
    kerf: float
    min_remnant: float
    assumptions: tuple[str, ...]
    warnings: tuple[str, ...]

    def text(self, metric: bool = False) -> list[str]:
        """Return the cut list for a person at the saw, one action a line."""
        return cut_list_lines(self, metric)

    def as_dict(self) -> dict[str, Any]:
        """Return the JSON form, with the text lines."""
        return {**asdict(self), "text": self.text()}


def plan_cuts(
    pieces: Sequence[Piece],
    bars: Sequence[Bar],
    kerf: Inches,
    *,
    min_remnant: Inches = 0,
    sleeve_od: Inches | None = None,
    time_limit: float = 10.0,
) -> CutPlan:
    """Return the cut plan with the fewest new bars, and the proof of how few are possible.

    Formula: see the module's text for the kerf, the nesting and the order of wishes.

    Parameters
    ----------
    pieces : sequence of Piece
        1 to 60 kinds, 5000 pieces in all.
    bars : sequence of Bar
        1 to 60 kinds.
    kerf : float, Fraction or Length
        Inches the saw eats in a square cut, >= 0, less than every piece.
    min_remnant : float, Fraction or Length
        Inches, >= 0: the shortest offcut worth keeping.
    sleeve_od : float, Fraction or Length, optional
        Inches; needed for scarfs.
    time_limit : float
        Seconds of solver time, over 0 to 600.

    Returns
    -------
    CutPlan
        When the limit ends the search first, `proved` is False and `proof` says between
        which numbers the least lies.

    Raises
    ------
    Problem
        ``bad-cutting``, ``piece-too-long``, or ``not-enough-stock`` when the bars on hand are
        too few.

    Notes
    -----
    Source: Gilmore and Gomory's pattern model, from memory; solver HiGHS. Kerf and nesting are
    geometry, worked by hand above.

    >>> plan = plan_cuts([Piece("A", 9.9375, 2)], [Bar("stick", 20)], 0.125)
    >>> plan.bars_used, plan.proved, [cut.position for cut in plan.bars[0].cuts]
    (1, True, [9.9375])
    """
    if not is_length(time_limit) or time_limit > 600:
        raise bad("That is not a time limit.", time_limit, "seconds over 0, up to 600.", "Give the solver some seconds.", "time_limit")
    check(pieces, bars, kerf, min_remnant, sleeve_od)
    job, scale = to_units(pieces, bars, kerf, min_remnant, sleeve_od)
    solution = solve(job, float(time_limit))
    place = rank(solution.job, solution.plan)
    if place[0]:
        raise _short(solution, bars)
    laid = lay_out(solution, pieces, bars, scale, kerf, sleeve_od)
    proved = place[1] == solution.bound
    return CutPlan(
        bars=laid,
        bars_used=place[1],
        remnants_used=sum(bar.is_remnant for bar in laid),
        bound=solution.bound,
        proved=proved,
        proof=_proof(solution, place[1]),
        weights=dict(zip((p.key for p in pieces), solution.weights, strict=True)) if solution.proof == "weights" else {},
        ties_proved=solution.ties_proved,
        first_fit_bars=rank(solution.job, solution.first_fit)[1],
        total_waste=scale.inches(place[4]),
        kept=tuple(sorted((bar.offcut for bar in laid if bar.keep), reverse=True)),
        kerf=float(exact(kerf)),
        min_remnant=float(exact(min_remnant)),
        assumptions=ASSUMPTIONS + _rounding(scale),
        warnings=_warnings(solution, proved, laid, pieces, kerf, sleeve_od),
    )


def _proof(solution: Solution, bars: int) -> str:
    if bars > solution.bound:
        return f"Not proved: the least is between {solution.bound} and {bars} bars."
    if bars == 0:
        return "Proved: the remnants are enough, no new bar is needed."
    how = "by a weight for each piece" if solution.proof == "weights" else "by a search of all patterns"
    return f"Proved {how}: no plan needs fewer than {bars} new {'bar' if bars == 1 else 'bars'}."


def _rounding(scale: Scale) -> tuple[str, ...]:
    if not scale.rounded:
        return ()
    names = ", ".join(scale.rounded)
    return (f"On no ruler mark: {names}. Pieces and kerfs are rounded up, bars down, to 1/{scale.unit} in.",)


def _warnings(
    solution: Solution, proved: bool, laid: Sequence[BarPlan], pieces: Sequence[Piece], kerf: Inches, sleeve_od: Inches | None
) -> tuple[str, ...]:
    found = []
    if not proved:
        found.append(_proof(solution, rank(solution.job, solution.plan)[1]))
    elif not solution.ties_proved:
        found.append("The number of new bars is proved. The use of remnants, the waste and the kept remnants are the best found.")
    if any(cut.kind == "trim" for bar in laid for cut in bar.cuts):
        found.append("A trim cut takes less than the blade's width. Feed slowly: the blade can wander.")
    for piece in pieces:
        if piece.end == "scarf" and exact(piece.length) < 2 * mitre_use(kerf, sleeve_od, piece.mitre_deg)[0]:
            found.append(f"Piece {piece.key}: no full round is left between its mitres. Check the length and the mitre.")
    return tuple(found)


def _short(solution: Solution, bars: Sequence[Bar]) -> Problem:
    """Return the problem of bars on hand that cannot hold all pieces."""
    missing = rank(solution.job, solution.plan)[0]
    longest = max(bars, key=lambda bar: exact(bar.length))
    count = sum(bar.count or 0 for bar in bars)
    surely = "These bars cannot hold all the pieces." if solution.missing_is_proved else "No plan was found with these bars in the time given."
    return bad(
        surely, f"{count} bars on hand", f"bars for all pieces, such as {missing} more of {float(exact(longest.length)):g} in.",
        f"Add {missing} more {'bar' if missing == 1 else 'bars'} like {longest.key}, or cut fewer pieces.", "bars", "not-enough-stock",
    )  # fmt: skip
