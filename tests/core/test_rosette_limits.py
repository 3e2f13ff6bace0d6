"""Rosette sizes, places and the root search at their limits."""

from fractions import Fraction as F

import pytest

from core.rosette import CELLS, Station, crossing, edge_distance, hole_sizes, plug_minimum, stations, tip_angles
from core.sleeve import EndCut

SQUARE = EndCut("square", 0.0)


def test_a_plug_is_never_an_even_sixteenth():
    # hand: t + 5/16 in sixteenths: 3/16 gives 8, up to 9; 1/8 gives 7, stays; 1/8 and a bit 7+, up to 9
    assert [plug_minimum(F(wall)) for wall in ("3/16", "1/8", "1251/10000")] == [F(9, 16), F(7, 16), F(9, 16)]


def test_a_quarter_just_at_the_plug_is_not_under_it():
    # hand: 1.75/4 = 7/16 = .120 + 5/16 up; 1.7/4 = .425 is 13.6 thirty-seconds, so 14, 7/16; 1.68/4 = .42, 13.44, 13/32
    def shop(od):
        return next(size for size in hole_sizes(F(od), F(2), F("0.120")) if size.key == "shop")

    assert [(str(shop(od).diameter), "under" in shop(od).text) for od in ("1.75", "1.70", "1.68")] == [
        ("7/16", False), ("7/16", False), ("13/32", True)]  # fmt: skip


def test_each_end_has_its_tip_lines():
    # hand: a pointed tip is where cos a is 0, a fishmouth tip where it is +-1, a scarf has one
    assert {end: tip_angles(EndCut(end)) for end in ("pointed", "fishmouth", "scarf", "square")} == {
        "pointed": [90.0, 270.0], "fishmouth": [0.0, 180.0], "scarf": [0.0], "square": [0.0, 180.0]}  # fmt: skip
    assert CELLS % 4 == 0  # a sharp tip or crotch lies between two cells


def test_room_at_the_rim_is_the_lesser_distance_less_half_the_hole():
    # hand: 1.0 - .25 and .8 - .25
    assert Station(1, 1, 0, 1.0, 2.0).edge_room(0.5) == pytest.approx(0.75)
    assert Station(1, 1, 0, 2.0, 0.8).edge_room(0.5) == pytest.approx(0.55)


def test_a_square_sleeve_puts_its_hole_half_way():
    # hand: half of 8 less half of .5 leaves 3.75; the hole at .25 + 1.875 = 2.125 from the middle
    one, two = stations(8.0, 2.0, 0.5, SQUARE)
    assert (one.from_middle, one.from_tip, one.to_stub_end, one.to_edge) == pytest.approx((2.125, 1.875, 1.875, 1.875))
    assert (one.angle_deg, two.angle_deg) == (0.0, 180.0)
    assert edge_distance(5.0, 0.0, 8.0, 2.0, SQUARE) == edge_distance(3.0, 0.0, 8.0, 2.0, SQUARE) == 1.0  # hand: either side of the edge


def test_a_sleeve_as_long_as_the_gap_has_no_place():
    assert stations(0.5, 2.0, 0.5, SQUARE) == ()
    assert len(stations(0.51, 2.0, 0.5, SQUARE)) == 2


@pytest.mark.parametrize(
    ("at", "low", "high", "found"),
    # hand: x - at passes zero at `at`, or not between the ends
    [(0.5, 0.0, 1.0, 0.5), (-0.5, 0.0, 1.0, 0.0), (1.5, 0.0, 1.0, 1.0), (0.0, 0.0, 1.0, 0.0), (1.0, 0.0, 1.0, 1.0), (0.25, 0.0, 0.5, 0.25), (0.9, 0.5, 1.2, 0.9)],
)
def test_a_straight_line_is_crossed_where_it_is(at, low, high, found):
    assert crossing(lambda x: x - at, low, high) == pytest.approx(found, abs=1e-9)


@pytest.mark.parametrize("power", [1, 3, 9])
def test_a_crossing_takes_few_steps(power):
    steps = []

    def rising(x):
        steps.append(x)
        return (x + 1) ** power - 1.5

    # hand: (x + 1)^n = 1.5
    assert crossing(rising, 0.0, 8.0) == pytest.approx(1.5 ** (1 / power) - 1, abs=1e-8)
    assert len(steps) <= 60  # pinned: bisection from 8 to 1e-9 takes 33 and a line 3; a search that stalls takes hundreds
