"""An independent check of a cut plan: positions, kerfs, demand and totals, from geometry alone."""

from __future__ import annotations

import json
import math

import pytest

SLACK = 1e-9  # inches; float noise only


def check_plan(plan, pieces, bars, kerf, min_remnant=0.0, sleeve_od=0.0):
    """Check a plan from its positions alone, with none of the core's arithmetic."""
    by_piece, by_bar = {p.key: p for p in pieces}, {b.key: b for b in bars}
    made, taken, waste = {}, {}, 0.0
    for bar in plan.bars:
        assert bar.pieces, "a bar without pieces is no cut bar"
        taken[bar.key] = taken.get(bar.key, 0) + 1
        assert bar.number == taken[bar.key]
        assert bar.pieces[0].start >= 0
        before = metal = None
        metal = 0.0
        for placed in bar.pieces:
            piece = by_piece[placed.key]
            made[piece.key] = made.get(piece.key, 0) + 1
            assert placed.end - placed.start >= float(piece.length) - SLACK
            wedge = sleeve_od * math.tan(math.radians(piece.mitre_deg))
            metal += float(piece.length) - wedge
            if before is not None:
                last, last_piece, last_wedge = before
                nested = piece.end == "scarf" and piece.mitre_deg == last_piece.mitre_deg
                free = placed.start - (last.end - last_wedge if nested else last.end)
                need = kerf / math.cos(math.radians(piece.mitre_deg)) if nested else kerf
                assert free >= need - SLACK
            before = placed, piece, wedge
        end = bar.pieces[-1].end
        assert end <= bar.length + SLACK
        # Up to a thousandth a piece is lost to rounding up what is on no mark.
        grid = 0.002 * (len(bar.pieces) + 1)
        assert bar.offcut <= max(0.0, bar.length - end - kerf) + SLACK
        assert bar.offcut >= bar.length - end - kerf - grid
        assert bar.keep == (bar.offcut > 0 and bar.offcut >= min_remnant - SLACK)
        assert bar.waste == pytest.approx(bar.length - metal - (bar.offcut if bar.keep else 0), abs=grid)
        assert sum(bool(cut.frees) for cut in bar.cuts) >= len(bar.pieces) - 1
        waste += bar.waste
    assert made == {p.key: p.count for p in pieces}
    for key, count in taken.items():
        assert by_bar[key].count is None or count <= by_bar[key].count
    assert plan.bars_used == sum(n for key, n in taken.items() if not by_bar[key].is_remnant)
    assert plan.remnants_used == sum(n for key, n in taken.items() if by_bar[key].is_remnant)
    assert plan.bound <= plan.bars_used <= plan.first_fit_bars
    assert plan.proved == (plan.bound == plan.bars_used)
    assert plan.total_waste == pytest.approx(waste)
    assert plan.kept == tuple(sorted((bar.offcut for bar in plan.bars if bar.keep), reverse=True))
    json.dumps(plan.as_dict())
