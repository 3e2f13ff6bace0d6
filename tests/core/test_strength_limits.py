"""What a splice case takes at its limits, and which part of a chain is thinner, weaker or drilled."""

import math
from dataclasses import replace

import pytest

from core.fillers import filler
from core.problems import Problem
from core.strength import (
    KN_PER_KIP,
    LARGEST_LEG,
    LARGEST_ROSETTE,
    MOST_ROSETTES,
    STEEPEST_MITRE,
    SpliceCase,
    capacity_text,
    compare,
)
from core.tube import read_tube


def tube(od, wall, material="dom-1020"):
    return read_tube({"od": od, "wall": wall, "material": material})


GOOD = SpliceCase(tube("1-5/8 in", ".120 in"), tube("1-7/8 in", ".120 in"), "outer-sleeve", 7.87, 60, 0.120, filler("er70s-2"), 2, 0.4375)


def refused(**change):
    with pytest.raises(Problem) as caught:
        replace(GOOD, **change)
    return caught.value.field


def test_the_limits():
    # common practice, no source
    assert (STEEPEST_MITRE, LARGEST_LEG, LARGEST_ROSETTE, MOST_ROSETTES) == (75.0, 0.5, 2.0, 12)


def test_values_at_their_limits_are_taken():
    assert replace(GOOD, mitre_deg=75).mitre_deg == 75
    assert replace(GOOD, mitre_deg=0, weld_line=5).mitre_deg == 0
    assert replace(GOOD, end_shape="square", mitre_deg=0, weld_line=5).mitre_deg == 0
    assert replace(GOOD, fillet_leg=0.5).fillet_leg == 0.5
    assert replace(GOOD, rosettes=12, rosette_diameter=0.2).rosettes == 12
    assert replace(GOOD, rosettes=1, rosette_diameter=2.0).rosette_diameter == 2.0
    assert replace(GOOD, rosettes=0, rosette_diameter=0.5).rosettes == 0
    # hand: pi x 1.875 / cos 60 = 11.7809725
    assert replace(GOOD, weld_line=11.7809724).weld_line == 11.7809724


def test_values_just_past_them_are_refused():
    assert refused(mitre_deg=75.0001) == "mitre_deg"
    assert refused(mitre_deg=-0.0001) == "mitre_deg"
    assert refused(end_shape="square", mitre_deg=1, weld_line=5) == "mitre_deg"
    assert refused(fillet_leg=0.5001) == "fillet_leg"
    assert refused(rosettes=13, rosette_diameter=0.2) == "rosettes"
    assert refused(rosettes=True) == "rosettes"
    assert refused(rosettes=0, rosette_diameter=2.0001) == "rosette_diameter"
    assert refused(rosettes=1, rosette_diameter=0) == "rosette_diameter"
    assert refused(weld_line=11.7809726) == "weld_line"
    assert refused(sleeve=tube("1-5/8 in", ".120 in")) == "sleeve"


def test_the_leg_counts_up_to_the_outer_wall():
    assert [replace(GOOD, fillet_leg=leg).counted_leg for leg in (0.1, 0.12, 0.2)] == [0.1, 0.12, 0.12]


def test_each_method_knows_its_outer_tube():
    inner = SpliceCase(tube("1-5/8 in", ".120 in"), tube("1-3/8 in", ".120 in"), "inner-sleeve", 4.3, 0, 0.1, filler("er70s-2"), 2, 0.4375, "square")
    assert (inner.outer, inner.inner) == (inner.parent, inner.sleeve)
    assert (GOOD.outer, GOOD.inner) == (GOOD.sleeve, GOOD.parent)
    # hand: the drilled 1.625 x .120 tube keeps .567372 - 2 x .4375 x .120 = .462372 in2
    assert compare(inner).net.area == pytest.approx(0.462372, abs=1e-6)
    assert compare(inner).as_dict()["drilled"] == "parent"
    # hand: ASD rupture beside the weld 50 x .462372 / 2 = 11.5593, under yield 35 x .567372 / 1.67 = 11.8911
    part = compare(inner).result("axial", "asd").parts["parent-near-weld"]
    assert (part.value, part.limit) == (pytest.approx(11.5593, abs=1e-4), "rupture on the net section")
    # hand: beside a weld and undrilled it carries 11.8911
    assert compare(inner).result("axial", "asd").ratio_near_weld == pytest.approx(compare(inner).result("axial", "asd").splice / 11.8911, abs=1e-5)


def test_the_weaker_steel_and_the_thinner_wall_set_the_welds():
    # hand: parent 4130-n 70 ksi beside the weld, sleeve DOM 50: face .30 x 50 x .12 x 7.87 = 14.166 is over metal
    # .30 x 70 x .707 x .12 x 7.87 = 14.0214; two plugs by the thinner wall .095: 2 x .30 x 50 x pi x .4375 x .095 = 3.91717
    case = replace(GOOD, parent=tube("1-5/8 in", ".095 in", "4130-n"))
    assert compare(case).result("axial", "asd").parts["end-weld"].value == pytest.approx(14.0214 + 3.91717, abs=1e-3)


def test_a_kip_is_4_448_kilonewtons():
    assert pytest.approx(4.4482216) == KN_PER_KIP  # published: 1 lbf = 4.4482216 N
    # hand: 100 kip-in = 100 x 4.4482216 x .0254 = 11.2985 kN·m, down
    assert capacity_text(100.0, "bending") == "100 kip-in (11.29 kN·m)"
    assert capacity_text(100.0, "axial") == "100 kip (444.82 kN)"


def test_a_mitre_stretches_the_longest_weld_line():
    # hand: pi x 1.875 / cos 75 = 22.7591
    assert replace(GOOD, mitre_deg=75, weld_line=math.pi * 1.875 / math.cos(math.radians(75))).weld_line == pytest.approx(22.7591, abs=1e-4)
