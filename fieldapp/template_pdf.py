"""A wrap template as a PDF at 1:1, tiled over sheets with overlap and registration marks.

Every sheet carries both check bars, its place in the grid and the text: sheets get separated.
"""

from __future__ import annotations

import io
import math
from dataclasses import dataclass
from itertools import pairwise

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from core.problems import Problem
from core.template import Point, Template
from core.template_layout import BARS_HEIGHT, EM, WIDEST_BAR, Mark, Ring, Stroke, check_bars, marks, panel_words

SHEETS = {"a4": (A4[0] / mm, A4[1] / mm), "letter": (LETTER[0] / mm, LETTER[1] / mm)}
EDGE = 9.0  # mm no printer is asked to reach; common practice, no source
LAP = 12.0  # mm two neighbouring sheets share
PAD = 2.5  # mm of white kept around the outline
MARK_ROOM = 5.0
# Type in points and line pitch in mm. The small type is used only where it saves a sheet.
ROOMY, TIGHT = (8.5, 3.6), (7.0, 2.7)
NAME_MM = 6.0
FONT, BOLD = "Helvetica", "Helvetica-Bold"
WIDTHS = {"cut": 0.25, "seam": 0.2, "tip": 0.2, "slit": 0.4, "damage": 0.2, "mark": 0.2, "bar": 0.25}
DASHES = {"seam": (6, 1.5, 1, 1.5), "tip": (3, 2), "slit": (8, 2), "damage": (2, 1.5)}


@dataclass(frozen=True)
class Tiling:
    """How a template is laid over sheets; mm.

    Attributes
    ----------
    width, height : float
        The sheet as fed, landscape if wider than high.
    foot : float
        Height below the drawing kept for bars, name and text.
    type : (float, float)
        Points and line pitch of the text.
    beside : bool
        Whether the text stands right of the bars, not under them.
    columns, rows : int
    left, top : float
        Template coordinates of the whole drawing's upper left corner.
    """

    width: float
    height: float
    foot: float
    type: tuple[float, float]
    beside: bool
    columns: int
    rows: int
    left: float
    top: float

    @property
    def window(self) -> tuple[float, float]:
        """Width and height of the drawing on one sheet."""
        return self.width - 2 * EDGE, self.height - 2 * EDGE - self.foot

    def corner(self, row: int, column: int) -> tuple[float, float]:
        """Return the template coordinates of the upper left corner of a sheet's drawing."""
        wide, high = self.window
        return self.left + column * (wide - LAP), self.top - row * (high - LAP)

    def joins(self) -> list[tuple[Point, Point]]:
        """Return the middle line of every overlap, in template coordinates."""
        wide, high = self.window
        lines = []
        for row in range(self.rows):
            for column in range(self.columns):
                x, y = self.corner(row, column)
                if column + 1 < self.columns:
                    lines.append(((x + wide - LAP / 2, y), (x + wide - LAP / 2, y - high)))
                if row + 1 < self.rows:
                    lines.append(((x, y - high + LAP / 2), (x + wide, y - high + LAP / 2)))
        return lines


def registration(template: Template, layout: Tiling) -> list[tuple[float, float, str]]:
    """Return the lettered registration marks in template coordinates, two on each join.

    They go as far apart as they can where they touch no line of the template.
    Source: common practice, no source.
    """
    lines = [mark for mark in marks(template) if isinstance(mark, Stroke)]
    places: list[Point] = []
    for (x1, y1), (x2, y2) in layout.joins():
        along = [(x1 + (x2 - x1) * share / 40, y1 + (y2 - y1) * share / 40) for share in range(2, 39)]
        clear = [place for place in along if all(_distance(place, line) > MARK_ROOM for line in lines)]
        # A join with no two clear places gets its marks over the drawing: they still align.
        ends = clear if len(clear) > 1 else along
        places += [ends[0], ends[-1]]
    return [(x, y, _letters(i)) for i, (x, y) in enumerate(places)]


def tiling(template: Template, sheet: str = "a4") -> Tiling:
    """Return the way to lay the template over the fewest sheets, with the larger type where that costs no sheet.

    Raises
    ------
    Problem
        ``bad-sheet`` (400) for another sheet name.

    Source: common practice, no source.
    """
    if sheet not in SHEETS:
        raise Problem("bad-sheet", "That paper size is not known.", given=sheet, allowed="a4 or letter",
                      next_step="Choose one of these.", field="sheet", status=400)  # fmt: skip
    right = max(x for x, _ in template.outline)
    need = right + 2 * PAD, template.high - template.low + 2 * PAD
    short, long = SHEETS[sheet]
    ways = []
    for width, height, type_, beside in ((short, long, ROOMY, False), (long, short, ROOMY, True), (short, long, TIGHT, True)):
        foot = _foot(template, type_, beside)
        counts = [_count(total, room) for total, room in zip(need, (width - 2 * EDGE, height - 2 * EDGE - foot), strict=True)]
        across, down = _shift(template, need, counts, (width - 2 * EDGE, height - 2 * EDGE - foot))
        ways.append(Tiling(width, height, foot, type_, beside, *counts, -PAD - across, template.high + PAD + down))
    return min(ways, key=lambda way: way.columns * way.rows)


def template_pdf(template: Template, sheet: str = "a4") -> bytes:
    """Return the template as a PDF to print at 100 %.

    Parameters
    ----------
    template : Template
    sheet : str
        "a4" or "letter".

    Returns
    -------
    bytes
        Row by row from the top left; the same template gives the same bytes.

    Raises
    ------
    Problem
        ``bad-sheet`` (400).

    Source: common practice, no source.
    """
    layout = tiling(template, sheet)
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(layout.width * mm, layout.height * mm), invariant=1)
    canvas.setCreator("Pitsplice")
    canvas.setAuthor("Pitsplice")
    canvas.setTitle(" ".join(template.text[:3]))
    # Ask viewers not to shrink the page to the printer's margins: a template must not be scaled.
    canvas.setViewerPreference("PrintScaling", "None")
    drawn, places = marks(template), registration(template, layout)
    for row in range(layout.rows):
        for column in range(layout.columns):
            _draw_window(canvas, drawn, places, layout, row, column)
            _draw_foot(canvas, template, layout, row, column)
            canvas.showPage()
    canvas.save()
    return out.getvalue()


def page_name(layout: Tiling, row: int, column: int) -> str:
    """Return a sheet's name: "row 1 of 1, page 2 of 3", the page counted along its row."""
    return f"row {row + 1} of {layout.rows}, page {column + 1} of {layout.columns}"


def _draw_window(canvas: Canvas, drawn: list[Mark], places: list, layout: Tiling, row: int, column: int) -> None:
    wide, high = layout.window
    x, y = layout.corner(row, column)
    bottom = EDGE + layout.foot
    canvas.saveState()
    path = canvas.beginPath()
    path.rect(EDGE * mm, bottom * mm, wide * mm, high * mm)
    canvas.clipPath(path, stroke=0, fill=0)
    canvas.translate((EDGE - x) * mm, (bottom + high - y) * mm)
    for mark in drawn:
        _draw(canvas, mark)
    for place in places:
        _draw_registration(canvas, *place)
    canvas.restoreState()
    if layout.rows * layout.columns > 1:
        _draw_trim(canvas, layout, row, column)


def _draw_registration(canvas: Canvas, x: float, y: float, name: str) -> None:
    canvas.setDash()
    canvas.setLineWidth(0.15 * mm)
    canvas.circle(x * mm, y * mm, 2 * mm)
    canvas.line((x - 3.5) * mm, y * mm, (x + 3.5) * mm, y * mm)
    canvas.line(x * mm, (y - 3.5) * mm, x * mm, (y + 3.5) * mm)
    canvas.setFont(BOLD, 8)
    canvas.drawString((x + 2.2) * mm, (y + 1.6) * mm, name)


def _draw_trim(canvas: Canvas, layout: Tiling, row: int, column: int) -> None:
    """Draw the lines to trim along: a later sheet is cut in the middle of the overlap and laid on the one before."""
    wide, high = layout.window
    low, top = EDGE + layout.foot, EDGE + layout.foot + high
    canvas.saveState()
    canvas.setStrokeGray(0.45)
    canvas.setFillGray(0.35)
    canvas.setLineWidth(0.15 * mm)
    canvas.setFont(FONT, 6.5)
    canvas.setDash(1 * mm, 1 * mm)
    if column:
        x = EDGE + LAP / 2
        canvas.line(x * mm, low * mm, x * mm, top * mm)
        canvas.saveState()
        canvas.translate((x - 1) * mm, (low + high / 2) * mm)
        canvas.rotate(90)
        canvas.drawCentredString(0, 0, "trim here, lay on the page to the left, same letters over each other")
        canvas.restoreState()
    if row:
        y = top - LAP / 2
        canvas.line(EDGE * mm, y * mm, (EDGE + wide) * mm, y * mm)
        canvas.drawCentredString((EDGE + wide / 2) * mm, (y + 1) * mm, "trim here, lay on the row above, same letters over each other")
    canvas.restoreState()


def _draw_foot(canvas: Canvas, template: Template, layout: Tiling, row: int, column: int) -> None:
    top = EDGE + layout.foot
    bars = top - NAME_MM - BARS_HEIGHT
    canvas.setDash()
    canvas.setFont(BOLD, 10)
    canvas.drawString(EDGE * mm, (top - NAME_MM + 1.5) * mm, page_name(layout, row, column))
    for mark in check_bars(EDGE + 0.5, bars):
        _draw(canvas, mark)
    x, y = (EDGE + WIDEST_BAR + 6.0, top - 1.0) if layout.beside else (EDGE, bars - 2.5)
    room = (layout.width - EDGE - x) * mm
    points, pitch = layout.type
    for i, line in enumerate(template.text):
        font = BOLD if i == 0 or line.startswith("DEMO") else FONT
        canvas.setFont(font, min(points, points * room / stringWidth(line, font, points)))
        canvas.drawString(x * mm, (y - (i + 1) * pitch + 0.8) * mm, line)


def _foot(template: Template, type_: tuple[float, float], beside: bool) -> float:
    text, bars = type_[1] * len(template.text) + (1.0 if beside else 2.5), NAME_MM + BARS_HEIGHT
    return 0.5 + (max(text, bars) if beside else bars + text)


def _count(total: float, room: float) -> int:
    return max(1, math.ceil((total - LAP) / (room - LAP) - 1e-9))


def _shift(template: Template, need: Point, counts: list[int], rooms: Point) -> Point:
    """Return how far to move the drawing right and down so that the joins miss the holes and the words."""
    busy: list[list[Point]] = [[], []]
    for hole in template.holes:
        reach = hole.diameter / 2 + LAP
        busy[0].append((hole.s - reach, hole.s + reach))
        busy[1].append((template.high - hole.z - reach, template.high - hole.z + reach))
    for words in panel_words(template):
        half = len(words.text) * EM * words.size / 2
        busy[0].append((words.x - half, words.x + half))
        busy[1].append((template.high - words.y - 2 * words.size, template.high - words.y + words.size))
    moves = []
    for total, room, count, spans in zip(need, rooms, counts, busy, strict=True):
        slack = count * (room - LAP) + LAP - total
        joins = [(i + 1) * (room - LAP) + LAP / 2 - PAD for i in range(count - 1)]

        def hits(move: float, joins=joins, spans=spans) -> int:
            return sum(low < join - move < high for join in joins for low, high in spans)

        moves.append(min((slack * i / 20 for i in range(21)), key=hits) if count > 1 else 0.0)
    return moves[0], moves[1]


def _distance(place: Point, line: Stroke) -> float:
    points = (*line.points, line.points[0]) if line.closed else line.points
    return min(_to_segment(place, a, b) for a, b in pairwise(points))


def _to_segment(p: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    share = max(0.0, min(1.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square)) if square else 0.0
    return math.hypot(p[0] - a[0] - share * dx, p[1] - a[1] - share * dy)


def _letters(index: int) -> str:
    return (_letters(index // 26 - 1) if index >= 26 else "") + chr(ord("A") + index % 26)


def _draw(canvas: Canvas, mark: Mark) -> None:
    if isinstance(mark, Stroke):
        canvas.setLineWidth(WIDTHS[mark.style] * mm)
        canvas.setLineJoin(1)
        # Square caps close the corner between a bar and its end ticks.
        canvas.setLineCap(2 if mark.style == "bar" else 0)
        canvas.setDash([dash * mm for dash in DASHES.get(mark.style, ())])
        path = canvas.beginPath()
        path.moveTo(*(value * mm for value in mark.points[0]))
        for x, y in mark.points[1:]:
            path.lineTo(x * mm, y * mm)
        if mark.closed:
            path.close()
        canvas.drawPath(path, stroke=1, fill=0)
    elif isinstance(mark, Ring):
        canvas.setDash()
        canvas.setLineWidth(0.2 * mm)
        canvas.circle(mark.x * mm, mark.y * mm, mark.radius * mm)
    else:
        canvas.saveState()
        canvas.translate(mark.x * mm, mark.y * mm)
        canvas.rotate(90 if mark.turned else 0)
        canvas.setFont(BOLD if mark.bold else FONT, mark.size * mm)
        (canvas.drawCentredString if mark.anchor == "middle" else canvas.drawString)(0, 0, mark.text)
        canvas.restoreState()
