"""End cuts at their limits."""

import math

import pytest

from core.sleeve import STEEPEST_MITRE, EndCut, read_end_cut, weld_line


def test_the_mitre_from_just_over_zero_to_the_steepest():
    assert STEEPEST_MITRE == 75  # common practice, no source
    assert read_end_cut("pointed", 1e-6).mitre_deg == 1e-6
    assert read_end_cut("pointed", 75).mitre_deg == 75.0


def test_an_end_cut_without_a_mitre_is_the_circulars():
    # published: AC 43.13-1B 4-92, cut 30 degrees to the axis, which is 60 from square
    assert EndCut("pointed").mitre_deg == 60.0
    assert EndCut("pointed").slope == pytest.approx(math.sqrt(3))


def test_only_mitred_ends_reach():
    # hand: r T = 1 for r = 1, 45 degrees
    reach = {end: (EndCut(end, 45).tip_reach(1.0), EndCut(end, 45).valley_reach(1.0)) for end in ("pointed", "fishmouth", "scarf", "square")}
    assert reach == {"pointed": (0.0, pytest.approx(1)), "fishmouth": (pytest.approx(1), 0.0),
                     "scarf": (pytest.approx(1), pytest.approx(1)), "square": (0.0, 0.0)}  # fmt: skip
    assert EndCut("square", 45).slope == 0.0
    assert weld_line(1.0, EndCut("square", 45)) == math.pi  # hand: a square end's mitre is not used
