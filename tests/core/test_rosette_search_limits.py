"""Rosette places just where one hole more begins to fit, on a square end where all is straight."""

import pytest

from core.rosette_search import MOST_HOLES, SPACING_DIAMETERS, place
from core.sleeve import EndCut

SQUARE = EndCut("square", 0.0)


def on_square(count, length, gap=0.0, distance=None):
    return place(count, 0.5, length, 2.0, 0.1, gap, SQUARE, distance)


def test_the_limits():
    assert MOST_HOLES == 3  # common practice, no source
    assert SPACING_DIAMETERS == 4  # from memory: AISC 360 J2.3b


@pytest.mark.parametrize(
    ("count", "length", "fits"),
    # hand: c = .35, 4 d = 2: one hole needs .7 past the stub, two 2.7, three 4.7; the sleeve has half its length
    [(1, 1.4, 1), (1, 1.3999, 0), (2, 5.4, 2), (2, 5.3999, 1), (3, 9.4, 3), (3, 9.3999, 2), (3, 5.3999, 1), (3, 1.3999, 0)],
)
def test_a_hole_more_from_just_enough_length(count, length, fits):
    found = on_square(count, length)
    assert (found.fits, len(found.holes), found.asked) == (fits, 2 * fits, count)
    assert found.spacing_fails is (0 < fits < count)


def test_the_gap_takes_its_half_on_either_side():
    # hand: .7 past a stub end at .25
    assert (on_square(1, 1.9, 0.5).fits, on_square(1, 1.8999, 0.5).fits) == (1, 0)
    assert on_square(1, 0.5, 0.5).fits == on_square(1, 0.4, 0.5).fits == 0


def test_the_margins_of_two_holes_by_hand():
    # hand: 6 = 2 x .35 + 2 + 3 M, M = 1.1 with no gap; the first at .35 + 1.1 and the last 1.45 from the edge
    first, last = on_square(2, 12.0).holes[:2]
    assert (first.stub_margin, last.edge_margin, first.spacing_margin, last.spacing_margin) == pytest.approx((1.1,) * 4)
    assert (first.edge_margin, last.stub_margin) == pytest.approx((4.2, 4.2))  # hand: 6 - 1.45 - .35
    assert (first.station.from_tip, first.station.from_middle, first.station.to_stub_end, first.station.to_edge) == pytest.approx((4.55, 1.45, 1.45, 4.55))
    assert first.margin == pytest.approx(1.1)
    assert {hole.station.angle_deg for hole in on_square(2, 12.0).holes} == {0.0, 180.0}


def test_the_room_for_the_count_asked():
    # hand: half of 5 less .7 is 1.8: two holes 1.8 apart, three .9
    assert (on_square(2, 5.0).room_spacing, on_square(3, 5.0).room_spacing) == pytest.approx((1.8, 0.9))
    assert on_square(1, 5.0).room_spacing is None and on_square(2, 1.0).room_spacing is None
    assert on_square(2, 5.0, distance=0.6).room_spacing == pytest.approx(1.3)  # hand: 2.5 - 1.2


def test_required_distances_round_up_and_room_rounds_down():
    # hand: .46875/2 + .120 = .354375 up; 4 x .46875 = 1.875 in = 47.625 mm up
    body = place(2, 0.46875, 10.0, 1.875, 0.120, 0.0, EndCut("pointed")).as_dict()
    assert body["least_distance"]["text"] == "0.355 in"
    assert place(2, 0.46875, 10.0, 1.875, 0.120, 0.0, EndCut("pointed")).as_dict(True)["least_spacing"]["text"] == "47.63 mm"
