"""Labels for finished splices: the tag as SVG for a page, and as PDF for a label printer or a sheet.

The QR symbol is always one filled path, so that no renderer draws hairlines between
modules, and always has its quiet zone. Text is fitted by measured width, never by hope.
"""

from __future__ import annotations

import io
import re
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from html import escape

import qrcode
from qrcode.util import MODE_ALPHA_NUM, QRData
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from core import tag as core_tag
from core.problems import Problem

MODULE_MM = 0.8
QUIET = 4  # modules, ISO/IEC 18004
# Alphanumeric characters that versions 1 to 6 hold at level M, ISO/IEC 18004. Naming the version
# spares the library from encoding every text three times.
CAPACITY_M = (20, 38, 61, 90, 122, core_tag.LONGEST_PAYLOAD)
# Trying all eight masks takes four fifths of the time and changes no reader's result. This one had
# the lowest penalty over a dozen tag texts.
MASK = 4

LABEL_W, LABEL_H = 100.0, 50.0  # mm, for everything below
EDGE = 2.0
QR_ROOM = 39.2  # version 6 with its quiet zone: the longest tag text
TEXT_X = EDGE + QR_ROOM + 1.0
TEXT_W = LABEL_W - TEXT_X - EDGE
FOOT_H = 8.0
DEMO_H = 6.5
# Points. Courier capitals are 0.562 of the type size: 27 pt stands 5.35 mm, over the 5 mm asked for.
ID_FONT, ID_SIZE, CAP = "Courier-Bold", 27.0, 0.562
FONT, BOLD = "Helvetica", "Helvetica-Bold"
SIZES = tuple(half / 2 for half in range(20, 10, -1))  # 10 to 5.5 pt
UNBROKEN, LEADING = 8.0, 1.18
LONGEST_TEXT = 240  # far more characters than a line of the label holds

ASK = "Ask for the full record by this id."
DEFER = "Not a verdict. The rule book, the inspector and a qualified welder decide."
SHEETS = {"a4": (A4[0] / mm, A4[1] / mm), "letter": (LETTER[0] / mm, LETTER[1] / mm)}
ALLOWED = "single, a4 or letter"


@dataclass(frozen=True)
class Tag:
    """One label.

    Attributes
    ----------
    essentials : core.tag.TagEssentials
    demo : bool
        Whether the record is a demonstration, not a repair.
    material : str
        Material and how it is known, where the tube text does not say it.
    clause : str
        Rule the method follows, printed after it.
    """

    essentials: core_tag.TagEssentials
    demo: bool = False
    material: str = ""
    clause: str = ""

    @property
    def payload(self) -> str:
        """The QR text."""
        return core_tag.payload(self.essentials, self.demo)


@lru_cache(maxsize=512)
def modules(payload: str) -> tuple[str, ...]:
    """Return the symbol by row at error correction level M, "1" dark and "0" light, without the quiet zone."""
    version = 1 + bisect_left(CAPACITY_M, len(payload))
    code = qrcode.QRCode(version, qrcode.ERROR_CORRECT_M, border=0, mask_pattern=MASK)
    code.add_data(QRData(payload, mode=MODE_ALPHA_NUM), optimize=0)
    code.make(fit=False)
    return tuple("".join("1" if dark else "0" for dark in row) for row in code.modules)


def runs(payload: str) -> list[tuple[int, int, int]]:
    """Return the dark runs of the symbol as (column, row, modules wide), row 0 on top."""
    return dark_runs(modules(payload))


def dark_runs(rows: Sequence[str]) -> list[tuple[int, int, int]]:
    """Return the runs of "1" in `rows` as (column, row, modules wide)."""
    return [(run.start(), y, len(run[0])) for y, row in enumerate(rows) for run in re.finditer("1+", row)]


def dark_path(rows: Sequence[str]) -> str:
    """Return the dark modules as SVG path data, the quiet zone left free."""
    return "".join(f"M{x + QUIET} {y + QUIET}h{w}v1h-{w}z" for x, y, w in dark_runs(rows))


def tag_svg(payload: str) -> str:
    """Return the QR symbol of a tag text as an SVG image: one filled path on white, quiet zone included.

    Parameters
    ----------
    payload : str
        Text from `core.tag.payload`.

    Returns
    -------
    str
        An svg element, sized in mm at 0.8 mm a module, labelled for screen readers.

    Raises
    ------
    Problem
        "bad-tag" or "bad-id" (400): not a tag's text.

    Source: ISO/IEC 18004 (quiet zone of 4 modules); 0.8 mm modules: common practice, no source.

    >>> tag_svg("PITSPLICE 7K3M-9QX3").count("<path")
    1
    """
    name = core_tag.id_text(core_tag.read_payload(payload)["id"])
    side = len(modules(payload)) + 2 * QUIET
    size = f"{side * MODULE_MM:.1f}mm"
    path = dark_path(modules(payload))
    label = escape(f"QR code of tag {name}. It says: {payload}")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{label}" width="{size}" height="{size}"'
        f' viewBox="0 0 {side} {side}" style="background:#fff" shape-rendering="crispEdges">'
        f'<path fill="#000" d="{path}"/></svg>'
    )


def tag_pdf(tags: list[Tag], sheet: str = "single") -> bytes:
    """Return the labels as a PDF.

    Parameters
    ----------
    tags : list of Tag
        One label each, in order.
    sheet : str
        "single" (a page is a label, 100 × 50 mm), "a4" or "letter" (10 labels with crop marks).

    Returns
    -------
    bytes

    Raises
    ------
    Problem
        "no-tags" (422): an empty list. "bad-sheet" (400): another sheet name.
        "bad-id" (400): an id that is not whole.

    Source: common practice, no source.
    """
    if not tags:
        raise Problem("no-tags", "There is no label to print.", given="an empty list", allowed="one label or more",
                      next_step="Seal a record first, then print its tag.", field="tags")  # fmt: skip
    if sheet != "single" and sheet not in SHEETS:
        raise Problem("bad-sheet", "That label sheet is not known.", given=sheet, allowed=ALLOWED,
                      next_step="Choose one of these.", field="sheet", status=400)  # fmt: skip
    width, height = SHEETS.get(sheet, (LABEL_W, LABEL_H))
    columns, rows = int(width // LABEL_W), int(height // LABEL_H)
    left, top = (width - columns * LABEL_W) / 2, (height + rows * LABEL_H) / 2
    out = io.BytesIO()
    # invariant: the same labels give the same bytes, whatever the clock says.
    canvas = Canvas(out, pagesize=(width * mm, height * mm), invariant=1)
    canvas.setCreator("Pitsplice")
    canvas.setAuthor("Pitsplice")
    canvas.setTitle(f"Tag {core_tag.id_text(tags[0].essentials.id)}" if len(tags) == 1 else f"{len(tags)} tags")
    for first in range(0, len(tags), columns * rows):
        if sheet != "single":
            _crop_marks(canvas, left, top, columns, rows)
        for place, one in enumerate(tags[first : first + columns * rows]):
            row, column = divmod(place, columns)
            canvas.saveState()
            canvas.translate((left + column * LABEL_W) * mm, (top - (row + 1) * LABEL_H) * mm)
            _draw_label(canvas, one)
            canvas.restoreState()
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _crop_marks(canvas: Canvas, left: float, top: float, columns: int, rows: int) -> None:
    """Draw a small cross at every label corner: 1.2 mm arms stay clear of text and quiet zones."""
    canvas.setLineWidth(0.25)
    arm = 1.2 * mm
    for row in range(rows + 1):
        for column in range(columns + 1):
            x, y = (left + column * LABEL_W) * mm, (top - row * LABEL_H) * mm
            canvas.line(x - arm, y, x + arm, y)
            canvas.line(x, y - arm, x, y + arm)


def _draw_label(canvas: Canvas, tag: Tag) -> None:
    """Draw one label with its lower left corner at the origin."""
    payload = tag.payload
    side = (len(modules(payload)) + 2 * QUIET) * MODULE_MM
    _draw_code(canvas, payload, EDGE + (QR_ROOM - side) / 2, LABEL_H - EDGE - (QR_ROOM - side) / 2 - side)

    y = LABEL_H - EDGE - 1.0 - ID_SIZE * CAP / mm
    canvas.setFont(ID_FONT, ID_SIZE)
    canvas.drawString(TEXT_X * mm, y * mm, core_tag.id_text(core_tag.read_id(tag.essentials.id)))
    y -= 2.0
    if tag.demo:
        y -= DEMO_H
        _draw_demo(canvas, y)
        y -= 1.0
    _draw_lines(canvas, tag, top=y, bottom=FOOT_H + 1.5)

    canvas.setFont(BOLD, _fit(ASK, BOLD, 9.0, LABEL_W - 2 * EDGE))
    canvas.drawString(EDGE * mm, 5.8 * mm, ASK)
    canvas.setFont(FONT, _fit(DEFER, FONT, 8.0, LABEL_W - 2 * EDGE))
    canvas.drawString(EDGE * mm, 2.4 * mm, DEFER)


def _draw_code(canvas: Canvas, payload: str, x: float, y: float) -> None:
    """Draw the symbol with its quiet zone in the square at x, y, in mm."""
    count = len(modules(payload))
    canvas.saveState()
    canvas.translate((x + QUIET * MODULE_MM) * mm, (y + QUIET * MODULE_MM) * mm)
    canvas.scale(MODULE_MM * mm, MODULE_MM * mm)
    # Written as whole-number operators: formatting 1,700 floats a label takes longer than all the rest.
    path = PDFPathObject([f"{column} {count - 1 - row} {wide} 1 re" for column, row, wide in runs(payload)])
    canvas.drawPath(path, stroke=0, fill=1)
    canvas.restoreState()


def _draw_demo(canvas: Canvas, y: float) -> None:
    """Draw the white-on-black bar that no one takes for a real tag."""
    canvas.rect(TEXT_X * mm, y * mm, TEXT_W * mm, DEMO_H * mm, stroke=0, fill=1)
    canvas.setFillGray(1)
    canvas.setFont(BOLD, 17)
    canvas.drawString((TEXT_X + 1.5) * mm, (y + 1.15) * mm, core_tag.DEMO)
    canvas.setFont(BOLD, 9.5)
    canvas.drawRightString((TEXT_X + TEXT_W - 1.5) * mm, (y + 2.0) * mm, "NOT A REAL REPAIR")
    canvas.setFillGray(0)


def _draw_lines(canvas: Canvas, tag: Tag, top: float, bottom: float) -> None:
    """Draw the essentials at the largest size that fits between `top` and `bottom`, in mm."""
    pairs = label_lines(tag)
    size, lines = _fitted(pairs, (top - bottom) * mm)
    hang = _hang(pairs, size)
    y = top * mm - size
    for head, text in lines:
        canvas.setFont(BOLD, size)
        canvas.drawString(TEXT_X * mm, y, head)
        canvas.setFont(FONT, size)
        canvas.drawString(TEXT_X * mm + hang, y, text)
        y -= size * LEADING


def _fitted(pairs: list[tuple[str, str]], room: float) -> tuple[float, list[tuple[str, str]]]:
    """Return type size and printed lines for `room` points of height.

    A slightly smaller type beats a clause broken over two lines, down to 8 pt; then lines are
    broken; at the smallest type long texts are cut, because the record has them in full.
    """
    for size in SIZES:
        whole = size >= UNBROKEN and all(_width(text, FONT, size) <= _text_width(pairs, size) for _, text in pairs)
        if whole and len(pairs) * size * LEADING <= room:
            return size, pairs
    for size in SIZES:
        lines = _wrapped(pairs, size)
        if len(lines) * size * LEADING <= room:
            return size, lines
    size = SIZES[-1]
    return size, [(name, _cut(text, _text_width(pairs, size), size)) for name, text in pairs]


def label_lines(tag: Tag) -> list[tuple[str, str]]:
    """Return what the label says below the id, as (name, text), empty ones left out."""
    said = tag.essentials
    mitre = f"{said.mitre_deg}° mitre" if said.mitre_deg else ""
    pairs = [
        ("Tube", said.tube), ("Sleeve", said.sleeve), ("Material", tag.material),
        ("Ends", ", ".join(filter(None, (said.end, mitre)))), ("Length", said.length),
        ("Method", ", ".join(filter(None, (said.method, tag.clause)))), ("Date", said.date),
    ]  # fmt: skip
    return [(name, _printable(text)) for name, text in pairs if text.strip()]


def _printable(text: str) -> str:
    """Return text the standard fonts can print: one line, what they lack as a question mark."""
    return " ".join(text[:LONGEST_TEXT].encode("cp1252", "replace").decode("cp1252").split())


@lru_cache(maxsize=4096)
def _em_width(text: str, font: str) -> float:
    return stringWidth(text, font, 1)


def _width(text: str, font: str, size: float) -> float:
    """Return the printed width in points; it grows with the type size, so each text is measured once."""
    return _em_width(text, font) * size


def _hang(pairs: list[tuple[str, str]], size: float) -> float:
    """Return the width of the names' column."""
    return max((_width(f"{name} ", BOLD, size) for name, _ in pairs), default=0) + 2


def _text_width(pairs: list[tuple[str, str]], size: float) -> float:
    """Return the width left for the texts beside the names."""
    return TEXT_W * mm - _hang(pairs, size)


def _wrapped(pairs: list[tuple[str, str]], size: float) -> list[tuple[str, str]]:
    """Return printed lines (name, text); a continued line has no name."""
    width = _text_width(pairs, size)
    lines = []
    for name, text in pairs:
        for part in _wrap(text, width, size):
            lines.append((name, part))
            name = ""
    return lines


def _wrap(text: str, width: float, size: float) -> list[str]:
    """Break text to a measured width, inside a word where the word alone is too wide."""
    lines, line = [], ""
    for word in text.split():
        trial = f"{line} {word}".strip()
        if _width(trial, FONT, size) <= width:
            line = trial
            continue
        if line:
            lines.append(line)
        while _width(word, FONT, size) > width:
            keep = next(n for n in range(len(word) - 1, 0, -1) if n == 1 or _width(word[:n], FONT, size) <= width)
            lines.append(word[:keep])
            word = word[keep:]
        line = word
    return [*lines, line]


def _cut(text: str, width: float, size: float) -> str:
    """Return text on one line, its end replaced by an ellipsis where it is too wide."""
    if _width(text, FONT, size) <= width:
        return text
    first = _wrap(text, width - _width("…", FONT, size), size)[0]
    return f"{first.rstrip()}…"


def _fit(text: str, font: str, largest: float, width: float) -> float:
    """Return the type size at which text is no wider than `width` mm."""
    return min(largest, largest * width * mm / _width(text, font, largest))
