"""Fit of a sleeve over a tube: the fact sheet's sizes, the .134 wall, and the tolerance tables."""

from fractions import Fraction

import pytest

from core.fit import clearance, fit_checks, nominal_clearance, tolerance_notes, wall_story
from core.tolerances import diameter_tolerance, wall_tolerance
from core.tube import read_tube


def tube(od, wall, material="dom-1020", seam="none"):
    return read_tube({"od": od, "wall": wall, "material": material, "seam": seam})


def verdicts(inner, outer, metric=False):
    return {check.id: check.verdict for check in fit_checks(inner, outer, metric)}


# hand: (Ds - 2 ts) - D, limit 0 to 1/16 in; project fact sheet section 3
@pytest.mark.parametrize(
    ("over", "wall", "wanted", "met"),
    [
        ("1-7/8 in", ".120 in", "0.010", True), ("1-7/8 in", ".109 in", "0.032", True), ("1-7/8 in", ".095 in", "0.060", True),
        ("1-7/8 in", ".083 in", "0.084", False), ("1-7/8 in", ".134 in", "-0.018", False),
        ("1-3/4 in", ".058 in", "0.009", True), ("1-3/4 in", ".049 in", "0.027", True), ("1-3/4 in", ".035 in", "0.055", True),
        ("1-3/4 in", ".065 in", "-0.005", False), ("2 in", ".165 in", "0.045", True),
    ],
)  # fmt: skip
def test_the_usual_steps_over_a_tube(over, wall, wanted, met):
    inner, outer = tube("1-5/8 in", ".035 in"), tube(over, wall)
    assert nominal_clearance(inner, outer) == Fraction(wanted)
    assert (verdicts(inner, outer)["clearance"] == "met") is met


def test_the_clearance_limits_count_as_met():
    inner = tube("1-5/8 in", ".049 in")
    for outer, verdict in ((tube("1-3/4 in", "1/16 in"), "met"), (tube("1-3/4 in", ".0626 in"), "not met"),
                           (tube("1-3/4 in", "1/32 in"), "met"), (tube("1-3/4 in", ".0312 in"), "not met")):  # fmt: skip
        # hand: 1/8 - 2 t is exactly 0 and exactly 1/16 at t = 1/16 and 1/32
        assert verdicts(inner, outer)["clearance"] == verdict


def test_the_134_wall_is_told_with_both_halves():
    inner, outer = tube("1-5/8 in", ".134 in", "erw-1010", "bead"), tube("1-7/8 in", ".120 in")
    assert round(outer.area, 3) == 0.662  # hand: pi (1.875 - .120) .120
    assert round(inner.area, 3) == 0.628  # hand: pi (1.625 - .134) .134
    (check,) = [check for check in fit_checks(inner, outer) if check.id == "wall"]
    assert check.verdict == "not met"
    for half in ("Literal wall rule not met", "more area", "0.662 in²", "0.628 in²", "sleeve 60 ksi, tube 32 ksi", "inspector"):
        assert half in check.text
    assert verdicts(inner, outer)["clearance"] == "met"
    # hand: the one usual size by the letter, + 3/8 x .165
    assert verdicts(inner, tube("2 in", ".165 in"))["wall"] == verdicts(inner, tube("2 in", ".165 in"))["clearance"] == "met"
    assert "less area" in wall_story(inner, tube("1-3/4 in", ".058 in"))


# published: ASTM A513 type 5, OD +t/-0, as reprinted by tube suppliers
@pytest.mark.parametrize(
    ("od", "tolerance"),
    [(0.5, 0.005), (1.625, 0.005), (1.699, 0.005), (1.7, 0.006), (2.099, 0.006), (2.1, 0.007), (2.499, 0.007), (2.5, 0.008), (2.899, 0.008), (5.4, None)],
)
def test_diameter_tolerances(od, tolerance):
    assert diameter_tolerance(od) == tolerance


def test_a_nominal_ten_thousandths_can_be_interference():
    worst = clearance(tube("1-5/8 in", ".120 in"), tube("1-7/8 in", ".120 in"))
    # hand: .010 - .005 (tube OD) - .006 (sleeve ID); and .010 - 2 x .002 - .005; .010 + .006 + 2 x .004
    assert worst.worst_min == pytest.approx(-0.001)
    assert worst.worst_max == pytest.approx(0.010)
    assert worst.by_wall_min == pytest.approx(0.001)
    assert worst.by_wall_max == pytest.approx(0.024)
    assert (worst.lowest, worst.highest) == (worst.worst_min, worst.by_wall_max)


@pytest.mark.parametrize(
    ("wall", "verdict"),
    # hand: nominal .060 can be .074; .010 can be -.001; .032 stays in; .084 - .011 stays over 1/16; -.018 + .014 stays under 0
    [(".095 in", "unknown"), (".120 in", "unknown"), (".109 in", "met"), (".083 in", "not met"), (".134 in", "not met")],
)
def test_the_worst_case_verdict(wall, verdict):
    assert verdicts(tube("1-5/8 in", ".083 in"), tube("1-7/8 in", wall))["clearance_worst"] == verdict


def test_a_wall_between_rows_or_past_the_table_is_told():
    inner = tube("1-5/8 in", ".083 in")
    assert wall_tolerance(1.875, 0.100).listed is False
    assert any("between two rows" in note for note in tolerance_notes(inner, tube("1-7/8 in", ".100 in")))
    assert wall_tolerance(1.875, 0.165) is None
    past = clearance(inner, tube("2 in", ".165 in"))
    assert past.by_wall_min is past.by_wall_max is None
    assert (past.lowest, past.highest) == (past.worst_min, past.worst_max)
    assert any("past the wall tolerance" in note for note in tolerance_notes(inner, tube("2 in", ".165 in")))
    assert wall_tolerance(1.875, 0.030) is None and wall_tolerance(4.0, 0.083) is None and wall_tolerance(0.3, 0.049) is None
    assert wall_tolerance(0.8, 0.134) is None  # published: no row for that wall at that size
    assert sum("past the tolerance table" in note for note in tolerance_notes(tube("5.5 in", ".2 in"), tube("6 in", ".2 in"))) == 2
    assert any("DOM table stands in" in note for note in tolerance_notes(tube("1-5/8 in", ".083 in", "erw-1010"), inner))


@pytest.mark.parametrize(
    ("inner", "outer", "verdict"),
    [("dom-1020", "dom-1026", "met"), ("4130-n", "dom-1020", "not met"), ("unknown", "dom-1020", "unknown"), ("4130-n", "4130-n-aircraft", "met")],
)
def test_tube_and_sleeve_share_a_class_of_steel(inner, outer, verdict):
    assert verdicts(tube("1-5/8 in", ".120 in", inner), tube("1-7/8 in", ".120 in", outer))["material"] == verdict


@pytest.mark.parametrize(
    ("material", "seam", "verdict"),
    [("dom-1020", "unknown", "met"), ("4130-n", "unknown", "met"), ("erw-1010", "unknown", "unknown"), ("erw-1010", "bead", "not met"), ("erw-1010", "removed", "met"), ("dom-1020", "bead", "not met")],
)
def test_a_bead_inside_the_sleeve(material, seam, verdict):
    assert verdicts(tube("1-5/8 in", ".083 in"), tube("1-7/8 in", ".120 in", material, seam))["seam"] == verdict


def test_metric_texts_are_millimetres():
    (check, worst, *_) = fit_checks(tube("40 mm", "2 mm"), tube("46 mm", "2.5 mm"), metric=True)
    assert (check.given, check.limit) == ("1.00 mm", "0 to 1.58 mm on the diameter")  # hand: 46 - 5 - 40
    assert worst.given.count("mm") == 2
