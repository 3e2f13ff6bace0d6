"""A to-scale side view of the sleeve on the tube, with dimensions, as SVG text.

One scale for both directions. The view turns so that straight saw cuts are drawn straight
where that shows the shape best: pointed and fishmouth with a tip line facing the reader,
scarf from the side. Colours are presentation attributes, so the picture needs no style sheet.
Lengths in inches, scaled to a picture 390 units wide.
"""

from __future__ import annotations

import math
from html import escape

from core.methods.common import overlap_text, share_text
from core.methods.outer_sleeve import blank_length, made_length
from core.quantity import fine_text, ruler_text
from core.rosette import hole_sizes, stations
from core.size_input import SizeJob, read_size_job
from core.sleeve import overlap, required_overlap

WIDTH = 390.0
MARGIN = 14.0
STUB_SHOWN = 1.1  # tube diameters of bare tube drawn past each tip
INK, METAL, TUBE, HIDDEN, MET, MISSED = "#14181c", "#c9d4de", "#eef1f4", "#4a5560", "#00512c", "#8a0016"
POINTS = 24


def sleeve_drawing(data: object, search: dict | None = None) -> str:
    """Return the drawing of a sizing job, 390 units wide.

    Parameters
    ----------
    data : mapping
        See `core.size_input.read_size_job`.
    search : dict, optional
        The result's ``rosette.search``: those holes are drawn in place of the usual ones.

    Returns
    -------
    str
        An SVG document.

    Raises
    ------
    Problem
        For input that cannot be used.

    Source: `core.sleeve` profiles; drawn to scale, dimensions as in `core.methods.outer_sleeve`.

    >>> import json
    >>> from core.size_input import EXAMPLE
    >>> "8-1/8 in tip to tip on the outside" in sleeve_drawing(json.loads(EXAMPLE))
    True
    """
    return draw(read_size_job(data), search)


def draw(job: SizeJob, search: dict | None = None) -> str:
    """Return the drawing of a job already read.

    Parameters
    ----------
    job : SizeJob
    search : dict, optional
        As `sleeve_drawing`.

    Returns
    -------
    str
        As `sleeve_drawing`.

    Source: `core.sleeve` profiles.

    >>> import json
    >>> from core.size_input import EXAMPLE
    >>> draw(read_size_job(json.loads(EXAMPLE)))[:4]
    '<svg'
    """
    return _Drawing(job, search).svg()


class _Drawing:
    def __init__(self, job: SizeJob, search: dict | None = None) -> None:
        self.job = job
        self.length = made_length(job)
        self.diameter, self.places = self._hole_places(search)
        self.reach = max(self.length, 2 * required_overlap(job.D) + job.g) / 2 + STUB_SHOWN * job.D
        self.scale = (WIDTH - 2 * MARGIN) / (2 * self.reach)
        self.half = job.Ds / 2 * self.scale
        self.axis = 70 + self.half
        self.bottom = self.axis + self.half
        self.height = self.bottom + 92
        self.parts: list[str] = []

    def _hole_places(self, search: dict | None) -> tuple[float, list[float]]:
        """Return the hole diameter and the places of one line from the middle, inches."""
        job = self.job
        if search:
            return search["diameter"]["in"], sorted({one["from_middle"]["in"] for one in search["stations"]})
        sizes = hole_sizes(job.tube.od.inches, job.sleeve.od.inches, job.sleeve.wall.inches)
        return float(sizes[0].diameter), [one.from_middle for one in stations(self.length, job.Ds, job.g, job.cut)[:1]]

    def x(self, inches: float) -> float:
        return WIDTH / 2 + inches * self.scale

    def y(self, inches: float) -> float:
        return self.axis - inches * self.scale

    def add(self, text: str) -> None:
        self.parts.append(text)

    def line(self, x1, y1, x2, y2, *, ink=INK, width=1.2, dash="") -> None:
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        self.add(f'<line x1="{x1:.2f}" y1="{y1:.2f}" x2="{x2:.2f}" y2="{y2:.2f}" stroke="{ink}" stroke-width="{width}"{dashes}/>')

    def text(self, x, y, words, *, anchor="middle", size=14, ink=INK, weight="600") -> None:
        self.add(f'<text x="{x:.2f}" y="{y:.2f}" text-anchor="{anchor}" font-size="{size}" font-weight="{weight}" fill="{ink}">{escape(words)}</text>')

    def span(self, from_in, to_in, y, words, *, ink=INK, text_above=True) -> None:
        """A dimension line with arrow heads between two places along the tube."""
        a, b = self.x(from_in), self.x(to_in)
        self.line(a, y, b, y, ink=ink)
        size = min(5.0, abs(b - a) / 3)
        for tip, way in ((a, 1), (b, -1)):
            way = way if b >= a else -way
            self.add(f'<path d="M{tip:.2f} {y:.2f}l{way * size:.2f} {-size / 2:.2f}v{size:.2f}z" fill="{ink}"/>')
        middle = (a + b) / 2
        # Words may be wider than the span: keep them inside the picture.
        half = len(words) * 4.2
        middle = min(max(middle, half + 2), WIDTH - half - 2)
        self.text(middle, y - 5 if text_above else y + 17, words, ink=ink)

    def outline(self) -> str:
        cut, radius = self.job.cut, self.job.Ds / 2
        reference = self.length / 2 - cut.tip_reach(radius)
        right = []
        for i in range(POINTS + 1):
            share = -1 + 2 * i / POINTS
            # Height on the page and angle around the tube for the side that faces the reader.
            if cut.end == "fishmouth":
                height, angle = radius * share, math.asin(share)
            else:
                height, angle = radius * share, math.acos(share)
            right.append((reference + cut.profile(radius, angle), height))
        left = [(-x, (-h if cut.end == "scarf" else h)) for x, h in right]
        ring = right + list(reversed(left)) if cut.end != "scarf" else right + left
        return "M" + "L".join(f"{self.x(x):.2f} {self.y(h):.2f}" for x, h in ring) + "Z"

    def svg(self) -> str:
        job, D = self.job, self.job.D
        g = job.g / 2
        for side in (-1, 1):
            x1, x2 = sorted((self.x(side * g), self.x(side * self.reach)))
            self.add(f'<rect x="{x1:.2f}" y="{self.y(D / 2):.2f}" width="{x2 - x1:.2f}" height="{D * self.scale:.2f}" fill="{TUBE}" stroke="{INK}" stroke-width="1.2"/>')
        self.add(f'<path d="{self.outline()}" fill="{METAL}" fill-opacity="0.88" stroke="{INK}" stroke-width="2" stroke-linejoin="round"/>')
        for side in (-1, 1):
            self.line(self.x(side * g), self.y(D / 2), self.x(side * g), self.y(-D / 2), ink=HIDDEN, width=1.4, dash="5 3")
            for end in (-1, 1):
                self.line(self.x(side * g), self.y(end * D / 2), self.x(side * self._nearest()), self.y(end * D / 2), ink=HIDDEN, width=0.8, dash="5 3")
        self.line(self.x(-self.reach), self.axis, self.x(self.reach), self.axis, ink=HIDDEN, width=0.7, dash="12 3 2 3")
        self._holes()
        self._dimensions()
        return (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH:.0f} {self.height:.0f}" role="img" '
                f'font-family="system-ui, sans-serif" aria-label="{escape(self.label(), quote=True)}">{"".join(self.parts)}</svg>')  # fmt: skip

    def label(self) -> str:
        job = self.job
        return (f"To scale: {job.cut.end} sleeve {job.sleeve.od.typed} on tube {job.tube.od.typed}, "
                f"{ruler_text(self.length, job.metric, 'up')} long, needs {fine_text(required_overlap(job.D), job.metric, 'up')} past each stub end")  # fmt: skip

    def _nearest(self) -> float:
        """Return the sleeve's nearest end metal on its outside, from the middle, inches."""
        return self.job.g / 2 + overlap(self.length, self.job.Ds / 2, self.job.Ds, self.job.g, self.job.cut)

    def _holes(self) -> None:
        job = self.job
        on_edge = job.cut.end in ("scarf", "square")
        for x, side in ((self.x(side * place), side) for side in (-1, 1) for place in self.places):
            if on_edge:
                up = -side if job.cut.end == "scarf" else 1
                top = self.axis - up * self.half if job.cut.end == "scarf" else self.axis - self.half
                self.line(x, top - 6, x, top + 6, width=2.4)
            else:
                self.add(f'<circle cx="{x:.2f}" cy="{self.axis:.2f}" r="{self.diameter / 2 * self.scale:.2f}" fill="#ffffff" stroke="{INK}" stroke-width="1.6"/>')
                self.line(x, self.axis - 3, x, self.axis + 3, width=1)

    def _dimensions(self) -> None:
        job, metric = self.job, self.job.metric
        nearest = self._nearest()
        got, need = nearest - job.g / 2, required_overlap(job.D)
        ink = MET if got >= need - 1e-9 else MISSED
        top = self.axis - self.half
        for place in (job.g / 2, nearest):
            self.line(self.x(place), top - 20, self.x(place), top + (8 if place == nearest else self.half - job.D / 2 * self.scale), ink=ink, width=0.9)
        self.span(job.g / 2, nearest, top - 16, f"{overlap_text(got, need, metric)} = {share_text(got / job.D, 2)} D", ink=ink)
        if self.places:
            tip, hole = -self.length / 2, -max(self.places)
            for place in (tip, hole):
                self.line(self.x(place), top - 46, self.x(place), top + 6, width=0.9)
            self.span(tip, hole, top - 42, f"tip to hole {ruler_text(hole - tip, metric, 'near', None if metric else 1 / 32)}")
        low = self.bottom
        for side in (-1, 1):
            self.line(self.x(side * self.length / 2), self.axis, self.x(side * self.length / 2), low + 22, width=0.9)
        words = job.length.typed if job.length else ruler_text(blank_length(job), metric, "up")
        self.span(-self.length / 2, self.length / 2, low + 16, f"{words} tip to tip on the outside", text_above=False)
        self.text(WIDTH / 2, low + 54, f"tube {job.tube.od.typed}   sleeve {job.sleeve.od.typed} × {job.sleeve.wall.typed}", size=13, weight="400")
        angle = "square cut" if job.cut.end == "square" else f"saw {job.cut.mitre_deg:g}° from square = {90 - job.cut.mitre_deg:g}° to the axis"
        self.text(WIDTH / 2, low + 74, f"{job.cut.end}, {angle}. To scale.", size=13, weight="400")
