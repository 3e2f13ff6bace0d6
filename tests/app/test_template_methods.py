"""Printed templates of every method measured as a printer draws them; their DXF as a CAD system reads it.

The curves are written here apart from core: s = rho a around the middle of the paper, rho =
(D + paper) / 2; z from planes z = x tan m on the tube's outside D/2. Millimetres.
"""

from __future__ import annotations

import io
import json
import math

import numpy as np
import pytest
from conftest_helpers import CHOOSE, MEASURE, STOCK, TUBE, save, told
from test_template_files import DOT, WITHIN, bar_lengths, edges, first_run, pages, reassembled

from core.methods import inner_sleeve_input, larger_tube_input, patch_input, split_sleeve_input
from core.methods.larger_tube_input import read_larger_job
from core.methods.split_sleeve_input import read_split_job
from core.size_input import SizeJob
from core.sizing import size
from core.template_methods import method_template
from fieldapp import cli
from fieldapp.services import template as template_file
from fieldapp.template_pdf import EDGE, WIDTHS, registration, template_pdf, tiling

D, DS, T, PAPER = 1.625 * 25.4, 1.875 * 25.4, math.sqrt(3), 0.1  # hand: tan 60
EXAMPLES = {"inner-sleeve": inner_sleeve_input, "larger-tube": larger_tube_input, "split-sleeve": split_sleeve_input, "patch": patch_input}


def ask(method, **more):
    margin = {"margin": "1/2 in"} if method == "patch" else {}
    return {"method": method, **json.loads(EXAMPLES[method].EXAMPLE), **margin, **more}


def turned(shape, wide):
    """Dense points of a top edge on paper `wide` around, z given over the angle from the join."""
    a = np.linspace(0, 2 * math.pi, 40001)
    return a / (2 * math.pi) * wide, shape(a)


def level(z, wide):
    return np.linspace(0, wide, 40001), np.full(40001, float(z))


def split_job(**more):
    return read_split_job({key: value for key, value in ask("split-sleeve", **more).items() if key != "method"}).sized


def drawn(name, paper=PAPER):
    """Return the sizing input and both edges of its template by hand."""
    if name == "inner":
        wide = math.pi * (D + paper)
        return ask("inner-sleeve"), turned(lambda a: 50.8 + D / 2 * T * (1 - np.cos(a)), wide), level(0, wide)
    if name.startswith("larger"):
        end, wide = name.split()[1], math.pi * (DS + paper)
        # hand: 2 in of paper behind the nearest metal, the join where the end is shortest
        shape = {"fishmouth": lambda a: np.abs(np.sin(a)), "pointed": lambda a: 1 - np.abs(np.cos(a)), "scarf": lambda a: 1 - np.cos(a)}[end]
        return ask("larger-tube", end=end), turned(lambda a: 50.8 + DS / 2 * T * shape(a), wide), level(0, wide)
    if name.startswith("split"):
        end = name.split()[1]
        return ask("split-sleeve", end=end), *edges(split_job(end=end), paper)
    wide = 1.75 * 25.4 * (D + paper) / D  # hand: 3/4 in of damage and twice 1/2 in of margin around, 1 in and the same along
    return ask("patch"), level(25.4, wide), level(-25.4, wide)


NAMES = ["inner", "larger fishmouth", "larger pointed", "larger scarf", "split scarf", "split fishmouth", "split pointed", "patch"]


def printed(data, sheet, folder):
    made = method_template(data, demo=True)
    layout = tiling(made, sheet)
    sheets = pages(template_pdf(made, sheet), folder)
    left, top = layout.corner(0, 0)
    picture = reassembled(sheets, layout)
    busy = [line.s for line in made.tip_lines] + [x for line in made.lines for x, _ in line.points] + [hole.s for hole in made.holes]
    marked = [x for x, _, _ in registration(made, layout)]
    return made, layout, sheets, picture, left, top, busy, marked


def worst(picture, left, top, curves, busy, marked):
    """Return the largest distance in mm of the drawn line's middle from the curves, and how many places were measured."""
    found = []
    for flip, (s, z) in zip((False, True), curves, strict=True):
        for station in np.linspace(1.0, s[-1] - 1.0, 150):
            if any(abs(station - x) < 0.6 for x in busy) or any(abs(station - x) < 6 for x in marked) or abs(station - s[-1] / 2) < 0.6:
                continue
            pixel = int((station - left) / DOT)
            column = picture[:, pixel]
            a, b = first_run(column[::-1] if flip else column)
            if flip:
                a, b = len(column) - 1 - b, len(column) - 1 - a
            x = left + (pixel + 0.5) * DOT
            steep = 1.6 * WIDTHS["cut"] / DOT * 2  # hand: sec 60 = 2
            for row in [(a + b) / 2] if b - a < steep else []:
                found.append(np.min(np.hypot(s - x, z - (top - (row + 0.5) * DOT))))
    return max(found), len(found)


@pytest.mark.parametrize("sheet", ["a4", "letter"])
@pytest.mark.parametrize("name", NAMES)
def test_the_print_lies_on_the_planes_to_a_tenth(name, sheet, tmp_path):
    data, *curves = drawn(name)
    _, layout, sheets, picture, left, top, busy, marked = printed(data, sheet, tmp_path)
    error, count = worst(picture, left, top, curves, busy, marked)
    assert count > 190
    assert error < WITHIN
    for page in sheets:
        assert bar_lengths(page, EDGE + layout.window[1]) == pytest.approx([100.0, 101.6], abs=WITHIN)  # hand


def middle(dark, start):
    """Return the middle of the lines that run right across a patch, in pixels of the picture."""
    return start + np.flatnonzero(dark > 0.9).mean() + 0.5


@pytest.mark.parametrize("end", ["fishmouth", "pointed", "scarf"])
def test_holes_of_a_larger_tube_print_where_the_sizing_says(end, tmp_path):
    data = ask("larger-tube", end=end)
    *_, picture, left, top, _, _ = printed(data, "a4", tmp_path)
    rho = (DS + PAPER) / 2
    down = size(data)["rosette"]["stations"][0]["from_tip"]["mm"]  # core.rosette, tested there
    tip = 50.8 + DS / 2 * T * {"scarf": 2}.get(end, 1)
    for a in {"scarf": [math.pi]}.get(end, [math.pi / 2, 3 * math.pi / 2]):  # hand: tips, from the join on the short side
        x, y = (rho * a - left) / DOT, (top - (tip - down)) / DOT
        # Both arms of the cross are longer than this 4 mm patch inside the ring.
        down_from, across_from = round(y) - 32, round(x) - 32
        patch = picture[down_from : down_from + 64, across_from : across_from + 64] < 128
        # The tip line is dashed where it meets the cross, the arm over it is not.
        assert abs(middle(patch.mean(1), down_from) - y) * DOT < WITHIN
        assert abs(middle(patch.mean(0), across_from) - x) * DOT < WITHIN


def test_slits_and_damage_print_where_they_belong(tmp_path):
    *_, picture, left, top, _, _ = printed(ask("split-sleeve", end="pointed"), "a4", tmp_path)
    half = math.pi * (DS + PAPER) / 2  # hand: half way around the middle of the paper
    strip = picture[round((top - 20) / DOT) : round((top + 20) / DOT), round((half - left - 1.0) / DOT) : round((half - left + 1.0) / DOT)]
    columns = np.flatnonzero((strip < 128).mean(0) > 0.5)
    assert abs((columns.mean() + 0.5 + round((half - left - 1.0) / DOT)) * DOT + left - half) < WITHIN
    folder = tmp_path / "patch"
    folder.mkdir()
    *_, picture, left, top, _, _ = printed(ask("patch"), "a4", folder)
    scale = 25.4 * (D + PAPER) / D
    row = picture[round((top + 20) / DOT)]
    # hand: the outline's sides at 0 and 1.75 in around, measured in a row under the damage
    dark = np.flatnonzero(row < 80)
    first, last = dark[0], dark[-1]
    wide = (last - first) * DOT - WIDTHS["cut"]
    assert wide == pytest.approx(1.75 * scale, abs=WITHIN)
    band = picture[round((top - 10) / DOT) : round((top + 10) / DOT)]
    sides = np.flatnonzero((band < 128).mean(0) > 0.4)
    inner = [x * DOT + left for x in sides if 5 < x * DOT + left < 40]
    assert min(inner) == pytest.approx(0.5 * scale, abs=0.2)
    assert max(inner) == pytest.approx(1.25 * scale, abs=0.2)


@pytest.mark.parametrize("name", NAMES)
def test_dxf_reads_back_on_the_curve(name):
    import ezdxf
    from ezdxf import units

    data, *curves = drawn(name, paper=0)
    if name.startswith("larger"):
        read = read_larger_job({key: value for key, value in data.items() if key != "method"})
        curves = edges(SizeJob(read.tube, read.sleeve, read.cut, read.opening, None, None, None, False), 0)
    elif name == "patch":
        wide = 1.75 * 25.4 * (1 + 0.134 / 1.625)  # hand: the same angle at the middle of a .134 wall
        curves = level(25.4, wide), level(-25.4, wide)
    content, media = template_file(data, "dxf", "a4", True)
    drawing = ezdxf.read(io.StringIO(content.decode("utf-8")))
    assert media == "image/vnd.dxf" and not drawing.audit().errors and drawing.units == units.MM
    space = drawing.modelspace()
    (cut,) = space.query('LWPOLYLINE[layer=="CUT"]')
    points = np.array(cut.get_points("xy"))
    (s, z), (_, low) = curves
    assert cut.closed and points[:, 0].max() == pytest.approx(s[-1])
    on_top, on_bottom = (np.abs(points[:, 1] - np.interp(points[:, 0], s, edge)) < 1e-4 for edge in (z, low))
    assert np.all(on_top | on_bottom)
    assert on_top.sum() >= 2 and on_bottom.sum() >= 2
    slits = space.query('LWPOLYLINE[layer=="SLITS"]')
    assert [line.get_points("x")[0][0] for line in slits] == pytest.approx([0, math.pi * DS / 2] if name.startswith("split") else [])
    damage = [np.array(box.get_points("xy")) for box in space.query('LWPOLYLINE[layer=="DAMAGE"]')]
    if name == "patch":
        assert np.ptp(damage[0], axis=0) == pytest.approx([0.75 * 25.4 * (1 + 0.134 / 1.625), 25.4])  # hand
    else:
        assert damage == []
    holes = {"larger fishmouth": 4, "larger pointed": 4, "larger scarf": 2}  # hand: one on each tip line, both ends
    assert len(space.query("CIRCLE")) == holes.get(name, 0)
    words = [text.dxf.text for text in space.query("TEXT")]
    assert "DEMO" in words and not any("100 %" in line or "aper" in line for line in words)


@pytest.mark.parametrize("name", NAMES)
def test_a_job_of_any_method_gives_all_three_files(client, name):
    data, *_ = drawn(name)
    job = client.post("/api/jobs", json={"title": "Bar", "who": "Lee"}).get_json()["id"]
    told(client.get(f"/api/jobs/{job}/template"), 409, "not-sized")
    for section, value in {"measure": MEASURE, "choose": {**CHOOSE, "method": data["method"]}, "stock": STOCK, "size": data}.items():
        assert save(client, job, section, value).status_code == 200
    for kind, head in (("pdf", b"%PDF"), ("svg", b"<svg"), ("dxf", b"  0")):
        answer = client.get(f"/api/jobs/{job}/template?kind={kind}&sheet=letter")
        assert answer.status_code == 200 and answer.data.startswith(head)
        assert client.post(f"/api/template?kind={kind}", json=data).status_code == 200


def test_a_patch_without_its_reach_is_refused_with_what_to_do(client):
    body = told(client.post("/api/template", json={**ask("patch"), "margin": None}), 422, "no-template")
    assert body["field"] == "margin"


def test_stock_is_ranked_for_a_method_over_the_api(client):
    items = [{"id": 1, "od": "1-3/8 in", "wall": ".120 in", "material": "dom-1020", "on_hand": "20 in"}]
    found = client.post("/api/stock/candidates", json={"method": "inner-sleeve", "tube": TUBE, "items": items}).get_json()
    assert [row["id"] for row in found["on_hand"]] == [1] and len(found["options"]) >= 4


@pytest.mark.parametrize("name", ["inner", "split scarf", "patch"])
def test_the_command_line_writes_the_template_of_any_method(name, tmp_path, monkeypatch):
    class Typed:
        buffer = io.BytesIO(json.dumps(drawn(name)[0]).encode())

    monkeypatch.setattr("sys.stdin", Typed)
    target = tmp_path / "made.svg"
    assert cli.main(["template", str(target)]) == 0
    assert target.read_bytes().startswith(b"<svg")
