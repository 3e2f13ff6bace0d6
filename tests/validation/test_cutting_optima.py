"""Cutting-stock instances with known optima, no kerf, lengths as bare numbers.

Published optimum as in the project's fact sheet. The first is the well-known textbook example
with 5600 mm rolls, from memory; the origin of the others is not known for certain.
"""

from __future__ import annotations

import pytest

from core.cutting import Bar, Piece, plan_cuts

INSTANCES = [
    # published: fact sheet, 73 rolls; first-fit-decreasing pinned from our own run
    (5600, "1380×22 1520×25 1560×12 1710×14 1820×18 1880×18 1930×20 2000×10 2050×12 2100×14 2140×16 2150×18 2200×20", 73, 82),
    # published: fact sheet, 453; first-fit pinned
    (100, "45×97 36×610 31×395 14×211", 453, 485),
    # published: fact sheet, 47; first-fit pinned
    (110, "20×48 45×35 50×24 55×10 75×8", 47, 47),
    # published: fact sheet, 9 bars and first-fit-decreasing 11
    (100, "51×6 27×6 26×6 23×12", 9, 11),
]  # fmt: skip


@pytest.mark.parametrize(("bar", "demand", "optimum", "first_fit"), INSTANCES)
def test_the_optimum_is_reached_and_proved(bar, demand, optimum, first_fit):
    # A tenth of the number as inches keeps the first roll under the longest bar this takes.
    rows = [tuple(int(n) for n in row.split("×")) for row in demand.split()]
    pieces = [Piece(str(length), length / 10, count) for length, count in rows]
    plan = plan_cuts(pieces, [Bar("bar", bar / 10)], 0)
    assert plan.bars_used == plan.bound == optimum
    assert plan.proved
    assert plan.first_fit_bars == first_fit
    made = {piece.key: 0 for piece in pieces}
    for one in plan.bars:
        # hand: no kerf, so a bar holds what adds up to its length, in the instance's own integers
        assert sum(int(placed.key) for placed in one.pieces) <= bar
        for placed in one.pieces:
            made[placed.key] += 1
    assert made == {str(length): count for length, count in rows}
    # The certificate, checked by plain dynamic programming over the whole bar.
    weights = [plan.weights[str(length)] for length, _ in rows]
    heaviest = [0] * (bar + 1)
    for room in range(1, bar + 1):
        fits = [heaviest[room - length] + w for (length, _), w in zip(rows, weights, strict=True) if length <= room]
        heaviest[room] = max(fits, default=0)
    total = sum(w * count for w, (_, count) in zip(weights, rows, strict=True))
    assert -(-total // heaviest[bar]) == optimum
