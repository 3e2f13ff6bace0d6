"""Drill and saw card of one splice: what is set, drilled and cut, in the order of the shop."""

from __future__ import annotations

from typing import Any

from core.drill import hole_steps, stop_steps, surface_speeds
from core.hole_plan import FROM_CUT, FROM_TIP, FROM_TUBE_TIP, MEASURED_FROM, HolePlan, mark
from core.methods.inner_sleeve import SLEEVES
from core.methods.parts import Parts
from core.methods.split_sleeve import STOP_DRILL
from core.rules import DEFERENCE, PRACTICE, clause
from core.saw import USUAL_RUN, USUAL_RUN_METRIC, cut_order, saw_note, saw_setting, sleeve_batch
from core.size_options import SizeOptions
from core.sleeve import EndCut
from core.tube import plain_size

SPEED_SOURCE = "HSS cutting speeds from memory"
SLIT = ["Slit every sleeve full length on two opposite lines. Mark the halves that belong together.", "Deburr the slits."]
DEBURR = "Deburr inside and outside."
WORDS = {
    "outer-sleeve": ("Take the sleeve off the tube to drill. Drill the sleeve only, never the tube.",
                     "The sleeve does not reach past the stub end. There is no place for a hole."),
    "larger-tube": ("Take the new tube off the stubs to drill. Drill the new tube only, never the stub.",
                    "The new tube does not reach past the stub end. There is no place for a hole."),
    "inner-sleeve": ("Drill the tube and the replacement before the sleeve goes in. Never drill the sleeve.",
                     "The sleeve does not reach past the cut. There is no place for a hole."),
}  # fmt: skip
IN_THE_CAR = {"clamp": "Turn the line straight up in the vice. On the car, hold the drill square to the tube.", "slide": "Slide the sleeve in by hand."}
STEPS = {
    FROM_CUT: {**IN_THE_CAR, "mark": "Scribe two opposite lines along the tube. Mark the hole's centre on each."},
    FROM_TUBE_TIP: {**IN_THE_CAR, "mark": "Scribe a line along the tube from its tip. Mark the hole's centre on it."},
}
ON_STUBS = {"slide": "Slide the new tube over the stub by hand."}


def card(parts: Parts, options: SizeOptions, plan: HolePlan | None) -> dict[str, Any]:
    """Return the drill and saw card of one splice as JSON-ready data.

    Parameters
    ----------
    parts : Parts
        What is sawn and drilled; lengths in inches.
    options : SizeOptions
        The saw's stop, degrees from square, 0 to 75; where the block stands; how many.
    plan : HolePlan or None
        The rosette holes; None for a method without them.

    Returns
    -------
    dict
        ``numbers``, ``drill`` (hole, holes, stations, steps; None where nothing is drilled),
        ``saw``, ``cut_order``, ``count``, ``batch``, ``order``, ``assumptions``, ``sources``,
        ``notes``, ``warnings``, ``deference``.

    Source: `core.drill`, `core.saw`, `core.hole_plan`.

    >>> import json
    >>> from core.hole_plan import hole_plan
    >>> from core.methods.parts import read_parts
    >>> from core.size_input import EXAMPLE
    >>> parts, options = read_parts("outer-sleeve", json.loads(EXAMPLE)), SizeOptions()
    >>> made = card(parts, options, hole_plan(parts, options))
    >>> [(row["label"], row["value"]["text"]) for row in made["numbers"] if row["label"] in ("Blank", "Hole")]
    [('Blank', '8-1/8 in'), ('Hole', '15/32 in')]
    """
    metric = parts.metric
    run = float(options.block_distance) if options.block_distance else (USUAL_RUN_METRIC if metric else USUAL_RUN)
    saw = saw_setting(parts.cut, options.saw_stop, run, metric)
    saw = {**saw, "stop_deg": options.saw_stop, "stop_given": options.saw_given, "short": saw_note(saw, options.saw_stop, options.saw_given)}
    drill = _drill(parts, plan)
    count = options.count or (SLEEVES if parts.method == "inner-sleeve" else 1)
    cuts, batch = _cuts(parts)
    drilled = [one["text"] for one in drill["steps"]] if drill and drill["holes"] else []
    return {
        "numbers": _numbers(parts, saw, drill, count),
        "drill": drill,
        "saw": saw,
        "cut_order": cuts,
        "count": count,
        "batch": batch,
        # Stop holes go in first: the sleeve covers the crack.
        "order": [*drilled, *cuts] if parts.method == "split-sleeve" else [*cuts, *drilled],
        "assumptions": _assumptions(options, drill),
        "sources": [clause(key).as_dict() for key in (("rosette", "plug", "rosette-practice") if plan else ("split-sleeve",))],
        "notes": [f"Speeds: {SPEED_SOURCE}.", f"Drill steps, saw order and stand-off block: {PRACTICE}."],
        "warnings": [{"rank": rank, "text": text} for rank, text in _warnings(parts, drill)],
        "deference": DEFERENCE,
    }


def _drill(parts: Parts, plan: HolePlan | None) -> dict[str, Any] | None:
    metric, material = parts.metric, parts.outer.material
    if plan is None:
        if parts.damage != "crack":
            return None
        steps = stop_steps(parts.tube.material, metric)
        return {"hole": {"key": "stop", "diameter": steps[1]["diameter"], "source": clause("split-sleeve").label(),
                         "text": f"No. 40 ({STOP_DRILL} in), in the tube at each end of the crack."},
                "holes": 2, "measured_from": "", "stations": [], "steps": steps,
                "surface_speed_ft_min": list(surface_speeds(parts.tube.material))}  # fmt: skip
    words = STEPS.get(plan.origin) or (ON_STUBS if parts.method == "larger-tube" else None)
    steps = hole_steps(plan.hole.diameter, material, metric, words)
    final = next(one for one in steps if one["step"] == "final")
    name = FROM_TIP if plan.origin == FROM_TUBE_TIP else plan.origin
    return {
        "hole": {"key": plan.hole.key, "diameter": final["diameter"], "source": plan.hole.source, "text": plan.hole.text},
        # Both ends of the part, or the stub and the replacement over one inner sleeve.
        "holes": 2 * len(plan.places),
        "measured_from": MEASURED_FROM[plan.origin],
        "stations": [{"angle_deg": angle, name: mark(at, metric)} for angle, at in plan.places],
        "steps": steps,
        "surface_speed_ft_min": list(surface_speeds(material)),
    }


def _cuts(parts: Parts) -> tuple[list[str], list[str]]:
    """Return the cuts of one part in order, and the set-up order for several."""
    length = parts.blank["text"]
    if parts.method == "inner-sleeve":
        return [
            f"Cut the sleeves square, {length}. Deburr inside and outside.",
            "Scribe a line along the stub and the replacement, the two in line.",
            "Cut the stub on the slant, its tip on the line.",
            "Cut the replacement parallel to it, its tip half a turn from the line.",
            DEBURR,
        ], sleeve_batch(EndCut("square", 0.0), length)
    cuts, batch = cut_order(parts.cut), sleeve_batch(parts.cut, length)
    return ([*cuts, *SLIT], [*batch, *SLIT]) if parts.method == "split-sleeve" else (cuts, batch)


def _numbers(parts: Parts, saw: dict[str, Any], drill: dict[str, Any] | None, count: int) -> list[dict[str, Any]]:
    rows: list[tuple[str, Any, str]] = [
        ("Blank", parts.blank, f"square both ends, {plain_size(parts.sleeve)}"),
        ("Saw setting", saw["setting"], saw["note"]),
    ]
    if drill:
        rows.append(("Hole", drill["hole"]["diameter"], drill["hole"]["source"]))
        for at in _distances(drill):
            name = "cut" if FROM_CUT in drill["stations"][0] else "tip"
            rows.append((f"Hole centre from the {name}", at, drill["measured_from"].partition(", ")[2]))
        if count > 1 and drill["stations"]:
            rows.append(("Holes in all", str(count * drill["holes"]), f"{count} sleeves, {drill['holes']} each"))
        rows += [(f"{one['step'].capitalize()} speed", one["rpm"], one["diameter"]["text"]) for one in drill["steps"] if "rpm" in one]
    return [{"label": label, "value": value, "note": note} for label, value, note in rows]


def _distances(drill: dict[str, Any]) -> list[dict[str, Any]]:
    """Return each distance once: the tip lines repeat one another."""
    found: dict[str, dict[str, Any]] = {}
    for one in drill["stations"]:
        at = one.get(FROM_TIP) or one[FROM_CUT]
        found.setdefault(at["text"], at)
    return list(found.values())


def _assumptions(options: SizeOptions, drill: dict[str, Any] | None) -> list[str]:
    notes = []
    if not options.saw_given:
        notes.append(f"The saw is taken to stop at {options.saw_stop:g}° from square (common practice, no source).")
    if drill:
        notes.append("Speeds are for high-speed steel drills with cutting oil. Slow down if the drill squeals or turns blue.")
        notes.append("Speeds are rounded down to tens. Take the next slower step of the machine.")
        if drill["stations"]:
            notes += ["A countersink runs at a third of the drill's speed (common practice, no source).",
                      "A centre drill is taken as 3/16 in across its body."]  # fmt: skip
    return notes


def _warnings(parts: Parts, drill: dict[str, Any] | None) -> list[tuple[int, str]]:
    clamp = (1, "Clamp the work. Wear eye protection. No gloves or loose sleeves at a turning drill or saw.")
    if parts.method not in WORDS:
        return [clamp]
    only, nowhere = WORDS[parts.method]
    warnings = [(1, only), clamp]
    if not drill["holes"]:
        warnings.append((2, nowhere))
    if parts.outer.material.steel_class == "unknown":
        drilled = "tube" if parts.method == "inner-sleeve" else parts.part
        warnings.append((3, f"The {drilled}'s steel is not known: the slower speeds of 4130 are used."))
    return warnings
