"""Sleeve geometry against the fact sheet, sampled profiles and numerical integration."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ellipe

from core.problems import Problem
from core.sleeve import (
    ENDS,
    EndCut,
    complete_elliptic_e,
    mitre_kerf,
    overlap,
    read_end_cut,
    required_overlap,
    rule_length,
    shorthand_length,
    weld_line,
)

D, DS, DS_INSIDE = 1.625, 1.875, 1.635
MITRED = ("pointed", "fishmouth", "scarf")
TUBES = st.floats(0.5, 4.0)
STEPS = st.floats(0.01, 1.0)
MITRES = st.floats(1.0, 75.0)
GAPS = st.floats(0, 2.0)
CUTS = st.builds(EndCut, st.sampled_from(MITRED), MITRES)


def sampled(cut, radius, count=7200):
    """Profile of one end on a surface, sampled with formulas written here anew."""
    a = np.linspace(0, 2 * np.pi, count, endpoint=False)
    reach = radius * math.tan(math.radians(cut.mitre_deg)) * np.cos(a)
    return {"square": 0 * a, "scarf": reach, "pointed": -np.abs(reach), "fishmouth": np.abs(reach)}[cut.end]


# hand: project fact sheet section 2, at the printed digits
@pytest.mark.parametrize(("end", "rule", "shop"), [("pointed", 8.123, 7.690), ("fishmouth", 8.123, 7.690), ("scarf", 11.370, 10.504), ("square", 4.875, 4.875)])
def test_rule_and_shorthand_of_the_main_tube(end, rule, shop):
    cut = EndCut(end, 60)
    assert rule_length(D, DS, 0, cut) == pytest.approx(rule, abs=5e-4)
    assert shorthand_length(D, cut) == pytest.approx(shop, abs=5e-4)
    assert rule_length(D, DS, 0.125, cut) - rule_length(D, DS, 0, cut) == pytest.approx(0.125)  # hand: + g


def test_the_shorthand_is_short_on_every_surface():
    cut = EndCut("pointed", 60)
    shares = [overlap(7.6875, radius, DS, 0, cut) / D for radius in (DS / 2, DS_INSIDE / 2, D / 2)]
    # hand: project fact sheet section 2
    assert [round(shares[0], 3), round(shares[1], 3), round(shares[2], 4)] == [1.366, 1.494, 1.4994]


def test_weld_line_of_the_main_tube():
    assert weld_line(D, EndCut("pointed", 60)) == pytest.approx(7.871864, abs=5e-7)  # hand: fact sheet section 2
    assert weld_line(D, EndCut("square")) == pytest.approx(5.105088, abs=5e-7)  # hand: pi D


@pytest.mark.parametrize("end", MITRED)
@pytest.mark.parametrize("mitre", [5, 30, 45, 60, 75])
def test_weld_line_is_the_arc_length_of_the_profile(end, mitre):
    slope, r = math.tan(math.radians(mitre)), D / 2
    # reference library: scipy.integrate.quad of the length element on the tube; |cos| and cos have the same slope squared
    quarter, _ = quad(lambda a: r * math.sqrt(1 + (slope * math.sin(a)) ** 2), 0, math.pi / 2, epsabs=1e-13, epsrel=1e-13)
    assert weld_line(D, EndCut(end, mitre)) == pytest.approx(4 * quarter, rel=1e-12)
    # The sampled profile itself, as a polygon developed on the tube.
    z = sampled(EndCut(end, mitre), r, 20_000)
    steps = np.hypot(np.diff(np.append(z, z[0])), 2 * math.pi * r / len(z))
    assert steps.sum() == pytest.approx(4 * quarter, rel=1e-6)


@given(st.floats(0, 0.9999))
def test_the_elliptic_integral_is_scipy_s(parameter):
    assert complete_elliptic_e(parameter) == pytest.approx(ellipe(parameter), rel=1e-13)  # reference library: scipy.special


@pytest.mark.parametrize("end", ENDS)
@given(D=TUBES, step=STEPS, mitre=MITRES, g=GAPS)
def test_overlap_and_length_are_those_of_the_sampled_profiles(end, D, step, mitre, g):
    cut, Ds = EndCut(end, 0.0 if end == "square" else mitre), D + step
    length = rule_length(D, Ds, g, cut)
    outside = sampled(cut, Ds / 2)
    # numpy: put the farthest outside metal at L/2, then look for the nearest metal on each surface
    reference = length / 2 - outside.max()
    for radius in (Ds / 2, (D + Ds) / 4, D / 2):
        nearest = (reference + sampled(cut, radius)).min() - g / 2
        assert overlap(length, radius, Ds, g, cut) == pytest.approx(nearest, abs=1e-9)
    assert overlap(length, Ds / 2, Ds, g, cut) == pytest.approx(1.5 * D, abs=1e-9)
    assert 2 * outside.max() - 2 * outside.min() == pytest.approx(2 * cut.depth(Ds / 2), abs=1e-9)


@pytest.mark.parametrize("end", ENDS)
@pytest.mark.parametrize("angle", [0.0, 0.4, 1.5707, 3.0, 5.0])
def test_profile_is_the_plane_s(end, angle):
    reach = 0.9 * math.tan(math.radians(50)) * math.cos(angle)  # hand: a plane cutting a cylinder
    wanted = {"square": 0, "scarf": reach, "pointed": -abs(reach), "fishmouth": abs(reach)}[end]
    assert EndCut(end, 50).profile(0.9, angle) == pytest.approx(wanted, abs=1e-15)


@given(D=TUBES, step=STEPS, g=GAPS, cut=CUTS, more=st.floats(0.001, 1))
def test_the_rule_length_grows_with_tube_sleeve_and_gap(D, step, g, cut, more):
    base = rule_length(D, D + step, g, cut)
    assert rule_length(D + more, D + more + step, g, cut) > base
    assert rule_length(D, D + step + more, g, cut) > base
    assert rule_length(D, D + step, g + more, cut) == pytest.approx(base + more)


@given(D=TUBES, step=STEPS, g=GAPS, end=st.sampled_from(MITRED))
def test_a_vanishing_mitre_is_a_square_end(D, step, g, end):
    nearly, square = EndCut(end, 1e-9), EndCut("square", 0.0)
    assert rule_length(D, D + step, g, nearly) == pytest.approx(rule_length(D, D + step, g, square), abs=1e-8)
    assert weld_line(D, nearly) == pytest.approx(weld_line(D, square), rel=1e-12)


@given(D=TUBES, step=STEPS, g=GAPS, cut=CUTS)
def test_the_shorthand_is_never_longer_than_the_rule(D, step, g, cut):
    assert shorthand_length(D, cut) < rule_length(D, D + step, g, cut)


@given(k=st.floats(0.01, 0.25), mitre=st.floats(0, 75))
def test_a_mitre_eats_more_than_a_square_cut(k, mitre):
    assert mitre_kerf(k, mitre) >= k
    assert mitre_kerf(k, 60) == pytest.approx(2 * k)  # hand: 1 / cos 60 = 2


@pytest.mark.parametrize("mitre", [0, -1, 75.01, 90, None, "60", True, float("nan"), float("inf")])
def test_an_angle_that_cannot_be_cut_is_refused(mitre):
    with pytest.raises(Problem) as caught:
        read_end_cut("pointed", mitre)
    assert (caught.value.kind, caught.value.field) == ("bad-angle", "mitre_deg")


def test_the_steepest_angle_and_a_square_end_are_read():
    assert read_end_cut("scarf", 75).mitre_deg == 75
    assert read_end_cut("square", "anything") == EndCut("square", 0.0)
    assert required_overlap(2.0) == 3.0  # published: AC 43.13-1B 4-97, 1.5 D
    with pytest.raises(Problem) as caught:
        read_end_cut("birdsmouth", 60)
    assert (caught.value.kind, caught.value.field) == ("bad-choice", "end")


@given(sixteenths=st.integers(8, 48), wall=st.sampled_from([0.065, 0.095, 0.12]), g=st.integers(0, 8), end=st.sampled_from(ENDS), mitre=st.integers(1, 75), metric=st.booleans())
def test_the_blank_is_the_rule_or_longer_and_holds_the_overlap(sixteenths, wall, g, end, mitre, metric):
    from core.methods.outer_sleeve import blank_length
    from core.size_input import read_size_job

    def tube(steps):
        return {"od": f"{steps}/16 in", "wall": f"{wall} in", "material": "dom-1020"}

    job = read_size_job({"tube": tube(sixteenths), "sleeve": tube(sixteenths + 4), "end": end, "mitre_deg": mitre,
                         "gap": f"{g}/64 in", "units": "mm" if metric else "in"})  # fmt: skip
    blank, rule = blank_length(job), rule_length(job.D, job.Ds, job.g, job.cut)
    ruler = 1 / 25.4 if metric else 1 / 16
    assert rule - 1e-8 <= blank < rule + ruler + 1e-8
    assert overlap(blank, job.Ds / 2, job.Ds, job.g, job.cut) >= 1.5 * job.D - 1e-8
