"""The drawing: well-formed, to scale, and told in words."""

import re
from xml.etree import ElementTree

import pytest

from core.drawing import MET, METAL, MISSED, TUBE, WIDTH, sleeve_drawing
from core.sizing import size

SVG = "{http://www.w3.org/2000/svg}"
INCH = {
    "tube": {"od": '1-5/8"', "wall": ".120 in", "material": "dom-1020"}, "sleeve": {"od": "1-7/8 in", "wall": ".120 in", "material": "dom-1020"},
    "end": "pointed", "mitre_deg": 60, "gap": "0 in",
}  # fmt: skip
METRIC = {
    "tube": {"od": "40 mm", "wall": "2 mm", "material": "4130-n"}, "sleeve": {"od": "45 mm", "wall": "2.2 mm", "material": "4130-n"},
    "end": "scarf", "mitre_deg": 45, "gap": "3 mm",
}  # fmt: skip


def parts(job):
    root = ElementTree.fromstring(sleeve_drawing(job))
    (outline,) = [path for path in root.iter(f"{SVG}path") if path.get("fill") == METAL]
    points = [tuple(map(float, pair)) for pair in re.findall(r"([-\d.]+) ([-\d.]+)", outline.get("d"))]
    return root, [x for x, _ in points], [y for _, y in points]


# hand: blanks 8-1/8 (rule 8.123), 11-3/8 (11.370), 4-7/8; a length as given; 40 and 45 mm: 3 x 40 + 3 + 2 x 45 = 213 mm
@pytest.mark.parametrize(
    ("job", "length", "sleeve", "tube"),
    [
        (INCH, 8.125, 1.875, 1.625), ({**INCH, "end": "fishmouth"}, 8.125, 1.875, 1.625), ({**INCH, "end": "scarf"}, 11.375, 1.875, 1.625),
        ({**INCH, "end": "square"}, 4.875, 1.875, 1.625), ({**INCH, "length": "7-11/16 in"}, 7.6875, 1.875, 1.625), (METRIC, 213, 45, 40),
    ],
)  # fmt: skip
def test_length_and_diameters_are_drawn_to_one_scale(job, length, sleeve, tube):
    root, xs, ys = parts(job)
    assert (max(xs) - min(xs)) / (max(ys) - min(ys)) == pytest.approx(length / sleeve, rel=1e-3)
    stubs = [rect for rect in root.iter(f"{SVG}rect") if rect.get("fill") == TUBE]
    assert len(stubs) == 2
    for rect in stubs:
        assert float(rect.get("height")) / (max(ys) - min(ys)) == pytest.approx(tube / sleeve, rel=1e-3)
    assert (max(xs) + min(xs)) / 2 == pytest.approx(WIDTH / 2, abs=0.02)


@pytest.mark.parametrize("job", [INCH, {**INCH, "end": "fishmouth", "gap": "1/2 in"}, {**INCH, "end": "scarf"}, METRIC, {**INCH, "length": "0.001 in"}, {**INCH, "mitre_deg": 75, "length": "30 in"}])
def test_everything_stays_inside_the_picture(job):
    root, xs, ys = parts(job)
    _, _, width, height = map(float, root.get("viewBox").split())
    assert 0 <= min(xs) <= max(xs) <= width
    assert 0 <= min(ys) <= max(ys) <= height
    for text in root.iter(f"{SVG}text"):
        assert 0 <= float(text.get("x")) <= width and 0 <= float(text.get("y")) <= height


def test_the_picture_is_told_in_words():
    root, *_ = parts(INCH)
    label = root.get("aria-label")
    assert root.get("role") == "img"
    for said in ("To scale", "pointed", '1-5/8"', "1-7/8 in", "8-1/8 in long", "2.438 in"):  # hand: 1.5 x 1.625, up to .001
        assert said in label
    assert "213 mm long" in parts(METRIC)[0].get("aria-label")


def test_a_short_sleeve_is_marked():
    def inks(job):
        return {line.get("stroke") for line in parts(job)[0].iter(f"{SVG}line")}

    assert MET in inks(INCH) and MISSED not in inks(INCH)
    short = {**INCH, "length": "7-11/16 in"}
    assert MISSED in inks(short) and MET not in inks(short)
    assert any("1.37 D" in (text.text or "") for text in parts(short)[0].iter(f"{SVG}text"))  # hand: 2.22 / 1.625 = 1.366, shares to nearest


def test_the_holes_are_drawn_where_they_face_the_reader():
    # project fact sheet section 4: one hole on each tip line; 15/32 in of a 1.875 in sleeve
    root, _, ys = parts(INCH)
    circles = list(root.iter(f"{SVG}circle"))
    assert len(circles) == 2
    assert 2 * float(circles[0].get("r")) / (max(ys) - min(ys)) == pytest.approx(15 / 32 / 1.875, rel=2e-3)
    assert not list(parts({**INCH, "end": "scarf"})[0].iter(f"{SVG}circle"))
    # A sleeve shorter than the gap reaches no stub: nothing to drill.
    assert not list(parts({**INCH, "gap": "2 in", "length": "1 in"})[0].iter(f"{SVG}circle"))


def test_holes_that_were_searched_for_are_drawn_where_the_card_has_them():
    search = size({**INCH, "length": "10 in", "rosettes": {"per_tip": 2, "diameter": "3/8 in"}})["rosette"]["search"]
    svg = sleeve_drawing({**INCH, "length": "10 in"}, search)
    root = ElementTree.fromstring(svg)
    rings = root.findall(f"{SVG}circle")
    # hand: two on each tip line, both ends; the line that faces the reader shows four
    assert len(rings) == 4
    xs = sorted(float(ring.get("cx")) for ring in rings)
    _, outline, _ = parts({**INCH, "length": "10 in"})
    scale = (max(outline) - min(outline)) / 10
    tips = sorted({one["from_tip"]["in"] for one in search["stations"]})
    assert [(x - min(outline)) / scale for x in xs[:2]] == pytest.approx(tips, abs=0.02)
    assert f"tip to hole {next(one['mark']['text'] for one in search['stations'] if one['from_tip']['in'] == tips[0])}" in svg
