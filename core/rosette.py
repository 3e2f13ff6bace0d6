"""Rosette holes: sizes by source, and the place on the tip line farthest from every edge.

Distances are measured over the sleeve's developed outside, not along the axis: the flanks
of a tip close in at 90 degrees less the mitre. Lengths in inches. Source: each function's own; places, geometry by hand.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

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

    >>> edge_distance(1.0, 0.0, 6.0, 2.0, EndCut("square", 0))  # by hand: 6 / 2 - 1
    2.0
    """
    radius = Ds / 2
    reference = length / 2 - cut.tip_reach(radius)

    def distance(a: float) -> float:
        return math.hypot(reference + cut.profile(radius, a) - x, radius * (a - angle))

    count = 24
    step = 2 * math.pi / count
    grid = [angle - math.pi + i * step for i in range(count + 1)]
    best = min(grid, key=distance)
    return min(_golden(distance, best - step, best), _golden(distance, best, best + step), distance(best))


def _golden(function, low: float, high: float) -> float:
    ratio = (math.sqrt(5) - 1) / 2
    a, b = high - ratio * (high - low), low + ratio * (high - low)
    fa, fb = function(a), function(b)
    for _ in range(24):
        if fa < fb:
            high, b, fb = b, a, fa
            a = high - ratio * (high - low)
            fa = function(a)
        else:
            low, a, fa = a, b, fb
            b = low + ratio * (high - low)
            fb = function(b)
    return min(fa, fb)


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
    low, high = gap / 2, tip
    for _ in range(32):
        middle = (low + high) / 2
        if middle - gap / 2 < edge_distance(middle, angle, length, Ds, cut):
            low = middle
        else:
            high = middle
    x = (low + high) / 2
    room = edge_distance(x, angle, length, Ds, cut)
    return tuple(Station(tip - x, x, a, x - gap / 2, room) for a in tip_angles(cut))
