"""Which rosette holes a splice gets, and where: the usual one a tip line, or those that were asked for.

Lengths in inches. An inner sleeve's holes go through the tube, between its slanted end and the
sleeve's square end. That is the sleeve's own case turned about: with the tube's tip as tip and
the sleeve's end as stub end, tip to end along the tip line is (L - g + D T)/2.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from core.drill import drill_text
from core.methods.parts import Parts
from core.problems import Problem
from core.quantity import quantity, ruler_text, up
from core.rosette import HoleSize, hole_sizes, stations
from core.rosette_search import Placement, place
from core.rules import PRACTICE, Check, verdict
from core.size_options import SizeOptions

FROM_TIP, FROM_TUBE_TIP, FROM_CUT = "from_tip", "from_tube_tip", "from_cut"
MEASURED_FROM = {
    FROM_TIP: "from the tip, along the tip line",
    FROM_TUBE_TIP: "from the tube's tip, along its tip line",
    FROM_CUT: "from the nearest end of the cut, on two opposite sides of the tube",
}


@dataclass(frozen=True)
class HolePlan:
    """Holes of one splice.

    Attributes
    ----------
    hole : HoleSize
    origin : str
        What the places are measured from, a key of `MEASURED_FROM`.
    places : tuple of (float, float)
        Angle around in degrees and distance in inches, for one end.
    placement : Placement or None
        The search, where holes were asked for.
    """

    hole: HoleSize
    origin: str
    places: tuple[tuple[float, float], ...]
    placement: Placement | None = None


def hole_plan(parts: Parts, options: SizeOptions) -> HolePlan | None:
    """Return the holes of a splice, None for a split sleeve.

    Parameters
    ----------
    parts : Parts
        Lengths in inches.
    options : SizeOptions
        Hole size, or rosettes asked for: 1 to 3 on each tip line.

    Returns
    -------
    HolePlan or None
        Diameter and distances in inches, angles in degrees.

    Raises
    ------
    Problem
        ``out-of-range`` for a distance within the hole itself.

    Source: sizes `core.rosette.hole_sizes`; places `core.rosette.stations`, `core.rosette_search.place`.

    >>> import json
    >>> from core.methods.parts import read_parts
    >>> from core.size_input import EXAMPLE
    >>> plan = hole_plan(read_parts("outer-sleeve", json.loads(EXAMPLE)), SizeOptions())
    >>> str(plan.hole.diameter), [(angle, round(at, 3)) for angle, at in plan.places]
    ('15/32', [(90.0, 2.553), (270.0, 2.553)])
    """
    if parts.method == "split-sleeve":
        return None
    outer, own = parts.outer, options.own_diameter
    sizes = hole_sizes(parts.inner.od.inches, outer.od.inches, outer.wall.inches)
    hole = next(size for size in sizes if size.key == (options.hole or "circular"))
    if own is not None:
        hole = HoleSize("own", own, "as typed", "The diameter that was typed.")
    asked = options.rosettes
    if asked is None:
        return HolePlan(hole, *_usual(parts))
    length, gap, origin = parts.made, parts.gap, FROM_TIP
    if parts.method == "inner-sleeve":
        # A sleeve that does not pass its cut has no place; the search then sees no length at all.
        length = parts.made - parts.gap + parts.cut.depth(outer.D / 2) if parts.reach > 0 else 1e-9
        gap, origin = 0.0, FROM_TUBE_TIP
    distance = None if asked.distance is None else float(asked.distance)
    if distance is not None and distance <= hole.diameter / 2:
        raise Problem("out-of-range", "At that distance the hole runs over the edge.", given=asked.distance.typed,
                      allowed=f"over half the hole's diameter, {drill_text(hole.diameter / 2, parts.metric)}, to the hole's centre.",
                      next_step="Give the distance from the hole's centre to the edge.", field="rosettes.distance")  # fmt: skip
    found = place(asked.per_tip, float(hole.diameter), length, outer.D, outer.t, gap, parts.cut, distance)
    return HolePlan(hole, origin, tuple((one.station.angle_deg, one.station.from_tip) for one in found.holes), found)


def _usual(parts: Parts) -> tuple[str, tuple[tuple[float, float], ...]]:
    if parts.method == "inner-sleeve":
        there = ((0.0, parts.reach / 2), (180.0, parts.reach / 2)) if parts.reach > 0 else ()
        return FROM_CUT, there
    return FROM_TIP, tuple((one.angle_deg, one.from_tip) for one in stations(parts.made, parts.outer.D, parts.gap, parts.cut))


def _words(text: str, parts: Parts) -> str:
    return text.replace("stub end", "sleeve end") if parts.method == "inner-sleeve" else text


def search_block(parts: Parts, plan: HolePlan) -> dict[str, Any]:
    """Return the search as JSON-ready data: places, margins, and a plain verdict.

    Parameters
    ----------
    parts : Parts
        Lengths in inches.
    plan : HolePlan
        With its ``placement``: holes that were asked for.

    Returns
    -------
    dict
        As `core.rosette_search.Placement.as_dict`, each station with its ``mark``; and
        ``diameter``, ``measured_from``, ``verdict``.

    Source: `core.rosette_search.Placement.as_dict`.

    >>> import json
    >>> from core.methods.parts import read_parts
    >>> from core.size_input import EXAMPLE
    >>> from core.size_options import Rosettes
    >>> parts = read_parts("outer-sleeve", json.loads(EXAMPLE))
    >>> found = search_block(parts, hole_plan(parts, SizeOptions(rosettes=Rosettes(2, None, None))))
    >>> [row["mark"]["text"] for row in found["stations"]], found["verdict"]
    (['3-13/32 in', '1-1/4 in', '3-13/32 in', '1-1/4 in'], 'met')
    """
    found = plan.placement.as_dict(parts.metric)
    for row, (_, at) in zip(found["stations"], plan.places, strict=True):
        row["mark"] = mark(at, parts.metric)
        if parts.method == "inner-sleeve":
            del row["from_middle"]
    return {
        **found,
        "diameter": quantity(float(plan.hole.diameter), drill_text(plan.hole.diameter, parts.metric)),
        "measured_from": MEASURED_FROM[plan.origin],
        "text": [_words(line, parts) for line in found["text"]],
        "verdict": rosette_check(parts, plan).verdict,
    }


def rosette_check(parts: Parts, plan: HolePlan) -> Check:
    """Return whether the holes asked for keep their distances.

    Parameters
    ----------
    parts : Parts
        Lengths in inches.
    plan : HolePlan
        With its ``placement``: holes that were asked for.

    Returns
    -------
    Check
        "met" where every hole asked for has room.

    Source: least distance common practice, no source; spacing AISC 360 J2.3b, from memory.

    >>> import json
    >>> from core.methods.parts import read_parts
    >>> from core.size_input import EXAMPLE
    >>> from core.size_options import Rosettes
    >>> parts = read_parts("outer-sleeve", json.loads(EXAMPLE))
    >>> rosette_check(parts, hole_plan(parts, SizeOptions(rosettes=Rosettes(2, None, None)))).given
    'room for 2 of 2 on each tip line'
    """
    found, metric = plan.placement, parts.metric
    apart = f", {up(found.least_spacing, metric)['text']} from hole to hole" if found.asked > 1 else ""
    limit = f"{up(found.least_distance, metric)['text']} from centre to edge and stub end{apart}"
    return Check("rosettes", PRACTICE, f"room for {found.fits} of {found.asked} on each tip line", _words(limit, parts),
                 verdict(found.fits == found.asked), _words(" ".join(found.text(metric)), parts))  # fmt: skip


def mark(inches: float, metric: bool) -> dict[str, Any]:
    """Return a hole's place as marked off with a ruler: to the nearest 1/32 in or 1 mm.

    Parameters
    ----------
    inches : float
        Distance of the hole's centre, inches, >= 0.
    metric : bool
        Whether the text is in millimetres.

    Returns
    -------
    dict
        A quantity (`core.quantity.quantity`), its value not rounded.

    Source: common practice, no source.

    >>> mark(2.553, False)["text"]
    '2-9/16 in'
    """
    return quantity(inches, ruler_text(inches, metric, "near", None if metric else 1 / 32))
