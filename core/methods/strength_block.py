"""The strength comparison of a sized splice, from the same JSON as the sizing. Loads in kip, lengths in inches."""

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
        ``fillet_leg`` (text length, over 0 to 1/2 in; default: the thinner wall at the weld), ``filler`` (key of
        `core.fillers.FILLERS`, default er70s-2), ``rosette`` (which of the sizes by source is
        drilled: circular, shop, structural or none; default circular; holes that were
        searched for count as they are).
    sized : dict
        The result of the method's ``size``.

    Returns
    -------
    dict
        As `core.strength.Comparison.as_dict`, with ``rosette_choice`` and ``not_a_verdict``.

    Raises
    ------
    Problem
        For options that cannot be used; ``field`` is "strength" or "strength." and the option.

    Source: `core.strength`; comparisons only.

    >>> import json
    >>> from core.methods.outer_sleeve import size
    >>> from core.size_input import EXAMPLE
    >>> data = json.loads(EXAMPLE)
    >>> strength_block("outer-sleeve", data, {"rosette": "shop"}, size(data))["rosette_choice"]
    'shop'
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

    def read(name, reader):
        try:
            return reader(options.get(name))
        except Problem as problem:
            raise problem.at(f"strength.{name}") from None

    choice = read("rosette", lambda v: one_of("rosette size", "circular" if v is None else v, ROSETTES))
    weld = read("filler", lambda v: filler(next(iter(FILLERS)) if v is None else v))
    leg = read("fillet_leg", lambda v: _leg(v, unit) if v else min(tube.t, sleeve.t, LARGEST_LEG))
    sizes = {hole["key"]: hole["diameter"]["in"] for hole in sized.get("rosette", {}).get("sizes", [])}
    told = sized.get("rosette", {})
    # An inner sleeve has its rosettes on each side of the cut, not on an end of its own.
    count = told.get("per_end", told.get("per_side", 0)) if choice in sizes else 0
    searched = sized.get("rosette", {}).get("search") if choice != "none" else None
    if searched:
        count, sizes[choice] = len(searched["stations"]), searched["diameter"]["in"]
    cut = read_end_cut(data.get("end", "scarf"), data.get("mitre_deg", 60))
    case = SpliceCase(tube, sleeve, method, sized["weld_line"]["in"], cut.mitre_deg, leg, weld,
                      rosettes=count, rosette_diameter=sizes[choice] if count else None, end_shape=cut.end)  # fmt: skip
    return {**compare(case).as_dict(), "rosette_choice": choice,
            "not_a_verdict": "A comparison of sections and welds on paper. It says nothing about the weld that was made."}  # fmt: skip


def _leg(text: Any, unit: str) -> float:
    leg = read_length(text, role="wall", default_unit=unit)
    if float(leg) > LARGEST_LEG:
        raise Problem("out-of-range", "That fillet leg is more than this handles.", given=leg.typed,
                      allowed=f"up to {LARGEST_LEG:g} in.", next_step="Measure the leg of the weld.")  # fmt: skip
    return float(leg)
