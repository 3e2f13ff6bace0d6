"""The worst-case verdict at, just under and just over both ends of 0 to 1/16 in."""

import pytest

from core.fit import LARGEST_CLEARANCE, Clearance, clearance, fit_checks, limit_text, worst_check
from core.tube import read_tube


def tube(od, wall, material="dom-1020"):
    return read_tube({"od": od, "wall": wall, "material": material})


# published: AC 43.13-1B 4-97, diameter difference up to 1/16 in; hand: a millionth of an inch is the finest step looked at
@pytest.mark.parametrize(
    ("low", "high", "verdict", "word"),
    [
        (0.0, 0.0625, "met", "fits at both ends"), (-4e-7, 0.0625004, "met", "fits at both ends"),
        (-1e-6, 0.0625, "unknown", "tight end"), (0.0, 0.062501, "unknown", "loose end"), (-0.001, 0.070, "unknown", "tight end"),
        (-0.01, 0.0, "unknown", "tight end"), (-0.01, -1e-6, "not met", "cannot go on"),
        (0.0625, 0.070, "unknown", "loose end"), (0.062501, 0.070, "not met", "too loose"),
    ],
)  # fmt: skip
def test_the_worst_case_at_its_limits(low, high, verdict, word):
    check = worst_check(Clearance(0.01, low, high, None, None), False, "on", "both")
    assert check.verdict == verdict and word in check.text


def test_the_way_and_what_to_measure_are_said():
    assert "cannot go in" in worst_check(Clearance(0.0, -0.02, -0.01, None, None), False, "in", "the tube").text
    assert "will not go in. Measure the tube" in worst_check(Clearance(0.0, -0.02, 0.01, None, None), False, "in", "the tube").text
    assert "Measure the tube" in worst_check(Clearance(0.0, 0.02, 0.07, None, None), False, "in", "the tube").text


def test_the_range_given_is_never_narrower_than_the_worst_case():
    # hand: -.0104 down to -.011, .0201 up to .021
    assert worst_check(Clearance(0.0, -0.0104, 0.0201, None, None), False, "on", "both").given == "-0.011 in to 0.021 in"


def test_the_wider_way_of_ordering_counts():
    one = Clearance(0.01, worst_min=-0.001, worst_max=0.01, by_wall_min=-0.003, by_wall_max=0.02)
    other = Clearance(0.01, worst_min=-0.005, worst_max=0.03, by_wall_min=-0.003, by_wall_max=0.02)
    assert (one.lowest, one.highest, other.lowest, other.highest) == (-0.003, 0.02, -0.005, 0.03)


def test_the_limit_is_a_sixteenth_rounded_down():
    assert LARGEST_CLEARANCE == 0.0625  # published: AC 43.13-1B 4-97
    assert (limit_text(False), limit_text(True)) == ("0 to 1/16 in", "0 to 1.58 mm")  # hand: 1.5875 down


def test_a_tube_past_the_diameter_table_counts_no_tolerance():
    # published: the A513 type 5 rows here end at 5.299; hand: 6 - 2 x .2 - 5.5 = .1
    worst = clearance(tube("5.5 in", ".2 in"), tube("6 in", ".2 in"))
    assert (worst.worst_min, worst.worst_max) == pytest.approx((0.1, 0.1))
    assert worst.by_wall_min is None


def test_a_wall_of_the_same_size_is_at_least_as_thick():
    checks = {check.id: check.verdict for check in fit_checks(tube("1-5/8 in", ".120 in"), tube("1-7/8 in", ".120 in"))}
    assert checks["wall"] == "met"
    checks = {check.id: check.verdict for check in fit_checks(tube("1-5/8 in", ".120 in"), tube("1-7/8 in", ".1199 in"))}
    assert checks["wall"] == "not met"


def test_texts_are_in_inches_unless_asked():
    # hand: 1.875 - .24 - 1.625
    assert fit_checks(tube("1-5/8 in", ".120 in"), tube("1-7/8 in", ".120 in"))[0].given == "0.010 in"
