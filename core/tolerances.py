"""Drawn-over-mandrel tube tolerances.

Source: ASTM A513, type 5 (DOM) tables, as reprinted by two suppliers of tube (diameters;
wall to 9 gauge up to 1.875 in OD). The standard holds two of OD, ID and wall, as ordered.
"""

from __future__ import annotations

from dataclasses import dataclass

# OD from, OD to (inches), tolerance: OD +t/-0, ID +0/-t.
DIAMETER_TABLE: tuple[tuple[float, float, float], ...] = (
    (0.0, 0.499, 0.004), (0.500, 1.699, 0.005), (1.700, 2.099, 0.006), (2.100, 2.499, 0.007),
    (2.500, 2.899, 0.008), (2.900, 3.299, 0.009), (3.300, 3.699, 0.010), (3.700, 4.099, 0.011),
    (4.100, 4.499, 0.012), (4.500, 4.899, 0.013), (4.900, 5.299, 0.014),
)  # fmt: skip

# Wall: (plus, minus) for OD .375-.875, over .875-1.875, over 1.875-3.750. None: not listed.
_SMALL, _MIDDLE, _LARGE = 0, 1, 2
WALL_TABLE: dict[float, tuple[tuple[float, float] | None, ...]] = {
    0.035: ((0.002, 0.002), (0.002, 0.002), (0.002, 0.002)),
    0.042: ((0.002, 0.002), (0.002, 0.003), (0.002, 0.003)),
    0.049: ((0.002, 0.002), (0.002, 0.003), (0.002, 0.003)),
    0.065: ((0.002, 0.002), (0.002, 0.003), (0.002, 0.003)),
    0.072: ((0.002, 0.002), (0.002, 0.003), (0.003, 0.003)),
    0.083: ((0.002, 0.002), (0.002, 0.003), (0.003, 0.003)),
    0.095: ((0.002, 0.002), (0.002, 0.003), (0.003, 0.003)),
    0.109: ((0.002, 0.003), (0.002, 0.004), (0.003, 0.003)),
    0.120: ((0.003, 0.003), (0.002, 0.004), (0.003, 0.003)),
    0.134: (None, (0.002, 0.004), (0.003, 0.003)),
}


@dataclass(frozen=True)
class WallTolerance:
    """Wall tolerance in inches, both positive, and whether the table lists that wall."""

    plus: float
    minus: float
    listed: bool


def diameter_tolerance(outside_diameter: float) -> float | None:
    """Return the DOM diameter tolerance in inches for an OD in inches, None past the table.

    Range 0 < OD < 5.3 in. The OD may be larger by it and the ID smaller by it.
    Source: ASTM A513 type 5 diameter table.

    >>> diameter_tolerance(1.625), diameter_tolerance(1.875)
    (0.005, 0.006)
    """
    rounded = round(outside_diameter, 3)
    return next((t for low, high, t in DIAMETER_TABLE if low <= rounded <= high), None)


def wall_tolerance(outside_diameter: float, wall: float) -> WallTolerance | None:
    """Return the DOM wall tolerance for an OD and wall in inches, None past the table.

    A wall between two listed ones takes the thicker listed row (marked not listed).
    Range OD .375 to 3.75 in, wall .035 to .134 in. Source: ASTM A513 type 5 wall table.

    >>> wall_tolerance(1.875, 0.120)
    WallTolerance(plus=0.002, minus=0.004, listed=True)
    """
    if not 0.375 <= outside_diameter <= 3.750:
        return None
    column = _SMALL if outside_diameter <= 0.875 else _MIDDLE if outside_diameter <= 1.875 else _LARGE
    for listed, row in WALL_TABLE.items():
        if listed >= wall - 1e-6 and row[column] is not None and wall >= 0.035 - 1e-6:
            plus, minus = row[column]
            return WallTolerance(plus, minus, abs(listed - wall) < 1e-6)
    return None
