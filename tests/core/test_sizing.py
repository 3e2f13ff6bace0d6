"""The one door for every method: what it refuses, and the options of the strength comparison."""

import json

import pytest

from core.methods import inner_sleeve, larger_tube, outer_sleeve
from core.methods.inner_sleeve_input import EXAMPLE as INSIDE
from core.methods.larger_tube_input import EXAMPLE as LARGER
from core.problems import Problem
from core.size_input import EXAMPLE
from core.sizing import size, summary

OUTER = json.loads(EXAMPLE)
DOM_2 = {"od": "2 in", "wall": ".250 in", "material": "dom-1020", "seam": "none"}


@pytest.mark.parametrize("door", [size, summary])
def test_what_is_no_job_is_refused(door):
    for data, kind, status, field in (([], "bad-body", 400, ""), ({**OUTER, "method": "tape"}, "bad-choice", 422, "method")):
        with pytest.raises(Problem) as caught:
            door(data)
        assert (caught.value.kind, caught.value.status, caught.value.field) == (kind, status, field)
        assert caught.value.allowed and caught.value.next_step


@pytest.mark.parametrize("name", ["outer-sleeve", "inner-sleeve", "larger-tube"])
def test_a_summary_says_what_was_sized(name):
    data = {"outer-sleeve": OUTER, "inner-sleeve": json.loads(INSIDE), "larger-tube": json.loads(LARGER)}[name]
    told = summary({**data, "method": name, "strength": None})
    assert told["tag"]["length"] == size({**data, "method": name})["length"]["blank"]["text"]


@pytest.mark.parametrize(
    ("options", "kind", "field"),
    [([], "bad-body", "strength"), ({"leg": "1/8 in"}, "unknown-member", "strength.leg"), ({"rosette": "huge"}, "bad-choice", "strength.rosette"),
     ({"filler": "wire"}, "bad-filler", "strength.filler"), ({"fillet_leg": "x"}, "bad-length", "strength.fillet_leg"),
     ({"fillet_leg": "0.501 in"}, "out-of-range", "strength.fillet_leg")],
)  # fmt: skip
def test_bad_strength_options_are_refused(options, kind, field):
    with pytest.raises(Problem) as caught:
        size({**OUTER, "strength": options})
    assert (caught.value.kind, caught.value.field) == (kind, field)


@pytest.mark.parametrize(("given", "leg"), [("0.499 in", 0.499), ("0.5 in", 0.5), ("3 mm", 3 / 25.4), (None, 0.12)])
def test_the_fillet_leg_is_as_given_else_the_thinner_wall(given, leg):
    made = size({**OUTER, "strength": {"fillet_leg": given, "rosette": "none"}})["strength"]
    assert made["fillet"]["leg_in"] == pytest.approx(leg)  # hand: up to 1/2 in; walls .120 and .120
    assert made["rosettes"]["per_end"] == 0


@pytest.mark.parametrize(("wall", "rows"), [(".120 in", 2), (".250 in", 1)])
def test_the_worst_by_wall_is_told_where_the_table_reaches(wall, rows):
    # published: the A513 wall table as reprinted ends at .134 in
    tube = {**DOM_2, "wall": wall}
    for made in (inner_sleeve.size({"tube": tube, "sleeve": {**tube, "od": "1-3/4 in"}}),
                 larger_tube.size({**json.loads(LARGER), "tube": tube, "sleeve": {**tube, "od": "2-1/2 in"}})):  # fmt: skip
        assert sum(row["label"] == "Clearance at worst" for row in made["numbers"]) == rows


@pytest.mark.parametrize(
    ("tube", "note"),
    [({"material": "4130-n"}, "The tube is 4130 normalised; its own tolerance table is not at hand"),
     ({"od": "5.5 in"}, "The tube is past the diameter tolerance table"), ({"wall": ".250 in"}, "The tube's wall is past the wall tolerance table"),
     ({"wall": ".100 in"}, "The tube's wall is between two rows of the wall table")],
)  # fmt: skip
def test_an_inner_sleeve_says_where_its_tolerances_come_from(tube, note):
    made = inner_sleeve.size({"tube": {**DOM_2, "wall": ".120 in", **tube}, "sleeve": {**DOM_2, "od": "1 in", "wall": ".120 in"}})
    assert any(line.startswith(note) for line in made["assumptions"])


def test_every_way_to_an_inner_tube_may_be_closed():
    # hand: no wall of the starter list reaches .375 in
    made = inner_sleeve.size({"tube": {**DOM_2, "wall": "3/8 in"}, "sleeve": {**DOM_2, "od": "1 in"}})
    assert {(way["way"], way["size"], way["standing"]) for way in made["options"]} == {
        (way, "none", "not met") for way in ("usual size", "turned down", "slit and closed", "tube bored out")
    }


def test_a_larger_tube_no_longer_than_the_opening_has_no_place_for_a_hole():
    made = larger_tube.size({**json.loads(LARGER), "length": "5 in"})
    assert made["rosette"]["stations"] == []
    assert not any(row["label"] == "Hole from the tip" for row in made["numbers"])
    assert made["cover"]["in"] == -0.5  # hand: (5 - 6) / 2


def test_a_square_end_is_short_of_the_figures_but_its_shorthand_is_not_short():
    made = outer_sleeve.size({**{k: v for k, v in OUTER.items() if k != "mitre_deg"}, "end": "square", "kerf": "1/16 in", "trim": "0 in"})
    # published: AC 43.13-1B 4-92, 30 degrees to the axis; hand: 3 x 1.625 = 4.875 both ways
    assert {c["id"]: c["verdict"] for c in made["checks"]}["end_angle"] == "not met"
    assert made["length"]["rule"]["in"] == made["length"]["shorthand"]["in"] == 4.875
    assert not any("shorthand is short" in one["text"] for one in made["warnings"])
    assert not any("No saw kerf" in line or "No trim" in line for line in made["assumptions"])


@pytest.mark.parametrize(("seam", "told"), [("unknown", True), ("none", False)])
def test_a_drawn_sleeve_nobody_looked_into_is_said_to_be_taken_as_free(seam, told):
    made = outer_sleeve.size({**OUTER, "sleeve": {**OUTER["sleeve"], "seam": seam}})
    assert any("taken as free of an inside bead" in line for line in made["assumptions"]) is told


def test_a_sleeve_already_cut_too_short_is_told_by_how_much():
    made = outer_sleeve.size({**OUTER, "length": "7-11/16 in"})
    # fact sheet: pointed 7-11/16 reaches 1.366 D outside, 1.494 D inside, 1.4994 D on the weld root
    (text,) = [c["text"] for c in made["checks"] if c["id"] == "overlap"]
    assert all(share in text for share in ("1.366 D", "1.494 D", "1.4994 D"))
