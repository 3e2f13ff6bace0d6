"""The strength comparison of a sized splice, from the same JSON as the sizing."""

from __future__ import annotations

from typing import Any

from core.fillers import FILLERS, filler
from core.lengths import read_length
from core.problems import Problem
from core.sleeve import read_end_cut
from core.strength import SpliceCase, compare
from core.tube import one_of, read_tube, unknown_members

SPLICES = ("outer-sleeve", "inner-sleeve", "larger-tube")
ROSETTES = ("circular", "shop", "structural", "none")
LARGEST_LEG = 0.5


def strength_block(method: str, data: dict[str, Any], options: Any, sized: dict[str, Any]) -> dict[str, Any]:
    """Return the strength comparison of a splice as JSON-ready data.

    Parameters
    ----------
    method : str
        "outer-sleeve", "inner-sleeve" or "larger-tube".
    data : dict
        The sizing input that `sized` was made from.
    options : dict or None
        ``fillet_leg`` (text length; default: the thinner wall at the weld), ``filler`` (key of
        `core.fillers.FILLERS`, default er70s-2), ``rosette`` (which of the sizes by source is
        drilled: circular, shop, structural or none; default circular; holes that were
        searched for count as they are).
    sized : dict
        The result of the method's ``size``.

    Raises
    ------
    Problem

    Source: `core.strength`; comparisons only.
    """
    options = {} if options is None else options
    if not isinstance(options, dict):
        raise Problem("bad-body", "The strength options must be an object.", given=options,
                      allowed="an object with fillet_leg, filler, rosette.", next_step="Leave it out for the usual ones.", field="strength")  # fmt: skip
    problems: list[Problem] = []
    unknown_members(options, {"fillet_leg", "filler", "rosette"}, problems)
    for problem in problems:
        raise problem.at("strength")
    unit = data.get("units") or "in"
    tube, sleeve = (read_tube(data[name], default_unit=unit) for name in ("tube", "sleeve"))
    try:
        choice = one_of("rosette size", options.get("rosette", "circular"), ROSETTES)
        weld = filler(options.get("filler", next(iter(FILLERS))))
        if options.get("fillet_leg"):
            typed = read_length(options["fillet_leg"], role="wall", default_unit=unit)
            leg = float(typed)
            if leg > LARGEST_LEG:
                raise Problem("out-of-range", "That fillet leg is more than this handles.", given=typed.typed,
                              allowed=f"up to {LARGEST_LEG:g} in.", next_step="Measure the leg of the weld.", field="fillet_leg")  # fmt: skip
        else:
            leg = min(tube.t, sleeve.t, LARGEST_LEG)
    except Problem as problem:
        raise problem.at("strength") from None
    sizes = {hole["key"]: hole["diameter"]["in"] for hole in sized.get("rosette", {}).get("sizes", [])}
    count = sized.get("rosette", {}).get("per_end", 0) if choice in sizes else 0
    searched = sized.get("rosette", {}).get("search") if choice != "none" else None
    if searched:
        count, sizes[choice] = len(searched["stations"]), searched["diameter"]["in"]
    cut = read_end_cut(data.get("end", "scarf"), data.get("mitre_deg", 60))
    case = SpliceCase(tube, sleeve, method, sized["weld_line"]["in"], cut.mitre_deg, leg, weld,
                      rosettes=count, rosette_diameter=sizes[choice] if count else None, end_shape=cut.end)  # fmt: skip
    return {**compare(case).as_dict(), "rosette_choice": choice,
            "not_a_verdict": "A comparison of sections and welds on paper. It says nothing about the weld that was made."}  # fmt: skip
