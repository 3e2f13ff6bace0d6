"""What must hold of every splice, whatever its sizes: outer, inner, larger, split.

Lengths are typed in 64ths of an inch, or as the very same length in millimetres (1/64 in is
0.396875 mm exactly). The ends are sampled here anew as saw cuts: a plane leaning by tan m.
"""

import math
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.lengths import read_length
from core.sizing import size
from core.template_methods import method_template

STEEL = {"material": "dom-1020", "seam": "none"}
ENDS = {"outer-sleeve": ("pointed", "fishmouth", "scarf"), "larger-tube": ("pointed", "fishmouth", "scarf"), "split-sleeve": ("pointed", "fishmouth", "scarf"), "inner-sleeve": ("scarf",)}
BETWEEN = {"outer-sleeve": "gap", "larger-tube": "opening", "split-sleeve": "damage_length", "inner-sleeve": "gap"}
RUN = settings(max_examples=60, deadline=None)


def typed(sixtyfourths, metric):
    return f"{Decimal(sixtyfourths) * Decimal('0.396875')} mm" if metric else f"{sixtyfourths}/64 in"


def job(method, end, tube, over, between, mitre, metric=False, **more):
    """Return a sizing input; `over` is how much the sleeve's OD is past the tube's, all in 64ths."""
    other = tube - over if method == "inner-sleeve" else tube + over
    data = {"method": method, "tube": {"od": typed(tube, metric), "wall": typed(6, metric), **STEEL},
            "sleeve": {"od": typed(other, metric), "wall": typed(6, metric), **STEEL},
            "mitre_deg": mitre, BETWEEN[method]: typed(between, metric), **more}  # fmt: skip
    if method != "inner-sleeve":
        data["end"] = end
    if method == "split-sleeve":
        data["damage"] = "dent"
    return data


def rule(*sizes, **more):
    return size(job(*sizes, **more))["length"]["rule"]["in"]


SPLICES = st.sampled_from([(method, end) for method, ends in ENDS.items() for end in ends])
TUBES, OVER, GAPS, MITRES = st.integers(48, 216), st.integers(13, 24), st.integers(1, 128), st.integers(1, 75)


def edges(end, diameter, mitre, length):
    """Places along the axis of the two ends of a sleeve on its outside, 720 angles; planes by hand."""
    lean = diameter / 2 * math.tan(math.radians(mitre)) * np.cos(np.radians(np.arange(0, 360, 0.5)))
    right = {"scarf": lean, "pointed": np.minimum(lean, -lean), "fishmouth": np.maximum(lean, -lean)}[end]
    right = right - right.max() + length / 2
    # Both saw cuts of a scarf lean the same way; the other shapes are mirror images of each other.
    left = np.roll(-right, 360) if end == "scarf" else -right
    return left, right


def nearest(method, end, tube, over, between, mitre, length):
    """Return how far the sleeve reaches past each side of the gap, at its nearest, inches."""
    D, g = tube / 64, between / 64
    if method == "inner-sleeve":
        face = D / 2 * math.tan(math.radians(mitre)) * np.cos(np.radians(np.arange(0, 360, 0.5)))
        return (face - g / 2).min() + length / 2, length / 2 - (face + g / 2).max()
    left, right = edges(end, (tube + over) / 64, mitre, length)
    return -left.max() - g / 2, right.min() - g / 2


@RUN
@given(SPLICES, TUBES, OVER, GAPS, MITRES, st.booleans())
def test_the_printed_length_never_falls_under_one_and_a_half_diameters_at_either_end(splice, tube, over, between, mitre, metric):
    made = size(job(*splice, tube, over, between, mitre, metric))
    for name, spare in (("rule", None), ("blank", 1 / 25.4 if metric else 1 / 16)):
        printed = float(read_length(made["length"][name]["text"]))
        reach = nearest(*splice, tube, over, between, mitre, printed)
        assert min(reach) >= 1.5 * tube / 64 - 1e-9, name
        # hand: a ruler's step is shared by the two ends, so each is given at most half of one
        assert spare is None or max(reach) < 1.5 * tube / 64 + spare / 2 + 1e-9
        assert reach[0] == pytest.approx(reach[1], abs=1e-9)


@RUN
@given(SPLICES, TUBES, OVER, GAPS, MITRES, st.integers(1, 12))
def test_the_rule_length_grows_with_each_size(splice, tube, over, between, mitre, step):
    least = rule(*splice, tube, over, between, mitre)
    held = over + step if splice[0] == "inner-sleeve" else over - step
    # hand: d(length)/dD is 3 with the sleeve held, 3 + tan m for an inner sleeve's cut; d/dg is 1
    slope = math.tan(math.radians(mitre)) if splice[0] == "inner-sleeve" else 0
    assert rule(*splice, tube + step, held, between, mitre) - least == pytest.approx((3 + slope) * step / 64, abs=1e-9)
    assert rule(*splice, tube, over, between + step, mitre) - least == pytest.approx(step / 64, abs=1e-9)
    # hand: d/dDs is tan m, twice that for a scarf; an inner sleeve's ends are square, so its size counts for nothing
    steep = {"inner-sleeve": 0}.get(splice[0], {"scarf": 2}.get(splice[1], 1)) * math.tan(math.radians(mitre))
    wider = rule(*splice, tube, over + step, between, mitre) - least
    assert wider == pytest.approx(steep * step / 64, abs=1e-9)
    assert rule(*splice, tube, over, between, mitre * 0.9) < least


@RUN
@given(SPLICES, TUBES, OVER, GAPS, MITRES)
def test_typing_millimetres_for_inches_moves_nothing(splice, tube, over, between, mitre):
    inch, metric = (size(job(*splice, tube, over, between, mitre, kind)) for kind in (False, True))
    assert metric["length"]["rule"]["in"] == pytest.approx(inch["length"]["rule"]["in"], abs=1e-12)
    assert [(check["id"], check["verdict"]) for check in metric["checks"]] == [(check["id"], check["verdict"]) for check in inch["checks"]]
    # Only the text follows the unit asked for: the same job in inches reads word for word the same.
    asked = size({**job(*splice, tube, over, between, mitre, True), "units": "in"})
    assert asked["length"] == inch["length"]
    assert [part["z"] for part in shape(asked, splice, tube, over, between, mitre, True)] == pytest.approx(
        [part["z"] for part in shape(inch, splice, tube, over, between, mitre, False)], abs=1e-6)  # fmt: skip


def shape(sized, splice, tube, over, between, mitre, metric):
    made = method_template(job(*splice, tube, over, between, mitre, metric, units="in"))
    return [{"z": z} for _, z in (*made.top, *made.bottom)]


@RUN
@given(SPLICES, TUBES, OVER, GAPS, st.floats(1e-9, 1e-3))
def test_a_cut_of_almost_nothing_is_a_square_end(splice, tube, over, between, mitre):
    sized = size(job(*splice, tube, over, between, mitre))
    square = (3 * tube + between) / 64  # hand: 3 D + g, no cut
    assert 0 <= sized["length"]["rule"]["in"] - square <= 2 * (tube + over) / 64 * math.tan(math.radians(mitre)) + 1e-12
    weld = sized["weld"]["each_end"] if splice[0] == "split-sleeve" else sized["weld_line"]
    assert weld["in"] == pytest.approx(math.pi * tube / 64, rel=1e-9)  # hand: pi D
    if splice[0] in ("outer-sleeve", "larger-tube"):
        flat = size({**job(*splice, tube, over, between, mitre), "end": "square"})
        assert flat["length"]["rule"]["in"] == pytest.approx(square, abs=1e-12)


@RUN
@given(SPLICES.filter(lambda one: one[0] != "inner-sleeve"), TUBES, OVER, GAPS, MITRES)
def test_the_flat_blank_is_the_same_turned_end_for_end(splice, tube, over, between, mitre):
    made = method_template(job(*splice, tube, over, between, mitre), flat=True)
    top, bottom = np.array(made.top), np.array(made.bottom)
    # hand: turned half a turn in its plane, about the middle, a blank with like ends covers itself
    assert np.allclose(top[:, 1], -bottom[::-1, 1], atol=1e-9)
    assert np.allclose(top[:, 0], made.around - top[::-1, 0], atol=1e-9)
    length = size(job(*splice, tube, over, between, mitre))["length"]["blank"]["mm"]
    assert made.high - made.low == pytest.approx(length, abs=1e-6)
    # The nearest metal of the drawn blank, not of a formula, keeps the overlap.
    reach = min(top[:, 1].min(), -bottom[:, 1].max()) / 25.4 - between / 128
    assert reach >= 1.5 * tube / 64 - 1e-9


@RUN
@given(TUBES, OVER, GAPS, MITRES)
def test_the_stub_cuts_of_an_inner_sleeve_leave_the_gap_when_one_is_turned_over(tube, over, between, mitre):
    made = method_template(job("inner-sleeve", "scarf", tube, over, between, mitre), flat=True)
    top = np.array(made.top)
    depth = tube / 64 * math.tan(math.radians(mitre)) * 25.4  # hand: D tan m
    assert np.ptp(top[:, 1]) == pytest.approx(depth, abs=1e-9)
    # hand: the mating end is the same wave half a turn round and end for end, so the two are parallel everywhere
    half = (len(top) - 1) // 2
    wave, mate = top[:-1, 1] - top[:, 1].mean(), np.roll(top[:-1, 1], half)
    assert np.allclose(wave + mate - mate.mean(), wave.mean() * np.ones(len(wave)), atol=1e-6 + 1e-9 * depth)
