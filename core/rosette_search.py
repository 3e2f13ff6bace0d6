"""Where several rosette holes go on one tip line, as clear as can be of edge, stub end and one another."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from core.problems import Problem
from core.quantity import down, fine_text, near, up
from core.rosette import Station, crossing, edge_distance, tip_angles
from core.rules import PRACTICE
from core.sleeve import EndCut

MOST_HOLES = 3
SPACING_DIAMETERS = 4
SPACING_SOURCE = "AISC 360 J2.3b (from memory)"
ROUNDING = 1e-9


@dataclass(frozen=True)
class Placed:
    """One hole and what is left beyond the least distances; lengths in inches.

    Attributes
    ----------
    station : Station
    stub_margin, edge_margin : float
        Hole centre to stub end and to the sleeve's edge, less the least distance.
    spacing_margin : float or None
        Centre to the nearest other hole on the line, less the least spacing; None for one hole.
    """

    station: Station
    stub_margin: float
    edge_margin: float
    spacing_margin: float | None

    @property
    def margin(self) -> float:
        """The least of the margins; negative where a distance is not kept."""
        known = (self.stub_margin, self.edge_margin, self.spacing_margin)
        return min(value for value in known if value is not None)


@dataclass(frozen=True)
class Placement:
    """The best places for the holes of one end of a sleeve.

    Attributes
    ----------
    asked : int
        Holes asked for on each tip line.
    fits : int
        The most holes on each line, up to `asked`, that keep every distance; 0 where none does.
    holes : tuple of Placed
        Places of `fits` holes on each tip line, from the middle outward, line by line.
    least_distance, least_spacing : float
        Centre to edge or stub end, and centre to centre, inches.
    room_spacing : float or None
        Centre spacing that the asked count would get with the edge and stub distances just
        kept; None for one hole or where not even one hole keeps them.
    """

    asked: int
    fits: int
    holes: tuple[Placed, ...]
    least_distance: float
    least_spacing: float
    room_spacing: float | None

    @property
    def spacing_fails(self) -> bool:
        """Whether the count misses by the distance between holes alone."""
        return self.fits < self.asked and self.room_spacing is not None

    def text(self, metric: bool = False) -> list[str]:
        """Return what to tell the welder, one sentence each."""
        holes = {0: "No hole keeps", 1: "One hole on each line keeps"}.get(self.fits, f"{self.fits} holes on each line keep")
        lines = [f"{holes} {fine_text(self.least_distance, metric, 'up')} from hole centre to edge and stub end."]
        if self.spacing_fails:
            lines.append(f"{self.asked} holes would sit {fine_text(max(0.0, self.room_spacing), metric, 'down')} apart; "
                         f"{SPACING_SOURCE} asks for {fine_text(self.least_spacing, metric, 'up')}, "
                         f"{SPACING_DIAMETERS} hole diameters. Drill fewer, or choose a smaller hole or a longer sleeve.")  # fmt: skip
        elif self.fits < self.asked:
            lines.append("Choose a smaller hole or a longer sleeve, or leave the rosettes out if the inspector agrees.")
        return lines

    def as_dict(self, metric: bool = False) -> dict[str, Any]:
        """Return the JSON form."""
        return {
            "asked": self.asked,
            "fits": self.fits,
            "least_distance": up(self.least_distance, metric),
            "least_spacing": up(self.least_spacing, metric),
            "stations": [{"angle_deg": hole.station.angle_deg,
                          "from_tip": near(hole.station.from_tip, metric),
                          "from_middle": near(hole.station.from_middle, metric),
                          "to_stub_end": down(hole.station.to_stub_end, metric),
                          "to_edge": down(hole.station.to_edge, metric),
                          "margin": down(hole.margin, metric)} for hole in self.holes],
            "text": self.text(metric),
            "sources": [f"Least distance, hole radius + sleeve wall unless given: {PRACTICE}.", f"Spacing: {SPACING_SOURCE}."],
        }  # fmt: skip


def least_distance(diameter: float, wall: float) -> float:
    """Return the default least distance from a hole's centre to an edge or stub end, d/2 + t.

    Parameters
    ----------
    diameter, wall : float
        Hole diameter and sleeve wall, inches, > 0.

    Source: common practice, no source (one wall of metal left around the hole).

    >>> least_distance(0.46875, 0.120)
    0.354375
    """
    return diameter / 2 + wall


@lru_cache(maxsize=256)
def place(count: int, diameter: float, length: float, Ds: float, ts: float, gap: float, cut: EndCut, distance: float | None = None) -> Placement:
    """Return the places of `count` holes on each tip line that make the least margin largest.

    With x1 the hole by the stub end and xn the one by the tip, every margin M is equal where
    x1 = g/2 + c + M, xn = x1 + (n - 1)(4 d + M) and edge(xn) = c + M; xn is found where
    (xn - g/2 - c - (n - 1) 4 d)/n, which rises with xn, meets edge(xn) - c, which falls.
    The edge counts over the developed outside, so the tip's flanks count too.

    Parameters
    ----------
    count : int
        Holes on each tip line, 1 to 3.
    diameter, length, Ds, ts, gap : float
        Hole diameter, sleeve length tip to tip, sleeve OD and wall, distance between the
        stub ends; inches.
    cut : EndCut
    distance : float, optional
        Least distance from a hole's centre to edge and stub end, inches; else d/2 + ts.

    Returns
    -------
    Placement
        With fewer holes than asked where no more keep every distance.

    Raises
    ------
    Problem
        ``out-of-range`` for the count, ``bad-length`` for a hole, length or distance not over zero.

    Source: spacing AISC 360 J2.3b, from memory; least distance common practice, no source;
    place by geometry, compared in tests with a search over a dense grid.

    >>> found = place(2, 0.46875, 10.0, 1.875, 0.120, 0.0, EndCut("pointed"))
    >>> found.fits, [round(hole.station.from_tip, 2) for hole in found.holes[:2]]
    (2, [4.1, 1.67])
    """
    if isinstance(count, bool) or not isinstance(count, int) or not 1 <= count <= MOST_HOLES:
        raise Problem("out-of-range", "That many holes on a line is not handled.", given=count, allowed=f"1 to {MOST_HOLES}.",
                      next_step="Choose a number of holes on each tip line.", field="count")  # fmt: skip
    sizes = {"diameter": diameter, "length": length, "Ds": Ds, "ts": ts, **({} if distance is None else {"distance": distance})}
    for field, value in sizes.items():
        if not (math.isfinite(value) and value > 0):
            raise Problem("bad-length", "A length of zero or less is no measurement.", given=value, allowed="a length over zero.",
                          next_step="Check the number.", field=field)  # fmt: skip
    clear = least_distance(diameter, ts) if distance is None else distance
    spacing = SPACING_DIAMETERS * diameter
    angle = math.radians(tip_angles(cut)[0])

    def edge(x: float) -> float:
        return edge_distance(x, angle, length, Ds, cut)

    for fits in range(count, 0, -1):
        holes = _equal_margins(fits, clear, spacing, length, gap, edge)
        if holes and min(hole[3] for hole in holes) >= -ROUNDING:
            break
    else:
        fits, holes = 0, []
    placed = tuple(
        Placed(Station(length / 2 - x, x, degrees, x - gap / 2, to_edge), x - gap / 2 - clear, to_edge - clear, apart)
        for degrees in tip_angles(cut)
        for x, to_edge, apart, _ in holes
    )
    return Placement(count, fits, placed, clear, spacing, _room_spacing(count, fits, clear, length, gap, edge))


def _equal_margins(count: int, clear: float, spacing: float, length: float, gap: float, edge) -> list[tuple[float, float, float | None, float]]:
    """Return (x, to edge, spacing margin, least margin) for each hole of one line, from the middle outward."""
    if length <= gap:
        return []

    def margin(x: float) -> float:
        return (x - gap / 2 - clear - (count - 1) * spacing) / count

    last = crossing(lambda x: margin(x) - (edge(x) - clear), gap / 2, length / 2)
    apart = spacing + margin(last)
    found = []
    for i in range(count):
        x = last - (count - 1 - i) * apart
        between = apart - spacing if count > 1 else None
        to_edge = edge(x)
        least = min(value for value in (x - gap / 2 - clear, to_edge - clear, between) if value is not None)
        found.append((x, to_edge, between, least))
    return found


def _room_spacing(count: int, fits: int, clear: float, length: float, gap: float, edge) -> float | None:
    """Return the centre spacing with the first hole just clear of the stub and the last of the edge."""
    if count == 1 or fits == 0:
        return None
    first = gap / 2 + clear
    last = crossing(lambda x: clear - edge(x), first, length / 2)
    return (last - first) / (count - 1)
