"""End fillet and rosettes: published line values, hand values, and the plug diameter rule."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.fillers import FILLERS, filler
from core.problems import Problem
from core.welds import face_lean, fillet_force, plug_credit, plug_force, plug_lever, plug_minimum, ring_lever

LINE_60 = 7.871864  # hand: 4 r sec m E(sin^2 m), 1.625 in at 60 degrees; checked with scipy in test_strength.py


@pytest.mark.parametrize(
    ("wall", "least"),
    # hand: t + 0.3125 -> next odd sixteenth. .120: .4325 -> 7/16. .125: .4375 exactly 7/16. .134: .4465 -> 9/16.
    # .065: .3775 -> 7/16. .058: .3705 -> 7/16. .250: .5625 exactly 9/16
    [(0.120, 7 / 16), (0.125, 7 / 16), (0.134, 9 / 16), (0.065, 7 / 16), (0.058, 7 / 16), (0.250, 9 / 16)],
)
def test_least_plug_diameter_is_the_next_odd_sixteenth(wall, least):
    assert plug_minimum(wall) == least


@given(st.floats(0.02, 0.75))
def test_least_plug_diameter_is_odd_sixteenths_and_no_more_than_an_eighth_over(wall):
    sixteenths = plug_minimum(wall) * 16
    assert sixteenths == round(sixteenths) and sixteenths % 2 == 1
    assert -1e-9 <= plug_minimum(wall) - wall - 5 / 16 < 1 / 8 + 1e-9


def test_an_oversized_plug_counts_as_the_largest():
    # hand: 7/16 + 1/8 = 9/16
    assert plug_credit(0.120, 0.75).area == pytest.approx(math.pi / 4 * 0.5625**2)
    assert "over the 9/16 in maximum" in plug_credit(0.120, 0.75).reason


def test_fillet_is_030_fexx_on_the_throat_and_lrfd_is_045():
    # hand: 0.30 x 80 x 0.707 x 0.1 = 1.6968; 0.75 x 0.60 x 80 x 0.707 x 0.1 = 2.5452
    assert fillet_force(filler("er80s-d2"), 0.1, None, "asd") == pytest.approx(1.6968)
    assert fillet_force(filler("er80s-d2"), 0.1, None, "lrfd") == pytest.approx(2.5452)
    # hand: steel of 45 ksi at the face, 0.30 x 45 x 0.1 = 1.35, is lower
    assert fillet_force(filler("er80s-d2"), 0.1, 45, "asd") == pytest.approx(1.35)


def test_a_plug_carries_030_fexx_on_its_area_unless_the_wall_tears_first():
    credit = plug_credit(0.120, 0.4375)
    # hand: pi x 0.4375^2/4 = 0.150330; x 21 = 3.15693. Wall: 0.30 x 50 x pi x 0.4375 x 0.120 = 2.47400
    assert plug_force(filler("er70s-2"), credit, 0.120, None, "asd") == pytest.approx(3.15693, abs=1e-4)
    assert plug_force(filler("er70s-2"), credit, 0.120, 50, "asd") == pytest.approx(2.47400, abs=1e-4)


def test_plugs_in_bending_count_only_where_no_axis_can_miss_them():
    # hand: elastic ring of n points, sum of r^2 cos^2 = n r^2 / 2 for three or more
    assert plug_lever("bending", 1.0, 1) == plug_lever("bending", 1.0, 2) == 0.0
    for n in (3, 4, 5):
        points = sum(math.cos(0.4 + 2 * math.pi * k / n) ** 2 for k in range(n))
        assert plug_lever("bending", 1.0, n) == pytest.approx(points)
    assert plug_lever("torsion", 0.8, 3) == pytest.approx(2.4)


def test_a_whole_circle_of_weld_has_the_textbook_line_values():
    # published: weld as a line, circle of diameter d: S = pi d^2/4, J/r = pi d^2/2 per unit throat
    d = 1.625
    assert ring_lever("bending", d / 2, math.pi * d) == pytest.approx(math.pi * d**2 / 4)
    assert ring_lever("torsion", d / 2, math.pi * d) == pytest.approx(math.pi * d**2 / 2)


def test_bending_and_torsion_never_use_more_than_the_square_ring_nor_more_weld_than_there_is():
    r = 0.8125
    for load in ("bending", "torsion"):
        whole = ring_lever(load, r, 2 * math.pi * r)
        assert ring_lever(load, r, LINE_60) == whole
        assert ring_lever(load, r, math.pi * r) == pytest.approx(whole / 2)


# hand: wedge angle 90 +- m where the face leans away from or over the tube
@pytest.mark.parametrize(
    ("shape", "low", "high"), [("pointed", 90, 150), ("fishmouth", 30, 90), ("scarf", 30, 150), ("square", 90, 90)]
)
def test_face_angles_by_end_shape(shape, low, high):
    lean = face_lean(shape, 60)
    assert (round(lean.psi_low, 9), round(lean.psi_high, 9)) == (low, high)
    # hand: throat = leg cos(psi/2); cos 75 deg = 0.258819, cos 45 deg = 0.707107
    assert lean.least_throat == pytest.approx(math.cos(math.radians(high / 2)))
    assert lean.mean_share >= lean.least_throat / math.cos(math.pi / 4) - 1e-9


def lean_by_vectors(profile, steps=20000):
    """Mean throat share from face and tube normals: metal of the sleeve lies under z = profile."""
    r, h, total, length = 0.8, 1e-6, 0.0, 0.0
    for i in range(steps):
        a = (i + 0.5) * 2 * math.pi / steps
        slope_r = (profile(r + h, a) - profile(r - h, a)) / (2 * h)
        slope_a = (profile(r, a + h) - profile(r, a - h)) / (2 * h) / r
        # Face normal (-slope_r, -slope_a, 1), tube normal (1, 0, 0); the wedge is the rest of 180.
        psi = math.pi - math.acos(-slope_r / math.sqrt(slope_r**2 + slope_a**2 + 1))
        ds = math.hypot(1, slope_a)
        total, length = total + math.cos(psi / 2) * ds, length + ds
    return total / length / math.cos(math.pi / 4)


@pytest.mark.parametrize("mitre", [20, 45, 60])
@pytest.mark.parametrize(
    ("shape", "sign"), [("pointed", lambda a: -abs(math.cos(a))), ("fishmouth", lambda a: abs(math.cos(a))), ("scarf", math.cos)]
)
def test_the_mean_throat_agrees_with_surface_normals(shape, sign, mitre):
    # reference: normals of the end profiles -rho T |cos|, +rho T |cos|, rho T cos, taken numerically
    slope = math.tan(math.radians(mitre))
    expected = lean_by_vectors(lambda r, a: r * slope * sign(a))
    assert face_lean(shape, mitre).mean_share == pytest.approx(expected, abs=1e-4)


def test_no_mitre_is_no_lean():
    assert face_lean("pointed", 0) == face_lean("square", 60)
    assert face_lean("square", 0).mean_share == pytest.approx(1.0)


def test_names_that_are_not_known_are_refused_with_the_list():
    for bad in ("er90s", None, 7):
        with pytest.raises(Problem) as caught:
            filler(bad)
        assert caught.value.kind == "bad-filler" and "er70s-2" in caught.value.allowed
    with pytest.raises(Problem) as caught:
        face_lean("round", 30)
    assert caught.value.field == "end_shape" and "fishmouth" in caught.value.allowed


def test_fillers_hold_their_classification():
    # AWS A5.18 ER70S-2 58/70 ksi, A5.28 ER80S-D2 68/80 ksi: from memory
    assert {(f.name, f.yield_ksi, f.ultimate_ksi) for f in FILLERS.values()} == {("ER70S-2", 58, 70), ("ER80S-D2", 68, 80)}
    assert all("from memory" in f.source for f in FILLERS.values())
