"""Saw setting for a mitred end, the stand-off block past the saw's stop, and the order of cuts.

Lengths in inches, angles in degrees.
"""

from __future__ import annotations

import math
from typing import Any

from core.quantity import quantity, round_to, ruler_text
from core.sleeve import EndCut

STEEPEST_BLOCK = 45.0
# Degrees from square, and where the block stands; common practice, no source.
USUAL_STOP, USUAL_RUN, USUAL_RUN_METRIC = 45.0, 12.0, 300 / 25.4
ROUNDING = 1e-9
WRAP = "Mark the end with a wrap template and cut to the line."


def stand_off(angle_deg: float, run: float) -> float:
    """Return how far a block stands the tube off the saw's fence, inches.

    rise = run tan(angle)

    Parameters
    ----------
    angle_deg : float
        Angle to make up between tube and fence, degrees, 0 <= angle < 90.
    run : float
        Along the fence from where the tube touches it to the block's near corner, inches, > 0.

    Source: hand; rise over run of the tube's side against the fence.

    >>> round(stand_off(15, 12), 4)
    3.2154
    """
    return run * math.tan(math.radians(angle_deg))


def saw_setting(cut: EndCut, stop_deg: float, run: float, metric: bool = False) -> dict[str, Any]:
    """Return how to set the saw for a mitre, and the stand-off block past its stop.

    Parameters
    ----------
    cut : EndCut
    stop_deg : float
        Where the saw's swing stops, degrees from square, 0 to 75.
    run : float
        Distance for the block along the fence, inches, > 0.
    metric : bool

    Returns
    -------
    dict
        ``mitre_deg``, ``to_axis_deg``, ``saw_deg``, ``setting``, ``note``, ``lines``, and
        ``block`` (angle_deg, run, rise, mitre_made_deg) or None.

    Source: common practice, no source; block geometry by hand.

    >>> saw_setting(EndCut("pointed", 60), 45, 12)["block"]["rise"]["text"]
    '3-7/32 in'
    """
    mitre = 0.0 if cut.end == "square" else cut.mitre_deg
    made_up = mitre - stop_deg
    setting = {"mitre_deg": mitre, "to_axis_deg": 90.0 - mitre, "saw_deg": min(mitre, stop_deg), "block": None}
    step = 1 / 25.4 if metric else 1 / 32
    # A rise that no ruler shows needs no block.
    if made_up <= ROUNDING or (made_up < 1 and round_to(stand_off(made_up, run), step, "near") == 0):
        scale = "square" if mitre == 0 else f"{min(mitre, stop_deg):g}° from square"
        return {**setting, "setting": scale, "note": "on the saw's own scale",
                "lines": [f"Set the saw to {scale}.", "Cut a scrap piece first. Check it with a protractor."]}  # fmt: skip
    if made_up > STEEPEST_BLOCK + ROUNDING:
        return {**setting, "setting": "wrap template", "note": f"{made_up:g}° past the saw's stop is too much for a block", "lines": [WRAP]}
    rise = stand_off(made_up, run)
    text, distance = (ruler_text(value, metric, "near", None if metric else step) for value in (rise, run))
    made = stop_deg + math.degrees(math.atan(round_to(rise, step, "near") / run))
    return {
        **setting,
        "setting": f"{stop_deg:g}° and a {made_up:g}° block",
        "note": f"the saw stops at {stop_deg:g}°",
        "block": {"angle_deg": made_up, "run": quantity(run, distance), "rise": quantity(rise, text), "mitre_made_deg": made},
        "lines": [
            f"Set the saw to {stop_deg:g}° from square, its stop.",
            f"Stand the tube {text} off the fence, {distance} along the fence from where it touches.",
            "Stand it off the way that makes the cut longer.",
            "Clamp tube and block. The tube must not roll or creep.",
            f"Cut a scrap piece first. Check {90.0 - mitre:g}° to the axis with a protractor.",
            f"No room for a block? {WRAP}",
        ],
    }


def saw_note(setting: dict[str, Any], stop_deg: float, given: bool) -> str:
    """Return one sentence for a saw that stops short of the mitre, "" for one that reaches it.

    Parameters
    ----------
    setting : dict
        Of `saw_setting`.
    stop_deg : float
        Where the saw stops, degrees from square.
    given : bool
        Whether a person said so; else it is the usual stop.

    Source: `saw_setting`; usual stop common practice, no source.

    >>> saw_note(saw_setting(EndCut("pointed", 60), 45, 12), 45, True)
    'A saw that stops at 45° needs a stand-off block for the last 15°.'
    """
    if setting["saw_deg"] == setting["mitre_deg"] or not (setting["block"] or setting["lines"] == [WRAP]):
        return ""
    short = setting["mitre_deg"] - stop_deg
    need = f"needs a stand-off block for the last {short:g}°." if setting["block"] else f"is {short:g}° short. {WRAP}"
    return f"A saw that stops at {stop_deg:g}° {need}" + ("" if given else " Give your saw's largest angle.")


def cut_order(cut: EndCut) -> list[str]:
    """Return the cuts of one end in order, one action a line.

    Parameters
    ----------
    cut : EndCut

    Returns
    -------
    list of str

    Source: common practice, no source; fishmouth crotch AC 43.13-1B (Change 1, 2001) 4-97.

    >>> cut_order(EndCut("square", 0.0))
    ['Cut square.', 'Deburr inside and outside.']
    """
    deburr = "Deburr inside and outside."
    return {
        "pointed": [
            "Scribe the two tip lines full length, opposite each other.",
            "Turn one tip line straight up. Start the blade on the tips, at the end of the blank.",
            "Cut the first mitre.",
            "Roll the tube half a turn. Check the tip line with a square.",
            "Cut the second mitre, the mirror of the first. Leave the tips on the lines.",
            deburr,
        ],
        "fishmouth": [
            "Scribe the two tip lines full length, opposite each other.",
            "Mark the crotch on both sides, a quarter turn from the tip lines.",
            "Turn a crotch mark straight up. Use a band saw or a hacksaw: a chop saw runs past the crotch.",
            "Cut the first mitre from one tip. Stop before the crotch mark.",
            "Roll the tube half a turn. Check the lines with a square.",
            "Cut the second mitre from the other tip. Stop before the crotch mark.",
            "Break the notch out. File the crotch round with a small round file.",
            deburr,
        ],
        "scarf": [
            "Scribe the two tip lines full length, opposite each other. One end's tip is on each.",
            "Turn the tip line to the side where the blade leaves it longest.",
            "Cut the mitre.",
            deburr,
        ],
        "square": ["Cut square.", deburr],
    }[cut.end]


def sleeve_batch(cut: EndCut, blank: str) -> list[str]:
    """Return the set-up order for several sleeves: each saw setting is made once.

    Parameters
    ----------
    cut : EndCut
    blank : str
        Blank length as read off the ruler.

    Source: common practice, no source.

    >>> len(sleeve_batch(EndCut("scarf", 60), "11-3/8 in"))
    6
    """
    first = [f"Saw square. Set the length stop to {blank}.", "Cut all the blanks square.", "Deburr every blank."]
    if cut.end == "square":
        return first
    lines = [*first, "Scribe the tip lines on every blank."]
    if cut.end == "scarf":
        return [*lines, "Set the mitre once. Cut one end of every blank.",
                "Turn each blank end for end without rolling it. Cut the other end parallel."]  # fmt: skip
    return [
        *lines,
        "Set the mitre and an end stop once. Cut mitre A on one end of every blank.",
        "Turn each blank end for end. Cut mitre A on the other end.",
        "Roll each blank half a turn. Cut mitre B on that end.",
        "Turn each blank end for end. Cut mitre B on the first end.",
    ]
