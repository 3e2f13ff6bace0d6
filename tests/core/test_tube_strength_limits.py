"""Limits of the wall classes, the factors, and a draw between yield and rupture."""

import pytest

from core.section import NetSection, round_section
from core.tube_strength import UNKNOWN, tube_capacity, wall_class


def test_the_wall_classes_change_at_07_and_31_of_modulus_over_yield():
    # from memory: AISC 360 table B4.1b. hand: Fy 60: .07 x 29000/60 = 33.833, 6/.1773 = 33.841, 6/.1774 = 33.822
    assert wall_class(round_section(6.0, 0.1773), 60) == "noncompact"
    assert wall_class(round_section(6.0, 0.1774), 60) == "compact"
    # hand: .31 x 29000/60 = 149.833, 6/.0400 = 150.0, 6/.0401 = 149.63
    assert wall_class(round_section(6.0, 0.0400), 60) == "slender"
    assert wall_class(round_section(6.0, 0.0401), 60) == "noncompact"


def test_a_wall_on_the_limit_is_inside_it():
    # hand: D/t 25 = .07 x 29000/81.2; D/t 80 = .31 x 29000/112.375
    assert wall_class(round_section(2.0, 0.08), 81.2) == "compact"
    assert wall_class(round_section(2.0, 0.025), 112.375) == "noncompact"


def test_a_draw_is_called_yield():
    tube = round_section(1.625, 0.120)
    # hand: LRFD .90 x 50 = .75 x 60 = 45
    found = tube_capacity(tube, NetSection(tube.area, tube.Z), 50, 60, "axial", "lrfd")
    assert found.limit == "yield" and found.value == pytest.approx(45 * tube.area)


def test_what_is_not_known_says_so():
    assert UNKNOWN.limit == "unknown: the material's strength is not known"  # pinned
