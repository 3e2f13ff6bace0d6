"""Plug sizes at and beside their limits, and what a weld line and a row of plugs are worth for each load."""

import pytest

from core.fillers import filler
from core.welds import (
    FILLET_THROAT,
    LEAN_STEPS,
    SMALLEST_LEG,
    WELD_FACTOR,
    plug_credit,
    plug_force,
    plug_lever,
    plug_minimum,
    ring_lever,
)


def test_a_wall_just_over_an_eighth_takes_the_next_plug():
    # hand: .1251 + .3125 = .4376, over 7/16; .125 is just 7/16
    assert (plug_minimum(0.1251), plug_minimum(0.125)) == (9 / 16, 7 / 16)
    # hand: 5e-8 in over is the rounding of a wall typed in millimetres, not another wall
    assert plug_minimum(0.125 + 5e-8) == 7 / 16


@pytest.mark.parametrize(
    ("diameter", "area"),
    # hand: least 7/16, most 9/16 for a .120 wall; pi/4 x .4375^2 = .150330, pi/4 x .5625^2 = .248505
    [(0.4374, 0.0), (0.4375, 0.150330), (0.4375 - 1e-10, 0.150330), (0.5625, 0.248505), (0.5626, 0.248505), (0.75, 0.248505)],
)
def test_a_plug_at_under_and_over_its_limits(diameter, area):
    assert plug_credit(0.120, diameter).area == pytest.approx(area, abs=1e-6)


def test_the_greatest_plug_of_a_thick_wall_is_two_and_a_quarter_walls():
    # hand: wall .5: least 13/16, + 1/8 = .9375, 2.25 x .5 = 1.125 is more; at .375: 11/16 + 1/8 = .8125, 2.25 x .375 = .84375
    assert plug_credit(0.5, 2.0).maximum == 1.125
    assert plug_credit(0.375, 2.0).maximum == 0.84375


def test_each_load_has_its_own_lever():
    # hand: axial the line and the count; bending half, torsion all of radius times them
    assert [ring_lever(load, 0.8, 2.0) for load in ("axial", "bending", "torsion")] == pytest.approx([2.0, 0.8, 1.6])
    assert [plug_lever(load, 0.8, 4) for load in ("axial", "bending", "torsion")] == pytest.approx([4.0, 1.6, 3.2])
    assert [plug_lever("bending", 0.8, count) for count in (2, 3)] == pytest.approx([0.0, 1.2])


def test_the_wall_around_a_plug_by_the_thinner_tube():
    # hand: .60 x 50 x pi x .4375 x .049 x .75 = 1.51533, under the metal's .75 x .60 x 70 x .150330 = 4.7354
    assert plug_force(filler("er70s-2"), plug_credit(0.120, 0.4375), 0.049, 50, "lrfd") == pytest.approx(1.51533, abs=2e-5)


def test_the_factors():
    # from memory: AISC 360 tables J2.5 and J2.4; throat by geometry, 0.707
    assert (WELD_FACTOR, SMALLEST_LEG, FILLET_THROAT) == ({"asd": 0.50, "lrfd": 0.75}, 0.125, 0.707)
    assert LEAN_STEPS == 180  # pinned: enough for 1 part in 10,000
