"""Drill and saw card: speeds against handbook arithmetic, block geometry, and the lines a welder reads."""

import json
import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.drill import drill_text, hole_steps, pilot_for, rpm, rpm_range
from core.materials import material
from core.problems import Problem
from core.saw import cut_order, saw_setting, sleeve_batch, stand_off
from core.size_input import EXAMPLE
from core.sizing import size
from core.sleeve import ENDS, EndCut

JOB = json.loads(EXAMPLE)
F = Fraction
MILD, CHROMOLY = material("dom-1020"), material("4130-n")


def card(data):
    return size(data)["card"]


def end_cut(end, mitre=60.0):
    return EndCut(end, 0.0 if end == "square" else mitre)


def refused(data):
    with pytest.raises(Problem) as caught:
        card(data)
    return caught.value


@given(sfm=st.floats(10, 400), d=st.floats(0.04, 2))
def test_the_speed_is_the_shop_formula(sfm, d):
    # hand: 12/pi = 3.8197, shops write 3.82
    assert rpm(sfm, d) == pytest.approx(3.82 * sfm / d, rel=1e-4)
    assert rpm(sfm, d) * math.pi * d / 12 == pytest.approx(sfm)


# hand: 3.8197 x 80 and x 110 over d (60 and 80 for 4130), down to tens; speeds from memory
@pytest.mark.parametrize(
    ("steel", "d", "wanted"),
    [(MILD, F(15, 32), (650, 890)), (MILD, F(1, 8), (2440, 3360)), (MILD, F(3, 16), (1620, 2240)), (CHROMOLY, F(15, 32), (480, 650)), (CHROMOLY, F(1, 8), (1830, 2440)), (material("unknown"), F(1, 8), (1830, 2440))],
)
def test_speeds_by_steel_are_rounded_down(steel, d, wanted):
    assert rpm_range(steel, float(d)) == wanted


@given(d=st.floats(0.05, 1.5), share=st.floats(0.2, 1))
def test_a_printed_speed_is_never_over_the_limit(d, share):
    slow, fast = rpm_range(MILD, d, share)
    assert 0 <= rpm(110, d) * share - fast < 10 and 0 <= rpm(80, d) * share - slow < 10
    assert slow % 10 == fast % 10 == 0


@pytest.mark.parametrize(("sfm", "d", "kind"), [(100, 0.0, "bad-length"), (100, math.inf, "bad-length"), (0, 0.5, "out-of-range"), (math.nan, 0.5, "out-of-range")])
def test_a_speed_needs_a_diameter_and_a_cutting_speed(sfm, d, kind):
    with pytest.raises(Problem) as caught:
        rpm(sfm, d)
    assert caught.value.kind == kind and caught.value.next_step


# common practice: project fact sheet section 5, pilot 1/8 to 3/16
@pytest.mark.parametrize(("d", "pilot"), [(F(1, 16), None), (F(1, 8), None), (F(9, 64), F(1, 8)), (F(3, 8), F(1, 8)), (F(13, 32), F(3, 16)), (F(1), F(3, 16))])
def test_the_pilot(d, pilot):
    assert pilot_for(d) == pilot


def test_the_steps_come_in_the_shops_order():
    steps = hole_steps(F(15, 32), MILD)
    # common practice: project fact sheet section 5
    assert [one["step"] for one in steps] == ["mark", "clamp", "centre drill", "pilot", "final", "countersink", "deburr", "slide"]
    said = " ".join(one["text"] for one in steps)
    for phrase in ("straight up in the vice", "with a square", "three-lobed", "Deburr the inside"):
        assert phrase in said
    by = {one["step"]: one for one in steps}
    assert by["final"]["rpm"] == "650 to 890 rpm" and by["pilot"]["diameter"]["text"] == "3/16 in"
    assert by["countersink"]["rpm_high"] == 290  # hand: 896.3 / 3 = 298.8, down to tens
    assert "pilot" not in [one["step"] for one in hole_steps(F(1, 8), MILD)]


def test_drill_sizes_read_as_stamped():
    # hand: .3 in is on no 1/64 mark
    assert (drill_text(F(13, 32), False), drill_text(F(3, 10), False), drill_text(F(1, 8), True)) == ("13/32 in", "0.300 in", "3.18 mm")


def test_the_card_takes_the_sizing_job():
    body, sized = card({"method": "outer-sleeve", **JOB}), size(JOB)
    assert body["numbers"][0]["value"]["text"] == sized["length"]["blank"]["text"] == "8-1/8 in"  # project fact sheet section 2: 8.123
    assert body["drill"]["hole"]["diameter"]["text"] == "15/32 in"  # project fact sheet section 4
    assert body["drill"]["holes"] == 4  # common practice: four a pointed sleeve
    assert [one["from_tip"]["text"] for one in body["drill"]["stations"]] == [one["from_tip"]["text"] for one in sized["rosette"]["stations"]]
    labels = [one["label"] for one in body["numbers"]]
    assert labels == ["Blank", "Saw setting", "Hole", "Hole centre from the tip", "Centre drill speed", "Pilot speed", "Final speed", "Countersink speed"]
    assert body["order"][0].startswith("Scribe the two tip lines") and "Slide the sleeve over the tube" in body["order"][-1]
    assert any("never the tube" in one["text"] and one["rank"] == 1 for one in body["warnings"])


@pytest.mark.parametrize(("hole", "text"), [("circular", "15/32 in"), ("shop", "13/32 in"), ("structural", "7/16 in")])
def test_the_hole_is_chosen_by_source(hole, text):
    # project fact sheet section 4: 1.875/4, 1.625/4, .120 + 5/16
    assert card({**JOB, "hole": hole})["drill"]["hole"]["diameter"]["text"] == text


def test_a_cut_sleeve_a_short_one_and_an_unknown_steel():
    assert card({**JOB, "length": "8-1/2 in"})["numbers"][0]["value"]["text"] == "8-1/2 in"
    short = card({**JOB, "length": "1 in", "gap": "1 in"})
    assert short["drill"]["holes"] == 0 and not any("Drill 15/32" in line for line in short["order"])
    assert any("no place for a hole" in one["text"] for one in short["warnings"])
    assert "Hole centre from the tip" not in [one["label"] for one in short["numbers"]]
    unknown = card({**JOB, "sleeve": {**JOB["sleeve"], "material": "unknown"}})
    assert unknown["drill"]["surface_speed_ft_min"] == [60.0, 80.0]
    assert any("slower speeds" in one["text"] for one in unknown["warnings"])


def test_a_metric_card_reads_in_millimetres():
    body = card({"tube": {"od": "40", "wall": "2", "material": "4130-n"}, "sleeve": {"od": "45", "wall": "2", "material": "4130-n"},
                 "end": "scarf", "mitre_deg": 60, "units": "mm"})  # fmt: skip
    block = body["saw"]["block"]
    assert (block["run"]["text"], block["rise"]["text"]) == ("300 mm", "80 mm")  # hand: 300 tan 15 = 80.38
    assert body["drill"]["hole"]["diameter"]["text"].endswith(" mm") and body["drill"]["holes"] == 2


# hand: rise over run, 12 tan 15 = 3.2154 -> 3-7/32; 10 tan 30 = 5.7735 -> 5-25/32; 12 tan 45 = 12
@pytest.mark.parametrize(("mitre", "stop", "run", "rise"), [(60, 45, 12, "3-7/32 in"), (75, 45, 10, "5-25/32 in"), (45, 0, 12, "12 in")])
def test_the_block_makes_up_what_the_saw_lacks(mitre, stop, run, rise):
    setting = saw_setting(EndCut("pointed", mitre), stop, run)
    assert setting["block"]["rise"]["text"] == rise
    assert setting["block"]["angle_deg"] == mitre - stop and setting["saw_deg"] == stop
    assert any(rise in line for line in setting["lines"])


@given(mitre=st.floats(1, 75), stop=st.floats(0, 75), run=st.floats(6, 48), metric=st.booleans())
def test_saw_and_block_together_make_the_mitre(mitre, stop, run, metric):
    setting = saw_setting(EndCut("scarf", mitre), stop, run, metric)
    assert setting["to_axis_deg"] == pytest.approx(90 - mitre)
    if setting["block"]:
        # hand: half a ruler mark over the run, in degrees
        mark = 1 / 25.4 if metric else 1 / 32
        assert abs(setting["block"]["mitre_made_deg"] - mitre) <= math.degrees(mark / 2 / run) + 1e-9
        assert stop + math.degrees(math.atan2(setting["block"]["rise"]["in"], run)) == pytest.approx(mitre)
    elif mitre - stop > 45:
        assert setting["setting"] == "wrap template"
    else:
        assert setting["saw_deg"] == pytest.approx(mitre, abs=0.2)


def test_a_saw_that_reaches_needs_no_block():
    assert saw_setting(EndCut("pointed", 60), 60, 12)["setting"] == "60° from square"
    assert saw_setting(EndCut("square", 0.0), 45, 12)["setting"] == "square"
    assert saw_setting(EndCut("pointed", 45.05), 45, 12)["setting"] == "45° from square"  # hand: 12 tan .05 = .0105, under 1/64
    assert "wrap template" in saw_setting(EndCut("pointed", 60), 10, 12)["lines"][0]
    assert stand_off(0, 12) == 0


@pytest.mark.parametrize("end", ENDS)
def test_orders_are_short_lines(end):
    cut = end_cut(end)
    for line in [*cut_order(cut), *sleeve_batch(cut, "8-1/8 in")]:
        assert line.endswith(".") and len(line) <= 100
    mitres = sum(line.startswith(("Cut the first", "Cut the second", "Cut the mitre")) for line in cut_order(cut))
    assert mitres == {"pointed": 2, "fishmouth": 2, "scarf": 1, "square": 0}[end]  # hand: planes an end
    assert "8-1/8 in" in sleeve_batch(cut, "8-1/8 in")[0]
    assert sum("itre" in line for line in sleeve_batch(cut, "x")) == {"pointed": 4, "fishmouth": 4, "scarf": 1, "square": 0}[end]


def test_a_saw_that_stops_at_60_is_told_by_the_job():
    assert card({**JOB, "saw_limit": 60})["saw"]["setting"] == "60° from square"
    # hand: 6 tan 15 = 1.6077 -> 1-19/32
    assert card({**JOB, "block_distance": "6 in"})["saw"]["block"]["rise"]["text"] == "1-19/32 in"


def test_bad_input_is_refused_with_all_its_problems():
    assert refused([]).kind == "bad-body"
    assert refused({**JOB, "hole": "huge"}).field == "hole"
    for stop in (-1, 76, "45", True):
        assert (refused({**JOB, "saw_limit": stop}).kind, refused({**JOB, "saw_limit": stop}).field) == ("bad-angle", "saw_limit")
    assert refused({**JOB, "block_distance": "60 in"}).field == "block_distance"
    both = refused({**JOB, "hole": "huge", "gap": "-1 in", "colour": 1})
    assert [one.field for one in (both, *both.others)] == ["hole", "colour", "gap"]
