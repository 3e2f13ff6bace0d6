"""Printed templates measured as a printer would draw them, and the DXF as a CAD system reads it.

Pages are rendered by poppler at 400 dots per inch; the line found in the picture is compared
with planes cutting a cylinder, written here apart from core.
"""

from __future__ import annotations

import io
import math
import re
import subprocess

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader
from scipy.special import ellipe

from core.methods.outer_sleeve import made_length
from core.problems import Problem
from core.size_input import read_size_job
from core.sleeve import EndCut
from core.template import sleeve_template, tube_cut_template
from fieldapp.template_dxf import template_dxf
from fieldapp.template_pdf import EDGE, LAP, WIDTHS, page_name, registration, template_pdf, tiling

DPI = 400
DOT = 25.4 / DPI
WITHIN = 0.1  # mm, what a printed template may be off by
BLACK = 80  # trim lines are grey
SHEET_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}  # published: ISO 216, ANSI/ASME Y14.1


def job(end="pointed", od="1-5/8 in", sleeve="1-7/8 in", mitre=60.0, **more):
    return read_size_job({
        "tube": {"od": od, "wall": ".120 in", "material": "dom-1020"}, "sleeve": {"od": sleeve, "wall": ".120 in", "material": "dom-1020"},
        "end": end, **({} if end == "square" else {"mitre_deg": mitre}), **more,
    })  # fmt: skip


def edges(one, paper=0.1):
    """Dense points (s, z) in mm of the top and bottom edge; hand: planes z = z0 + x tan m on the cylinder."""
    r, half = one.Ds * 25.4 / 2, made_length(one) * 25.4 / 2
    slope = 0 if one.cut.end == "square" else math.tan(math.radians(one.cut.mitre_deg))
    turn = np.linspace(0, 2 * math.pi, 40001)

    def top(angle):
        lean = r * slope * np.cos(angle)
        return {"pointed": half + np.minimum(lean, -lean), "fishmouth": half - r * slope + np.maximum(lean, -lean),
                "scarf": half - r * slope + lean, "square": half + 0 * lean}[one.cut.end]  # fmt: skip

    start = {"pointed": 0, "fishmouth": math.pi / 2, "scarf": math.pi / 2, "square": math.pi / 2}[one.cut.end]
    s = (r + paper / 2) * turn
    return (s, top(turn + start)), (s, -top(turn + start + (math.pi if one.cut.end == "scarf" else 0)))


def pages(pdf, folder):
    (folder / "template.pdf").write_bytes(pdf)
    subprocess.run(["pdftoppm", "-r", str(DPI), "-gray", "template.pdf", "page"], cwd=folder, check=True, timeout=120)
    return [np.array(Image.open(path)) for path in sorted(folder.glob("page-*.pgm"), key=lambda p: int(re.findall(r"\d+", p.name)[-1]))]


def reassembled(sheets, layout):
    """Lay the drawings of all sheets over each other at the places their names give; 0 is ink."""
    wide, high = layout.window
    left, top = layout.corner(0, 0)
    far = layout.corner(layout.rows - 1, layout.columns - 1)
    whole = np.full((round((top - far[1] + high) / DOT) + 2, round((far[0] - left + wide) / DOT) + 2), 255, np.uint8)
    for i, sheet in enumerate(sheets):
        row, column = divmod(i, layout.columns)
        x, y = layout.corner(row, column)
        a, b = round(EDGE / DOT), round(EDGE / DOT)
        view = sheet[a : a + int(high / DOT), b : b + int(wide / DOT)]
        down, across = round((top - y) / DOT), round((x - left) / DOT)
        part = whole[down : down + view.shape[0], across : across + view.shape[1]]
        np.minimum(part, view, out=part)
    return whole


def first_run(column):
    """Return the first and last dark pixel of the first dark run, from the top."""
    dark = np.flatnonzero(column < BLACK)
    gap = np.flatnonzero(np.diff(dark) > 1)
    return dark[0], dark[gap[0] if len(gap) else -1]


def compare(picture, left, top, one, avoid=()):
    """Return how many of 300 stations on both edges were compared; each must lie within 0.1 mm of the curve."""
    count = 0
    for flip, (s, z) in zip((False, True), edges(one), strict=True):
        for station in np.linspace(1.0, s[-1] - 1.0, 150):
            # A registration mark, or the dashed tip line that starts at the edge, would join the run.
            if any(abs(station - x) < 6 for x in avoid) or abs(station / s[-1] % 0.5 - 0.25) * s[-1] < 0.3:
                continue
            pixel = int((station - left) / DOT)
            column = picture[:, pixel]
            a, b = first_run(column[::-1] if flip else column)
            if flip:
                a, b = len(column) - 1 - b, len(column) - 1 - a
            x = left + (pixel + 0.5) * DOT
            for row, allowed in ((a, WIDTHS["cut"] / 2 + WITHIN), (b, WIDTHS["cut"] / 2 + WITHIN), ((a + b) / 2, WITHIN)):
                distance = np.min(np.hypot(s - x, z - (top - (row + 0.5) * DOT)))
                # Near a tip the run reaches from flank to flank: its middle lies inside the tip, its ends do not.
                if row in (a, b) or b - a < 1.6 * WIDTHS["cut"] / DOT * math.hypot(1, math.tan(math.radians(one.cut.mitre_deg))):
                    assert distance < allowed, (station, flip, distance)
            count += 1
    return count


def bar_lengths(sheet, foot_top):
    """Return the lengths in mm of the two longest straight lines in the foot, tick middle to tick middle."""
    found = []
    for line in sheet[int(foot_top / DOT) :] < BLACK:
        edge = np.flatnonzero(np.diff(np.concatenate(([0], line.view(np.int8), [0]))))
        longest = max((edge[1::2] - edge[::2]), default=0) * DOT
        if longest > 90:
            found.append(round(longest - WIDTHS["bar"], 3))
    return sorted({min(found), max(found)})


@pytest.mark.parametrize("sheet", ["a4", "letter"])
@pytest.mark.parametrize("end", ["pointed", "fishmouth", "square"])
def test_one_page_prints_the_outline_and_the_bars_to_a_tenth(end, sheet, tmp_path):
    one = job(end)
    template = sleeve_template(one, demo=True)
    layout = tiling(template, sheet)
    assert (layout.rows, layout.columns) == (1, 1)
    pdf = template_pdf(template, sheet)
    box = PdfReader(io.BytesIO(pdf)).pages[0].mediabox
    assert sorted(float(side) * 25.4 / 72 for side in (box.width, box.height)) == pytest.approx(SHEET_MM[sheet], abs=0.01)
    (picture,) = pages(pdf, tmp_path)
    left, top = layout.corner(0, 0)
    drawing = picture[: int((EDGE + layout.window[1]) / DOT)]
    assert compare(drawing, left - EDGE, top + EDGE, one) >= 290
    # hand: 100 mm and 4 in = 101.6 mm
    assert bar_lengths(picture, EDGE + layout.window[1]) == pytest.approx([100.0, 101.6], abs=WITHIN)


@pytest.mark.parametrize(("one", "sheet", "grid"), [
    (job("scarf"), "a4", (2, 1)),  # pinned: how the drawing falls on the sheets
    (job("pointed", "3-1/2 in", "3-3/4 in"), "letter", (2, 2)),
])  # fmt: skip
def test_tiled_pages_laid_together_match_the_outline(one, sheet, grid, tmp_path):
    template = sleeve_template(one)
    layout = tiling(template, sheet)
    assert (layout.rows, layout.columns) == grid
    pdf = template_pdf(template, sheet)
    sheets = pages(pdf, tmp_path)
    assert len(sheets) == grid[0] * grid[1]
    left, top = layout.corner(0, 0)
    marks = registration(template, layout)
    compared = compare(reassembled(sheets, layout), left, top, one, [x for x, _, _ in marks])
    assert compared > 200
    for page in sheets:
        assert bar_lengths(page, EDGE + layout.window[1]) == pytest.approx([100.0, 101.6], abs=WITHIN)  # hand
    for i, page in enumerate(PdfReader(io.BytesIO(pdf)).pages):
        assert page_name(layout, *divmod(i, layout.columns)) in page.extract_text()


def test_registration_marks_print_on_both_sheets_at_one_place(tmp_path):
    template = sleeve_template(job("pointed", "3-1/2 in", "3-3/4 in"))
    layout = tiling(template, "letter")
    sheets = pages(template_pdf(template, "letter"), tmp_path)
    wide, high = layout.window
    for x, y, _ in registration(template, layout):
        hits = 0
        for i, sheet in enumerate(sheets):
            left, top = layout.corner(*divmod(i, layout.columns))
            if 4 < x - left < wide - 4 and 4 < top - y < high - 4:
                across, down = (EDGE + x - left) / DOT, (EDGE + top - y) / DOT
                # A cross with 3.5 mm arms: its two middle lines are the darkest row and column.
                patch = sheet[round(down) - 50 : round(down) + 51, round(across) - 50 : round(across) + 51] < 128
                rows, columns = np.argmax(patch.sum(1)), np.argmax(patch.sum(0))
                assert abs(rows - 50) * DOT < WITHIN + DOT
                assert abs(columns - 50) * DOT < WITHIN + DOT
                hits += 1
        assert hits >= 2
    assert LAP > 2 * 3.5  # hand: the whole cross lies in the overlap


def test_joins_miss_the_holes_where_there_is_room():
    template = sleeve_template(job("scarf"))
    layout = tiling(template)
    for (_, y), _ in layout.joins():
        assert all(abs(hole.z - y) > hole.diameter / 2 + LAP / 2 for hole in template.holes)


@pytest.mark.parametrize("sheet", ["a4", "letter"])
def test_the_usual_sleeve_takes_one_sheet(sheet):
    # common practice, no source: 1-5/8 in tube, 1-7/8 in sleeve, blanks up to 8-1/2 in
    layout = tiling(sleeve_template(job(length="8-1/2 in"), demo=True), sheet)
    assert (layout.rows, layout.columns) == (1, 1)


def test_many_registration_marks_keep_their_own_names():
    template = sleeve_template(job("scarf", "5-3/4 in", "6 in", 75))
    layout = tiling(template, "a4")
    names = [name for _, _, name in registration(template, layout)]
    assert len(set(names)) == len(names) == 2 * len(layout.joins()) > 26
    assert names[25:28] == ["Z", "AA", "AB"]  # hand: as a spreadsheet counts columns


def test_pdf_text_settings_and_repeatability():
    template = sleeve_template(job(), demo=True)
    pdf = template_pdf(template)
    assert pdf == template_pdf(template)
    reader = PdfReader(io.BytesIO(pdf))
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"  # published: ISO 32000-1, 12.2
    text = reader.pages[0].extract_text()
    assert all(line in text for line in template.text)
    assert "row 1 of 1, page 1 of 1" in text
    with pytest.raises(Problem) as caught:
        template_pdf(template, "a3")
    assert (caught.value.kind, caught.value.field, caught.value.status) == ("bad-sheet", "sheet", 400)


def test_words_of_the_foot_stay_on_the_paper(tmp_path):
    for sheet in SHEET_MM:
        for one in (job(), job("scarf"), job("square")):
            folder = tmp_path / f"{sheet}-{one.cut.end}"
            folder.mkdir()
            for page in pages(template_pdf(sleeve_template(one, demo=True), sheet), folder):
                dark = np.argwhere(page < 128)
                low, high = dark.min(0) * DOT, (np.array(page.shape) - 1 - dark.max(0)) * DOT
                assert min(*low, *high) > EDGE - 1


@pytest.mark.parametrize("end", ["pointed", "fishmouth", "scarf", "square"])
def test_dxf_reads_back_clean_and_true(end):
    import ezdxf
    from ezdxf import units

    one = job(end)
    template = sleeve_template(one, paper=0, demo=True)
    drawing = ezdxf.read(io.StringIO(template_dxf(template)))
    audit = drawing.audit()
    assert not audit.errors
    assert not audit.fixes
    assert drawing.dxfversion == "AC1024"  # published: DXF reference, AutoCAD 2010
    assert drawing.units == units.MM
    assert drawing.header["$INSUNITS"] == 4
    space = drawing.modelspace()
    (cut,) = space.query('LWPOLYLINE[layer=="CUT"]')
    assert cut.closed
    points = np.array(cut.get_points("xy"))
    for (s, z), part in zip(edges(one, 0), (points[: len(template.top)], points[len(template.top) :][::-1]), strict=True):
        assert np.allclose(part[:, 1], np.interp(part[:, 0], s, z), atol=1e-4)  # hand: planes on the cylinder
    assert len(cut) == len(template.top) + len(template.bottom)
    perimeter = sum(math.dist(a, b) for a, b in zip(points, np.roll(points, -1, 0), strict=True))
    m = 0 if end == "square" else math.radians(60)
    # reference library: 4 rho sec m E(sin^2 m) by scipy.special.ellipe, twice, and the two straight sides
    edge = 4 * (47.625 / 2) / math.cos(m) * ellipe(math.sin(m) ** 2)
    deep = 47.625 * math.tan(m)
    side = made_length(one) * 25.4 - deep  # hand: L - Ds T for all three mitred ends
    assert perimeter == pytest.approx(2 * edge + 2 * side, rel=1e-4)
    assert points[:, 0].max() == pytest.approx(math.pi * 47.625)  # hand: pi Ds
    circles = space.query('CIRCLE[layer=="HOLES"]')
    centres = [sorted(pairs) for pairs in (((c.dxf.center.x, c.dxf.center.y) for c in circles), ((h.s, h.z) for h in template.holes))]
    assert np.allclose(*centres, atol=1e-9)
    assert {c.dxf.radius * 2 for c in circles} == {15 / 32 * 25.4}  # hand: Ds/4 to the nearest 1/32
    assert len(space.query('LINE[layer=="TIP_LINES"]')) == 2
    words = [text.dxf.text for text in space.query('TEXT[layer=="TEXT"]')]
    assert "DEMO" in words
    assert not any("100 %" in line for line in words)
    assert {entity.dxf.layer for entity in space} == {"CUT", "TIP_LINES", "HOLES", "TEXT"}


def test_a_real_blank_and_a_tube_cut_carry_no_demo():
    import ezdxf

    for template in (sleeve_template(job()), tube_cut_template(job().tube.od, EndCut("scarf"))):
        space = ezdxf.read(io.StringIO(template_dxf(template))).modelspace()
        assert not any("DEMO" in text.dxf.text for text in space.query("TEXT"))
        assert len(space.query("CIRCLE")) == len(template.holes)
