"""Cutting jobs that cannot be used: every refusal names the field, what is allowed and the next step."""

from __future__ import annotations

import math

import pytest

from core.cutting import Bar, Piece, plan_cuts, read_cutting
from core.problems import Problem

A, B = Piece("A", 10), Bar("b", 20)


@pytest.mark.parametrize(
    ("pieces", "bars", "kerf", "more", "field", "kind"),
    [
        ([Piece("A", 25)], [B, Bar("c", 24)], 0.1, {}, "pieces.0.length", "piece-too-long"),
        ([Piece("A", 0.1)], [B], 0.125, {}, "pieces.0.length", "bad-cutting"),
        ([Piece("A", -1)], [B], 0.1, {}, "pieces.0.length", "bad-cutting"),
        ([Piece("A", "10 in")], [B], 0.1, {}, "pieces.0.length", "bad-cutting"),
        ([Piece("A", math.nan)], [B], 0.1, {}, "pieces.0.length", "bad-cutting"),
        ([Piece("A", True)], [B], 0.1, {}, "pieces.0.length", "bad-cutting"),
        ([Piece("A", 10, 0)], [B], 0.1, {}, "pieces.0.count", "bad-cutting"),
        ([Piece("A", 10, 1.5)], [B], 0.1, {}, "pieces.0.count", "bad-cutting"),
        ([Piece("A", 10, True)], [B], 0.1, {}, "pieces.0.count", "bad-cutting"),
        ([Piece("A", 10, 3000), Piece("C", 10, 3000)], [B], 0.1, {}, "pieces", "bad-cutting"),
        ([Piece("A", 10, 1, 60)], [B], 0.1, {}, "pieces.0.mitre_deg", "bad-cutting"),
        ([Piece("A", 10, 1, 0, "scarf")], [B], 0.1, {"sleeve_od": 1.5}, "pieces.0.mitre_deg", "bad-cutting"),
        ([Piece("A", 10, 1, 80, "scarf")], [B], 0.1, {"sleeve_od": 1.5}, "pieces.0.mitre_deg", "bad-cutting"),
        ([Piece("A", 10, 1, 60, "scarf")], [B], 0.1, {}, "sleeve_od", "bad-cutting"),
        ([Piece("A", 2.6, 1, 60, "scarf")], [B], 0.1, {"sleeve_od": 1.5}, "pieces.0.length", "bad-cutting"),
        ([Piece("A", 10, 1, 0, "fishmouth")], [B], 0.1, {}, "pieces.0.end", "bad-cutting"),
        ([A, A], [B], 0.1, {}, "pieces.1.key", "bad-cutting"),
        ([Piece(" ", 10)], [B], 0.1, {}, "pieces.0.key", "bad-cutting"),
        ([], [B], 0.1, {}, "pieces", "bad-cutting"),
        ([A], [], 0.1, {}, "bars", "bad-cutting"),
        ([A], [Bar("b", 20, None, True)], 0.1, {}, "bars.0.count", "bad-cutting"),
        ([A], [Bar("b", 2000)], 0.1, {}, "bars.0.length", "bad-cutting"),
        ([A], [Bar("b", 20, None, False, -1)], 0.1, {}, "bars.0.cost", "bad-cutting"),
        ([A], [B], -0.1, {}, "kerf", "bad-cutting"),
        ([A], [B], 3, {"sleeve_od": 2}, "kerf", "bad-cutting"),
        ([A], [B], 0.1, {"min_remnant": "x"}, "min_remnant", "bad-cutting"),
        ([A], [B], 0.1, {"time_limit": 0}, "time_limit", "bad-cutting"),
        ([A], [B], 0.1, {"time_limit": 700}, "time_limit", "bad-cutting"),
    ],
)
def test_refusals_name_the_field(pieces, bars, kerf, more, field, kind):
    with pytest.raises(Problem) as caught:
        plan_cuts(pieces, bars, kerf, **more)
    problem = caught.value
    assert (problem.field, problem.kind) == (field, kind)
    assert problem.title and problem.allowed and problem.next_step


def test_a_piece_longer_than_every_bar_names_both():
    with pytest.raises(Problem) as caught:
        plan_cuts([Piece("door bar", 25), Piece("A", 30)], [B, Bar("c", 24)], 0.1)
    assert "door bar" in caught.value.title and "c, 24 in" in caught.value.allowed
    assert [other.field for other in caught.value.others] == ["pieces.1.length"]


def test_the_json_form_is_read():
    job = read_cutting({
        "pieces": [{"key": "S", "length": "288.8 mm", "count": 3, "end": "scarf", "mitre_deg": 60}],
        "bars": [{"key": "r", "length": "3 ft", "count": 1, "is_remnant": True}, {"key": "n", "length": "20 ft", "cost": 55}],
        "kerf": "1/8 in", "min_remnant": "6", "sleeve_od": "1-7/8 in",
    })  # fmt: skip
    plan = plan_cuts(**job)
    assert (plan.bars_used, plan.remnants_used, plan.min_remnant) == (0, 1, 6)


@pytest.mark.parametrize(
    ("data", "fields"),
    [
        ([], [""]),
        ({"kerf": "1/8 in", "pieces": "A", "bars": [1]}, ["pieces", "bars"]),
        ({"kerf": "1,5", "pieces": [{"key": "A", "length": "1 8/5"}], "bars": []}, ["pieces.0.length", "kerf"]),
        ({"kerf": "0", "pieces": [{"key": "A", "length": "1", "end": "round", "colour": 1}], "bars": [], "saw": 1},
         ["saw", "pieces.0.colour", "pieces.0.end"]),
        ({"kerf": "0", "pieces": [], "bars": [{"key": "b", "length": "9", "is_remnant": "yes"}]}, ["bars.0.is_remnant"]),
    ],
)  # fmt: skip
def test_unreadable_json_forms_are_refused_together(data, fields):
    with pytest.raises(Problem) as caught:
        read_cutting(data)
    assert [caught.value.field, *(other.field for other in caught.value.others)] == fields
