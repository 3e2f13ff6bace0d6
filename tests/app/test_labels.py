"""Labels: what is printed decodes to the exact text, stays on its label, and says whose word counts."""

from __future__ import annotations

import io
import re
import subprocess
from itertools import pairwise
from xml.etree import ElementTree

import pytest
import qrcode
import zxingcpp
from PIL import Image, ImageDraw
from qrcode.exceptions import DataOverflowError
from qrcode.util import MODE_ALPHA_NUM, QRData

from core.problems import Problem
from core.tag import LONGEST_PAYLOAD, TagEssentials, id_text, make_id
from fieldapp.labels import (
    CAP,
    CAPACITY_M,
    ID_SIZE,
    LABEL_H,
    LABEL_W,
    MASK,
    Tag,
    label_lines,
    modules,
    tag_pdf,
    tag_svg,
)

POINTS_PER_MM = 72 / 25.4


def tag(number: int = 12345678901, demo: bool = False, **changes: str) -> Tag:
    said = {
        "tube": "1.625 × .120 DOM 1020", "sleeve": "1.875 × .120 DOM 1020", "end": "pointed", "mitre_deg": "60",
        "length": "8-1/8 in", "date": "2026-11-25", "method": "outer sleeve",
    }  # fmt: skip
    return Tag(TagEssentials(make_id(number), **{**said, **changes}), demo, "", "AC 43.13-1B 4-96")


def long_tag(number: int = 5) -> Tag:
    long = "1.625 × .120 cold drawn normalised certificate number " * 6
    return Tag(TagEssentials(make_id(number), long, "W" * 300, "fishmouth", "60", "8-1/8 in", "2026-11-25", long),
               True, "M " * 300, "AC 43.13-1B 4-96")  # fmt: skip


def pages(pdf: bytes, dpi: int, tmp_path) -> list[Image.Image]:
    (tmp_path / "labels.pdf").write_bytes(pdf)
    subprocess.run(["pdftoppm", "-r", str(dpi), "-png", "labels.pdf", "page"], cwd=tmp_path, check=True)
    return [Image.open(path).convert("L") for path in sorted(tmp_path.glob("page-*.png"))]


def words(pdf: bytes) -> list[list[tuple[float, float, float, float, str]]]:
    """Return xMin, yMin, xMax, yMax in mm and the word, by page, as poppler measures them."""
    page = subprocess.run(["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True).stdout.decode()
    numbers = r'<word xMin="(.+?)" yMin="(.+?)" xMax="(.+?)" yMax="(.+?)">(.*?)</word>'
    return [
        [(*(float(n) / POINTS_PER_MM for n in found[:4]), found[4]) for found in re.findall(numbers, part)]
        for part in page.split("<page ")[1:]
    ]


# ISO/IEC 18004, alphanumeric capacity L/M/Q/H. published: versions 1-5 and 10; from memory: version 6 level M.
CAPACITY = {
    1: (25, 20, 16, 10), 2: (47, 38, 29, 20), 3: (77, 61, 47, 35), 4: (114, 90, 67, 50), 5: (154, 122, 87, 64),
    10: (395, 311, 221, 174),
}  # fmt: skip
LEVELS = (qrcode.ERROR_CORRECT_L, qrcode.ERROR_CORRECT_M, qrcode.ERROR_CORRECT_Q, qrcode.ERROR_CORRECT_H)


def fits(version: int, level: int, count: int) -> bool:
    code = qrcode.QRCode(version, level, mask_pattern=MASK)
    code.add_data(QRData("A" * count, mode=MODE_ALPHA_NUM), optimize=0)
    try:
        code.make(fit=False)
    except DataOverflowError:
        return False
    return True


@pytest.mark.parametrize(("version", "counts"), CAPACITY.items())
def test_the_library_holds_what_the_standard_publishes(version, counts):
    for level, count in zip(LEVELS, counts, strict=True):
        assert fits(version, level, count)
        assert not fits(version, level, count + 1)


def test_the_versions_named_for_speed_are_the_ones_the_library_would_choose():
    for version, count in enumerate(CAPACITY_M, start=1):
        assert fits(version, qrcode.ERROR_CORRECT_M, count)
        assert not fits(version, qrcode.ERROR_CORRECT_M, count + 1)
    assert CAPACITY_M[-1] == LONGEST_PAYLOAD


@pytest.mark.parametrize("text", [tag().payload, "PITSPLICE 7K3M-9QX3", long_tag().payload])
def test_the_svg_is_one_path_with_a_quiet_zone_and_decodes(text):
    svg = tag_svg(text)
    root = ElementTree.fromstring(svg)
    side = int(root.get("viewBox").split()[2])
    matrix = modules(text)
    assert side == len(matrix) + 8  # published: ISO/IEC 18004, quiet zone of 4 modules on each side
    assert root.get("width") == root.get("height") == f"{side * 0.8:.1f}mm"  # project fact sheet: 0.8 mm modules
    assert (root.get("role"), svg.count("<path")) == ("img", 1)
    assert text in root.get("aria-label")

    # reference library: the path's squares are the library's matrix, and another reader reads them.
    code = qrcode.QRCode(error_correction=qrcode.ERROR_CORRECT_M, border=4, mask_pattern=MASK)
    code.add_data(QRData(text, mode=MODE_ALPHA_NUM), optimize=0)
    code.make(fit=True)
    image = Image.new("L", (side * 4, side * 4), 255)
    path = root[0].get("d")
    squares = [tuple(map(int, run)) for run in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", path)]
    assert "".join(f"M{x} {y}h{w}v1h-{w}z" for x, y, w in squares) == path
    for x, y, w in squares:
        ImageDraw.Draw(image).rectangle((x * 4, y * 4, (x + w) * 4 - 1, y * 4 + 3), fill=0)
    seen = [[image.getpixel((x * 4 + 1, y * 4 + 1)) == 0 for x in range(side)] for y in range(side)]
    assert seen == code.get_matrix()
    assert [found.text for found in zxingcpp.read_barcodes(image)] == [text]


def test_an_svg_of_something_else_is_refused():
    with pytest.raises(Problem) as caught:
        tag_svg("<script>")
    assert caught.value.kind == "bad-tag"


@pytest.mark.parametrize("dpi", [150, 300])
@pytest.mark.parametrize("one", [tag(), tag(demo=True), long_tag()], ids=["plain", "demo", "long"])
def test_a_single_label_decodes_at_its_size(one, dpi, tmp_path):
    (page,) = pages(tag_pdf([one]), dpi, tmp_path)
    assert page.width == pytest.approx(LABEL_W / 25.4 * dpi, abs=1)
    assert page.height == pytest.approx(LABEL_H / 25.4 * dpi, abs=1)
    assert [found.text for found in zxingcpp.read_barcodes(page)] == [one.payload]


@pytest.mark.parametrize("dpi", [150, 300])
@pytest.mark.parametrize("sheet", ["a4", "letter"])
def test_every_label_of_a_sheet_decodes(sheet, dpi, tmp_path):
    tags = [tag(7**11 + 999983 * n, demo=n % 3 == 1) for n in range(12)]
    found = [code.text for page in pages(tag_pdf(tags, sheet), dpi, tmp_path) for code in zxingcpp.read_barcodes(page)]
    assert sorted(found) == sorted(one.payload for one in tags)


@pytest.mark.parametrize("sheet", ["a4", "letter"])
def test_a_sheet_has_ten_labels_and_crop_marks_at_every_corner(sheet, tmp_path):
    (page, second) = pages(tag_pdf([tag(n) for n in range(11)], sheet), 150, tmp_path)
    assert page.size == second.size
    left, top = (page.width - 2 * LABEL_W * 150 / 25.4) / 2, (page.height - 5 * LABEL_H * 150 / 25.4) / 2
    for column in range(3):
        for row in range(6):
            x, y = round(left + column * LABEL_W * 150 / 25.4), round(top + row * LABEL_H * 150 / 25.4)
            assert min(page.crop((x - 2, y - 2, x + 3, y + 3)).tobytes()) < 160


def test_the_symbol_in_the_pdf_is_one_filled_path():
    from pypdf import PdfReader

    content = PdfReader(io.BytesIO(tag_pdf([tag()]))).pages[0].get_contents().get_data().decode("latin-1")
    filled = re.findall(r"((?:\d+ \d+ \d+ 1 re\s+)+)f", content)
    assert len(filled) == 1
    assert filled[0].count(" re") == sum(len(re.findall("1+", row)) for row in modules(tag().payload))


def test_a_label_says_all_of_it():
    (page,) = words(tag_pdf([tag()]))
    text = " ".join(word for *_, word in sorted(page, key=lambda w: (round(w[1]), w[0])))
    for said in (id_text(make_id(12345678901)), "Tube 1.625 × .120 DOM 1020", "Sleeve 1.875 × .120 DOM 1020",
                 "Ends pointed, 60° mitre", "Length 8-1/8 in", "Date 2026-11-25",
                 "Method outer sleeve, AC 43.13-1B 4-96", "Ask for the full record by this id.",
                 "Not a verdict. The rule book, the inspector and a qualified welder decide."):  # fmt: skip
        assert said in text
    assert "DEMO" not in text
    assert "safe" not in text.lower()
    assert "approved" not in text.lower()


def test_a_demo_is_marked_large_for_eyes_and_for_cameras():
    (page,) = words(tag_pdf([tag(demo=True)]))
    heights = {word: bottom - top for _, top, _, bottom, word in page}
    assert heights["DEMO"] > 1.5 * heights["Tube"]
    assert tag(demo=True).payload.split()[2] == "DEMO"


def test_the_id_stands_five_millimetres_tall(tmp_path):
    assert ID_SIZE * CAP / POINTS_PER_MM >= 5  # published: Courier-Bold CapHeight 562/1000, Adobe font metrics
    (page,) = pages(tag_pdf([tag()]), 300, tmp_path)
    # Ink of the id's band, beside the code and above the first line.
    band = page.crop((round(43 / 25.4 * 300), 0, page.width, round(9.2 / 25.4 * 300))).point(lambda v: 255 - v)
    _, top, _, bottom = band.getbbox()
    assert (bottom - top) / 300 * 25.4 >= 5


@pytest.mark.parametrize("sheet", ["single", "a4"])
def test_very_long_texts_stay_on_their_label(sheet):
    for page in words(tag_pdf([long_tag(), tag(demo=True), long_tag(6)], sheet)):
        left, top = (0, 0) if sheet == "single" else (5, 23.5)  # hand: (210 - 200) / 2, (297 - 250) / 2
        assert len(page) > 20
        for x0, y0, x1, y1, word in page:
            column, row = int((x0 - left) // LABEL_W), int((y0 - top) // LABEL_H)
            assert left + column * LABEL_W + 1 <= x0 < x1 <= left + (column + 1) * LABEL_W - 1, word
            assert top + row * LABEL_H <= y0 < y1 <= top + (row + 1) * LABEL_H, word


def test_lines_do_not_run_into_each_other():
    for one in (tag(), tag(demo=True), long_tag()):
        (page,) = words(tag_pdf([one]))
        rows = sorted({round(w[1], 2) for w in page if w[0] > 42 and w[4] != "DEMO"})
        ends = {top: max(w[3] for w in page if round(w[1], 2) == top) for top in rows}
        lines = [row for row in rows if row > 9]
        # pdftotext's boxes are the font's full height; ink starts lower and ends higher.
        assert all(ends[a] - b < 0.8 for a, b in pairwise(lines))


def test_names_outside_the_fonts_are_printed_with_question_marks():
    assert dict(label_lines(tag(tube="Сталь 20")))["Tube"] == "????? 20"
    assert tag_pdf([tag(tube="钢 4130", end="", mitre_deg="", length="", date="", method="")]).startswith(b"%PDF")


def test_no_labels_and_unknown_sheets_are_refused():
    with pytest.raises(Problem) as none:
        tag_pdf([])
    assert (none.value.kind, none.value.status) == ("no-tags", 422)
    with pytest.raises(Problem) as sheet:
        tag_pdf([tag()], "a3")
    assert (sheet.value.kind, sheet.value.given) == ("bad-sheet", "a3")


def test_the_same_labels_give_the_same_bytes():
    assert tag_pdf([tag()]) == tag_pdf([tag()])


def test_a_text_too_long_for_a_line_is_broken_not_cut():
    one = tag(tube="1.625 × .120 DOM 1020, stress relieved, certificate heat 48213 of the second bar")
    (page,) = words(tag_pdf([one]))
    assert {"relieved,", "48213", "bar"} <= {word for *_, word in page}
    assert not any("…" in word for *_, word in page)
