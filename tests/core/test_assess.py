"""Repair methods: every rule at, just under and just over its limit, its clause beside it; stops; what is still to measure."""

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


def found_check(data, method, name):
    (found,) = [m for m in assess(data)["methods"] if m["key"] == method]
    (one,) = [c for c in found["checks"] if c["id"] == name]
    return one


def check(data, method, name):
    return found_check(data, method, name)["verdict"]


def test_clear_dent_and_clear_cut_leave_every_fitting_method_open():
    assert set(standings(DENT).values()) == {"open"}
    # published: AC 43.13-1B 4-92 and 4-94 are for damage left in the tube
    assert {key for key, standing in standings(CUT).items() if standing == "closed"} == {"split-sleeve", "patch"}


@pytest.mark.parametrize("damage", DAMAGE_KINDS)
def test_each_method_takes_only_its_kinds_of_damage(damage):
    for method in METHODS:
        assert (check({**DENT, "damage": damage}, method.key, "damage") == "met") is (damage in method.damage)


# Every measured limit of a 2 in tube: clause, method, rule, what is measured, just under, at, just over, which way it limits.
ROOM = ("5.198557 in", "5.1985571585 in", "5.198558 in", "least")  # hand: 1.5 x 2 + 1.125 tan 60 + .25 = 3 + 1.9485571585 + .25
INNER_ROOM = ("6.464101 in", "6.4641016151 in", "6.464102 in", "least")  # hand: 1.5 x 2 + 2 tan 60 = 3 + 3.4641016151
LIMITS = [
    # published: a dent D/10 deep, dent or hole D long and 1/4 of the way around; hand: .2, 2, 2 pi / 4 = 1.5707963
    ("AC 43.13-1B 4-94", "patch", "depth", "depth", "0.199999 in", "0.2 in", "0.200001 in", "most"),
    ("AC 43.13-1B 4-94", "patch", "damage_length", "damage_length", "1.999999 in", "2 in", "2.000001 in", "most"),
    ("AC 43.13-1B 4-94", "patch", "around", "around", "1.570796 in", "1.5707963 in", "1.570797 in", "most"),
    # published: stubs of 2.5 D and 4.5 D; hand: 5 and 9
    ("AC 43.13-1B 4-97", "larger-tube", "short_stub", "room_left", "4.999999 in", "5 in", "5.000001 in", "least"),
    ("AC 43.13-1B 4-97", "larger-tube", "long_stub", "room_right", "8.999999 in", "9 in", "9.000001 in", "least"),
    # published: 1.5 D past the cut or the damage; room for the end cut and the weld by hand and common practice
    ("AC 43.13-1B 4-92", "split-sleeve", "room_left", "room_left", *ROOM),
    ("AC 43.13-1B 4-92", "split-sleeve", "room_right", "room_right", *ROOM),
    ("AC 43.13-1B 4-97", "larger-tube", "room_left", "room_left", *ROOM),
    ("AC 43.13-1B 4-97", "larger-tube", "room_right", "room_right", *ROOM),
    # from memory: the same 1.5 D
    ("AC 43.13-1B 4-96 (from memory)", "outer-sleeve", "room_left", "room_left", *ROOM),
    ("AC 43.13-1B 4-96 (from memory)", "outer-sleeve", "room_right", "room_right", *ROOM),
    ("AC 43.13-1B 4-95 (from memory)", "inner-sleeve", "room_left", "room_left", *INNER_ROOM),
    ("AC 43.13-1B 4-95 (from memory)", "inner-sleeve", "room_right", "room_right", *INNER_ROOM),
]


def around_limit(name):
    """Return findings that leave one stub to decide: the long one is the longer of the two."""
    return {**DENT, "room_left": "6 in"} if name == "long_stub" else DENT


@pytest.mark.parametrize(("cited", "method", "name", "field", "under", "at", "over", "kind"), LIMITS)
def test_a_measured_rule_at_just_under_and_just_over_its_limit(cited, method, name, field, under, at, over, kind):
    data = around_limit(name)
    bad, good = (over, under) if kind == "most" else (under, over)
    assert [check({**data, field: value}, method, name) for value in (good, at, bad)] == ["met", "met", "not met"]
    assert standings({**data, field: bad})[method] == "closed"
    assert check({**data, field: ""}, method, name) == "unknown"
    assert standings({**data, field: None})[method] == "measure first"
    assert found_check(data, method, name)["clause"] == cited


def test_every_measured_limit_of_every_method_is_in_the_table():
    measured = {(m["key"], c["id"]) for m in assess(DENT)["methods"] for c in m["checks"] if c["limit"].startswith("at ")}
    assert measured == {(method, name) for _, method, name, *_ in LIMITS}


@pytest.mark.parametrize(("left", "right"), [("5 in", "9 in"), ("9 in", "5 in")])
def test_either_side_may_be_the_short_stub(left, right):
    # published: AC 43.13-1B 4-97; hand: 2.5 D = 5, 4.5 D = 9
    data = {**CUT, "room_left": left, "room_right": right}
    assert [check(data, "larger-tube", name) for name in ("short_stub", "long_stub")] == ["met", "met"]
    assert [check({**data, "room_left": ""}, "larger-tube", name) for name in ("short_stub", "long_stub")] == ["unknown", "unknown"]


@pytest.mark.parametrize(("depth", "verdict"), [("5.07 mm", "met"), ("5.08 mm", "met"), ("5.09 mm", "not met")])
def test_a_limit_holds_for_millimetres_on_an_inch_tube(depth, verdict):
    assert check({**DENT, "depth": depth}, "patch", "depth") == verdict  # hand: .2 x 25.4 = 5.08


@pytest.mark.parametrize("name", LENGTHS)
def test_the_longest_length_that_is_read(name):
    # hand: core.assess_input takes up to 480 in
    assert assess({**DENT, name: "480 in"})
    assert assess({**DENT, name: "479.999 in"})
    with pytest.raises(Problem) as caught:
        assess({**DENT, name: "480.001 in"})
    assert (caught.value.kind, caught.value.field) == ("out-of-range", name)


@pytest.mark.parametrize("count", [0, 11, 12])
def test_up_to_twelve_diameters_are_read(count):
    assert len(read_findings({**DENT, "od_readings": ["2 in"] * count}).readings) == count


# Every yes/no rule: clause, method, fact, the answer that closes the method.
FACTS = [
    ("AC 43.13-1B 4-77 to 4-82 (from memory)", "inner-sleeve", "old_weld", "yes"),
    ("AC 43.13-1B 4-77 to 4-82 (from memory)", "larger-tube", "old_weld", "yes"),
    ("AC 43.13-1B 4-77 to 4-82 (from memory)", "split-sleeve", "old_weld", "yes"),
    ("AC 43.13-1B 4-77 to 4-82 (from memory)", "outer-sleeve", "old_weld", "yes"),
    ("common practice, no source", "inner-sleeve", "inside_bead", "yes"),
    ("AC 43.13-1B 4-97", "larger-tube", "near_cluster", "yes"), ("AC 43.13-1B 4-97", "larger-tube", "needs_same_od", "yes"),
    ("AC 43.13-1B 4-94 (from memory)", "patch", "middle_third", "yes"),
    ("AC 43.13-1B 4-94", "patch", "sharp_corners", "yes"), ("AC 43.13-1B 4-94", "patch", "can_reform", "no"),
]  # fmt: skip


@pytest.mark.parametrize(("cited", "method", "name", "bad"), FACTS)
def test_a_yes_or_no_rule(cited, method, name, bad):
    assert standings({**DENT, name: bad})[method] == "closed"
    assert standings({**DENT, name: "unknown"})[method] == "measure first"
    assert standings(DENT)[method] == "open"
    assert found_check(DENT, method, name)["clause"] == cited


def test_every_yes_or_no_rule_of_every_method_is_in_the_table():
    asked = {(m["key"], c["id"]) for m in assess(DENT)["methods"] for c in m["checks"] if c["limit"] in ("yes", "no")}
    assert asked == {(method, name) for _, method, name, _ in FACTS}


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
