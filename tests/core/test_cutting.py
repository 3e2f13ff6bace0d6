"""Cut plans: kerf and nesting by hand, remnants, an independent check of every plan, refusals."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.cutting import Bar, Piece, plan_cuts
from core.cutting_input import to_units
from core.cutting_patterns import Item, Job, all_patterns, best_pattern
from core.lengths import read_length
from core.problems import Problem
from tests.core.cutting_checker import check_plan

# --- kerf ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("length", "bars_used", "cuts"),
    [
        # hand: 9.9375 + .125 + 9.9375 = 20.000, the second piece needs no cut
        (9.9375, 1, [("square", 9.9375)]),
        # hand: 1/32 more in each and 20.0625 > 20 does not fit one bar
        (9.96875, 2, [("square", 9.96875)]),
        # hand: 9.90625 + .125 + 9.90625 = 19.9375, 1/16 left for a 1/8 blade
        (9.90625, 1, [("square", 9.90625), ("trim", 19.9375)]),
        # hand: 9.875 + .125 + 9.875 = 19.875, just the kerf left
        (9.875, 1, [("square", 9.875), ("square", 19.875)]),
    ],
)
def test_square_kerf_by_hand(length, bars_used, cuts):
    plan = plan_cuts([Piece("A", length, 2)], [Bar("stick", 20)], 0.125)
    assert plan.bars_used == plan.bound == bars_used
    assert [(cut.kind, cut.position) for cut in plan.bars[0].cuts] == cuts
    assert any("blade can wander" in line for line in plan.warnings) == (cuts[-1][0] == "trim")


def test_three_nested_scarfs_by_hand():
    pieces = [Piece("S", 11.370, 3, 60.0, "scarf")]
    plan = plan_cuts(pieces, [Bar("stick", 40)], 0.125, sleeve_od=1.875)
    (bar,) = plan.bars
    # hand: W = 1.875 tan 60° = 3.24760; nested use 11.370 - 3.24760 + 0.250 = 8.37240;
    # far tip of the third 11.370 + 2 × 8.37240 = 28.11480; offcut 40 - 28.11480 - 0.125 = 11.76020
    assert bar.pieces[1].start == pytest.approx(8.3724, abs=0.001)
    assert bar.pieces[2].end == pytest.approx(28.1148, abs=0.003)
    assert bar.offcut == pytest.approx(11.7602, abs=0.004)
    assert [cut.kind for cut in bar.cuts] == ["mitre-first", "mitre", "mitre", "square", "mitre-off"]
    # hand: k / cos 60° = 2 k = 0.25, square 0.125
    assert [cut.kerf for cut in bar.cuts] == pytest.approx([0.25, 0.25, 0.25, 0.125, 0.25])
    # hand: the first mitred cut after a piece is at L - W = 8.12240 on the top line
    assert bar.cuts[1].position == pytest.approx(8.1224, abs=0.001)
    check_plan(plan, pieces, [Bar("stick", 40)], 0.125, 0, 1.875)


def test_nesting_saves_a_bar():
    # hand: three scarfs nested end at 28.115; as square blanks they need 3 × 11.370 + 2 × .125 = 34.360
    bars = [Bar("stick", 28.125)]
    assert plan_cuts([Piece("S", 11.370, 3, 60, "scarf")], bars, 0.125, sleeve_od=1.875).bars_used == 1
    assert plan_cuts([Piece("S", 11.370, 3)], bars, 0.125).bars_used == 2


def test_a_lone_scarf_takes_its_length_and_one_square_kerf():
    plan = plan_cuts([Piece("S", 11, 1, 60, "scarf")], [Bar("r", 20, 1, True)], 0.125, sleeve_od=1.5, min_remnant=1)
    # hand: 20 - 11 - 0.125 = 8.875, less up to two roundings of 1/1000
    assert plan.kept[0] == pytest.approx(8.875, abs=0.003)
    assert plan.kept[0] <= 8.875


def test_different_mitres_do_not_share_a_cut():
    pieces = [Piece("S", 8, 1, 60, "scarf"), Piece("T", 8, 1, 45, "scarf"), Piece("Q", 3)]
    bars = [Bar("stick", 19.26)]
    plan = plan_cuts(pieces, bars, 0.125, sleeve_od=1.5)
    # hand: 8 + .125 + 8 + .125 + 3 = 19.25, within .01 of the bar
    assert plan.bars_used == 1
    check_plan(plan, pieces, bars, 0.125, 0, 1.5)


def test_exact_metric_lengths_fit_exactly():
    # hand: 4 × 300 mm and 3 kerfs of 2.5 mm are 1207.5 mm
    piece, bar, kerf = (read_length(t) for t in ("300 mm", "1207.5 mm", "2.5 mm"))
    plan = plan_cuts([Piece("A", piece, 4)], [Bar("stick", bar)], kerf)
    assert (plan.bars_used, plan.bars[0].offcut, len(plan.bars[0].cuts)) == (1, 0, 3)
    # The same lengths as floats in inches are still on their marks.
    assert plan_cuts([Piece("A", float(piece), 4)], [Bar("stick", float(bar))], float(kerf)).bars_used == 1
    assert not any("ruler mark" in line for line in plan.assumptions)


def test_a_length_on_no_mark_rounds_up_and_says_so():
    job, scale = to_units([Piece("A", math.pi)], [Bar("b", math.e * 2)], 0.125, 0, None)
    # hand: pi up to 3.142, 2 e = 5.43656 down to 5.436, in units of 1/1000
    assert (scale.unit, job.items[0].metal, job.stocks[0].length) == (1000, 3142, 5436)
    plan = plan_cuts([Piece("A", math.pi)], [Bar("b", math.e * 2)], 0.125)
    assert any("piece A, bar b" in line and "1/1000 in" in line for line in plan.assumptions)


# --- remnants and the order of wishes ------------------------------------------------------


def test_a_remnant_is_used_before_a_new_bar():
    plan = plan_cuts([Piece("A", 10)], [Bar("new", 240), Bar("rem", 12, 1, True)], 0.125, min_remnant=6)
    assert (plan.bars_used, plan.remnants_used, plan.first_fit_bars) == (0, 1, 0)
    assert "no new bar" in plan.proof and plan.proved and plan.ties_proved


def test_remnants_come_before_the_least_waste():
    pieces, bars = [Piece("A", 10, 3)], [Bar("new", 60), Bar("rem", 12, 2, True)]
    plan = plan_cuts(pieces, bars, 0, min_remnant=6)
    # hand: one new bar is needed (two remnants hold two); they still take 10 each, 2 in scrap each;
    # the new bar keeps 50. From the new bar alone it would keep only 30.
    assert (plan.bars_used, plan.remnants_used, plan.total_waste, plan.kept) == (1, 2, 4, (50,))


def test_least_waste_then_longest_remnant():
    # hand: 4 pieces of 30 on bars of 100: three and one (10 scrap, 70 kept) wastes 10;
    # two and two keep 40 + 40 and waste nothing, so least waste wins
    plan = plan_cuts([Piece("A", 30, 4)], [Bar("b", 100)], 0, min_remnant=20)
    assert (plan.total_waste, plan.kept) == (0, (40, 40))
    # hand: with offcuts kept from 10 both waste nothing; 70 is longer than 40
    plan = plan_cuts([Piece("A", 30, 4)], [Bar("b", 100)], 0, min_remnant=10)
    assert (plan.total_waste, plan.kept) == (0, (70, 10))
    assert plan.ties_proved


def test_the_cheaper_of_as_many_bars():
    bars = [Bar("long", 240, None, False, 60), Bar("short", 120, None, False, 35)]
    # hand: 100 in needs one bar either way, 35 is cheaper; 200 in needs one long bar or two short
    assert plan_cuts([Piece("A", 50, 2)], bars, 0.125).bars[0].key == "short"
    assert plan_cuts([Piece("A", 50, 4)], bars, 0.125).bars[0].key == "long"


def test_limited_bars_are_not_overdrawn():
    pieces, bars = [Piece("A", 50, 5)], [Bar("long", 110, 2), Bar("short", 60, 3)]
    plan = plan_cuts(pieces, bars, 0.125)
    # hand: two long bars hold four, one short bar the fifth
    assert plan.bars_used == plan.bound == 3
    check_plan(plan, pieces, bars, 0.125)


def test_too_few_bars_is_refused_with_how_many_more():
    with pytest.raises(Problem) as caught:
        plan_cuts([Piece("A", 50, 5)], [Bar("long", 110, 2)], 0.125)
    assert caught.value.kind == "not-enough-stock"
    assert "Add 1 more bar like long" in caught.value.next_step
    assert "cannot hold" in caught.value.title


def test_too_few_bars_with_a_short_bar_to_buy():
    # hand: the 50 in pieces fit only the two long bars (four of them); the fifth has no place
    with pytest.raises(Problem) as caught:
        plan_cuts([Piece("A", 50, 5), Piece("B", 9, 2)], [Bar("long", 110, 2), Bar("buy", 20)], 0.125)
    assert caught.value.kind == "not-enough-stock"


# --- the plan as text ----------------------------------------------------------------------


def test_the_text_has_one_action_a_line():
    plan = plan_cuts([Piece("S", 11.370, 2, 60, "scarf")], [Bar("rem", 30, 1, True)], 0.125, sleeve_od=1.875, min_remnant=5)
    # hand: L - W = 8.1224 up to 8.123; second tip 8.123 + .25 + 11.370 (+ .001 for W up) = 19.744;
    # offcut 30 - 19.744 - .125 = 10.131
    assert plan.text()[6:12] == [
        "Remnant rem no. 1, 30 in long:",
        "1. Mitre 60° with the tip at 0 in on the top line. Blade before the mark. Scrap the wedge.",
        "2. Mitre 60°, same way, at 8.123 in on the top line. Mark the piece: S, 11.370 in.",
        "3. Cut square at 19.744 in.",
        "4. Mitre 60°, same way, at 16.496 in on the top line: the far end of the last scarf. Scrap the wedge. "
        "Mark the piece: S, 11.370 in.",
        "Keep the offcut, 10.131 in. Mark its size, material and heat number.",
    ]
    text = plan_cuts([Piece("A", 9.9375, 2)], [Bar("new", 20)], 0.125).text()
    assert "1. Cut square at 9-15/16 in. Mark the piece: A, 9-15/16 in." in text
    assert "The rest is A, 9-15/16 in. It needs no cut." in text
    assert any(line.startswith("First-fit") for line in text)
    assert any("Kerf 3.18 mm" in line for line in plan.text(metric=True))  # hand: .125 × 25.4 = 3.175
    for word in ("safe", "approved"):
        assert not any(word in line.lower() for line in [*text, *plan.text()])


def test_bars_cut_alike_share_a_block_and_short_offcuts_are_scrap():
    text = plan_cuts([Piece("A", 9, 4)], [Bar("b", 20)], 0.125, min_remnant=6).text()
    assert "Bar b no. 1 to 2, 2 cut alike, 20 in long:" in text
    # hand: 20 - 2 × 9.125 = 1.75
    assert text.count("Scrap the offcut, 1-3/4 in.") == 1


def test_a_trim_cut_is_called_one():
    text = plan_cuts([Piece("A", 9.90625, 2)], [Bar("b", 20)], 0.125).text()
    assert any(line.startswith("2. Trim square at 19-15/16 in. Less than a blade's width is left.") for line in text)


def test_a_scarf_without_a_full_round_is_warned_about():
    # hand: 2 W = 2 × 1.5 × tan 60° = 5.196 in
    plan = plan_cuts([Piece("S", 5.1, 1, 60, "scarf")], [Bar("b", 20)], 0.125, sleeve_od=1.5)
    assert any("no full round" in line for line in plan.warnings)


# --- an independent check over many jobs ---------------------------------------------------


@st.composite
def jobs(draw):
    step = draw(st.sampled_from([Fraction(1, 16), Fraction(1, 8), Fraction(10, 254)]))
    lengths = draw(st.lists(st.integers(60, 300), min_size=1, max_size=5, unique=True))
    pieces = []
    for n, length in enumerate(lengths):
        mitre = draw(st.sampled_from([0, 0, 45, 60]))
        extra = 8 if mitre else 0
        pieces.append(
            Piece(f"p{n}", length * step + extra, draw(st.integers(1, 6)), float(mitre), "scarf" if mitre else "square")
        )
    bars = [Bar("new", 60)]
    for n in range(draw(st.integers(0, 2))):
        bars.append(Bar(f"r{n}", draw(st.integers(5, 40)), draw(st.integers(1, 2)), True))
    return pieces, bars, draw(st.sampled_from([0.0, 0.0625, 0.125])), draw(st.sampled_from([0.0, 6.0, 12.0]))


@settings(max_examples=40, deadline=None)
@given(jobs())
def test_every_plan_can_be_cut(job):
    pieces, bars, kerf, least = job
    plan = plan_cuts(pieces, bars, kerf, min_remnant=least, sleeve_od=1.5, time_limit=0.5)
    check_plan(plan, pieces, bars, kerf, least, 1.5)


def brute_force(lengths, new, remnants, kerf, least):
    """Return the best (new bars, length from new bars, waste, -longest kept) over all assignments."""
    best = None

    def score(bins):
        used = [(b, size, is_new) for b, size, is_new in bins if b]
        kept = []
        for b, size, _ in used:
            left = size - sum(b) - kerf * len(b)
            kept.append(left if left > 0 and left >= least else 0)
        return (
            sum(is_new for _, _, is_new in used),
            sum(sum(b) for b, _, is_new in used if is_new),
            sum(size - sum(b) for b, size, _ in used) - sum(kept),
            -max(kept),
        )

    def place(n, bins):
        nonlocal best
        if n == len(lengths):
            best = score(bins) if best is None else min(best, score(bins))
            return
        for at, (b, size, _) in enumerate(bins):
            if sum(b) + lengths[n] + kerf * len(b) <= size:
                b.append(lengths[n])
                place(n + 1, bins)
                bins[at][0].pop()
        place(n + 1, [*([list(b), s, i] for b, s, i in bins), [[lengths[n]], new, True]])

    place(0, [[[], size, False] for size in remnants])
    return best


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(3, 18), min_size=1, max_size=6),
    st.lists(st.integers(4, 16), max_size=2),
    st.sampled_from([0, 1]),
    st.sampled_from([0, 3, 6]),
)
def test_small_jobs_equal_brute_force(lengths, remnants, kerf, least):
    pieces = [Piece(f"p{length}", length, lengths.count(length)) for length in sorted(set(lengths))]
    bars = [Bar("new", 20), *(Bar(f"r{n}", size, 1, True) for n, size in enumerate(remnants))]
    plan = plan_cuts(pieces, bars, kerf, min_remnant=least, time_limit=20)
    assert plan.proved and plan.ties_proved
    from_new = sum(p.end - p.start for bar in plan.bars if not bar.is_remnant for p in bar.pieces)
    assert (plan.bars_used, from_new, plan.total_waste, -max(plan.kept, default=0)) == brute_force(
        lengths, 20, remnants, kerf, least
    )
    check_plan(plan, pieces, bars, kerf, least)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(3, 12), st.integers(0, 1), st.integers(1, 3), st.integers(0, 15)), min_size=1, max_size=5),
    st.integers(0, 40),
)
def test_the_best_pattern_is_the_best_of_all_patterns(rows, room):
    items = tuple(Item(use, use, group, demand) for use, group, demand, _ in rows)
    job, weights = Job(items, (0, 4), (), 0, 0), [row[3] for row in rows]
    value, pattern = best_pattern(job, room, weights)
    every = all_patterns(job, room, 100_000)
    assert value == max((sum(map(int.__mul__, p, weights)) for p in every), default=0)
    assert value == sum(map(int.__mul__, pattern, weights)) and job.used(pattern) <= max(room, 0)
    # Patterns listed with a least weight are just those of all patterns that reach it.
    heavy = all_patterns(job, room, 100_000, weights, value)
    assert heavy == [p for p in every if sum(map(int.__mul__, p, weights)) >= value]
