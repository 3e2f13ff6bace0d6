"""Templates of the methods beside the outer sleeve: which part they show, and what they say."""

import json
import math
import re

import numpy as np
import pytest

from core.methods import inner_sleeve_input, larger_tube_input, patch_input, split_sleeve_input
from core.problems import Problem
from core.sizing import size
from core.template_layout import EM, Words, marks, panel_words
from core.template_methods import method_template

D, DS = 1.625 * 25.4, 1.875 * 25.4
SLOPE = math.sqrt(3)  # hand: tan 60
EXAMPLES = {"inner-sleeve": inner_sleeve_input, "larger-tube": larger_tube_input, "split-sleeve": split_sleeve_input, "patch": patch_input}


def ask(method, **more):
    margin = {"margin": "1/2 in"} if method == "patch" else {}
    return {"method": method, **json.loads(EXAMPLES[method].EXAMPLE), **margin, **more}


METHODS = [ask("inner-sleeve"), *(ask("larger-tube", end=end) for end in ("fishmouth", "pointed", "scarf", "square")),
           *(ask("split-sleeve", end=end) for end in ("scarf", "fishmouth", "pointed")), ask("patch")]  # fmt: skip
IDS = [f"{one['method']} {one.get('end', '')}" for one in METHODS]


def test_an_inner_sleeve_marks_the_stub_on_the_tubes_own_diameter():
    made = method_template(ask("inner-sleeve"), paper=0.1)
    s, z = np.array(made.top).T
    # hand: z = x tan m on the cylinder D/2, 2 in of paper behind the short side where the join lies
    assert np.allclose(z, 50.8 + D / 2 * SLOPE * (1 - np.cos(s / ((D + 0.1) / 2))), atol=1e-9)
    assert made.around == pytest.approx(math.pi * (D + 0.1))
    assert made.holes == ()
    text = " ".join(made.text)
    # hand: (7.875 - 2.8146 - .125) / 2 = 2.4677, half of it 1.2339
    assert "1.234 in" in text and "1/8 in" in text and "own ends are square" in text


@pytest.mark.parametrize("end", ["fishmouth", "pointed", "scarf", "square"])
def test_a_larger_tube_shows_one_end_with_its_holes_and_the_flat_blank_all_of_it(end):
    data = ask("larger-tube", end=end)
    made, blank = method_template(data), method_template(data, flat=True)
    station = size(data)["rosette"]["stations"][0]["from_tip"]["mm"]  # core.rosette, tested there
    assert len(made.holes) == {"scarf": 1}.get(end, 2)
    for hole in made.holes:
        assert made.high - hole.z == pytest.approx(station)
        assert hole.diameter == pytest.approx(15 / 32 * 25.4)  # hand: 1.875/4 to the nearest 1/32
        assert hole.z - hole.diameter / 2 > 12.7 - 1e-9 or made.high == pytest.approx(hole.z + station)
    assert "stubs are cut square: they need no template" in " ".join(made.text)
    length = size(data)["length"]["blank"]["mm"]
    assert blank.high - blank.low == pytest.approx(length)
    assert len(blank.holes) == 2 * len(made.holes)
    assert "New tube" in blank.text[0] and "leeve" not in " ".join(blank.text + made.text)
    assert made.high < length / 2 + 25.4 * 2 + DS * SLOPE


def test_a_hole_far_back_on_a_huge_tube_is_told_though_it_is_off_the_paper():
    steel = {"material": "dom-1020", "seam": "none"}
    data = ask("larger-tube", tube={"od": "5.5 in", "wall": ".12 in", **steel}, sleeve={"od": "5.75 in", "wall": ".12 in", **steel}, end="square", length="60 in")
    made = method_template(data)
    assert made.holes == () and any(line.startswith("Holes ") for line in made.text)


def test_an_end_without_room_for_a_hole_says_so():
    made = method_template(ask("larger-tube", end="square", length="4 in"))
    assert made.holes == () and "No holes: the new tube does not reach past the stub end." in made.text


@pytest.mark.parametrize(("end", "at"), [("scarf", "half the height"), ("fishmouth", "crotch"), ("pointed", "valley")])
def test_a_split_sleeve_is_slit_where_it_is_short_into_equal_halves(end, at):
    data = ask("split-sleeve", end=end)
    made = method_template(data)
    first, second = made.lines
    assert [line.points[0][0] / made.around for line in made.lines] == pytest.approx([0, 0.5])
    lengths = [line.points[1][1] - line.points[0][1] for line in (first, second)]
    # hand: L - Ds tan 60 on every short side; a scarf is equally long all round, at - Ds tan 60 too
    assert lengths == pytest.approx([size(data)["length"]["blank"]["mm"] - DS * SLOPE] * 2), at
    seams = size(data)["weld"]["seams_least"]["mm"]
    assert sum(lengths) == pytest.approx(seams)
    said = [mark.text for mark in marks(made) if isinstance(mark, Words)]
    assert said.count("SLIT") == 2 and said.count("middle") == 1
    assert "1/16 in" in " ".join(made.text)  # the kerf of the example
    assert "Each slit" not in " ".join(method_template(ask("split-sleeve", kerf=None)).text)


def test_a_patch_is_the_damage_and_its_margin_and_flat_it_is_wider():
    made, flat = method_template(ask("patch"), paper=0.1), method_template(ask("patch"), flat=True)
    # hand: 1.75 in around at the paper's middle is 1.75 (D + .1) / D; 2 in along; the damage .75 x 1 in
    assert made.around == pytest.approx(1.75 * 25.4 * (D + 0.1) / D)
    assert made.high - made.low == pytest.approx(2 * 25.4)
    box = np.array(made.lines[0].points)
    assert np.ptp(box, axis=0) == pytest.approx([0.75 * 25.4 * (D + 0.1) / D, 25.4])
    assert box.mean(axis=0) == pytest.approx([made.around / 2, 0])
    assert flat.around == pytest.approx(1.75 * 25.4 * (1 + 0.134 / 1.625))  # hand: the middle of a .134 wall
    assert flat.around / 25.4 == pytest.approx(size(ask("patch"))["outline"]["patch"]["flat_width"]["in"])
    assert made.flap == () and len(made.outline) == 4
    assert "100 %" in " ".join(made.text) and "100 %" not in " ".join(flat.text)


def test_a_patch_without_its_reach_gets_no_template():
    with pytest.raises(Problem) as caught:
        method_template(ask("patch", margin=None))
    assert (caught.value.kind, caught.value.field) == ("no-template", "margin")
    assert "figure 4-36" in caught.value.next_step


@pytest.mark.parametrize(("data", "field"), [
    (ask("larger-tube", length="1 in"), "length"), (ask("split-sleeve", length="1 in"), "length"), (ask("inner-sleeve", mitre_deg=80), "mitre_deg"),
    (ask("patch") | {"method": "bolted"}, "method"), (ask("larger-tube", length="1 in", opening="0 in"), "length"),
])  # fmt: skip
def test_what_cannot_be_drawn_is_refused(data, field):
    with pytest.raises(Problem) as caught:
        method_template(data)
    assert caught.value.field == field and caught.value.next_step


@pytest.mark.parametrize("data", METHODS, ids=IDS)
@pytest.mark.parametrize("units", ["in", "mm"])
def test_every_template_says_how_to_use_it(data, units):
    real, demo = (method_template({**data, "units": units}, demo=flag) for flag in (False, True))
    text = " ".join(demo.text)
    for words in ("outside of the", "Print at 100 %: measure the bar.", "DEMO", "a qualified welder decide"):
        assert words in text
    assert "DEMO" in demo.short_text
    assert "DEMO" not in " ".join(real.text + real.short_text)
    assert not re.search(r"\b(safe|approved)\b", text, re.I)
    assert max(map(len, demo.text)) <= 75  # common practice, no source: one line beside the bars
    text.encode("cp1252")  # the standard PDF fonts print these characters


@pytest.mark.parametrize("data", METHODS, ids=IDS)
def test_words_cross_no_line(data):
    made = method_template(data, demo=True)
    words = panel_words(made)
    assert len(words) == len(made.short_text)
    upright = [line.s for line in made.tip_lines] + [x for line in made.lines for x, _ in line.points]
    level = [y for line in made.lines if line.kind == "damage" for _, y in line.points]
    for line in words:
        half = len(line.text) * EM * line.size / 2
        free = all(abs(line.x - s) > half for s in upright)
        assert free or all(not line.y - 0.3 * line.size < y < line.y + line.size for y in level)
        assert half < line.x < made.around - half
        assert made.low < line.y < made.high
