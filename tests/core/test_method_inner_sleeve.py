"""Inner sleeve: one example by hand, each limit, and sampled cut planes."""

import copy
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.checklist import checklist_for
from core.lengths import read_length
from core.methods.inner_sleeve_geometry import inner_overlap, inner_rule_length
from core.problems import Problem
from core.sizing import size, summary
from core.sleeve import EndCut

BASE = {
    "method": "inner-sleeve",
    "tube": {"od": "1-5/8 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"},
    "sleeve": {"od": "1-3/8 in", "wall": ".120 in", "material": "dom-1020"},
}
MITRES = st.floats(1.0, 75.0)
TUBES = st.floats(0.5, 4.0)
GAPS = st.floats(0.0, 2.0)


def job(**changes):
    data = copy.deepcopy(BASE)
    for name, value in changes.items():
        if isinstance(value, dict):
            data[name] = {**data.get(name, {}), **value}
        else:
            data[name] = value
    return data


def verdicts(**changes):
    return {check["id"]: check["verdict"] for check in size(job(**changes))["checks"]}


def test_worked_example_by_hand():
    made = size(BASE)
    # hand: tan 60 = 1.7320508; D T = 1.625 x 1.7320508 = 2.8145826
    assert made["stub_cut"]["depth"]["in"] == pytest.approx(2.8145826, abs=1e-7)
    # hand: 3 x 1.625 = 4.875; 4.875 + 2.8145826 + 0.125 = 7.8145826
    assert made["length"]["rule"]["in"] == pytest.approx(7.8145826, abs=1e-7)
    # hand: 7.8145826 x 16 = 125.03, up to 126/16 = 7-7/8
    assert made["length"]["blank"]["text"] == "7-7/8 in"
    # hand: 1.5 x 1.625 = 2.4375, read up to a thousandth 2.438
    assert made["overlap"]["required"]["in"] == 2.4375 and made["overlap"]["required"]["text"] == "2.438 in"
    # published: project fact sheet, 1.625 in tube at 60 degrees, 7.871864 in
    assert made["weld_line"]["in"] == pytest.approx(7.871864, abs=5e-7)
    # hand: 1.625 - 2 x .120 - 1.375 = .010
    assert made["clearance"]["nominal"]["in"] == pytest.approx(0.010)
    # hand, DOM table (published): .010 - .005 (tube ID) - .005 (sleeve OD) = 0; largest .010
    assert made["clearance"]["worst_min"]["in"] == pytest.approx(0.0, abs=1e-12)
    assert made["clearance"]["worst_max"]["in"] == pytest.approx(0.010)
    # hand, DOM table (published): .010 - 2 x .002 - .005 = .001; .010 + .005 + 2 x .004 = .023
    assert made["clearance"]["by_wall_min"]["in"] == pytest.approx(0.001)
    assert made["clearance"]["by_wall_max"]["in"] == pytest.approx(0.023)
    # hand: 1.625/4 = .40625 = 13/32, drilled in the tube
    assert made["rosette"]["sizes"][0]["diameter"]["text"] == "13/32 in"
    # hand: at the blank (7.875 - 2.8145826 - .125)/2 = 2.4677087, half of it 1.2338544
    assert made["rosette"]["from_cut"]["in"] == pytest.approx(1.2338544, abs=1e-7)
    # hand: .125 x cos 60 = .0625
    assert made["stub_cut"]["gap_across"]["in"] == pytest.approx(0.0625)
    assert set(verdicts().values()) == {"met"}


@pytest.mark.parametrize(
    ("length", "reach", "expected"),
    [
        # hand: D T = 1 at 45 degrees for D = 1, gap 1/8: rule 3 + 1 + .125 = 4.125
        ("4.125 in", 1.5, "met"),
        ("4.124 in", 1.4995, "not met"),
        ("4.126 in", 1.5005, "met"),
    ],
)
def test_judged_length_at_the_limit(length, reach, expected):
    data = job(tube={"od": "1 in", "wall": ".065 in"}, sleeve={"od": ".86 in", "wall": ".065 in"}, mitre_deg=45, length=length)
    made = size(data)
    check = next(c for c in made["checks"] if c["id"] == "overlap")
    assert made["overlap"]["given"]["in"] == pytest.approx(reach)  # hand: (L - 1 - .125)/2
    assert check["verdict"] == expected
    assert made["length"]["given"]["text"] == length


@pytest.mark.parametrize(
    ("od", "expected"),
    [
        # hand: bore 1.385; 1/16 in = .0625 (AC 43.13-1B 4-95, from memory): sleeve 1.3225 is at the limit
        ("1.3225 in", "met"), ("1.3224 in", "not met"), ("1.385 in", "met"), ("1.3851 in", "not met"),
    ],
)  # fmt: skip
def test_clearance_limits(od, expected):
    assert verdicts(sleeve={"od": od})["clearance"] == expected


@pytest.mark.parametrize(
    ("gap", "expected"),
    # 1/8 (AC 43.13-1B 4-95) with 1/32 each way (common practice): 3/32 to 5/32
    [("3/32 in", "met"), ("0.0937 in", "not met"), ("5/32 in", "met"), ("0.1563 in", "not met"), ("0 in", "not met")],
)
def test_gap_limits(gap, expected):
    assert verdicts(gap=gap)["gap"] == expected


@pytest.mark.parametrize(("wall", "expected"), [(".120 in", "met"), (".119 in", "not met"), (".121 in", "met")])
def test_wall_limit(wall, expected):  # 4-95 (from memory): wall at least the tube's
    assert verdicts(sleeve={"wall": wall})["wall"] == expected


def test_turned_sleeve_is_judged_by_the_wall_left():
    erw = {"wall": ".083 in"}
    made = size(job(tube=erw, sleeve={"od": "1-1/2 in"}, turned_od="1.449 in"))
    # hand: .120 - (1.500 - 1.449)/2 = .0945, over .083; clearance 1.625 - .166 - 1.449 = .010
    assert made["wall_left"]["in"] == pytest.approx(0.0945)
    assert made["clearance"]["nominal"]["in"] == pytest.approx(0.010)
    # hand: a turned sleeve has no mill tolerance: .010 - .005 (tube ID, DOM table) = .005
    assert made["clearance"]["worst_min"]["in"] == pytest.approx(0.005)
    assert {c["verdict"] for c in made["checks"] if c["id"] in ("wall", "clearance")} == {"met"}
    # hand: wall left .120 - (1.5 - w)/2 = .083 at w = 1.426; just under it fails
    assert verdicts(tube=erw, sleeve={"od": "1-1/2 in"}, turned_od="1.426 in")["wall"] == "met"
    assert verdicts(tube=erw, sleeve={"od": "1-1/2 in"}, turned_od="1.4259 in")["wall"] == "not met"


def test_bead_takes_its_height_once():
    bead = {"tube": {"material": "erw-1010", "seam": "bead"}}
    made = size(job(**bead, sleeve={"od": "1.325 in"}, bead="0.060 in"))
    # hand: bore 1.385 - 1.325 = .060; less one bead of .060 = 0, not less two (-.060)
    assert made["clearance"]["with_bead"]["nominal"]["in"] == pytest.approx(0.0, abs=1e-12)
    assert next(c for c in made["checks"] if c["id"] == "bead")["verdict"] == "met"
    assert verdicts(**bead, sleeve={"od": "1.325 in"}, bead="0.061 in")["bead"] == "not met"
    assert verdicts(**bead)["bead"] == "not met"


def test_seam_and_steel_and_angle():
    assert verdicts(tube={"seam": "removed"})["bead"] == "met"
    assert verdicts(tube={"material": "unknown", "seam": "unknown"})["bead"] == "unknown"
    assert verdicts(sleeve={"material": "4130-n"})["material"] == "not met"
    # 30 degrees to the axis (AC 43.13-1B 4-95 figure, from memory) is a 60 degree mitre
    assert verdicts(mitre_deg=60)["end_angle"] == "met"
    assert verdicts(mitre_deg=59.9)["end_angle"] == "unknown"


@pytest.mark.parametrize(
    ("replacement", "expected"),
    [({}, "met"), ({"wall": ".119 in"}, "not met"), ({"od": "1.626 in"}, "not met"), ({"wall": ".121 in"}, "met")],
)  # 4-95 (from memory): same material and OD, wall at least the tube's
def test_replacement(replacement, expected):
    assert verdicts(replacement={**BASE["tube"], **replacement})["replacement"] == expected


def test_thicker_replacement_can_stop_the_sleeve():
    # hand: 1.625 - 2 x .134 - 1.375 = -.018
    assert verdicts(replacement={**BASE["tube"], "wall": ".134 in"})["clearance_replacement"] == "not met"


@pytest.mark.parametrize("wall", [".083 in", ".134 in"])
def test_walls_without_a_usual_inner_tube_name_every_way(wall):  # fact sheet section 3
    made = size(job(tube={"wall": wall}))
    ways = {row["way"]: row for row in made["options"]}
    assert set(ways) == {"usual size", "turned down", "slit and closed", "tube bored out"}
    assert ways["usual size"]["size"] == "none"
    assert "cannot be reached" in ways["slit and closed"]["cost"]
    assert ways["slit and closed"]["standing"] == "ask the inspector"
    assert ways["tube bored out"]["standing"] == "not met"
    assert all(row["cost"] and row["text"] for row in made["options"])


def test_the_120_wall_takes_a_tube_a_quarter_smaller():  # fact sheet section 3
    assert size(BASE)["options"][0]["size"] == "1-3/8 in × .120 in"


def test_turned_option_passes_when_it_is_used():
    for wall in (".083 in", ".134 in"):
        row = next(r for r in size(job(tube={"wall": wall}))["options"] if r["way"] == "turned down")
        od, sleeve_wall = row["size"].split(" × ")
        turned = row["text"].removeprefix("Turn to ").split(". Wall")[0]
        found = verdicts(tube={"wall": wall}, sleeve={"od": od, "wall": sleeve_wall}, turned_od=turned)
        assert found["wall"] == found["clearance"] == "met"


@given(TUBES, GAPS, MITRES)
@settings(max_examples=60, deadline=None)
def test_sampled_planes_keep_one_and_a_half_diameters(D, gap, mitre):
    length = inner_rule_length(D, gap, EndCut("scarf", mitre))
    # reference library: numpy samples both faces of the gap, planes x = +-g/2 + y tan m
    angle = np.linspace(0, 2 * np.pi, 3601)
    y = D / 2 * np.cos(angle)
    faces = np.concatenate([-gap / 2 + y * math.tan(math.radians(mitre)), gap / 2 + y * math.tan(math.radians(mitre))])
    left, right = faces.min() + length / 2, length / 2 - faces.max()
    assert left == pytest.approx(1.5 * D, abs=1e-9) and right == pytest.approx(1.5 * D, abs=1e-9)
    assert inner_overlap(length + 0.5, D, gap, EndCut("scarf", mitre)) == pytest.approx(1.5 * D + 0.25, abs=1e-9)


@given(TUBES, GAPS, MITRES, st.floats(0.01, 1))
def test_length_grows_with_everything(D, gap, mitre, step):
    cut = EndCut("scarf", mitre)
    least = inner_rule_length(D, gap, cut)
    assert inner_rule_length(D + step, gap, cut) > least
    assert inner_rule_length(D, gap + step, cut) > least
    assert inner_rule_length(D, gap, EndCut("scarf", mitre / 2)) < least


@given(st.integers(5, 75), st.integers(0, 20), st.sampled_from(["in", "mm"]))
@settings(max_examples=40, deadline=None)
def test_printed_blank_keeps_the_overlap(mitre, gap, units):
    made = size(job(mitre_deg=mitre, gap=f"{gap}/32 in", units=units))
    printed = float(read_length(made["length"]["blank"]["text"]))
    assert inner_overlap(printed, 1.625, gap / 32, EndCut("scarf", mitre)) >= 1.5 * 1.625 - 1e-9


def test_millimetres_give_the_same_result():
    inch = size(BASE)
    metric = size(job(tube={"od": "41.275 mm", "wall": "3.048 mm"}, sleeve={"od": "34.925 mm", "wall": "3.048 mm"}, gap="3.175 mm"))
    for group, name in (("length", "rule"), ("overlap", "given"), ("clearance", "nominal"), ("stub_cut", "depth")):
        assert metric[group][name]["in"] == pytest.approx(inch[group][name]["in"], abs=1e-12)
    assert [c["verdict"] for c in metric["checks"]] == [c["verdict"] for c in inch["checks"]]
    # hand: 7.8145826 x 25.4 = 198.49, up to 199 mm
    assert metric["length"]["blank"]["text"] == "199 mm"


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"sleeve": {"od": "1-5/8 in"}}, "sleeve.od"), ({"mitre_deg": 0}, "mitre_deg"), ({"mitre_deg": 76}, "mitre_deg"),
        ({"gap": "1,5"}, "gap"), ({"gap": ""}, "gap"), ({"turned_od": "1-1/2 in"}, "turned_od"), ({"turned_od": "1 in"}, "turned_od"),
        ({"bead": "0.060 in"}, "bead"), ({"bead": "1 in", "tube": {"seam": "bead"}}, "bead"), ({"wall": "1"}, "wall"),
        ({"replacement": "same"}, "replacement"), ({"units": "ft"}, "units"), ({"length": "0"}, "length"),
    ],
)  # fmt: skip
def test_refusals_name_the_field(changes, field):
    with pytest.raises(Problem) as caught:
        size(job(**changes))
    assert caught.value.field == field
    assert caught.value.allowed and caught.value.next_step


def test_not_an_object():
    from core.methods.inner_sleeve import size as inner

    with pytest.raises(Problem) as caught:
        inner([])
    assert caught.value.status == 400


def test_summary_feeds_the_checklist():
    told = summary(BASE)
    made = checklist_for("inner-sleeve", told["context"])
    assert any("7-7/8 in" in step.text for step in made.steps)
    assert told["tag"]["clause"] == "AC 43.13-1B 4-95 (from memory)"
    assert all(isinstance(value, str) for value in told["tag"].values())


def test_numbers_and_order_are_ready_to_show():
    made = size(BASE)
    assert made["numbers"][0]["label"] == "Sleeve blank"
    for row in made["numbers"]:
        assert isinstance(row["value"], str) or {"mm", "in", "text"} <= set(row["value"])
    order = " ".join(made["order"])
    assert order.index("Slide both sleeves") < order.index("first gap") < order.index("cool completely") < order.index("second gap")
    words = str(made).lower()
    assert "approved" not in words and "safe" not in words
