"""What the plan puts into the wording: sizes as text, limits as exact inches."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

from core.gauges import next_thicker
from core.problems import Problem, collect
from core.quantity import fine_text, ruler_text
from core.tube import one_of, unknown_members

AS_SIZED = "as sized"
TEXTS = ("tube", "sleeve", "blank_length", "mitre", "hole_diameter", "holes", "material")
FIGURES = ("od", "wall", "rule_length", "patch_wall")
END_SHAPES = ("fishmouth", "pointed", "scarf", "square")
WORDS = {
    "material_class": ("low-carbon", "4130", "unknown"),
    "process": ("gtaw", "gmaw", "smaw"),
    "end_shape": END_SHAPES,
}
LONGEST_WORDS = 60
LARGEST_INCHES = 240
# The wall from which a preheat is talked about, and below which it is left out (from memory).
PREHEAT_WALL = Fraction(120, 1000)

SHADES = {
    "gtaw": "TIG at least 8 under 150 A, 10 above",
    "gmaw": "MIG at least 7 under 60 A, 10 above",
    "smaw": "stick at least 8 to 160 A, 10 above",
}
NO_PREHEAT = "No preheat. Check the tube: dry, 60 to 70 °F (16 to 21 °C) or warmer."


def read_context(context: dict[str, Any]) -> tuple[dict[str, str], dict[str, Fraction | None]]:
    """Return the words for the placeholders and the figures for the limits.

    Parameters
    ----------
    context : dict
        Every member optional, None counts as missing. Texts of up to 60 characters: ``tube``,
        ``sleeve``, ``blank_length``, ``mitre``, ``hole_diameter``, ``holes``, ``material``.
        Inches, over 0 to 240: ``od`` (D of the damaged tube), ``wall``, ``rule_length``,
        ``patch_wall``. Words: ``material_class`` (low-carbon, 4130, unknown), ``process``
        (welding: gtaw, gmaw, smaw), ``end_shape`` (fishmouth, pointed, scarf, square).
        ``sleeves``: 1 or 2. ``metric``: whether lengths are worded in millimetres.

    Returns
    -------
    words : dict
        One text for each placeholder; "as sized" where the plan has none.
    figures : dict
        overlap 1.5 D, tenth_od D/10, quarter_round pi D/4, short_stub 2.5 D, long_stub 4.5 D,
        od, wall, rule_length, patch_wall (where missing, the next tubing gauge over the wall);
        exact inches, None where unknown.

    Raises
    ------
    Problem
        ``unknown-member``, ``bad-choice``, ``bad-text`` or ``out-of-range``, collected.

    Notes
    -----
    Source: AC 43.13-1B 4-94 and 4-97 (read), 4-96 (from memory).

    >>> words, figures = read_context({"od": 1.625})
    >>> words["overlap"], words["mitre"], figures["overlap"]
    ('2-7/16 in', 'as sized', Fraction(39, 16))
    """
    problems: list[Problem] = []
    if not isinstance(context, dict):
        raise Problem("bad-context", "The plan's sizes must be an object.", given=context,
                      allowed='an object such as {"od": 1.625}.', next_step="Give the sizes by name.")  # fmt: skip
    unknown_members(context, {*TEXTS, *FIGURES, *WORDS, "sleeves", "metric"}, problems)
    given = {name: value for name, value in context.items() if value is not None}
    words = {name: _text(name, given.get(name, AS_SIZED), problems) for name in TEXTS}
    figures: dict[str, Fraction | None] = {
        name: _figure(name, given[name], problems) if name in given else None for name in FIGURES
    }
    for name, allowed in WORDS.items():
        try:
            one_of(name.replace("_", " "), given.get(name, allowed[0]), allowed)
        except Problem as problem:
            problems.append(problem.at(name))
    if given.get("sleeves", 2) not in (1, 2):
        problems.append(Problem("bad-choice", "A splice here has one sleeve or two.", given=given["sleeves"],
                                allowed="1 or 2.", next_step="Give 1 or 2.", field="sleeves"))  # fmt: skip
    collect(problems)
    od = figures["od"]
    for name, factor in (("overlap", Fraction(3, 2)), ("tenth_od", Fraction(1, 10)), ("short_stub", Fraction(5, 2)),
                         ("long_stub", Fraction(9, 2)), ("quarter_round", Fraction(math.pi / 4))):  # fmt: skip
        figures[name] = None if od is None else od * factor
    if figures["patch_wall"] is None and figures["wall"] is not None:
        figures["patch_wall"] = next_thicker(float(figures["wall"]))
    metric = bool(given.get("metric"))
    for name in ("overlap", "rule_length", "short_stub", "long_stub"):
        words[name] = AS_SIZED if figures[name] is None else ruler_text(float(figures[name]), metric, "up")
    for name in ("tenth_od", "quarter_round", "od"):
        words[name] = AS_SIZED if figures[name] is None else fine_text(float(figures[name]), metric, "down")
    words["end_shape"] = given.get("end_shape", AS_SIZED)
    words["shade"] = SHADES.get(given.get("process"), "TIG 8, MIG 10, stick 10 at least; see the caution")
    words["preheat"] = _preheat(given.get("material_class"), figures["wall"])
    return words, figures


def _preheat(steel: str | None, wall: Fraction | None) -> str:
    if steel == "low-carbon":
        return "Check the tube: dry, 60 °F (16 °C) or warmer, out of the wind."
    if steel == "4130" and wall is not None:
        thick = "4130, .120 in wall or more: ask the qualified welder about a 300 to 400 °F preheat."
        return NO_PREHEAT if wall < PREHEAT_WALL else thick
    return "4130 or not known: no preheat under .120 in wall; tube dry, 60 to 70 °F or warmer."


def _text(name: str, value: object, problems: list[Problem]) -> str:
    text = " ".join(value.split()) if isinstance(value, str) else ""
    if text and len(text) <= LONGEST_WORDS:
        return text
    problems.append(Problem("bad-text", "That wording for the checklist cannot be used.", given=value,
                            allowed=f"text of 1 to {LONGEST_WORDS} characters.", next_step="Shorten it or leave it out.",
                            field=name))  # fmt: skip
    return AS_SIZED


def _figure(name: str, value: object, problems: list[Problem]) -> Fraction | None:
    is_number = isinstance(value, int | float | Fraction) and not isinstance(value, bool)
    if is_number and 0 < value <= LARGEST_INCHES:
        # A float such as 1.625 or 2.4 stands for a short decimal; its last bits must not move a limit.
        return Fraction(value).limit_denominator(10**6)
    problems.append(Problem("out-of-range", "That length for the checklist cannot be used.", given=value,
                            allowed=f"a number of inches over 0, up to {LARGEST_INCHES}.",
                            next_step="Give inches as a number.", field=name))  # fmt: skip
    return None
