"""Net section with an odd row of holes, and a row that just fits."""

import math

import pytest

from core.section import STEEL_DENSITY, net_section, round_section


def test_three_holes_by_hand():
    # hand: strip .4375 x .120 = .0525, mean radius .8775, reach 1/sin 30 = 2, shift .4375^2 x .120/8 = .002871;
    # Z = .370179 - .0525 x .8775 x 2 - .002871 = .275170; A = .661619 - 3 x .0525 = .504119
    net = net_section(round_section(1.875, 0.120), 3, 0.4375)
    assert pytest.approx(0.275170, abs=2e-6) == net.Z
    assert net.area == pytest.approx(0.504119, abs=1e-6)


def test_one_hole_in_a_thin_ring_moves_the_neutral_axis():
    # hand: a thin ring of radius r open over 2 b at the top has its plastic axis at pi/2 + b/2 from the top, so it
    # loses 2 r^2 t (2 - 2 cos(b/2) + sin b), b = hole/2r; the closed form leaves out b^3, 3e-6 here
    tube, hole = round_section(2.0, 0.02), 0.05
    r, b = tube.mean_radius, hole / (2 * tube.mean_radius)
    lost = (tube.Z - net_section(tube, 1, hole).Z) / (2 * r**2 * 0.02)
    assert lost == pytest.approx(2 - 2 * math.cos(b / 2) + math.sin(b), abs=4e-6)


def test_holes_may_take_just_half_of_the_way_around():
    tube = round_section(2.0, 0.120)
    # hand: half of the way around a 2 in tube is pi
    assert net_section(tube, 2, math.pi / 2).area == pytest.approx(tube.area - math.pi * 0.120)


def test_the_density_is_the_stated_one():
    assert STEEL_DENSITY == 0.2836  # from memory: 7850 kg/m3
