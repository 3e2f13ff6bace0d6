"""A wrap template as SVG text at 1:1: width, height and viewBox are all in millimetres."""

from __future__ import annotations

from html import escape

from core.template import Template
from core.template_layout import BARS_HEIGHT, EM, LEADING, WIDEST_BAR, Mark, Ring, Stroke, Words, check_bars, marks

MARGIN = 8.0
TYPE = 3.6
STYLES = {
    "cut": 'stroke-width="0.25"',
    "seam": 'stroke-width="0.2" stroke-dasharray="6 1.5 1 1.5"',
    "tip": 'stroke-width="0.2" stroke-dasharray="3 2"',
    "slit": 'stroke-width="0.4" stroke-dasharray="8 2"',
    "damage": 'stroke-width="0.2" stroke-dasharray="2 1.5"',
    "mark": 'stroke-width="0.2"',
    "bar": 'stroke-width="0.25" stroke-linecap="square"',
}


def template_svg(template: Template) -> str:
    """Return the template with its text and check bars as one SVG image.

    Parameters
    ----------
    template : Template
        Millimetres, y up.

    Returns
    -------
    str
        An svg element. The path of class "cut" is the line to cut; coordinates are mm to 0.0001.

    Source: SVG 2 (W3C), 8.2: with equal width and viewBox in mm, one user unit is 1 mm.

    >>> from core.lengths import read_length
    >>> from core.sleeve import EndCut
    >>> from core.template import tube_cut_template
    >>> drawn = template_svg(tube_cut_template(read_length("2 in"), EndCut("scarf", 45)))
    >>> drawn[:4], drawn.count('class="cut"')
    ('<svg', 1)
    """
    lines = template.text
    text_height = LEADING * TYPE * len(lines)
    right = max(x for x, _ in template.outline)
    width = max(right, WIDEST_BAR, EM * TYPE * max(map(len, lines))) + 2 * MARGIN
    height = template.high - template.low + text_height + BARS_HEIGHT + 4 * MARGIN
    drawing = _Svg(-MARGIN, template.high + MARGIN)
    for mark in marks(template):
        drawing.add(mark)
    y = template.low - MARGIN - BARS_HEIGHT
    for mark in check_bars(0.0, y):
        drawing.add(mark)
    y -= MARGIN
    for i, line in enumerate(lines):
        heavy = i == 0 or line.startswith("DEMO")
        drawing.add(Words(0.0, y - (i + 0.8) * LEADING * TYPE, line, TYPE, bold=heavy))
    label = escape(f"1 to 1 wrap template. {' '.join(template.text)}", quote=True)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{label}" width="{width:.4f}mm" height="{height:.4f}mm"'
        f' viewBox="0 0 {width:.4f} {height:.4f}" font-family="Helvetica, Arial, sans-serif" style="background:#fff">'
        f"{''.join(drawing.parts)}</svg>"
    )


class _Svg:
    """Turns marks with y up into SVG with y down; `left` and `top` come to the image's corner."""

    def __init__(self, left: float, top: float) -> None:
        self.left, self.top = left, top
        self.parts: list[str] = []

    def at(self, point: tuple[float, float]) -> str:
        return f"{point[0] - self.left:.4f} {self.top - point[1]:.4f}"

    def add(self, mark: Mark) -> None:
        if isinstance(mark, Stroke):
            path = "M" + "L".join(self.at(point) for point in mark.points) + ("Z" if mark.closed else "")
            self.parts.append(f'<path class="{mark.style}" fill="none" stroke="#000" stroke-linejoin="round" {STYLES[mark.style]} d="{path}"/>')
        elif isinstance(mark, Ring):
            x, y = self.at((mark.x, mark.y)).split()
            self.parts.append(f'<circle class="hole" cx="{x}" cy="{y}" r="{mark.radius:.4f}" fill="none" stroke="#000" stroke-width="0.2"/>')
        else:
            x, y = self.at((mark.x, mark.y)).split()
            turn = f' transform="rotate(-90 {x} {y})"' if mark.turned else ""
            weight = ' font-weight="700"' if mark.bold else ""
            self.parts.append(f'<text x="{x}" y="{y}" font-size="{mark.size:.3f}" text-anchor="{mark.anchor}"{weight}{turn}>{escape(mark.text)}</text>')
