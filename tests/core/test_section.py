"""Section properties of round tubes: published values, hand values, and what must always hold."""
# ruff: noqa: SIM300  (I, S, Z, J are the trade's symbols, not constants)

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.problems import Problem
from core.section import STEEL_DENSITY, net_section, round_section, tube_section
from core.tube import read_tube

EXACT = 1e-12

diameters = st.floats(0.5, 6.0)
wall_shares = st.floats(0.01, 0.45)

# published: "Round Tubing Properties", table T403 (web page, 1998), three decimals. Its 4 x 3/16
# row prints I as 40.90 for 4.090 and its 2 x 1/8 weight is off, so those cells are left out.
T403 = [
    # D, t, A, I, r, S
    (1.0, 0.125, 0.344, 0.034, 0.313, 0.067),
    (1.5, 0.125, 0.540, 0.129, 0.488, 0.172),
    (1.5, 0.250, 0.982, 0.199, 0.451, 0.266),
    (2.0, 0.125, 0.736, 0.325, 0.664, 0.325),
    (2.5, 0.250, 1.767, 1.132, 0.800, 0.906),
    (3.0, 0.250, 2.160, 2.059, 0.976, 1.373),
]


@pytest.mark.parametrize(("D", "t", "area", "I", "r", "S"), T403)
def test_a_published_tubing_table_agrees_to_its_last_digit(D, t, area, I, r, S):  # noqa: E741
    tube = round_section(D, t)
    # One unit of the table's third decimal: it cuts some digits off and rounds others.
    assert tube.area == pytest.approx(area, abs=1e-3)
    assert tube.I == pytest.approx(I, abs=1e-3)
    assert tube.r == pytest.approx(r, abs=1e-3)
    assert tube.S == pytest.approx(S, abs=1e-3)


def test_the_published_weight_agrees():
    # published: table T403, 1-1/2 x 1/4 steel, 3.338 lb/ft. Mills use 0.2833 to 0.2836 lb/in3.
    assert round_section(1.5, 0.25).mass * 12 == pytest.approx(3.338, rel=2e-3)


def test_a_structural_handbook_row_agrees():
    # AISC manual, HSS 2.500 x 0.250 (design wall 0.233 in): A 1.66, I 1.08, S 0.862, r 0.806, J 2.15;
    # from memory. Z is left out: the remembered 1.19 disagrees with (D^3 - d^3)/6 = 1.20 and no copy
    # was at hand to settle it. Z is checked by hand and against the reference library instead.
    tube = round_section(2.5, 0.233)
    assert (round(tube.area, 2), round(tube.I, 2), round(tube.S, 3)) == (1.66, 1.08, 0.862)
    assert (round(tube.r, 3), round(tube.J, 2)) == (0.806, 2.15)


def test_hand_values_of_the_usual_tubes():
    # hand: pi x 1.505 x 0.120 = 0.567; pi x 1.755 x 0.120 = 0.662; pi x 1.491 x 0.134 = 0.628
    assert round(round_section(1.625, 0.120).area, 3) == 0.567
    assert round(round_section(1.875, 0.120).area, 3) == 0.662
    assert round(round_section(1.625, 0.134).area, 3) == 0.628
    # hand: Z = (1.625^3 - 1.385^3) / 6 = (4.291016 - 2.656742) / 6 = 0.272379
    assert round_section(1.625, 0.120).Z == pytest.approx(0.272379, abs=1e-6)


def test_steel_density_is_7850_kg_per_cubic_metre():
    # hand: 7850 kg/m3 x 2.2046226 lb/kg / 61023.744 in3/m3 = 0.28360
    assert pytest.approx(7850 * 2.2046226 / 61023.744, abs=5e-5) == STEEL_DENSITY


@given(diameters, wall_shares)
def test_the_parts_agree_with_each_other(D, share):
    # published: identities of a hollow circle (any strength-of-materials text).
    tube = round_section(D, share * D)
    d = D - 2 * share * D
    assert tube.area == pytest.approx(math.pi / 4 * (D**2 - d**2), rel=1e-9)
    assert tube.I == pytest.approx(math.pi / 64 * (D**4 - d**4), rel=1e-9)
    assert tube.r == pytest.approx(math.sqrt(tube.I / tube.area), rel=1e-9)
    assert tube.J == pytest.approx(2 * tube.I, rel=EXACT)
    # A ring's shape factor lies between a thin ring's 4/pi and a solid bar's 16/(3 pi).
    assert 4 / math.pi - 1e-9 <= tube.Z / tube.S <= 16 / (3 * math.pi) + 1e-9


@given(diameters, wall_shares, st.floats(1.001, 1.05))
def test_more_wall_gives_more_of_everything_but_radius_of_gyration(D, share, more):
    thin, thick = round_section(D, share * D), round_section(D, share * D * more)
    for name in ("area", "I", "S", "Z", "J", "mass"):
        assert getattr(thick, name) > getattr(thin, name), name
    assert thick.r < thin.r


@given(diameters, wall_shares, st.floats(0.1, 10))
def test_properties_scale_with_their_dimension(D, share, k):
    one, other = round_section(D, share * D), round_section(k * D, k * share * D)
    for name, power in (("area", 2), ("I", 4), ("S", 3), ("Z", 3), ("J", 4), ("r", 1), ("mass", 2)):
        assert getattr(other, name) == pytest.approx(getattr(one, name) * k**power, rel=1e-9), name


def test_a_tube_typed_in_millimetres_has_the_same_section():
    inches = read_tube({"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"})
    metric = read_tube({"od": "41.275 mm", "wall": "3.048 mm", "material": "dom-1020"})
    assert tube_section(inches) == tube_section(metric)


@pytest.mark.parametrize(("D", "t"), [(1.0, 0.5), (1.0, 0.6), (1.0, 0.0), (1.0, -0.1), (0.0, 0.0), (math.inf, 1.0), (math.nan, 0.1)])
def test_sizes_that_make_no_tube_are_refused_with_what_was_given(D, t):
    with pytest.raises(Problem) as caught:
        round_section(D, t)
    assert caught.value.kind == "bad-section"
    assert str(D) in caught.value.given and caught.value.allowed and caught.value.next_step


def test_no_holes_leave_the_whole_section():
    tube = round_section(1.875, 0.120)
    net = net_section(tube, 0, 0.0)
    assert (net.area, net.Z) == (tube.area, tube.Z)


def test_two_holes_by_hand():
    # hand: strip 0.4375 x 0.120 = 0.0525; A 0.661619 - 0.105 = 0.556619;
    # Z = (1.875^3 - 1.635^3)/6 = (6.591797 - 4.370723)/6 = 0.370179; less 2 x 0.0525 x 0.8775
    # = 0.092138: 0.278041
    net = net_section(round_section(1.875, 0.120), 2, 0.4375)
    assert net.area == pytest.approx(0.556619, abs=1e-6)
    assert net.Z == pytest.approx(0.278041, abs=2e-6)


def worst_net_plastic_modulus(D, t, holes, diameter, turns=60, steps=7200):
    """Net plastic modulus by brute force: a thin ring of 7200 pieces, turned through one pitch."""
    radius, half = (D - t) / 2, diameter / (D - t)
    pitch = 2 * math.pi / holes
    angles = [(i + 0.5) * 2 * math.pi / steps for i in range(steps)]
    piece = radius * t * 2 * math.pi / steps
    worst = math.inf
    for turn in range(turns):
        start = pitch * turn / turns
        left = [a for a in angles if abs((a - start + pitch / 2) % pitch - pitch / 2) > half]
        heights = sorted(radius * math.cos(a) for a in left)
        axis = heights[len(heights) // 2]  # equal areas either side
        worst = min(worst, piece * sum(abs(y - axis) for y in heights))
    return worst


@pytest.mark.parametrize("holes", [1, 2, 3, 4, 5])
def test_the_worst_turn_of_a_row_of_holes_agrees_with_brute_force(holes):
    # reference: numerical ring, independent of the closed form. Thin ring Z = 4 r^2 t.
    D, t, diameter = 2.0, 0.02, 0.3
    tube = round_section(D, t)
    closed = net_section(tube, holes, diameter).Z / tube.Z
    brute = worst_net_plastic_modulus(D, t, holes, diameter) / (4 * tube.mean_radius**2 * t)
    assert closed == pytest.approx(brute, abs=0.006)
    assert closed <= brute + 1e-3  # never over what is left


@given(st.integers(1, 6), st.floats(0.1, 0.3))
def test_more_or_larger_holes_never_leave_more_area(holes, diameter):
    tube = round_section(2.0, 0.120)
    base = net_section(tube, holes, diameter)
    assert net_section(tube, holes + 1, diameter).area < base.area
    larger = net_section(tube, holes, diameter * 1.1)
    assert larger.area < base.area and larger.Z < base.Z


def test_holes_that_eat_the_tube_are_refused():
    with pytest.raises(Problem) as caught:
        net_section(round_section(1.0, 0.065), 4, 0.5)  # 2.0 in of 1.571 in allowed
    assert caught.value.kind == "bad-section" and "1.571" in caught.value.allowed


def test_one_very_wide_hole_never_gives_a_negative_modulus():
    assert net_section(round_section(0.5, 0.10), 1, 0.78).Z == 0.0


def test_the_json_form_carries_units_in_its_names():
    data = round_section(1.875, 0.120).as_dict()
    # hand: 0.661619 in2 x 645.16 = 426.85 mm2; x 0.2836 x 12 = 2.2516 lb/ft = 3.3508 kg/m
    assert data["area_mm2"] == pytest.approx(426.85, abs=0.01)
    assert data["mass_lb_per_ft"] == pytest.approx(2.2516, abs=1e-4)
    assert data["mass_kg_per_m"] == pytest.approx(3.3508, abs=5e-4)
    assert data["text"] == "0.662 in² (427 mm²), 2.252 lb/ft"
