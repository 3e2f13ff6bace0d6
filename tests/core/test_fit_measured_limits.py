"""Measured fit at, just under and just over each amount that changes what is said."""

import pytest

from core.fit_measured import (
    ENOUGH_READINGS,
    MOST_HONED,
    MOST_POLISHED,
    MOST_READINGS,
    SLIDES,
    WIDEST_SPREAD,
    Measured,
    measured_fit,
    read_measured,
)
from core.problems import Problem
from core.tube import read_tube


def fit(bores, ods=(1.5, 1.5), **more):
    return measured_fit(Measured(tuple(ods), tuple(bores), **more))


def said(bores, ods=(1.5, 1.5), **more):
    return " ".join(fit(bores, ods, **more).what_to_do())


def test_the_amounts():
    assert (SLIDES, MOST_HONED, MOST_POLISHED) == (0.003, 0.010, 0.002)  # common practice, no source
    assert (MOST_READINGS, ENOUGH_READINGS, WIDEST_SPREAD) == (12, 4, 0.05)  # common practice, no source


@pytest.mark.parametrize(
    ("bores", "verdict"),
    [  # hand: 0 and .0625 count as met, and so does the rounding of a reading (1e-9 in), not a millionth
        ((1.5, 1.5625), "met"), ((1.5 - 5e-10, 1.5625 + 5e-10), "met"), ((1.5 - 1e-6, 1.52), "unknown"), ((1.51, 1.562501), "unknown"),
        ((1.4999, 1.499999), "not met"), ((1.4999, 1.5), "unknown"), ((1.562501, 1.57), "not met"), ((1.5625, 1.57), "unknown"),
    ],
)  # fmt: skip
def test_the_verdict_at_its_limits(bores, verdict):
    one = fit(bores)
    assert one.check().verdict == verdict
    assert bool(one.as_dict()["warnings"]) is (verdict == "not met")


@pytest.mark.parametrize(
    ("bead", "verdict"),
    # hand: bores 1.51, .010 of room: a bead of .010 may just turn away, one of .0101 keeps the tube out
    [(0.0, "met"), (0.010, "met"), (0.0101, "not met")],
)
def test_a_bead_at_the_room_there_is(bead, verdict):
    assert fit((1.51, 1.51), bead=bead).check().verdict == verdict


def test_a_bead_in_an_oval_bore_may_turn_to_the_room():
    # hand: least 1.505 - .008 - 1.5 = -.003, but the widest bore has .010 for a bead of .008
    assert fit((1.505, 1.510), bead=0.008).check().verdict == "unknown"


@pytest.mark.parametrize(
    ("bores", "wanted", "absent"),
    [
        ((1.503, 1.503), "It slides", "Hone"), ((1.50299, 1.503), "Hone 0.001 in", "It slides"),  # hand: slides from .003
        ((1.5625, 1.5625), "It slides", "loose"), ((1.51, 1.56251), "Too loose by 0.001 in at the loosest", "It slides"),
        ((1.5625, 1.57), "at the loosest pair", "by up to"), ((1.5626, 1.57), "Too loose by up to 0.008 in.", "loosest"),
        ((1.503, 1.57), "at the loosest pair", "tight and loose"), ((1.5029, 1.57), "tight and loose", "It slides"),
        ((1.493, 1.493), "Hone 0.010 in", "Choose"), ((1.4929, 1.493), "Too tight by 0.011 in", "Hone 0"),
        ((1.501, 1.501), "Polish scale", "Choose"), ((1.5009, 1.501), "Hone 0.003 in", "Polish"),
        ((1.5, 1.5595), "Hone 0.003 in", "too loose elsewhere"), ((1.5, 1.5596), "too loose elsewhere", "Hone 0"),
        ((1.5, 1.5), "Hone 0.003 in", "ovals"), ((1.499, 1.5), "ovals may line up", "Choose"), ((1.498, 1.4999), "Hone 0.005 in", "ovals"),
    ],
)  # fmt: skip
def test_what_is_said_on_either_side_of_each_amount(bores, wanted, absent):
    text = said(bores)
    assert wanted in text and absent not in text


def test_a_bead_that_is_all_that_is_in_the_way():
    # hand: least 1.503 - .06 - 1.5 = -.057; without the bead .003, which slides; 1.5029 is a tenth short of it
    assert "Then measure the bore again" in said((1.503, 1.503), bead=0.06)
    assert "Hone 0.001 in" in said((1.5029, 1.503), bead=0.06)
    # hand: least .007 - .004 = .003 slides over the bead, .0069 - .004 does not
    assert "higher spots" in said((1.507, 1.507), bead=0.004) and "higher spots" not in said((1.5069, 1.507), bead=0.004)
    assert "bead is" not in said((1.507, 1.507))


@pytest.mark.parametrize(("wall", "told"), [(".122 in", False), (".1219 in", True)])
def test_honing_down_to_the_tubes_wall_is_not_under_it(wall, told):
    # hand: bore .001 under the tube, so .004 on the diameter is .002 off the wall; .122 - .002 = .120
    tube, sleeve = ({"od": od, "wall": t, "material": "dom-1020"} for od, t in (("1.5 in", ".120 in"), ("1-3/4 in", wall)))
    one = fit((1.499, 1.499), tube=read_tube(tube), sleeve=read_tube(sleeve))
    assert any("Honing leaves" in line for line in one.what_to_do()) is told


@pytest.mark.parametrize(("other", "fits"), [(1.9, True), (1.8999, False)])
def test_readings_up_to_five_hundredths_apart_are_of_one_part(other, fits):
    # hand: 2 x .05 = .1
    if fits:
        assert fit((2.01, 2.01), (2.0, other)).tube_ovality == pytest.approx(0.1)
    else:
        with pytest.raises(Problem) as caught:
            fit((2.01, 2.01), (2.0, other))
        assert caught.value.field == "tube_od"


def test_the_readings_that_are_taken_and_refused_at_the_ends():
    twelve = read_measured({"tube_od": ["1.5 in"] * 12, "sleeve_bore": ["1.51 in", ""] + ["1.51 in"] * 2})
    assert (len(twelve.tube_od), len(twelve.sleeve_bore)) == (12, 3)
    # hand: half of the least tube is .125 in = 3.175 mm; the largest 6 in = 152.4 mm; walls .020 to .750 in
    assert read_measured({"tube_od": ["3.175 mm"] * 2, "sleeve_bore": ["152.4 mm"] * 2}).metric
    for walls in (".020 in", ".750 in"):
        assert read_measured({"tube_od": ["1.5"] * 2, "sleeve_od": ["4"] * 2, "sleeve_wall": walls}).sleeve_wall.typed == walls
    for member, value in (("tube_od", [".1249 in"] * 2), ("sleeve_bore", ["6.001 in"] * 2), ("sleeve_wall", ".0199 in"), ("sleeve_wall", ".751 in")):
        with pytest.raises(Problem) as caught:
            read_measured({"tube_od": ["1.5"] * 2, "sleeve_bore": ["1.51"] * 2, member: value})
        assert (caught.value.kind, caught.value.field) == ("out-of-range", member)


def test_the_units_follow_the_caller_then_the_first_reading():
    bores = ["1.6 in", "1.6 in"]
    assert read_measured({"tube_od": ["40 mm", "1.575 in"], "sleeve_bore": bores}).metric is True
    assert read_measured({"tube_od": ["40 mm", "1.575 in"], "sleeve_bore": bores, "units": "in"}).metric is False
    assert read_measured({"tube_od": ["1.575 in", "40 mm"], "sleeve_bore": bores}).metric is False
    assert measured_fit(read_measured({"tube_od": ["1.5 in"] * 2, "sleeve_bore": bores})).as_dict()["bead"]["text"] == "0.000 in"
    assert float(read_measured({"tube_od": ["1.5 in"] * 2, "sleeve_bore": bores, "bead": "1/4 in"}).bead) == 0.25
    with pytest.raises(Problem):
        read_measured({"tube_od": ["1.5 in"] * 2, "sleeve_bore": bores, "bead": ".251 in"})


@pytest.mark.parametrize(
    ("largest", "wanted"),
    # hand: bores from largest + .003 to 1.5 + .0625 = 1.5625; 1.5585 leaves .001, from 1.5615 up to 1.562 to 1.562;
    # 1.5586 leaves .0009, which no thousandth need lie in: rounded inward it would read 1.562 to 1.562, and 1.5594 1.563 to 1.562
    [(1.5585, "A bore of 1.562 in to 1.562 in"), (1.5586, "No round bore"), (1.5594, "No round bore"), (1.56, "No round bore")],
)
def test_a_bore_is_named_only_where_a_thousandth_fits(largest, wanted):
    assert wanted in said((1.6, 1.6), (1.5, largest))


def test_the_worst_case_stands_beside_only_with_both_sizes():
    tube, sleeve = ({"od": od, "wall": ".120 in", "material": "dom-1020"} for od in ("1-5/8 in", "1-7/8 in"))
    base = {"tube_od": ["1.625 in"] * 2, "sleeve_bore": ["1.635 in"] * 2}
    for part in ({"tube": tube}, {"sleeve": sleeve}, {}):
        assert measured_fit(read_measured({**base, **part})).as_dict()["side_by_side"] == []
    assert len(measured_fit(read_measured({**base, "tube": tube, "sleeve": sleeve})).as_dict()["side_by_side"]) == 2


def test_a_wall_may_be_a_gauge_and_a_diameter_may_not():
    read = read_measured({"tube_od": ["1.5 in"] * 2, "sleeve_od": ["1.75 in"] * 2, "sleeve_wall": "11 ga"})
    assert float(read.sleeve_wall) == 0.120  # published: BWG 11, see test_bwg_gauges.py
    for member in ("tube_od", "sleeve_bore"):
        with pytest.raises(Problem) as caught:
            read_measured({"tube_od": ["1.5 in"] * 2, "sleeve_bore": ["1.51 in"] * 2, member: ["11 ga"] * 2})
        assert caught.value.field == member
    assert read_measured({"tube_od": ["1.5 in"] * 2, "sleeve_bore": ["1.51 in"] * 2, "sleeve_wall": ""}).sleeve_wall is None


def test_the_wall_left_by_honing_is_half_of_it_less():
    # hand: bore .007 under the tube, .010 to hone, .005 off a .120 wall; 3.048 mm less .127 mm is 2.921, down 2.92, beside 3.05
    sizes = {what: {"od": od, "wall": ".120 in", "material": "dom-1020"} for what, od in (("tube", "1.5 in"), ("sleeve", "1-3/4 in"))}
    for units, told in (("in", "wall 0.115 in, under the tube's 0.120 in"), ("mm", "wall 2.92 mm, under the tube's 3.05 mm")):
        read = read_measured({**sizes, "tube_od": ["1.5 in"] * 2, "sleeve_bore": ["1.493 in"] * 2, "units": units})
        assert any(told in line for line in measured_fit(read).what_to_do())


def test_a_bead_that_cannot_be_is_refused_as_the_bead():
    for bead in (".251 in", "x"):
        with pytest.raises(Problem) as caught:
            read_measured({"tube_od": ["1.5 in"] * 2, "sleeve_bore": ["1.51 in"] * 2, "bead": bead})
        assert caught.value.field == "bead"


def test_a_small_bore_is_a_bore_and_none_is_the_walls_fault():
    assert fit((0.6, 0.6), (0.59, 0.59)).least == pytest.approx(0.01)
    with pytest.raises(Problem) as caught:
        read_measured({"tube_od": ["1 in"] * 2, "sleeve_od": ["1 in"] * 2, "sleeve_wall": ".5 in"})  # hand: 1 - 2 x .5 leaves nothing
    assert caught.value.field == "sleeve_wall"
