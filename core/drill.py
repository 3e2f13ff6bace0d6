"""Drill and saw card for one outer sleeve: hole steps with speeds, saw setting, order of cuts.

Diameters in inches, surface speeds in feet a minute, spindle speeds in rpm.
"""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

from core.materials import Material
from core.methods.outer_sleeve import blank_length, made_length
from core.problems import Problem, collect
from core.quantity import fine_text, inch_fraction_text, quantity, round_to, ruler_text
from core.rosette import hole_sizes, stations
from core.rules import DEFERENCE, PRACTICE, clause
from core.saw import cut_order, saw_setting, sleeve_batch
from core.size_input import Reader, SizeJob, read_size_job
from core.sleeve import STEEPEST_MITRE
from core.tube import one_of, plain_size

HOLES = ("circular", "shop", "structural")
OWN = ("method", "hole", "saw_stop_deg", "block_distance")
SURFACE_SPEEDS = {"low-carbon": (80.0, 110.0), "4130": (60.0, 80.0)}
SPEED_SOURCE = "HSS cutting speeds from memory"
PILOT_SMALL, PILOT_LARGE, PILOT_CHANGE = Fraction(1, 8), Fraction(3, 16), Fraction(3, 8)
CENTRE_BODY = Fraction(3, 16)
COUNTERSINK_SHARE = 1 / 3
LONGEST_BLOCK = 48.0


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


def hole_steps(diameter: Fraction, material: Material, metric: bool = False) -> list[dict[str, Any]]:
    """Return the steps for one rosette hole in order, each with its tool, size and speed.

    Parameters
    ----------
    diameter : Fraction
        Finished hole, inches, > 0.
    material : Material
        Of the sleeve.
    metric : bool
        Whether sizes read in millimetres.

    Returns
    -------
    list of dict
        ``step``, ``text``, and for a cutter ``diameter``, ``rpm_low``, ``rpm_high``, ``rpm``.

    Source: common practice, no source; speeds from memory.

    >>> from core.materials import material
    >>> [one["step"] for one in hole_steps(Fraction(15, 32), material("dom-1020"))]
    ['mark', 'clamp', 'centre drill', 'pilot', 'final', 'countersink', 'deburr', 'slide']
    """
    pilot = pilot_for(diameter)

    def cutter(step: str, size: Fraction, text: str, share: float = 1.0) -> dict[str, Any]:
        slow, fast = rpm_range(material, float(size), share)
        return {"step": step, "text": text, "diameter": quantity(float(size), drill_text(size, metric)),
                "rpm_low": slow, "rpm_high": fast, "rpm": f"{slow} to {fast} rpm"}  # fmt: skip

    steps = [
        {"step": "mark", "text": "Scribe the tip line. Mark the hole's centre on it."},
        {"step": "clamp", "text": "Turn the tip line straight up in the vice. Check it with a square."},
        cutter("centre drill", min(CENTRE_BODY, diameter), "Centre drill on the mark. Keep the cone smaller than the hole."),
    ]
    if pilot:
        steps.append(cutter("pilot", pilot, f"Pilot {drill_text(pilot, metric)} through one wall. Without it the last drill wanders and leaves a three-lobed hole."))
    steps += [
        cutter("final", diameter, f"Drill {drill_text(diameter, metric)} through one wall. Ease off as it breaks through."),
        cutter("countersink", diameter, "Countersink the outside lightly.", COUNTERSINK_SHARE),
        {"step": "deburr", "text": "Deburr the inside. A burr there stops the sleeve from sliding."},
        {"step": "slide", "text": "Wipe out the chips. Slide the sleeve over the tube by hand."},
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


def card(data: Any) -> dict[str, Any]:
    """Return the drill and saw card of one outer sleeve as JSON-ready data.

    Parameters
    ----------
    data : mapping
        As `core.size_input.read_size_job`, with ``method`` ("outer-sleeve" or absent) and
        optionally ``hole`` ("circular", "shop" or "structural"), ``saw_stop_deg`` (0 to 75,
        default 45) and ``block_distance`` (length, default 12 in or 300 mm).

    Returns
    -------
    dict
        ``numbers``, ``drill`` (hole, stations, steps), ``saw``, ``cut_order``, ``batch``,
        ``order``, ``assumptions``, ``sources``, ``warnings``, ``deference``.

    Raises
    ------
    Problem
        The first problem found, with all the others behind it.

    Source: `hole_steps`, `core.saw`.

    >>> import json
    >>> from core.size_input import EXAMPLE
    >>> card(json.loads(EXAMPLE))["saw"]["block"]["angle_deg"]
    15.0
    """
    problems: list[Problem] = []
    own = {name: data[name] for name in OWN if name in data} if isinstance(data, dict) else {}
    reader = Reader(own, problems)
    reader.read("method", lambda v: None if v is None else one_of("method for this card", v, ("outer-sleeve",)))
    key = reader.read("hole", lambda v: one_of("hole size", "circular" if v is None else v, HOLES))
    stop = reader.read("saw_stop_deg", _saw_stop)
    job = None
    try:
        job = read_size_job({name: value for name, value in data.items() if name not in OWN} if isinstance(data, dict) else data)
    except Problem as problem:
        problems += [problem, *problem.others]
        problem.others = ()
    metric = bool(job and job.metric)
    run = reader.optional("block_distance", "mm" if metric else "in", LONGEST_BLOCK, allow_zero=False)
    collect(problems)
    distance = float(run) if run else (300 / 25.4 if metric else 12.0)
    return _card(job, key, stop, distance)


def _saw_stop(value: Any) -> float:
    if value is None:
        return 45.0
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value <= STEEPEST_MITRE:
        raise Problem("bad-angle", "That is not where a saw's swing stops.", given=value,
                      allowed=f"a number of degrees from a square cut, 0 to {STEEPEST_MITRE:g}.",
                      next_step="Read the last mark on the saw's scale; most stop at 45 or 60.")  # fmt: skip
    return float(value)


def _station(from_tip: float, metric: bool) -> dict[str, Any]:
    return quantity(from_tip, ruler_text(from_tip, metric, "near", None if metric else 1 / 32))


def _card(job: SizeJob, key: str, stop: float, distance: float) -> dict[str, Any]:
    metric, material = job.metric, job.sleeve.material
    hole = next(size for size in hole_sizes(job.tube.od.inches, job.sleeve.od.inches, job.sleeve.wall.inches) if size.key == key)
    made = made_length(job)
    # A sleeve already cut is drilled at its own length; a new one is sawn from the blank.
    sawn = made if job.length else blank_length(job)
    places = stations(made, job.Ds, job.g, job.cut)
    steps = hole_steps(hole.diameter, material, metric)
    saw = saw_setting(job.cut, stop, distance, metric)
    blank = quantity(sawn, job.length.typed if job.length else ruler_text(sawn, metric, "up"))
    final = next(one for one in steps if one["step"] == "final")
    numbers = [
        {"label": "Blank", "value": blank, "note": f"square both ends, {plain_size(job.sleeve)}"},
        {"label": "Saw setting", "value": saw["setting"], "note": saw["note"]},
        {"label": "Hole", "value": final["diameter"], "note": hole.source},
        *({"label": f"{one['step'].capitalize()} speed", "value": one["rpm"], "note": one["diameter"]["text"]} for one in steps if "rpm" in one),
    ]
    if places:
        numbers.insert(3, {"label": "Hole centre from the tip", "value": _station(places[0].from_tip, metric), "note": "along the tip line"})
    warnings = [(1, "Take the sleeve off the tube to drill. Drill the sleeve only, never the tube."),
                (1, "Clamp the sleeve. Wear eye protection. No gloves or loose sleeves at a turning drill or saw.")]  # fmt: skip
    if not places:
        warnings.append((2, "The sleeve does not reach past the stub end. There is no place for a hole."))
    if material.steel_class == "unknown":
        warnings.append((3, "The sleeve's steel is not known: the slower speeds of 4130 are used."))
    return {
        "numbers": numbers,
        "drill": {
            "hole": {"key": hole.key, "diameter": final["diameter"], "source": hole.source, "text": hole.text},
            "holes": 2 * len(places),
            "stations": [{"angle_deg": place.angle_deg, "from_tip": _station(place.from_tip, metric)} for place in places],
            "steps": steps,
            "surface_speed_ft_min": list(surface_speeds(material)),
        },
        "saw": saw,
        "cut_order": cut_order(job.cut),
        "batch": sleeve_batch(job.cut, blank["text"]),
        "order": [*cut_order(job.cut), *(one["text"] for one in steps if places)],
        "assumptions": [
            "Speeds are for high-speed steel drills with cutting oil. Slow down if the drill squeals or turns blue.",
            "Speeds are rounded down to tens. Take the next slower step of the machine.",
            "A countersink runs at a third of the drill's speed (common practice, no source).",
            "A centre drill is taken as 3/16 in across its body.",
        ],
        "sources": [clause(source).as_dict() for source in ("rosette", "plug", "rosette-practice")],
        "notes": [f"Speeds: {SPEED_SOURCE}.", f"Drill steps, saw order and stand-off block: {PRACTICE}."],
        "warnings": [{"rank": rank, "text": text} for rank, text in warnings],
        "deference": DEFERENCE,
    }
