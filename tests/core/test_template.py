"""Wrap templates: the paper, laid flat, is the cylinder the planes cut, and says how to use it.

The expected outline is built here in another way than in core: a mitre is a plane in space,
z = z0 + x tan m, and a double mitre keeps the metal under both planes or under either.
"""

from __future__ import annotations

import math
import re
from itertools import pairwise
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ellipe

from core.lengths import read_length
from core.methods.outer_sleeve import made_length
from core.problems import Problem
from core.rosette import stations
from core.size_input import read_size_job
from core.sleeve import EndCut
from core.template import CHORD_MM, THICKEST_PAPER_MM, read_paper, sleeve_template, tube_cut_template
from core.template_layout import EM, Words, marks, panel_words
from core.template_svg import template_svg

ENDS = ("pointed", "fishmouth", "scarf", "square")
EXACT_MM = 1e-9  # rounding error of a few hundred millimetres in double precision


def job(end="pointed", mitre=60.0, od="1-5/8 in", sleeve="1-7/8 in", wall=".120 in", **more):
    return read_size_job({
        "tube": {"od": od, "wall": wall, "material": "dom-1020"}, "sleeve": {"od": sleeve, "wall": wall, "material": "dom-1020"},
        "end": end, **({} if end == "square" else {"mitre_deg": mitre}), **more,
    })  # fmt: skip


def plane_cut(end, mitre, length, radius, angle):
    """Top edge in mm over the sleeve's middle: planes cutting the outside; hand."""
    lean = radius * np.cos(angle) * math.tan(math.radians(mitre))
    deep = radius * math.tan(math.radians(mitre))
    return {
        "pointed": length / 2 + np.minimum(lean, -lean),
        "fishmouth": length / 2 - deep + np.maximum(lean, -lean),
        "scarf": length / 2 - deep + lean,
        "square": length / 2 + 0 * lean,
    }[end]


SHORT_SIDE = {"pointed": 0, "fishmouth": 90, "scarf": 90, "square": 90}  # degrees; hand, see the module's text


def expected(one, s, edge, paper):
    """Expected z in mm at s for a job's template."""
    radius, length = float(one.sleeve.od.inches) * 25.4 / 2, made_length(one) * 25.4
    angle = s / (radius + paper / 2) + math.radians(SHORT_SIDE[one.cut.end])
    if edge == "top":
        return plane_cut(one.cut.end, one.cut.mitre_deg, length, radius, angle)
    turned = angle + (math.pi if one.cut.end == "scarf" else 0)
    return -plane_cut(one.cut.end, one.cut.mitre_deg, length, radius, turned)


jobs = st.builds(
    lambda end, mitre, size, step, extra: job(end, mitre, f"{size} thou", f"{size + step} thou", "0.065 in", length=f"{3 * size + extra + 2 * math.ceil((size + step) * math.tan(math.radians(mitre)))} thou"),
    st.sampled_from(ENDS), st.floats(1, 75), st.integers(500, 5000), st.integers(10, 400), st.integers(0, 2000),
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(jobs, st.floats(0, THICKEST_PAPER_MM))
def test_every_point_lies_on_the_cutting_planes_and_the_ends_meet_at_the_seam(one, paper):
    template = sleeve_template(one, paper=paper)
    around = math.pi * (one.Ds * 25.4 + paper)  # hand: pi (Ds + paper)
    for name, edge in (("top", template.top), ("bottom", template.bottom)):
        s, z = np.array(edge).T
        assert s[0] == 0
        assert s[-1] == pytest.approx(around, rel=1e-12)
        assert z[0] == pytest.approx(z[-1], abs=1e-7)
        assert np.allclose(z, expected(one, s, name, paper), atol=1e-7)
    heights = np.array(template.top)[:, 1] - np.array(template.bottom)[:, 1]
    assert heights[0] == pytest.approx(min(heights), abs=1e-7)  # the join is on the short side


@settings(max_examples=25, deadline=None)
@given(jobs)
def test_chords_stay_within_a_hundredth_of_a_millimetre_and_kinks_are_points(one):
    paper = 0.1
    template = sleeve_template(one, paper=paper)
    s, z = np.array(template.top).T
    dense = np.linspace(0, template.around, 20001)
    worst = np.max(np.abs(np.interp(dense, s, z) - expected(one, dense, "top", paper)))
    assert worst < CHORD_MM + EXACT_MM  # 0.01 mm, the stated bound
    quarter = template.around / 4  # hand: tips, valleys and crotches lie a quarter turn apart from the join
    assert all(np.min(np.abs(s - i * quarter)) < 1e-9 for i in range(5))


@pytest.mark.parametrize("end", ENDS)
@pytest.mark.parametrize("paper", [0.0, 0.1, 0.5])
def test_area_and_edge_length_against_quadrature(end, paper):
    one = job(end)
    template = sleeve_template(one, paper=paper)
    r, R = 1.875 * 25.4 / 2, (1.875 * 25.4 + paper) / 2
    s, z = np.array(template.top).T
    low = np.array(template.bottom)[:, 1]
    area = quad(lambda x: float(expected(one, x, "top", paper) - expected(one, x, "bottom", paper)), 0, 2 * math.pi * R,
                points=[i * math.pi * R / 2 for i in range(1, 4)])[0]  # fmt: skip
    # reference library: scipy quad; the chords cost at most 0.01 mm over the width at each end
    assert np.trapezoid(z - low, s) == pytest.approx(area, abs=2 * CHORD_MM * template.around)
    slope = 0 if end == "square" else math.tan(math.radians(60))
    arc = quad(lambda a: math.hypot(R, r * slope * math.sin(a)), 0, 2 * math.pi, epsabs=1e-10)[0]
    drawn = sum(math.dist(a, b) for a, b in pairwise(template.top))
    assert drawn == pytest.approx(arc, rel=2e-4)  # reference library: scipy quad
    assert drawn <= arc + EXACT_MM  # chords are never longer than their curve


def test_without_paper_a_cut_edge_is_the_weld_line_of_the_elliptic_integral():
    template = sleeve_template(job("fishmouth"), paper=0)
    # reference library: 4 rho sec m E(sin^2 m), scipy.special.ellipe, rho = Ds/2
    exact = 4 * (1.875 * 25.4 / 2) / math.cos(math.radians(60)) * ellipe(math.sin(math.radians(60)) ** 2)
    assert sum(math.dist(a, b) for a, b in pairwise(template.bottom)) == pytest.approx(exact, rel=2e-4)


def test_paper_stretches_around_and_never_along():
    thin, thick = sleeve_template(job(), paper=0), sleeve_template(job(), paper=1)
    assert [z for _, z in thin.top] == [z for _, z in thick.top]
    assert thick.around - thin.around == pytest.approx(math.pi)  # hand: pi x 1 mm
    assert thin.around == pytest.approx(149.618, abs=5e-4)  # hand: pi x 47.625 mm


@pytest.mark.parametrize(("end", "tops", "bottoms"), [
    ("pointed", [1 / 4, 3 / 4], [1 / 4, 3 / 4]),  # hand: tips at 90 and 270, join at 0
    ("fishmouth", [1 / 4, 3 / 4], [1 / 4, 3 / 4]),  # hand: tips at 0 and 180, join at 90
    ("scarf", [3 / 4], [1 / 4]),  # hand: parallel cuts, tips on opposite sides, join at 90
    ("square", [1 / 4, 3 / 4], [1 / 4, 3 / 4]),  # hand: holes at 0 and 180, join at 90
])  # fmt: skip
def test_holes_sit_on_their_tip_line_where_core_places_them(end, tops, bottoms):
    one = job(end)
    template = sleeve_template(one)
    place = stations(made_length(one), one.Ds, one.g, one.cut)[0]
    for name, shares, sign in (("top", tops, 1), ("bottom", bottoms, -1)):
        holes = sorted((h for h in template.holes if h.end == name), key=lambda h: h.s)
        assert [h.s / template.around for h in holes] == pytest.approx(shares)
        for hole in holes:
            assert hole.z == pytest.approx(sign * place.from_middle * 25.4)
            assert hole.diameter == pytest.approx(15 / 32 * 25.4)  # hand: 1.875/4 to the nearest 1/32
            line = next(line for line in template.tip_lines if abs(line.s - hole.s) < 1e-9)
            assert (name in line.tips) is (end != "square")
            if end != "square":
                tip = line.high if name == "top" else line.low
                assert abs(tip) == pytest.approx(made_length(one) * 12.7)  # hand: the tip is the sleeve's end
    edge = np.array(template.top + template.bottom)
    room = min(np.min(np.hypot(*(edge - (h.s, h.z)).T)) for h in template.holes)
    assert room == pytest.approx(place.to_edge * 25.4, abs=0.5)  # sampled 0.5 mm coarse; core.rosette


def test_hole_choice_and_a_sleeve_short_of_the_stub():
    sizes = {key: sleeve_template(job(), hole=key).holes for key in ("circular", "shop", "structural", "none")}
    # hand: 15/32 (Ds/4), 13/32 (D/4), 7/16 (wall + 5/16 up to an odd 1/16)
    assert [sizes[key][0].diameter / 25.4 for key in ("circular", "shop", "structural")] == pytest.approx([15 / 32, 13 / 32, 7 / 16])
    assert sizes["none"] == ()
    apart = sleeve_template(job("square", gap="5 in", length="4 in"))
    assert apart.holes == ()
    assert "No holes: the sleeve does not reach past the stub end." in apart.text


@pytest.mark.parametrize(("end", "seam"), [("scarf", 180), ("pointed", 0), ("fishmouth", 90), ("square", 90)])
def test_tube_cut_starts_on_its_short_side_above_a_straight_edge(end, seam):
    template = tube_cut_template(read_length("1.625 in"), EndCut(end, 60 if end != "square" else 0), paper=0, demo=end == "scarf")
    r = 1.625 * 25.4 / 2
    s, z = np.array(template.top).T
    shape = plane_cut(end, 60 if end != "square" else 0, 0, r, s / r + math.radians(seam))
    assert np.allclose(z, 50.8 + shape - min(shape), atol=1e-9)  # hand: 2 in of paper under the nearest metal
    assert {z for _, z in template.bottom} == {0.0}
    assert min(z) == z[0] == pytest.approx(z[-1])
    assert ("DEMO" in template.short_text) is (end == "scarf")
    assert all(line.tips == ("top",) or end == "square" for line in template.tip_lines)


@pytest.mark.parametrize(("call", "kind", "field"), [
    (lambda: sleeve_template(job(), paper=1.01), "out-of-range", "paper"),
    (lambda: sleeve_template(job(), paper=-0.1), "out-of-range", "paper"),
    (lambda: sleeve_template(job(), paper=math.nan), "out-of-range", "paper"),
    (lambda: sleeve_template(job(), hole="big"), "bad-choice", "hole"),
    (lambda: sleeve_template(job(length="3 in")), "too-short", "length"),
    (lambda: read_paper("2 mm"), "out-of-range", "paper"),
    (lambda: read_paper("thick"), "bad-length", "paper"),
    (lambda: tube_cut_template(read_length("1 in"), EndCut("scarf"), band=0.1), "out-of-range", "band"),
])  # fmt: skip
def test_what_cannot_be_drawn_is_refused(call, kind, field):
    with pytest.raises(Problem) as caught:
        call()
    assert (caught.value.kind, caught.value.field) == (kind, field)
    assert caught.value.allowed
    assert caught.value.next_step


def test_too_short_names_the_length_at_which_metal_begins():
    with pytest.raises(Problem) as caught:
        sleeve_template(job(length="3 in"))
    assert "3.248 in" in caught.value.allowed  # hand: Ds tan 60 = 1.875 x 1.7320508 = 3.2476, up
    assert sleeve_template(job(length="3.248 in")).top


@pytest.mark.parametrize("end", ENDS)
@pytest.mark.parametrize("units", ["in", "mm"])
def test_text_says_how_to_use_it(end, units):
    real, demo = (sleeve_template(job(end, units=units), demo=flag) for flag in (False, True))
    text = " ".join(demo.text)
    for words in ("outside of the sleeve", "Print at 100 %: measure the bar.", "DEMO", "never the tube", "Paper join", "a qualified welder decide"):
        assert words in text
    assert "DEMO" in demo.short_text
    assert "DEMO" not in " ".join(real.text + real.short_text)
    assert not re.search(r"\b(safe|approved)\b", text, re.I)
    assert all(len(line) <= 72 for line in demo.text)
    size = {"in": "1-7/8 in", "mm": "47.62 mm"}[units]  # hand: 47.625 mm, a half goes to the even hundredth
    assert size in text
    text.encode("cp1252")  # the standard PDF fonts print these characters


@pytest.mark.parametrize("end", ENDS)
def test_words_stay_between_the_tip_lines(end):
    template = sleeve_template(job(end), demo=True)
    words = panel_words(template)
    assert len(words) == len(template.short_text)
    for line in words:
        half = len(line.text) * EM * line.size / 2
        assert all(abs(line.x - tip.s) > half for tip in template.tip_lines)
        for s in np.linspace(line.x - half, line.x + half, 9):
            top = np.interp(s, *np.array(template.top).T)
            bottom = np.interp(s, *np.array(template.bottom).T)
            assert bottom < line.y < line.y + line.size < top
    tiny = sleeve_template(job("fishmouth", od="1/4 in", sleeve="5/16 in", wall=".028 in"))
    assert panel_words(tiny) == []  # too small to read, so not printed
    assert any(isinstance(mark, Words) for mark in marks(tiny))


def test_only_a_sleeve_has_a_middle_mark():
    sleeve, tube = sleeve_template(job()), tube_cut_template(read_length("1.625 in"), EndCut("scarf"))
    said = [[mark.text for mark in marks(one) if isinstance(mark, Words)] for one in (sleeve, tube)]
    assert "middle" in said[0]
    assert "middle" not in said[1]
    assert "Keep this side" in said[1]


def numbers(path):
    return np.array([float(n) for n in re.findall(r"-?\d+\.\d+", path)]).reshape(-1, 2)


@pytest.mark.parametrize("end", ENDS)
def test_svg_is_one_to_one_with_one_cut_path(end):
    one = job(end)
    template = sleeve_template(one, demo=True)
    root = ElementTree.fromstring(template_svg(template))
    space = "{http://www.w3.org/2000/svg}"
    _, _, width, height = map(float, root.get("viewBox").split())
    assert root.get("width") == f"{width:.4f}mm"
    assert root.get("height") == f"{height:.4f}mm"
    paths = [path for path in root.iter(f"{space}path") if path.get("class") == "cut"]
    assert len(paths) == 1
    points = numbers(paths[0].get("d"))
    s, up = points[:, 0] - points[0, 0], points[0, 1] - points[:, 1]
    count = len(template.top)
    top = expected(one, s[:count], "top", 0.1)
    assert np.allclose(up[:count], top - top[0], atol=2e-4)  # hand: planes; written to 0.0001 mm
    bottom = expected(one, s[-count:], "bottom", 0.1)
    assert np.allclose(up[-count:], bottom - top[0], atol=2e-4)
    assert s[count - 1] == pytest.approx(math.pi * (47.625 + 0.1), abs=2e-4)  # hand
    bars = [numbers(p.get("d")) for p in root.iter(f"{space}path") if p.get("class") == "bar"]
    flat = sorted(abs(b[1, 0] - b[0, 0]) for b in bars if b[0, 1] == b[1, 1])
    assert flat == pytest.approx([100.0, 101.6], abs=2e-4)  # hand: 100 mm and 4 in
    assert len(list(root.iter(f"{space}circle"))) == len(template.holes)
    words = [text.text for text in root.iter(f"{space}text")]
    assert set(template.text) <= set(words)
    for path in root.iter(f"{space}path"):
        assert np.all(numbers(path.get("d")) >= 0)
        assert np.all(numbers(path.get("d")) <= (width, height))
    for text in root.iter(f"{space}text"):
        assert 0 < float(text.get("x")) < width
        assert 0 < float(text.get("y")) < height
