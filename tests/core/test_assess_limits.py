"""Limits of an assessment in millimetres, the last resort, the shop's sheet, and who is asked what."""

import pytest

from core.assess import USUAL_SLEEVE_STEP, WELD_ROOM, assess
from core.assess_input import QUESTIONS
from core.shop_rules import read_rule_sheet

TUBE = {"od": "2 in", "wall": ".120 in", "material": "dom-1020", "seam": "none"}
CLEAR = {"tube": TUBE, "known_by": "certificate", "od_readings": ["2 in", "2 in"], "room_left": "12 in", "room_right": "12 in",
         **dict.fromkeys(QUESTIONS, "no"), "can_reform": "yes"}  # fmt: skip
DENT = {**CLEAR, "damage": "dent", "depth": ".1 in", "damage_length": "1 in", "around": "1 in"}
SHEET = read_rule_sheet('[[rule]]\nmember = "door bar"\nmin_od = "1-3/4 in"\ncitation = "Invented 1"\n', "toml")


def verdict(data, method, name):
    (one,) = [c for m in assess(data)["methods"] if m["key"] == method for c in m["checks"] if c["id"] == name]
    return one["verdict"]


def last_resort(data):
    return assess(data)["methods"][-1]["checks"][0]["text"]


def test_usual_sizes():
    assert (WELD_ROOM, USUAL_SLEEVE_STEP) == (0.25, 0.25)  # common practice, no source


# published: AC 43.13-1B 4-94 and 4-97. hand: a 50.8 mm tube: D/10 5.08, D 50.8, 2.5 D 127, 4.5 D 228.6 mm
@pytest.mark.parametrize(
    ("method", "name", "change", "outcome"),
    [
        ("patch", "depth", {"depth": "5.08"}, "met"), ("patch", "depth", {"depth": "5.081"}, "not met"),
        ("patch", "damage_length", {"damage_length": "50.8"}, "met"), ("patch", "damage_length", {"damage_length": "50.801"}, "not met"),
        ("larger-tube", "short_stub", {"room_left": "127"}, "met"), ("larger-tube", "short_stub", {"room_right": "126.999"}, "not met"),
        ("larger-tube", "long_stub", {"room_left": "127", "room_right": "228.6"}, "met"),
        ("larger-tube", "long_stub", {"room_left": "228.599", "room_right": "127"}, "not met"),
        ("larger-tube", "long_stub", {"room_left": "200", "room_right": ""}, "unknown"),
        ("larger-tube", "short_stub", {"room_left": "", "room_right": "200"}, "unknown"),
    ],
)  # fmt: skip
def test_limits_in_millimetres(method, name, change, outcome):
    rooms = {"room_left": "300", "room_right": "300", "depth": "1", "damage_length": "20", "around": "20"}
    assert verdict({**DENT, "units": "mm", **rooms, **change}, method, name) == outcome


def test_a_depth_is_asked_of_a_dent_only():
    assert verdict(DENT, "patch", "depth") == "met"
    hole = next(m for m in assess({**DENT, "damage": "hole"})["methods"] if m["key"] == "patch")
    assert not {"depth", "sharp_corners", "can_reform"} & {check["id"] for check in hole["checks"]}


def test_the_last_resort_is_forced_by_a_stop_or_by_every_method_closed():
    assert last_resort(DENT).startswith("Always possible")
    assert last_resort({**DENT, "brazed": "yes"}) == "Nothing else is left for this tube."
    assert last_resort({**DENT, "brazed": "unknown"}).startswith("Always possible")
    assert last_resort({**CLEAR, "damage": "cut-out", "old_weld": "yes"}) == "Nothing else is left for this tube."
    assert last_resort({**CLEAR, "damage": "hole", "old_weld": "yes"}).startswith("Always possible")  # a patch is not closed


def test_a_stop_closes_or_holds_every_method():
    for answer, standing in (("yes", "closed"), ("unknown", "measure first"), ("no", "open")):
        found = assess({**DENT, "crack_into_joint": answer})
        assert {m["standing"] for m in found["methods"][:-1]} == {standing}
        assert found["methods"][-1]["standing"] == "open"


def test_each_question_is_asked_once_with_all_that_wait_for_it():
    unknown = {**DENT, "brazed": "unknown", "old_weld": "unknown", "room_left": "", "depth": ""}
    asked = {one["field"]: one["for"] for one in assess(unknown)["measure_next"]}
    assert list(asked) == ["brazed", "old_weld", "room_left", "depth"]
    assert asked["brazed"] == ["all"] and asked["depth"] == ["Welded patch"]
    assert asked["old_weld"] == ["Inner sleeve", "Larger replacement tube", "Split sleeve over the damage", "Outer sleeve"]
    assert asked["room_left"] == asked["old_weld"]
    # A closed method waits for nothing: the short right side closes the larger tube.
    asked = {one["field"]: one["for"] for one in assess({**DENT, "near_cluster": "yes", "room_left": ""})["measure_next"]}
    assert "Larger replacement tube" not in asked["room_left"]


def test_the_sheet_stands_beside_the_circular_and_closes_nothing():
    plain, judged = assess(DENT), assess({**DENT, "member": "door bar"}, SHEET)
    rules = judged.pop("shop_rules")
    assert judged == plain
    assert [(check["id"], check["verdict"]) for check in rules if check["id"] == "sheet_od"] == [("sheet_od", "met")]  # hand: 2 over 1-3/4
    assert "shop_rules" not in assess(DENT, SHEET)


def test_one_word_needs_no_or():
    from core.assess import _or

    assert [_or(words) for words in (("dent",), ("dent", "hole"), ("dent", "hole", "bend"))] == ["dent", "dent or hole", "dent, hole or bend"]
