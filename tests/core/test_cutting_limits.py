"""A cut plan when time runs out or the solver gives nothing: every piece is still cut, and no proof is claimed."""

import highspy
import pytest

from core.cutting import Bar, Piece, plan_cuts
from core.problems import Problem

# 40 kinds from 3 to 39 in: far more patterns than can be listed.
MANY = [Piece(f"P{n}", 3 + 0.923 * n, 1 + (7 * n) % 23) for n in range(40)]
# hand: weights prove 5 bars of 30 and 6 are needed; worked out in test_cutting_proof.py.
FEW, BAR = [Piece("A", 15, 3), Piece("B", 10, 5), Piece("C", 6, 9)], 30


def pieces_cut(plan):
    return sorted(piece.key for bar in plan.bars for piece in bar.pieces)


def asked(pieces):
    return sorted(piece.key for piece in pieces for _ in range(piece.count))


@pytest.mark.parametrize("seconds", [0.0005, 0.05])
def test_with_hardly_any_time_every_piece_is_cut_and_the_proof_is_left_open(seconds):
    plan = plan_cuts(MANY, [Bar("stick", 240)], 0.125, time_limit=seconds)
    assert pieces_cut(plan) == asked(MANY)
    assert plan.bound <= plan.bars_used
    assert plan.proved is (plan.bound == plan.bars_used)


def test_too_few_bars_with_hardly_any_time_are_not_said_to_be_proved():
    with pytest.raises(Problem) as caught:
        plan_cuts(MANY, [Bar("stick", 240, 3)], 0.125, time_limit=0.0005)
    assert caught.value.kind == "not-enough-stock"
    assert "in the time given" in caught.value.title


def test_bars_cut_up_whole_leave_nothing_to_keep():
    plan = plan_cuts([Piece("A", 10, 4)], [Bar("stick", 20)], 0, min_remnant=15)
    assert (plan.bars_used, plan.proved) == (2, True)  # hand: two of 10 in a bar of 20, twice
    assert [bar.offcut for bar in plan.bars] == [0, 0]


class Silent(highspy.Highs):
    """The solver at the end of its time: it has no answer."""

    def getInfo(self):
        info = super().getInfo()
        info.primal_solution_status = 0
        return info

    def getModelStatus(self):
        return highspy.HighsModelStatus.kTimeLimit


class Short(highspy.Highs):
    """A solver whose whole-bar answers leave pieces out."""

    def getSolution(self):
        found = super().getSolution()
        if highspy.HighsVarType.kInteger in list(self.getLp().integrality_):
            found.col_value = [0.0] * len(found.col_value)
        return found


@pytest.mark.parametrize("count", [6, 7])
def test_a_search_for_one_bar_less_leaves_out_bars_that_are_not_there(count):
    plan = plan_cuts(FEW, [Bar("stick", BAR, count)], 0)
    assert (plan.bars_used, plan.bound, plan.proved, plan.weights) == (6, 6, True, {})


# hand: 33 + 70 + 63 + 23 + 52 + 155 = 396 in all, over 60 rounds up to 7
TIGHT = [Piece(str(length), length, count) for length, count in [(11, 3), (14, 5), (21, 3), (23, 1), (26, 2), (31, 5)]]


@pytest.mark.parametrize("solver", [Silent, Short])
@pytest.mark.parametrize(("pieces", "bar", "least"), [(FEW, BAR, 6), (TIGHT, 60, 7)])
def test_no_piece_is_lost_to_a_solver_that_fails(monkeypatch, solver, pieces, bar, least):
    assert plan_cuts(pieces, [Bar("stick", bar)], 0).bars_used == least
    monkeypatch.setattr(highspy, "Highs", solver)
    plan = plan_cuts(pieces, [Bar("stick", bar)], 0)
    assert pieces_cut(plan) == asked(pieces)
    assert plan.bound <= least <= plan.bars_used
