"""One tube at one place: AISC formulas by hand, and which limit sets the capacity."""

import pytest

from core.section import NetSection, net_section, round_section
from core.tube_strength import CODES, LOADS, UNKNOWN, tube_capacity, wall_class

TUBE = round_section(1.625, 0.120)
WHOLE = NetSection(TUBE.area, TUBE.Z)
THIN = round_section(2.5, 0.035)


def test_wall_classes_follow_d_over_t():
    # hand: D/t 71.43; Fy 60: 0.07 x 483.3 = 33.8, 0.31 x 483.3 = 149.8. D/t 300 is over it.
    assert wall_class(THIN, 60) == "noncompact"
    assert wall_class(round_section(6.0, 0.020), 60) == "slender"
    assert wall_class(TUBE, 60) == "compact"
    # hand: D/t = 150 lies just over 149.83
    assert wall_class(round_section(6.0, 0.040), 60) == "slender"
    assert wall_class(round_section(6.0, 0.0401), 60) == "noncompact"


def test_a_thin_wall_bends_on_its_elastic_modulus():
    # hand: A = pi x 2.465 x 0.035 = 0.271041; I = A (6.25 + 5.9049)/16 = 0.205904; S = I/1.25 = 0.164723
    # 60 S/1.67 = 5.9182; rupture 70 x (15.625 - 14.348907)/6 / 2 = 7.4439
    got = tube_capacity(THIN, NetSection(THIN.area, THIN.Z), 60, 70, "bending", "asd")
    assert (got.value, got.limit) == (pytest.approx(5.9182, abs=5e-4), "yield")


def test_yield_and_rupture_swap_with_the_steel():
    # hand: 60/1.67 = 35.93 is over 70/2 = 35; 35/1.67 = 20.96 is under 50/2 = 25
    assert tube_capacity(TUBE, WHOLE, 60, 70, "axial", "asd").limit == "rupture"
    assert tube_capacity(TUBE, WHOLE, 35, 50, "axial", "asd").limit == "yield"


def test_holes_cut_rupture_only_and_say_so():
    sleeve = round_section(1.875, 0.120)
    net = net_section(sleeve, 4, 0.4375)
    # hand: A_net 0.661619 - 4 x 0.0525 = 0.451619; J/R 0.545945
    axial = tube_capacity(sleeve, net, 35, 50, "axial", "asd")
    assert (axial.value, axial.limit) == (pytest.approx(11.2905, abs=5e-4), "rupture on the net section")
    # hand: 0.6 x 50 x 0.545945 x 0.451619/0.661619 / 2 = 5.5899, under yield 6.865
    torsion = tube_capacity(sleeve, net, 35, 50, "torsion", "asd")
    assert (torsion.value, torsion.limit) == (pytest.approx(5.5899, abs=5e-4), "rupture on the net section")


def test_an_unknown_strength_gives_no_figure():
    for load in LOADS:
        for code in CODES:
            assert tube_capacity(TUBE, WHOLE, None, None, load, code) is UNKNOWN
            assert tube_capacity(TUBE, WHOLE, 60, None, load, code).value is None


def test_design_strength_is_about_one_and_a_half_times_allowable():
    # hand: 0.90 x 1.67 = 1.503 for yield, 0.75 x 2.00 = 1.5 for rupture
    for load in LOADS:
        low = tube_capacity(TUBE, WHOLE, 35, 500, load, "asd").value
        assert tube_capacity(TUBE, WHOLE, 35, 500, load, "lrfd").value == pytest.approx(1.503 * low)
        low = tube_capacity(TUBE, WHOLE, 500, 50, load, "asd").value
        assert tube_capacity(TUBE, WHOLE, 500, 50, load, "lrfd").value == pytest.approx(1.5 * low)
