"""From patterns to a saw: pieces and cuts along each bar, in sawing order.

Lengths in inches. Source: bookkeeping of this program; the geometry is in `core.cutting`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from core.cutting_input import Bar, Inches, Piece, Scale, exact, mitre_use
from core.cutting_master import Solution
from core.cutting_patterns import Pattern, Stock


@dataclass(frozen=True)
class Placed:
    """A piece on a bar: overall from `start` to `end`, inches from the bar's first end."""

    key: str
    start: float
    end: float


@dataclass(frozen=True)
class Cut:
    """One cut.

    Attributes
    ----------
    kind : str
        "square"; "trim" (square, with less than a kerf left); "mitre"; "mitre-first", the trim
        end of a run of scarfs; "mitre-off", the last mitre of a run, on the piece already cut off.
    position : float
        Inches from the bar's first end to the piece's edge, on the line where a run's first
        tip lies (the top line). The blade takes the metal beyond the edge; of a
        "mitre-first", the metal before it.
    kerf : float
        Inches eaten along the bar: k or k / cos m. It is out of the wedge, and costs no length,
        for "mitre-first" and "mitre-off".
    mitre_deg : float
        0 for a square cut.
    frees : str
        The piece the cut finishes, or "".
    """

    kind: str
    position: float
    kerf: float
    mitre_deg: float
    frees: str


@dataclass(frozen=True)
class BarPlan:
    """One bar to cut; lengths in inches. `number` counts the bars of that key."""

    key: str
    number: int
    is_remnant: bool
    length: float
    pieces: tuple[Placed, ...]
    cuts: tuple[Cut, ...]
    offcut: float
    keep: bool
    waste: float


def lay_out(
    solution: Solution, pieces: Sequence[Piece], bars: Sequence[Bar], scale: Scale, kerf: Inches, sleeve_od: Inches | None
) -> tuple[BarPlan, ...]:
    """Return every bar of a plan, remnants first, like bars together, pieces longest first.

    >>> from core.cutting import plan_cuts  # calls this
    >>> (bar,) = plan_cuts([Piece("A", 8.5, 2)], [Bar("20 ft", 240.0)], 0.125).bars
    >>> [cut.position for cut in bar.cuts]  # by hand: 8.5, then 8.5 + 0.125 + 8.5
    [8.5, 17.125]
    """
    order = sorted(solution.plan, key=lambda bar: (solution.job.stocks[bar[0]].is_new, bar[0], tuple(-n for n in bar[1])))
    numbers: dict[int, int] = {}
    laid = []
    for s, pattern in order:
        numbers[s] = numbers.get(s, 0) + 1
        placed, cuts = _walk(solution, s, pattern, pieces, scale, kerf, sleeve_od)
        stock = solution.job.stocks[s]
        kept = solution.job.kept(stock, pattern)
        offcut = scale.inches(solution.job.offcut(stock, pattern))
        waste = scale.inches(stock.length - solution.job.metal(pattern) - kept)
        length = float(exact(bars[s].length))
        laid.append(BarPlan(bars[s].key, numbers[s], bars[s].is_remnant, length, placed, cuts, offcut, kept > 0, waste))
    return tuple(laid)


def _walk(
    solution: Solution, s: int, pattern: Pattern, pieces: Sequence[Piece], scale: Scale, kerf: Inches, sleeve_od: Inches | None
) -> tuple[tuple[Placed, ...], tuple[Cut, ...]]:
    """Return the pieces and cuts of one bar: scarf runs by mitre, then square blanks."""
    job = solution.job
    stock: Stock = job.stocks[s]
    placed: list[Placed] = []
    cuts: list[Cut] = []
    at = 0
    k = float(exact(kerf))

    def square_cut(end: int, frees: str) -> None:
        left = stock.length - end
        if left > 0:
            cuts.append(Cut("square" if left >= job.kerf else "trim", scale.inches(end), k, 0.0, frees))

    for mitre in sorted({pieces[i].mitre_deg for i, n in enumerate(pattern) if n}, reverse=True):
        run = sorted((i for i, n in enumerate(pattern) if n and pieces[i].mitre_deg == mitre), key=lambda i: -job.items[i].metal)
        each = [i for i in run for _ in range(pattern[i])]
        if mitre == 0:
            for i in each:
                end = at + job.items[i].metal
                placed.append(Placed(pieces[i].key, scale.inches(at), scale.inches(at) + float(exact(pieces[i].length))))
                square_cut(end, pieces[i].key)
                at = end + job.kerf
            continue
        slant = float(mitre_use(kerf, sleeve_od, mitre)[1])
        cuts.append(Cut("mitre-first", scale.inches(at), slant, mitre, ""))
        for n, i in enumerate(each):
            edge = at + job.items[i].metal
            placed.append(Placed(pieces[i].key, scale.inches(at), scale.inches(at) + float(exact(pieces[i].length))))
            if n < len(each) - 1:
                cuts.append(Cut("mitre", scale.inches(edge), slant, mitre, pieces[i].key))
                at += job.items[i].use
            else:
                # use = metal + slant and setup = wedge + kerf - slant, so this is the far tip.
                end = at + job.items[i].use + job.setups[job.items[i].group] - job.kerf
                square_cut(end, "")
                cuts.append(Cut("mitre-off", scale.inches(edge), slant, mitre, pieces[i].key))
                at = end + job.kerf
    return tuple(placed), tuple(cuts)
