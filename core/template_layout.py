"""What is drawn for a wrap template, as strokes, rings and words in millimetres, y up.

One list serves every output, so that the SVG and the PDF cannot differ in what they mark.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from core.template import CHECK_BARS, Point, Template

EM = 0.6  # width of a character in type sizes, generous for a sans-serif face
LEADING = 1.3
LARGEST_TYPE, SMALLEST_TYPE = 3.6, 1.2
BAR_TICK = 2.4
PATCH_TICK = 3.0
BAR_PITCH = 9.0
BARS_HEIGHT = BAR_PITCH * len(CHECK_BARS)
WIDEST_BAR = max(length for length, _ in CHECK_BARS)


@dataclass(frozen=True)
class Stroke:
    """A line through points; `style` is "cut", "seam", "tip", "mark", "bar", "slit" or "damage"."""

    style: str
    points: tuple[Point, ...]
    closed: bool = False


@dataclass(frozen=True)
class Ring:
    """A circle of the drawn size."""

    x: float
    y: float
    radius: float


@dataclass(frozen=True)
class Words:
    """Text on its baseline; `size` in mm, `turned` reads upward, `anchor` "start" or "middle"."""

    x: float
    y: float
    text: str
    size: float
    anchor: str = "start"
    turned: bool = False
    bold: bool = False


Mark = Stroke | Ring | Words


def marks(template: Template) -> list[Mark]:
    """Return everything drawn on the template itself, the cut line first.

    Parameters
    ----------
    template : Template
        Millimetres, y up.

    Returns
    -------
    list of Mark
        In the order they are drawn; mm.

    Source: common practice, no source.

    >>> from core.lengths import read_length
    >>> from core.sleeve import EndCut
    >>> from core.template import tube_cut_template
    >>> made = marks(tube_cut_template(read_length("2 in"), EndCut("scarf", 45)))
    >>> [mark.style for mark in made if isinstance(mark, Stroke)]
    ['cut', 'seam', 'tip']
    """
    around, right = template.around, template.top[-1]
    drawn: list[Mark] = [Stroke("cut", template.outline, closed=True)]
    if template.wraps:
        drawn += [Stroke("seam", (template.bottom[-1], right)), *_flap_words(template)]
    else:
        drawn += _patch_marks(template)
    for line in template.lines:
        drawn.append(Stroke(line.kind, line.points, line.closed))
        if line.kind == "slit":
            (s, low), (_, high) = line.points
            drawn.append(Words(s + 3.2, (low + high) / 2 + min(20.0, (high - low) / 8), "SLIT", 2.6, turned=True, bold=True))
    for line in template.tip_lines:
        drawn.append(Stroke("tip", ((line.s, line.low), (line.s, line.high))))
        room = min(12.0, (line.high - line.low) / 4)
        for end in line.tips:
            y = line.high - room - 6.0 if end == "top" else line.low + room
            drawn.append(Words(line.s - 0.9, y, "TIP", 2.6, turned=True, bold=True))
    for hole in template.holes:
        arm = hole.diameter / 2 + 2.0
        drawn += [
            Ring(hole.s, hole.z, hole.diameter / 2),
            Stroke("mark", ((hole.s - arm, hole.z), (hole.s + arm, hole.z))),
            Stroke("mark", ((hole.s, hole.z - arm), (hole.s, hole.z + arm))),
        ]
    if template.kind == "sleeve":
        tick = min(6.0, around / 16)
        drawn += [
            Stroke("mark", ((0.0, 0.0), (tick, 0.0))),
            Stroke("mark", ((around - tick, 0.0), (around, 0.0))),
            Words(1.0, 0.8, "middle", min(2.2, around / 40)),
        ]
    return drawn + panel_words(template)


def panel(template: Template) -> tuple[float, float, float, float]:
    """Return the widest clear rectangle between tip lines and edges: left, low, right, high.

    Parameters
    ----------
    template : Template
        Millimetres, y up.

    Returns
    -------
    tuple of float
        Millimetres; 2 mm inside what bounds it, in a patch 1 mm at the least.

    Source: geometry by hand.

    >>> from core.lengths import read_length
    >>> from core.sleeve import EndCut
    >>> from core.template import tube_cut_template
    >>> [round(x, 1) for x in panel(tube_cut_template(read_length("2 in"), EndCut("scarf", 45)))]
    [2.0, 2.0, 78.0, 48.8]
    """
    if not template.wraps:
        return _patch_panel(template)
    slits = [line.points[0][0] for line in template.lines]
    stops = sorted({0.0, *slits, *(line.s for line in template.tip_lines), template.around})
    # The middle mark and its word stand at the left edge.
    left, right = max(pairwise(stops), key=lambda pair: (round(pair[1] - pair[0], 6), bool(slits) and pair[0] > 0))
    low = max(z for s, z in template.bottom if left - 1e-6 <= s <= right + 1e-6)
    high = min(z for s, z in template.top if left - 1e-6 <= s <= right + 1e-6)
    return (left + 2.0, low + 2.0, right - 2.0, high - 2.0)


def panel_words(template: Template) -> list[Words]:
    """Return the short text centred in the panel; none where it would be too small to read.

    Parameters
    ----------
    template : Template
        Millimetres, y up.

    Returns
    -------
    list of Words
        Type 1.2 to 3.6 mm; empty where it would be under 1.2 mm.

    Source: common practice, no source.

    >>> from core.lengths import read_length
    >>> from core.sleeve import EndCut
    >>> from core.template import tube_cut_template
    >>> [(words.text, words.size) for words in panel_words(tube_cut_template(read_length("2 in"), EndCut("scarf", 45)))][:2]
    [('Tube 2 in', 3.6), ('scarf, mitre 45°', 3.6)]
    """
    left, low, right, high = panel(template)
    lines = template.short_text
    size = _type_size(lines, (left, low, right, high))
    if size < SMALLEST_TYPE:
        return []
    first = (low + high) / 2 + (len(lines) * LEADING / 2 - 1) * size
    return [Words((left + right) / 2, first - i * LEADING * size, text, size, "middle", bold=text == "DEMO")
            for i, text in enumerate(lines)]  # fmt: skip


def _type_size(lines: tuple[str, ...], room: tuple[float, float, float, float]) -> float:
    left, low, right, high = room
    return min(LARGEST_TYPE, (right - left) / (EM * max(map(len, lines))), (high - low) / (LEADING * len(lines)))


def _patch_panel(template: Template) -> tuple[float, float, float, float]:
    """Return the room for words in a patch: inside the damage, or the strip below it where that is larger."""
    (box,) = template.lines
    (left, low), (right, high) = box.points[0], box.points[2]
    rooms = [(left + 2.0, low + 2.0, right - 2.0, high - 2.0), (PATCH_TICK + 2.0, template.low + PATCH_TICK + 1.0, template.around - 2.0, low - 1.0)]
    return max(rooms, key=lambda room: _type_size(template.short_text, room))


def _patch_marks(template: Template) -> list[Mark]:
    """Return ticks at the middle of each edge, and which way the tube lies."""
    middle, high = template.around / 2, template.high
    ticks = [((middle, high), (middle, high - PATCH_TICK)), ((middle, -high), (middle, PATCH_TICK - high)),
             ((0.0, 0.0), (PATCH_TICK, 0.0)), ((template.around - PATCH_TICK, 0.0), (template.around, 0.0))]  # fmt: skip
    size = min(2.2, high / 10)
    return [*(Stroke("mark", tick) for tick in ticks),
            *([Words(size * 1.2, high * 0.1, "along the tube", size, turned=True)] if size >= SMALLEST_TYPE else [])]  # fmt: skip


def check_bars(x: float, y: float) -> list[Mark]:
    """Return both check bars with the lower left corner at x, y; ends are the middles of the end ticks.

    The metric bar has a tick every 10 mm, the other every 1/2 in.

    Parameters
    ----------
    x, y : float
        Millimetres, y up.

    Returns
    -------
    list of Mark
        Lines, ticks and words; mm.

    Source: common practice, no source.

    >>> [mark.text for mark in check_bars(0.0, 0.0) if isinstance(mark, Words)]
    ['must measure 100 mm', 'must measure 4 in']
    """
    drawn: list[Mark] = []
    for row, (length, name) in enumerate(CHECK_BARS):
        base = y + BARS_HEIGHT - (row + 1) * BAR_PITCH + 1.0
        steps = 10 if row == 0 else 8
        drawn.append(Stroke("bar", ((x, base), (x + length, base))))
        for i in range(steps + 1):
            tall = BAR_TICK * (1.5 if i in (0, steps) else 0.6)
            place = x + length * i / steps
            drawn.append(Stroke("bar", ((place, base), (place, base + tall))))
        drawn.append(Words(x + length / 2, base + 2.6, f"must measure {name}", 3.0, "middle", bold=True))
    return drawn


def _flap_words(template: Template) -> list[Words]:
    (s, high), (edge, _), _, (_, low) = template.flap
    text = "glue flap, goes under"
    size = min(2.6, (edge - s) * 0.4, (high - low) / (EM * len(text) * 1.2))
    if size < SMALLEST_TYPE:
        return []
    length = EM * len(text) * size * 0.85
    return [Words((s + edge) / 2 + size * 0.35, (high + low) / 2 - length / 2, text, size, turned=True)]
