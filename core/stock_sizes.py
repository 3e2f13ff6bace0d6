"""Usual tube sizes: what could be bought where the rack has nothing.

Starter sizes; availability varies (from memory, project fact sheet).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction

from core.lengths import Length
from core.materials import MATERIALS
from core.quantity import inch_fraction_text
from core.tube import SMALLEST_OD, Tube

DOM_WALLS = (65, 83, 95, 120, 134, 188, 250)
CHROMOLY_WALLS = (35, 49, 58, 65, 83, 95, 120)
MORE_WALLS = (109, 165)
EIGHTH = Fraction(1, 8)
SMALLEST, LARGEST = Fraction(1), Fraction(5, 2)
# Sizes a sleeve is looked for above the tube's own, in eighths of an inch.
STEPS_OVER = range(1, 6)
STEPS_AT_BORE = range(-2, 4)
STEPS_AT_PATCH = range(-2, 3)


def usual_sizes(tube: Tube) -> list[Tube]:
    """Return the usual tube sizes up to 5/8 in over the tube, in the tube's class of steel.

    Parameters
    ----------
    tube : Tube
        The damaged tube; inches.

    Returns
    -------
    list of Tube
        By outside diameter, 1 to 2-1/2 in, then by wall.

    Source: starter size list, from memory; availability varies.

    >>> from core.tube import read_tube, size_text
    >>> size_text(usual_sizes(read_tube({"od": "1-5/8", "wall": ".120", "material": "dom-1020"}))[0])
    '1-3/4 in × .065 in'
    """
    ods = (od for od in _eighths(tube.od.inches, STEPS_OVER) if SMALLEST <= od <= LARGEST and od > tube.od.inches)
    return _sizes(ods, walls(tube, more=True), tube)


def sizes_at_bore(tube: Tube) -> list[Tube]:
    """Return the usual tube sizes by 1/8 in around the tube's bore, in the tube's class of steel.

    Parameters
    ----------
    tube : Tube
        The damaged tube; inches.

    Returns
    -------
    list of Tube
        By outside diameter, under the tube's own, then by wall.

    Source: starter size list, from memory; availability varies.

    >>> from core.tube import read_tube, size_text
    >>> size_text(sizes_at_bore(read_tube({"od": "1-5/8", "wall": ".120", "material": "dom-1020"}))[0])
    '1-1/8 in × .065 in'
    """
    bore = tube.od.inches - 2 * tube.wall.inches
    ods = (od for od in _eighths(bore, STEPS_AT_BORE) if Fraction(SMALLEST_OD) <= od < tube.od.inches)
    return _sizes(ods, walls(tube), tube)


def sizes_for_patch(tube: Tube, wall: Fraction) -> list[Tube]:
    """Return the usual tubes of a wall whose bore is within about 1/4 in of the tube's outside.

    Parameters
    ----------
    tube : Tube
    wall : Fraction
        Wall of the patch, inches.

    Returns
    -------
    list of Tube
        Empty where the wall is not a usual one.

    Source: starter size list, from memory; availability varies.

    >>> from core.tube import read_tube
    >>> tube = read_tube({"od": "1-5/8", "wall": ".120", "material": "dom-1020"})
    >>> len(sizes_for_patch(tube, Fraction(134, 1000))), sizes_for_patch(tube, Fraction(72, 1000))
    (5, [])
    """
    thousandths = [one for one in walls(tube, more=True) if Fraction(one, 1000) == wall]
    ods = (od for od in _eighths(tube.od.inches + 2 * wall, STEPS_AT_PATCH) if SMALLEST <= od <= LARGEST)
    return _sizes(ods, thousandths, tube)


def walls(tube: Tube, more: bool = False) -> tuple[int, ...]:
    """Return the usual walls in the tube's class of steel, thousandths of an inch.

    Parameters
    ----------
    tube : Tube
    more : bool
        Whether the walls .109 and .165, less often kept, count too.

    Returns
    -------
    tuple of int
        Thousandths of an inch.

    Source: starter size list, from memory; availability varies.

    >>> from core.tube import read_tube
    >>> walls(read_tube({"od": "1-5/8", "wall": ".120", "material": "dom-1020"}))
    (65, 83, 95, 120, 134, 188, 250)
    """
    if tube.material.steel_class == "4130":
        return CHROMOLY_WALLS
    return (*DOM_WALLS, *MORE_WALLS) if more else DOM_WALLS


def _eighths(size: Fraction, steps: Iterable[int]) -> list[Fraction]:
    base = math.floor(size / EIGHTH)
    return [(base + step) * EIGHTH for step in steps]


def _sizes(ods: Iterable[Fraction], thousandths: Iterable[int], tube: Tube) -> list[Tube]:
    steel = MATERIALS[tube.material.key if tube.material.steel_class == "4130" else "dom-1020"]
    return [
        Tube(Length(od, inch_fraction_text(od), "in"), Length(Fraction(wall, 1000), f".{wall:03d} in", "in"), steel, "unknown")
        for od in ods for wall in thousandths if 2 * Fraction(wall, 1000) < od
    ]  # fmt: skip
