"""The proof of a cut plan: weights, search, limited bars, and no claim without a proof."""

from __future__ import annotations

import pytest

from core.cutting import Bar, Piece, plan_cuts
from core.cutting_master import _Search, bars_needed
from core.cutting_patterns import Item, Job, Stock, Work, WorkEnded, best_pattern
from core.problems import Problem
from tests.core.cutting_checker import check_plan


def test_the_weights_prove_the_bound_by_hand():
    # hand: weights 51 27 26 23 on a bar of 100 weigh at most 100; the pieces weigh 900; 900 / 100 = 9
    items = (Item(51, 51, 0, 6), Item(27, 27, 0, 6), Item(26, 26, 0, 6), Item(23, 23, 0, 12))
    job = Job(items, (0,), (Stock(100, 100, None, True),), 0, 0)
    assert bars_needed(job, (51, 27, 26, 23), {100: 100}) == 9
    # hand: a remnant of 60 carries at most 53 (27 + 26): (900 - 53) / 100 rounds up to 9
    with_remnant = Job(items, (0,), (*job.stocks, Stock(60, 60, 1, False)), 0, 0)
    assert bars_needed(with_remnant, (51, 27, 26, 23), {100: 100, 60: 53}) == 9


# hand: 3 × 15 + 5 × 10 + 9 × 6 = 149 on bars of 30, so five bars could waste only 1 in all. Only
# 2 × 15, 3 × 10 and 5 × 6 fill 29 or 30 (15 + 10 = 25, 15 + 12 = 27, 10 + 18 = 28, 20 + 6 = 26), and three
# 15s make no pairs: six bars. The linear bound is 3/2 + 5/3 + 9/5 = 4.97, so the weights prove five.
GAP = [Piece("a", 15, 3), Piece("b", 10, 5), Piece("c", 6, 9)]


def test_a_bound_that_weights_cannot_reach_is_searched():
    plan = plan_cuts(GAP, [Bar("bar", 30)], 0)
    assert (plan.bars_used, plan.bound, plan.proved, plan.weights) == (6, 6, True, {})
    assert plan.proof == "Proved by a search of all patterns: no plan needs fewer than 6 new bars."
    check_plan(plan, GAP, [Bar("bar", 30)], 0)


def test_too_many_patterns_to_search_is_not_proved(monkeypatch):
    monkeypatch.setattr("core.cutting_master.MOST_PATTERNS", 2)
    plan = plan_cuts(GAP, [Bar("bar", 30)], 0)
    assert (plan.bars_used, plan.bound, plan.proved) == (6, 5, False)
    assert plan.proof == "Not proved: the least is between 5 and 6 bars."


@pytest.mark.parametrize("most", [12_000, 5])
def test_too_few_bars_by_the_search(monkeypatch, most):
    monkeypatch.setattr("core.cutting_master.MOST_PATTERNS", most)
    with pytest.raises(Problem) as caught:
        plan_cuts(GAP, [Bar("bar", 30, 5)], 0)
    assert ("cannot hold" in caught.value.title) == (most > 5)
    assert "Add 1 more bar" in caught.value.next_step


@pytest.mark.parametrize(
    ("bar", "rows", "count"),
    [
        # hand: the plan is checked piece by piece; the count is the pieces' sum over the bar, rounded up
        (60, [(11, 3), (14, 5), (21, 3), (23, 1), (26, 2), (31, 5)], 7),
        (60, [(7, 5), (17, 5), (24, 4), (29, 4), (32, 4)], 8),
    ],
)
def test_the_last_bars_on_hand_are_filled_before_it_asks_for_more(bar, rows, count):
    assert -(-sum(length * n for length, n in rows) // bar) == count
    pieces, bars = [Piece(str(length), length, n) for length, n in rows], [Bar("b", bar, count)]
    plan = plan_cuts(pieces, bars, 0)
    assert plan.bars_used == plan.bound == count
    check_plan(plan, pieces, bars, 0)


def test_an_improved_plan_over_two_lengths_and_remnants():
    pieces = [Piece(str(length), length, n) for length, n in [(15, 6), (29, 6), (31, 2), (32, 1), (57, 6), (63, 1)]]
    bars = [Bar("new", 100), Bar("rem", 77, 2, True), Bar("old", 74, 1)]
    plan = plan_cuts(pieces, bars, 0)
    # hand: the pieces are 763 long in all, the remnants hold 154 at most, (763 - 154) / 100 rounds up to 7
    assert plan.bars_used == plan.bound == 7
    check_plan(plan, pieces, bars, 0)


def test_a_row_that_cannot_hold_is_infeasible():
    # hand: no whole number is at least 2 and at most 1
    assert _Search(5.0).run([1], [(2, None, {0: 1}), (None, 1, {0: 1})], "i") == ("infeasible", [])


def test_no_time_means_not_proved_between_two_numbers():
    pieces = [Piece(f"p{n}", 7.013 + 1.371 * n, 9) for n in range(30)]
    plan = plan_cuts(pieces, [Bar("bar", 97.003)], 0.0625, time_limit=0.01)
    assert not plan.proved
    assert plan.proof == f"Not proved: the least is between {plan.bound} and {plan.bars_used} bars."
    assert plan.proof in plan.warnings and plan.proof in plan.text()
    check_plan(plan, pieces, [Bar("bar", 97.003)], 0.0625)


def test_work_ends():
    with pytest.raises(WorkEnded):
        best_pattern(Job((Item(1, 1, 0, 99),), (0,), (), 0, 0), 99, [1], Work(3))


def test_many_patterns_leave_the_lower_wishes_unproved_and_say_so():
    pieces = [Piece(f"p{n}", 8 + 0.4375 * n, 3) for n in range(8)]
    plan = plan_cuts(pieces, [Bar("new", 240)], 0.125, min_remnant=12)
    assert plan.proved and not plan.ties_proved
    assert any("best found" in line for line in plan.warnings)
