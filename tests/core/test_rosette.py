"""Rosette holes: sizes from the fact sheet, places against a dense sampling of the developed edge."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from core.rosette import crossing, edge_distance, hole_sizes, plug_minimum, stations, tip_angles, to_nearest
from core.sleeve import ENDS, EndCut, rule_length

F = Fraction


def sampled_distance(x, angle, length, Ds, cut, count=200_001):
    """Least distance to the edge over the developed outside, every sample looked at."""
    a = np.linspace(angle - math.pi, angle + math.pi, count)
    T = 0.0 if cut.end == "square" else math.tan(math.radians(cut.mitre_deg))
    reach = Ds / 2 * T * np.cos(a)
    edge = {"square": 0 * a, "scarf": reach, "pointed": -np.abs(reach), "fishmouth": np.abs(reach)}[cut.end]
    top = Ds / 2 * T if cut.end in ("scarf", "fishmouth") else 0.0
    return np.hypot(length / 2 - top + edge - x, Ds / 2 * (a - angle)).min()


def test_the_sizes_of_the_main_sleeve():
    sizes = {s.key: s for s in hole_sizes(F(13, 8), F(15, 8), F(120, 1000))}
    # project fact sheet section 4: 1.875/4 -> 15/32, 1.625/4 -> 13/32, .120 + 5/16 -> 7/16
    assert {key: s.diameter for key, s in sizes.items()} == {"circular": F(15, 32), "shop": F(13, 32), "structural": F(7, 16)}
    assert "under the structural minimum of 7/16 in" in sizes["shop"].text
    assert "under" not in {s.key: s for s in hole_sizes(F(2), F(9, 4), F(120, 1000))}["shop"].text


# hand: t + 5/16, up to the next odd sixteenth (AISC 360 J2.3b, from memory)
@pytest.mark.parametrize(("wall", "least"), [("0.035", F(7, 16)), ("0.120", F(7, 16)), ("0.125", F(7, 16)), ("0.126", F(9, 16)), ("0.250", F(9, 16)), ("0.251", F(11, 16))])
def test_the_structural_plug_is_an_odd_sixteenth(wall, least):
    assert plug_minimum(F(wall)) == least


def test_half_a_step_rounds_upward():
    assert to_nearest(F(3, 64), F(1, 32)) == F(1, 16)


@settings(deadline=None, max_examples=150)
@given(end=st.sampled_from(ENDS), mitre=st.floats(5, 75), Ds=st.floats(0.75, 3), back=st.floats(0.05, 1), turn=st.floats(-0.5, 0.5))
@example(end="fishmouth", mitre=74.0, Ds=2.0, back=0.05078125, turn=0.0)
@example(end="fishmouth", mitre=74.0, Ds=2.0, back=0.05078125, turn=-1e-9)
def test_the_edge_distance_is_the_least_over_the_developed_outside(end, mitre, Ds, back, turn):
    cut = EndCut(end, 0.0 if end == "square" else mitre)
    length = rule_length(0.8 * Ds, Ds, 0, cut)
    x, angle = length / 2 * (1 - back), math.radians(tip_angles(cut)[0]) + turn
    # numpy: dense sampling; its own step is under Ds pi / 200 000
    assert edge_distance(x, angle, length, Ds, cut) == pytest.approx(sampled_distance(x, angle, length, Ds, cut), abs=2e-4)


@settings(deadline=None, max_examples=200)
@given(end=st.sampled_from(ENDS), mitre=st.floats(1, 75), Ds=st.floats(0.375, 6), share=st.floats(0, 1), turn=st.floats(-2 * math.pi, 2 * math.pi))
def test_the_edge_distance_holds_all_around_the_sleeve(end, mitre, Ds, share, turn):
    cut = EndCut(end, 0.0 if end == "square" else mitre)
    length = rule_length(0.8 * Ds, Ds, 0, cut)
    x = share * (length / 2 - cut.tip_reach(Ds / 2) + cut.profile(Ds / 2, turn))
    # numpy: dense sampling; it can only be over the true distance, by less than its step along a 75 degree flank
    wanted = sampled_distance(x, turn, length, Ds, cut)
    assert wanted - 2 * Ds * math.pi / 200_000 / math.cos(math.radians(cut.mitre_deg)) <= edge_distance(x, turn, length, Ds, cut) <= wanted + 1e-7


@pytest.mark.parametrize(
    ("mitre", "Ds", "x", "turn"),
    # found by random search: another flank is nearer than the one the coarsest look points to
    [(61.24356125373691, 0.5969537262728375, 0.15174574195622093, 0.01759545181963773), (53.15151693600192, 3.324841948583209, 0.048040872873733126, 6.351807389889688)],
)
def test_the_nearest_flank_is_found_where_several_are_almost_as_near(mitre, Ds, x, turn):
    cut = EndCut("fishmouth", mitre)
    length = rule_length(0.8 * Ds, Ds, 0, cut)
    # numpy: dense sampling, which can miss a sharp crotch by a step
    assert edge_distance(x, turn, length, Ds, cut) == pytest.approx(sampled_distance(x, turn, length, Ds, cut), abs=1e-4)


def test_the_edge_is_nearer_than_the_axis_says():
    cut = EndCut("pointed", 60)
    (one, two) = stations(8.125, 1.875, 0, cut)
    assert one.to_edge < 0.65 * one.from_tip  # hand: the flanks of a tip close in
    assert (one.angle_deg, two.angle_deg) == (90.0, 270.0)
    assert one.edge_room(0.469) == pytest.approx(one.to_edge - 0.2345, abs=1e-6)


@pytest.mark.parametrize("end", ENDS)
@pytest.mark.parametrize("gap", [0.0, 0.03125, 0.5])
def test_the_hole_is_as_far_as_can_be_from_edge_and_stub(end, gap):
    cut = EndCut(end, 0.0 if end == "square" else 60)
    length = rule_length(1.625, 1.875, gap, cut)
    places = stations(length, 1.875, gap, cut)
    assert len(places) == len(tip_angles(cut))
    one = places[0]
    assert one.to_stub_end == pytest.approx(one.to_edge, abs=1e-6)
    assert one.from_tip + one.from_middle == pytest.approx(length / 2)
    angle = math.radians(one.angle_deg)
    best = max(min(x - gap / 2, sampled_distance(x, angle, length, 1.875, cut, 20_001)) for x in np.linspace(gap / 2, length / 2, 801))
    assert min(one.to_stub_end, one.to_edge) == pytest.approx(best, abs=length / 1600 + 1e-3)


def test_a_tip_lies_on_every_tip_line():
    for end in ("pointed", "fishmouth", "scarf"):
        cut = EndCut(end, 60)
        for angle in tip_angles(cut):
            assert cut.profile(1.0, math.radians(angle)) == pytest.approx(cut.tip_reach(1.0), abs=1e-12)


def test_a_sleeve_that_does_not_reach_the_stub_has_no_holes():
    assert stations(0.5, 1.875, 0.5, EndCut("pointed", 60)) == ()


@given(at=st.floats(-0.9, 0.9), power=st.sampled_from([1, 3, 1 / 3]), low=st.floats(0.1, 50), high=st.floats(0.1, 50))
def test_a_crossing_is_found_wherever_it_lies(at, power, low, high):
    def rising(x):
        return math.copysign(abs(x - at) ** power, x - at)

    # hand: the function is zero at `at`; a cube is under 1e-10 within 5e-4 of it
    assert crossing(rising, at - low, at + high) == pytest.approx(at, abs=5e-4 if power == 3 else 1e-8)


def test_a_crossing_outside_gives_the_nearer_end_and_a_jump_its_place():
    assert (crossing(lambda x: x + 2, -1.0, 1.0), crossing(lambda x: x - 2, -1.0, 1.0)) == (-1.0, 1.0)
    assert crossing(lambda x: 1.0 if x > 0.3 else -1e-3, -1.0, 1.0) == pytest.approx(0.3, abs=1e-8)
