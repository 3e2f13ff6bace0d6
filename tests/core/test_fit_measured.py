"""Measured fit: arithmetic by hand, what to do with amounts, and properties over random readings."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.fit_measured import EXAMPLE, LIMIT, MOST_HONED, Measured, measured_fit, read_measured
from core.problems import Problem
from core.quantity import fine_text

TUBE = {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020"}
SLEEVE = {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020"}


def fit(ods, bores, **more):
    return measured_fit(Measured(tuple(ods), tuple(bores), **more))


def lines(*args, **more):
    return " ".join(fit(*args, **more).what_to_do())


def test_the_measured_clearance_by_hand():
    one = fit([1.625, 1.628, 1.626], [1.634, 1.636])
    # hand: 1.634 - 1.628, 1.636 - 1.625, 1.628 - 1.625, 1.636 - 1.634
    assert (one.least, one.greatest, one.tube_ovality, one.bore_ovality) == pytest.approx((0.006, 0.011, 0.003, 0.002))
    assert one.check().verdict == "met"


def test_a_bead_costs_its_height_once():
    clear, bead = fit([1.5, 1.5], [1.56, 1.56]), fit([1.5, 1.5], [1.56, 1.56], bead=0.04)
    # hand: round bar in a bore with one bump of f: room is d - f; 1.560 - .040 - 1.500 = .020, 2 f would say -.020
    assert bead.least == pytest.approx(0.020)
    assert bead.check().verdict == "met"
    assert bead.greatest == clear.greatest


def test_a_bore_from_outside_and_wall():
    one = measured_fit(Measured((1.625, 1.625), sleeve_od=(1.875, 1.877), sleeve_wall=0.119))
    assert (one.least, one.greatest) == pytest.approx((0.012, 0.014))  # hand: 1.875 - .238 - 1.625
    assert any("twice its wall" in note for note in one.as_dict()["assumptions"])
    both = measured_fit(Measured((1.625, 1.625), (1.63, 1.631), (1.875, 1.877), 0.119))
    assert both.least == pytest.approx(0.005)  # hand: the measured bore wins
    assert any("not used" in note for note in both.as_dict()["assumptions"])


@pytest.mark.parametrize(
    ("ods", "bores", "verdict"),
    [  # hand: limits 0 and .0625 count as met; all pairs out is not met; some out is unknown
        ((1.5, 1.5), (1.5, 1.5), "met"), ((1.5, 1.5), (1.5625, 1.5625), "met"), ((1.5, 1.5), (1.499, 1.4995), "not met"),
        ((1.5, 1.5), (1.563, 1.564), "not met"), ((1.5, 1.504), (1.502, 1.503), "unknown"), ((1.5, 1.504), (1.55, 1.563), "unknown"),
    ],
)  # fmt: skip
def test_the_verdict_against_the_limit(ods, bores, verdict):
    assert fit(ods, bores).check().verdict == verdict


def test_a_bead_taller_than_the_room_is_not_met():
    one = fit([1.5, 1.5], [1.51, 1.51], bead=0.06)
    assert one.check().verdict == "not met"  # hand: 1.510 - .060 - 1.500 = -.050
    assert one.as_dict()["warnings"][0]["rank"] == 1
    assert "Take the bead out, full length. That gives 0.060 in." in one.what_to_do()
    assert not any("Hone" in line for line in one.what_to_do())  # hand: .010 without the bead is over .003
    assert "Hone 0.002 in" in lines([1.5, 1.5], [1.501, 1.501], bead=0.06)  # hand: .003 - .001


# hand: amount = .003 to slide (common practice) - least; hone up to .010, polish up to .002 (common practice)
@pytest.mark.parametrize(
    ("bore", "wanted", "absent"),
    [
        (1.503, "It slides", "Hone"), (1.501, "Polish scale and high spots off the tube, up to 0.002 in", "Choose"),
        (1.500, "Hone 0.003 in off the bore", "Polish"), (1.493, "Hone 0.010 in off the bore", "Choose"),
        (1.492, "Too tight by 0.011 in. Honing takes up to 0.010 in. Choose another sleeve.", "Hone 0"),
        (1.570, "Too loose by up to 0.008 in. Choose another sleeve.", "Hone"),
    ],
)  # fmt: skip
def test_what_to_do_comes_with_an_amount(bore, wanted, absent):
    said = lines([1.5, 1.5], [bore, bore])
    assert wanted in said and absent not in said


def test_another_sleeve_is_named_by_its_bore():
    # hand: 1.502 + .003 and 1.500 + .0625 rounded down
    assert "A bore of 1.505 in to 1.562 in, free of any bead" in lines([1.5, 1.502], [1.570, 1.571])
    assert "too oval" in lines([1.5, 1.56], [1.6, 1.6])  # hand: 1.563 over 1.5625
    said = lines([1.5, 1.5], [1.5, 1.562])
    assert "too loose elsewhere once honed" in said  # hand: .062 + .003 is over .0625
    said = lines([1.5, 1.506], [1.504, 1.57])
    assert "tight and loose on one tube" in said and "Too loose by 0.008 in at the loosest pair" in said  # hand: .070 - .0625 up
    assert "ovals may line up" in lines([1.5, 1.504], [1.502, 1.505])


def test_honing_a_wall_under_the_tubes_is_told():
    read = read_measured({"tube": TUBE, "sleeve": SLEEVE, "tube_od": ["1.630 in", "1.628 in"], "sleeve_bore": ["1.629 in", "1.631 in"]})
    said = " ".join(measured_fit(read).what_to_do())
    # hand: 1.629 - 1.630 = -.001, so .004 off the bore takes .002 off a .120 wall
    assert "Hone 0.004 in" in said and "leaves the sleeve's wall 0.118 in, under the tube's 0.120 in" in said


def test_measured_and_worst_case_stand_side_by_side():
    read = read_measured({"tube": TUBE, "sleeve": SLEEVE, **json.loads(EXAMPLE)})
    least, greatest = measured_fit(read).as_dict()["side_by_side"]
    # hand: project fact sheet section 3, .010 nominal can be -.001 (by ID) and .024 (by wall)
    assert least["worst_case"]["text"] == "-0.001 in" and least["measured"]["text"] == "0.006 in"
    assert greatest["worst_case"]["text"] == "0.024 in" and greatest["measured"]["text"] == "0.011 in"
    assert measured_fit(read_measured(json.loads(EXAMPLE))).as_dict()["side_by_side"] == []


def test_metric_readings_give_metric_texts():
    body = measured_fit(read_measured({"tube_od": ["40.0", "40.05"], "sleeve_bore": ["40.4", "40.5"], "units": "mm", "bead": ""})).as_dict()
    assert body["least"]["text"] == "0.35 mm"  # hand: 40.40 - 40.05
    assert body["checks"][0]["limit"].startswith("0 to 1.58 mm")
    assert read_measured({"tube_od": ["40 mm", "40 mm"], "sleeve_bore": ["41 mm", "41 mm"]}).metric


def test_few_and_equal_readings_are_told():
    body = fit([1.5, 1.5], [1.51, 1.51], bead=0.001).as_dict()
    assert any("a quarter turn apart" in note for note in body["assumptions"])
    assert body["what_to_do"][-1].startswith("Measure again at both ends")
    assert any("higher spots" in line for line in body["what_to_do"])
    assert not any("Measure again" in line for line in fit([1.5, 1.501] * 2, [1.51, 1.511] * 2).what_to_do())


@pytest.mark.parametrize(
    ("data", "kind", "field"),
    [
        ([], "bad-body", ""), ({}, "bad-readings", "tube_od"), ({"tube_od": ["1.5"], "sleeve_bore": ["1.51", "1.51"]}, "bad-readings", "tube_od"),
        ({"tube_od": ["1.5", "1.5"]}, "bad-readings", "sleeve_bore"), ({"tube_od": ["1.5", "1.5"], "sleeve_od": ["1.75", "1.75"]}, "bad-readings", "sleeve_wall"),
        ({"tube_od": ["1.265", "1.625"], "sleeve_bore": ["1.63", "1.63"]}, "bad-readings", "tube_od"),
        ({"tube_od": "1.5", "sleeve_bore": ["1.63", "1.63"]}, "bad-readings", "tube_od"),
        ({"tube_od": ["15", "1.5"], "sleeve_bore": ["1.63", "1.63"]}, "out-of-range", "tube_od"),
        ({"tube_od": ["1,5", "1.5"], "sleeve_bore": ["1.63", "1.63"]}, "ask-length", "tube_od"),
        ({"tube_od": ["1.5", "1.5"], "sleeve_bore": ["1.63", "1.63"], "colour": 1}, "unknown-member", "colour"),
        ({"tube_od": ["1.5", "1.5"], "sleeve_od": ["1.75", "1.75"], "sleeve_wall": "2 in"}, "out-of-range", "sleeve_wall"),
        ({"tube_od": [".2", ".2"], "sleeve_bore": [".2", ".2"], "bead": ".2"}, "bad-readings", "bead"),
        ({"tube_od": ["1", "1"], "sleeve_od": ["1", "1"], "sleeve_wall": ".6"}, "bad-readings", "sleeve_wall"),
    ],
)  # fmt: skip
def test_bad_readings_are_refused_with_a_next_step(data, kind, field):
    with pytest.raises(Problem) as caught:
        read_measured(data)
    assert (caught.value.kind, caught.value.field) == (kind, field)
    assert caught.value.next_step and caught.value.allowed


@given(ods=st.lists(st.integers(1500, 1530).map(lambda n: n / 1000), min_size=2, max_size=6), bores=st.lists(st.integers(1490, 1560).map(lambda n: n / 1000), min_size=2, max_size=6), bead=st.integers(0, 60).map(lambda n: n / 1000))
def test_every_pair_lies_between_least_and_greatest(ods, bores, bead):
    one = fit(ods, bores, bead=bead)
    pairs = [bore - od for bore in bores for od in ods]
    assert one.least == pytest.approx(min(pairs) - bead, abs=1e-12) and one.greatest == pytest.approx(max(pairs), abs=1e-12)
    if one.outcome is True:
        assert all(pair - bead >= -1e-9 and pair <= LIMIT + 1e-9 for pair in pairs)
    if one.outcome is False:
        assert all(pair - bead < 0 or pair > LIMIT for pair in pairs)


@given(od=st.integers(1500, 1530).map(lambda n: n / 1000), less=st.integers(0, 7).map(lambda n: n / 1000))
def test_doing_what_is_said_makes_it_slide(od, less):
    tight = fit([od, od], [od - less + 0.0005, od - less + 0.0005])
    amount = next(n / 1000 for n in range(1, 11) if f"Hone {fine_text(n / 1000, False)}" in " ".join(tight.what_to_do()))
    assert amount <= MOST_HONED
    bore = od - less + 0.0005 + amount
    honed = fit([od, od], [bore, bore])
    assert honed.outcome is True and honed.what_to_do()[0].startswith("It slides")
