"""Repair methods: every rule at, just under and just over its limit; stops; what is still to measure."""

import pytest

from core.assess import METHODS, WELD_ROOM, assess, splice_room
from core.assess_input import DAMAGE_KINDS, LENGTHS, QUESTIONS, read_findings
from core.problems import Problem
from core.sizing import size

# A 2 in tube makes the limits round: D/10 .2, D 2, 2.5 D 5, 4.5 D 9, pi D/4 1.5708.
CLEAR = {
    "tube": {"od": "2 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}, "known_by": "certificate",
    "od_readings": ["2 in", "2 in"], "room_left": "12 in", "room_right": "12 in",
    **dict.fromkeys(QUESTIONS, "no"), "can_reform": "yes",
}  # fmt: skip
DENT = {**CLEAR, "damage": "dent", "depth": ".1 in", "damage_length": "1 in", "around": "1 in"}
CUT = {**CLEAR, "damage": "cut-out"}


def standings(data):
    return {method["key"]: method["standing"] for method in assess(data)["methods"]}


def check(data, method, name):
    (found,) = [m for m in assess(data)["methods"] if m["key"] == method]
    (one,) = [c for c in found["checks"] if c["id"] == name]
    return one["verdict"]


def test_clear_dent_and_clear_cut_leave_every_fitting_method_open():
    assert set(standings(DENT).values()) == {"open"}
    # published: AC 43.13-1B 4-92 and 4-94 are for damage left in the tube
    assert {key for key, standing in standings(CUT).items() if standing == "closed"} == {"split-sleeve", "patch"}


@pytest.mark.parametrize("damage", DAMAGE_KINDS)
def test_each_method_takes_only_its_kinds_of_damage(damage):
    for method in METHODS:
        assert (check({**DENT, "damage": damage}, method.key, "damage") == "met") is (damage in method.damage)


# Limits of a 2 in tube. published: AC 43.13-1B 4-94 and 4-97; from memory: 4-95, 4-96
@pytest.mark.parametrize(
    ("method", "name", "under", "at", "over", "kind"),
    [
        ("patch", "depth", "0.199 in", "0.2 in", "0.201 in", "most"), ("patch", "damage_length", "1.999 in", "2 in", "2.001 in", "most"),
        ("patch", "around", "1.570 in", "1.57079 in", "1.571 in", "most"),  # hand: pi D / 4 = 1.570796
        ("split-sleeve", "room_left", "5.198 in", "5.198558 in", "5.199 in", "least"),  # hand: 3 + 1.125 tan 60 + .25 = 5.198557
        ("split-sleeve", "room_right", "5.198 in", "5.198558 in", "5.199 in", "least"),
        ("outer-sleeve", "room_left", "5.198 in", "5.198558 in", "5.199 in", "least"),
        ("outer-sleeve", "room_right", "5.198 in", "5.198558 in", "5.199 in", "least"),
        ("larger-tube", "room_left", "5.198 in", "5.198558 in", "5.199 in", "least"),
        ("larger-tube", "room_right", "5.198 in", "5.198558 in", "5.199 in", "least"),
        ("inner-sleeve", "room_left", "6.464 in", "6.464102 in", "6.465 in", "least"),  # hand: 3 + 2 tan 60 = 6.4641016
        ("inner-sleeve", "room_right", "6.464 in", "6.464102 in", "6.465 in", "least"),
    ],
)  # fmt: skip
def test_a_measured_rule_at_and_around_its_limit(method, name, under, at, over, kind):
    bad, good = (over, under) if kind == "most" else (under, over)
    assert check({**DENT, name: good}, method, name) == "met"
    assert check({**DENT, name: at}, method, name) == "met"
    assert check({**DENT, name: bad}, method, name) == "not met"
    assert standings({**DENT, name: bad})[method] == "closed"
    assert check({**DENT, name: ""}, method, name) == "unknown"
    assert standings({**DENT, name: None})[method] == "measure first"


@pytest.mark.parametrize(
    ("name", "left", "right", "verdict"),
    # hand: 2.5 D = 5 for the shorter stub, 4.5 D = 9 for the longer one
    [("short_stub", "4.999 in", "12 in", "not met"), ("short_stub", "5 in", "12 in", "met"), ("short_stub", "12 in", "5.001 in", "met"),
     ("long_stub", "5 in", "8.999 in", "not met"), ("long_stub", "9 in", "5 in", "met"), ("long_stub", "5 in", "9.001 in", "met"),
     ("short_stub", "", "12 in", "unknown"), ("long_stub", "12 in", "", "unknown")],
)  # fmt: skip
def test_the_stubs_of_a_larger_tube(name, left, right, verdict):
    assert check({**CUT, "room_left": left, "room_right": right}, "larger-tube", name) == verdict


@pytest.mark.parametrize(
    ("name", "method"),
    [("old_weld", "inner-sleeve"), ("old_weld", "larger-tube"), ("old_weld", "split-sleeve"), ("old_weld", "outer-sleeve"),
     ("inside_bead", "inner-sleeve"), ("near_cluster", "larger-tube"), ("needs_same_od", "larger-tube"), ("middle_third", "patch"),
     ("sharp_corners", "patch"), ("can_reform", "patch")],
)  # fmt: skip
def test_a_yes_or_no_rule(name, method):
    bad = "no" if name == "can_reform" else "yes"
    assert standings({**DENT, name: bad})[method] == "closed"
    assert standings({**DENT, name: "unknown"})[method] == "measure first"
    assert standings(DENT)[method] == "open"


@pytest.mark.parametrize("od", ["3/4 in", "1-5/8 in", "2 in", "3 in"])
@pytest.mark.parametrize("end", ["pointed", "fishmouth"])
def test_the_room_takes_half_of_the_sleeve_as_sized_and_its_weld(od, end):
    # The sleeve goes by another road: core.sizing, with the sleeve 1/4 in larger and no gap.
    tube = {"od": od, "wall": ".120 in", "material": "dom-1020", "seam": "none"}
    found = read_findings({"tube": tube, "damage": "cut-out"})
    sleeve = {**tube, "od": f"{found.D + 0.25} in"}
    sized = size({"tube": tube, "sleeve": sleeve, "end": end, "mitre_deg": 60, "gap": "0 in"})
    assert splice_room(found) == pytest.approx(sized["length"]["rule"]["in"] / 2 + WELD_ROOM, abs=1e-9)


def test_a_stub_of_two_and_a_half_diameters_can_still_be_too_short_for_the_weld():
    # published: AC 43.13-1B 4-97, 2.5 D = 5; hand: 1.5 D, the cut end and the weld want 5.198557
    tight = {**CUT, "room_left": "5.1 in"}
    assert check(tight, "larger-tube", "short_stub") == "met"
    assert check(tight, "larger-tube", "room_left") == "not met"
    assert standings(tight)["larger-tube"] == "closed"


@pytest.mark.parametrize(
    ("material", "given", "stands"),
    [("dom-1020", "yes", "closed"), ("4130-n", "yes", "closed"), ("4130-n", "no", "open"), ("4130-n-aircraft", "unknown", "measure first")],
)  # fmt: skip
def test_heat_treatment_is_asked_and_never_read_off_the_steel(material, given, stands):
    # published: AC 43.13-1B 4-86 (from memory) speaks of the member, not of the alloy
    data = {**DENT, "tube": {**DENT["tube"], "material": material}, "heat_treated": given}
    assert {standing for key, standing in standings(data).items() if key != "replace"} == {stands}
    assert standings(data)["replace"] == "open"


@pytest.mark.parametrize(("stop", "clause"), [("heat_treated", "4-86"), ("brazed", "4-77 to 4-82"), ("crack_into_joint", "4-91")])
def test_a_stop_says_its_clause_and_what_to_do(stop, clause):
    # clause numbers: project fact sheet, from memory
    (one,) = [c for c in assess({**DENT, stop: "yes"})["stops"] if c["id"] == stop]
    assert one["verdict"] == "not met" and clause in one["clause"]
    assert "Replace" in one["text"]


def test_a_hole_is_not_asked_how_deep_it_is():
    hole = {**CLEAR, "damage": "hole", "damage_length": "1 in", "around": "1 in"}
    assert standings(hole)["patch"] == "open"
    assert not {"depth", "sharp_corners", "can_reform"} & {c["id"] for m in assess(hole)["methods"] for c in m["checks"]}


@pytest.mark.parametrize("stop", ["heat_treated", "brazed", "crack_into_joint"])
def test_a_hard_stop_leaves_only_the_whole_member(stop):
    found = assess({**DENT, stop: "yes"})
    assert {m["key"] for m in found["methods"] if m["standing"] == "open"} == {"replace"}
    assert "Nothing else is left" in found["methods"][-1]["checks"][0]["text"]
    assert standings({**DENT, stop: "unknown"}) == {m.key: "measure first" for m in METHODS} | {"replace": "open"}


def test_only_what_nobody_measured_is_asked_and_stops_come_first():
    assert assess(DENT)["measure_next"] == []
    bare = {"tube": CLEAR["tube"], "damage": "dent"}
    asked = assess(bare)["measure_next"]
    assert [one["field"] for one in asked[:3]] == ["heat_treated", "brazed", "crack_into_joint"]
    assert all(one["for"] == ["all"] for one in asked[:3])
    assert sorted(one["field"] for one in asked) == sorted([*QUESTIONS, *LENGTHS])
    assert all(one["question"] == {**QUESTIONS, **LENGTHS}[one["field"]] for one in asked)
    one_side = assess({**DENT, "room_left": "", "depth": ""})["measure_next"]
    assert {one["field"] for one in one_side} == {"room_left", "depth"}
    (left,) = [one for one in one_side if one["field"] == "room_left"]
    assert {"Larger replacement tube", "Outer sleeve", "Inner sleeve", "Split sleeve over the damage"} == set(left["for"])


def test_a_closed_method_asks_nothing_more():
    # The patch is closed by its length, so nobody is sent to measure its depth.
    asked = {one["field"] for one in assess({**DENT, "damage_length": "3 in", "depth": "", "around": ""})["measure_next"]}
    assert asked == set()


def test_ovality_and_an_assumed_material_are_told_first():
    notes = assess({**DENT, "od_readings": ["2.010 in", "1.990 in", ""], "known_by": "assumption"})["notes"]
    assert "0.020 in" in notes[0]  # hand: 2.010 - 1.990
    assert "assumption" in notes[1]
    assert "at least twice" in assess({**DENT, "od_readings": ["2 in"]})["notes"][0]


def test_metric_findings_are_answered_in_millimetres():
    found = assess({**DENT, "units": "mm"})
    limits = [c["limit"] for m in found["methods"] for c in m["checks"] if c["id"] in LENGTHS]
    assert limits and all(" mm " in limit for limit in limits)


@pytest.mark.parametrize(
    ("change", "field"),
    [({"damage": "rust"}, "damage"), ({"tube": None}, "tube"), ({"room_left": "9999 in"}, "room_left"), ({"old_weld": True}, "old_weld"),
     ({"od_readings": "2 in"}, "od_readings"), ({"od_readings": ["2 in"] * 13}, "od_readings"), ({"paint": "no"}, "paint"),
     ({"known_by": "hearsay"}, "known_by"), ({"units": "ft"}, "units"), ({"depth": "1,5"}, "depth")],
)  # fmt: skip
def test_bad_findings_are_refused_where_they_are_wrong(change, field):
    with pytest.raises(Problem) as caught:
        assess({**DENT, **change})
    assert caught.value.field == field
    assert caught.value.allowed and caught.value.next_step


def test_findings_must_be_an_object():
    with pytest.raises(Problem) as caught:
        assess([])
    assert (caught.value.kind, caught.value.status) == ("bad-body", 400)
