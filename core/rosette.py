"""Rosette holes: sizes by source, and the place on the tip line farthest from every edge.

Distances are measured over the sleeve's developed outside, not along the axis: the flanks
of a tip close in at 90 degrees less the mitre. Lengths in inches. Source: each function's own; places, geometry by hand.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from core.sleeve import EndCut

SIXTEENTH = Fraction(1, 16)


@dataclass(frozen=True)
class HoleSize:
    """A rosette hole diameter in inches, who asks for it, and what it means."""

    key: str
    diameter: Fraction
    source: str
    text: str


@dataclass(frozen=True)
class Station:
    """Place of a hole on one end of the sleeve; lengths in inches.

    Attributes
    ----------
    from_tip : float
        Along the tip line, from the tip (the very end of the sleeve on that line).
    from_middle : float
        Along the tip line, from the sleeve's middle.
    angle_deg : float
        Around the sleeve; 0 at the first tip.
    to_stub_end : float
        Hole centre to the stub end beneath.
    to_edge : float
        Hole centre to the nearest sleeve edge, over the developed outside.
    """

    from_tip: float
    from_middle: float
    angle_deg: float
    to_stub_end: float
    to_edge: float

    def edge_room(self, diameter: float) -> float:
        """Return metal left between the hole's rim and the nearest edge or stub end, inches."""
        return min(self.to_stub_end, self.to_edge) - diameter / 2


def to_nearest(value: Fraction, step: Fraction) -> Fraction:
    """Return `value` at the nearest multiple of `step`, halves upward.

    >>> to_nearest(Fraction(13, 32), Fraction(1, 16))
    Fraction(7, 16)
    """
    return math.floor(value / step + Fraction(1, 2)) * step


def plug_minimum(drilled_wall: Fraction) -> Fraction:
    """Return the smallest structural plug: t + 5/16 in, rounded up to the next odd 1/16.

    Parameters
    ----------
    drilled_wall : Fraction
        Wall of the drilled (outer) part, inches, > 0.

    Source: AISC 360 J2.3b, from memory.

    >>> plug_minimum(Fraction(120, 1000))
    Fraction(7, 16)
    """
    sixteenths = math.ceil((drilled_wall + Fraction(5, 16)) / SIXTEENTH)
    return (sixteenths if sixteenths % 2 else sixteenths + 1) * SIXTEENTH


def hole_sizes(tube_od: Fraction, drilled_od: Fraction, drilled_wall: Fraction) -> list[HoleSize]:
    """Return the rosette diameters by source, inches.

    Parameters
    ----------
    tube_od, drilled_od, drilled_wall : Fraction
        Tube OD, and OD and wall of the drilled (outer) part, inches.

    Source: AC 43.13-1B 4-85 (from memory), AISC 360 J2.3b (from memory), shop habit
    (common practice, no source).

    >>> [str(s.diameter) for s in hole_sizes(Fraction(13, 8), Fraction(15, 8), Fraction(120, 1000))]
    ['15/32', '13/32', '7/16']
    """
    step = Fraction(1, 32)
    quarter = to_nearest(drilled_od / 4, step)
    shop = to_nearest(tube_od / 4, step)
    least = plug_minimum(drilled_wall)
    under = f" It is under the structural minimum of {least} in." if shop < least else ""
    return [
        HoleSize("circular", quarter, "AC 43.13-1B 4-85 (from memory)",
                 "About a quarter of the drilled tube's diameter, to the nearest 1/32 in."),
        HoleSize("shop", shop, "common practice, no source",
                 "A quarter of the inner tube's diameter, to the nearest 1/32 in." + under),
        HoleSize("structural", least, "AISC 360 J2.3b (from memory)",
                 "Wall + 5/16 in, up to the next odd 1/16 in: the least that structural rules count as a plug weld."),
    ]  # fmt: skip


def tip_angles(cut: EndCut) -> list[float]:
    """Return the angles of the tip lines, degrees, in the frame of `EndCut.profile`.

    A square end has no tips; its two holes go on opposite sides.
    Source: common practice, no source (each hole on the line of a tip).

    >>> tip_angles(EndCut("pointed"))
    [90.0, 270.0]
    """
    return {"pointed": [90.0, 270.0], "fishmouth": [0.0, 180.0], "scarf": [0.0], "square": [0.0, 180.0]}[cut.end]


def edge_distance(x: float, angle: float, length: float, Ds: float, cut: EndCut) -> float:
    """Return the distance from a point to the sleeve's edge over the developed outside.

    min over a of hypot(edge(a) - x, Ds/2 (a - angle))

    Parameters
    ----------
    x : float
        Along the axis from the sleeve's middle, inches.
    angle : float
        Around the sleeve, radians.
    length, Ds : float
        Sleeve length tip to tip and outside diameter, inches.
    cut : EndCut

    Source: geometry by hand; tests compare with a dense sampling.

    >>> round(edge_distance(3.0, 0.0, 8.0, 2.0, EndCut("square")), 6)
    1.0
    """
    radius = Ds / 2
    reference = length / 2 - cut.tip_reach(radius) - x
    if cut.end == "square":
        return abs(reference)
    height, step = radius * cut.slope, 2 * math.pi / CELLS
    sag = height * step * step / 8  # an edge strays this far from its chord at most
    first, bound = math.floor(angle / step), abs(reference + cut.profile(radius, angle))
    cells = []
    for k in range(CELLS // 2 + 1):
        if radius * (k - 1) * step > bound + sag:
            break
        for cell in {first + k, first - k}:
            chord = _chord_distance(reference, angle, radius, cut, cell * step, step)
            cells.append((chord, cell * step))
            bound = min(bound, chord)
    return min(_within_cell(reference, angle, radius, cut, a, step) for chord, a in cells if chord <= bound + 2 * sag)


# Cells around the tube; a multiple of 4, so that a sharp tip or crotch lies between two cells.
CELLS, PARTS = 48, 8


def _chord_distance(reference: float, angle: float, radius: float, cut: EndCut, a: float, step: float) -> float:
    x0, y0 = reference + cut.profile(radius, a), radius * (a - angle)
    dx, dy = reference + cut.profile(radius, a + step) - x0, radius * step
    along = min(1.0, max(0.0, -(x0 * dx + y0 * dy) / (dx * dx + dy * dy)))
    return math.hypot(x0 + along * dx, y0 + along * dy)


def _within_cell(reference: float, angle: float, radius: float, cut: EndCut, a: float, step: float) -> float:
    """Return the least distance to the edge between two angles, where it is one smooth cosine."""
    middle = a + step / 2
    height = cut.profile(radius, middle) / math.cos(middle)

    def slope(at: float) -> float:
        return -(reference + height * math.cos(at)) * height * math.sin(at) + radius * radius * (at - angle)

    # Straight over a rounded tip the distance is at a crest, with a valley on each side in the same cell.
    marks = [a + step * part / PARTS for part in range(PARTS + 1)]
    places = list(marks)
    for low, high in pairwise(marks):
        if slope(low) < 0 < slope(high):
            for _ in range(20):
                middle = (low + high) / 2
                if slope(middle) < 0:
                    low = middle
                else:
                    high = middle
            places.append((low + high) / 2)
    return min(math.hypot(reference + height * math.cos(at), radius * (at - angle)) for at in places)


def crossing(rising, low: float, high: float) -> float:
    """Return where a rising function passes zero between two ends, to 1e-9.

    False position with the stale end halved (Illinois); the nearer end where it does not pass.

    Parameters
    ----------
    rising : callable
        float -> float, continuous, never falling.
    low, high : float

    Source: hand; a standard root search.

    >>> round(crossing(lambda x: x * x - 2, 0.0, 2.0), 9)
    1.414213562
    """
    below, above = rising(low), rising(high)
    if below >= 0 or above <= 0:
        return low if below >= 0 else high
    side = 0
    while high - low > 1e-9:
        x = (low * above - high * below) / (above - below)
        value = rising(x)
        if abs(value) < 1e-10:
            return x
        if value < 0:
            low, below = x, value
            above, side = (above / 2 if side < 0 else above), -1
        else:
            high, above = x, value
            below, side = (below / 2 if side > 0 else below), 1
    return (low + high) / 2


@lru_cache(maxsize=256)
def stations(length: float, Ds: float, gap: float, cut: EndCut) -> tuple[Station, ...]:
    """Return one hole for each tip line of one end, as far as can be from edge and stub end.

    Along a tip line the room to the stub end grows and the room to the edge shrinks; the
    hole goes where both are the same. Empty when the sleeve does not reach past the stub end.

    Parameters
    ----------
    length, Ds, gap : float
        Sleeve length, sleeve OD and distance between the stub ends, inches.
    cut : EndCut

    Source: count and line by common practice, no source; place by geometry.

    >>> [round(s.from_tip, 3) for s in stations(8.125, 1.875, 0, EndCut("pointed"))]
    [2.553, 2.553]
    """
    tip = length / 2
    if tip - gap / 2 <= 0:
        return ()
    angle = math.radians(tip_angles(cut)[0])
    x = crossing(lambda x: x - gap / 2 - edge_distance(x, angle, length, Ds, cut), gap / 2, tip)
    room = edge_distance(x, angle, length, Ds, cut)
    return tuple(Station(tip - x, x, a, x - gap / 2, room) for a in tip_angles(cut))
