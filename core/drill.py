"""Drill steps for a hole in tube, each with its tool, size and speed.

Diameters in inches, surface speeds in feet a minute, spindle speeds in rpm.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

from core.materials import Material
from core.methods.split_sleeve import STOP_DRILL
from core.problems import Problem
from core.quantity import fine_text, inch_fraction_text, quantity, round_to

SURFACE_SPEEDS = {"low-carbon": (80.0, 110.0), "4130": (60.0, 80.0)}
SPEED_SOURCE = "HSS cutting speeds from memory"
PILOT_SMALL, PILOT_LARGE, PILOT_CHANGE = Fraction(1, 8), Fraction(3, 16), Fraction(3, 8)
CENTRE_BODY = Fraction(3, 16)
COUNTERSINK_SHARE = 1 / 3
NO_40 = Fraction(str(STOP_DRILL))
WORDS = {
    "mark": "Scribe the tip line. Mark the hole's centre on it.",
    "clamp": "Turn the tip line straight up in the vice. Check it with a square.",
    "slide": "Slide the sleeve over the tube by hand.",
}


def rpm(surface_feet: float, diameter: float) -> float:
    """Return the spindle speed of a cutter, turns a minute.

    n = 12 SFM / (pi d), shops write 3.82 SFM / d

    Parameters
    ----------
    surface_feet : float
        Cutting speed in feet a minute, > 0.
    diameter : float
        Cutter diameter, inches, > 0.

    Raises
    ------
    Problem
        ``bad-length`` for a diameter, ``out-of-range`` for a speed not over zero.

    Source: hand: a turn runs pi d inches of rim, 12 inches a foot; 12/pi = 3.8197.

    >>> round(rpm(100, 0.5))
    764
    """
    if not (math.isfinite(diameter) and diameter > 0):
        raise Problem("bad-length", "A cutter needs a diameter over zero.", given=diameter, allowed="a diameter over zero, inches.",
                      next_step="Check the hole's diameter.", field="diameter")  # fmt: skip
    if not (math.isfinite(surface_feet) and surface_feet > 0):
        raise Problem("out-of-range", "A cutting speed must be over zero.", given=surface_feet, allowed="feet a minute over zero.",
                      next_step="Check the cutting speed.", field="surface_feet")  # fmt: skip
    return 12 * surface_feet / (math.pi * diameter)


def surface_speeds(material: Material) -> tuple[float, float]:
    """Return the slow and fast HSS cutting speed for a steel, feet a minute; the slower steel's if unknown.

    Parameters
    ----------
    material : Material

    Returns
    -------
    tuple of float
        Slow, fast.

    Source: from memory: 80 to 110 low-carbon, 60 to 80 4130.

    >>> from core.materials import material
    >>> surface_speeds(material("dom-1020")), surface_speeds(material("unknown"))
    ((80.0, 110.0), (60.0, 80.0))
    """
    return SURFACE_SPEEDS.get(material.steel_class, SURFACE_SPEEDS["4130"])


def rpm_range(material: Material, diameter: float, share: float = 1.0) -> tuple[int, int]:
    """Return the slow and fast speed of a cutter, turns a minute, both rounded down to tens.

    Parameters
    ----------
    material : Material
    diameter : float
        Cutter diameter, inches, > 0.
    share : float
        Part of the drilling speed, 0 < share <= 1; a countersink runs at a third
        (common practice, no source).

    Source: `rpm`; speeds from memory.

    >>> from core.materials import material
    >>> rpm_range(material("dom-1020"), 15 / 32)
    (650, 890)
    """
    slow, fast = (share * rpm(speed, diameter) for speed in surface_speeds(material))
    return int(round_to(slow, 10, "down")), int(round_to(fast, 10, "down"))


def pilot_for(diameter: Fraction) -> Fraction | None:
    """Return the pilot drill for a hole, inches; None where the hole is no larger than it.

    1/8 up to 3/8, 3/16 above: about the web of the last drill.
    Source: common practice, no source.

    >>> pilot_for(Fraction(15, 32)), pilot_for(Fraction(1, 8))
    (Fraction(3, 16), None)
    """
    pilot = PILOT_SMALL if diameter <= PILOT_CHANGE else PILOT_LARGE
    return pilot if pilot < diameter else None


def cutter(step: str, size: Fraction, text: str, material: Material, metric: bool, share: float = 1.0) -> dict[str, Any]:
    """Return one step with a turning cutter: what to do, its size, its speeds.

    Parameters
    ----------
    step, text : str
    size : Fraction
        Cutter diameter, inches, > 0.
    material : Material
        Of the drilled part.
    metric : bool
    share : float
        As in `rpm_range`.

    Source: `rpm_range`.

    >>> from core.materials import material
    >>> cutter("final", Fraction(15, 32), "Drill.", material("dom-1020"), False)["rpm"]
    '650 to 890 rpm'
    """
    slow, fast = rpm_range(material, float(size), share)
    return {"step": step, "text": text, "diameter": quantity(float(size), drill_text(size, metric)),
            "rpm_low": slow, "rpm_high": fast, "rpm": f"{slow} to {fast} rpm"}  # fmt: skip


def stop_steps(material: Material, metric: bool = False) -> list[dict[str, Any]]:
    """Return the steps for the stop holes at the ends of a crack.

    Parameters
    ----------
    material : Material
        Of the damaged tube.
    metric : bool

    Source: No. 40 hole AC 43.13-1B 4-92; steps common practice, no source.

    >>> from core.materials import material
    >>> [one["step"] for one in stop_steps(material("dom-1020"))]
    ['mark', 'final', 'deburr']
    """
    return [
        {"step": "mark", "text": "Find both ends of the crack. Centre punch each one."},
        cutter("final", NO_40, "Drill No. 40 through one wall at each punch mark.", material, metric),
        {"step": "deburr", "text": "Take the burr off outside. Look again for crack past the holes."},
    ]


def hole_steps(diameter: Fraction, material: Material, metric: bool = False, words: dict[str, str] | None = None) -> list[dict[str, Any]]:
    """Return the steps for one rosette hole in order, each with its tool, size and speed.

    Parameters
    ----------
    diameter : Fraction
        Finished hole, inches, > 0.
    material : Material
        Of the drilled part.
    metric : bool
        Whether sizes read in millimetres.
    words : dict, optional
        Other lines than `WORDS`, for another part than an outer sleeve.

    Returns
    -------
    list of dict
        ``step``, ``text``, and for a cutter ``diameter``, ``rpm_low``, ``rpm_high``, ``rpm``.

    Source: common practice, no source; speeds from memory.

    >>> from core.materials import material
    >>> [one["step"] for one in hole_steps(Fraction(15, 32), material("dom-1020"))]
    ['mark', 'clamp', 'centre drill', 'pilot', 'final', 'countersink', 'deburr', 'slide']
    """
    pilot, said = pilot_for(diameter), {**WORDS, **(words or {})}

    def turn(step: str, size: Fraction, text: str, share: float = 1.0) -> dict[str, Any]:
        return cutter(step, size, text, material, metric, share)

    steps = [
        {"step": "mark", "text": said["mark"]},
        {"step": "clamp", "text": said["clamp"]},
        turn("centre drill", min(CENTRE_BODY, diameter), "Centre drill on the mark. Keep the cone smaller than the hole."),
    ]
    if pilot:
        steps.append(turn("pilot", pilot, f"Pilot {drill_text(pilot, metric)} through one wall. Without it the last drill wanders and leaves a three-lobed hole."))
    steps += [
        turn("final", diameter, f"Drill {drill_text(diameter, metric)} through one wall. Ease off as it breaks through."),
        turn("countersink", diameter, "Countersink the outside lightly.", COUNTERSINK_SHARE),
        {"step": "deburr", "text": "Deburr the inside. A burr there stops the sleeve from sliding."},
        {"step": "slide", "text": f"Wipe out the chips. {said['slide']}"},
    ]
    return steps


def drill_text(diameter: Fraction, metric: bool) -> str:
    """Return a drill's size as stamped: a 1/64 fraction of an inch, or millimetres to a hundredth.

    Parameters
    ----------
    diameter : Fraction
        Inches, > 0.
    metric : bool
        Whether the drill is stamped in millimetres.

    Returns
    -------
    str

    Source: common practice, no source.

    >>> drill_text(Fraction(15, 32), False), drill_text(Fraction(15, 32), True)
    ('15/32 in', '11.91 mm')
    """
    return fine_text(float(diameter), True) if metric else inch_fraction_text(diameter) or fine_text(float(diameter), False)
