"""Size a repair by any method: the one door for the page, the API and the command line."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from core.methods.strength_block import SPLICES, strength_block
from core.problems import Problem
from core.tube import one_of

MODULES = {
    "outer-sleeve": "core.methods.outer_sleeve",
    "inner-sleeve": "core.methods.inner_sleeve",
    "larger-tube": "core.methods.larger_tube",
    "split-sleeve": "core.methods.split_sleeve",
    "patch": "core.methods.patch",
}


def size(data: Any) -> dict[str, Any]:
    """Return the sized repair as JSON-ready data.

    Parameters
    ----------
    data : mapping
        ``method`` (default "outer-sleeve"), the members that method reads, and for a splice
        ``strength`` (see `core.methods.strength_block.strength_block`).

    Raises
    ------
    Problem
        ``bad-choice`` for the method, else the method's own.

    >>> import json
    >>> from core.size_input import EXAMPLE
    >>> size(json.loads(EXAMPLE))["length"]["blank"]["text"]
    '8-1/8 in'
    """
    name, rest = method_of(data)
    options = rest.pop("strength", None)
    sized = import_module(MODULES[name]).size(rest)
    if name in SPLICES:
        sized["strength"] = strength_block(name, rest, options, sized)
    return sized


def summary(data: Any) -> dict[str, Any]:
    """Return the tag's essentials and the checklist's figures for a sized repair.

    Returns
    -------
    dict
        ``tag``: tube, sleeve, material, end, mitre_deg, length, method, clause as text;
        ``context``: the members `core.checklist.checklist_for` takes.
    """
    name, rest = method_of(data)
    rest.pop("strength", None)
    return import_module(MODULES[name]).summary(rest)


def method_of(data: Any) -> tuple[str, dict[str, Any]]:
    """Return the repair method of a sizing input, and the input without it.

    Raises
    ------
    Problem
        ``bad-body``, ``bad-choice``.

    >>> method_of({"end": "scarf"})
    ('outer-sleeve', {'end': 'scarf'})
    """
    if not isinstance(data, dict):
        raise Problem("bad-body", "The job must be one JSON object.", given=data, allowed="an object with tube, sleeve and end.",
                      next_step="Send tube, sleeve, end, mitre_deg and gap.", status=400)  # fmt: skip
    try:
        name = one_of("repair method", data.get("method", "outer-sleeve"), tuple(MODULES))
    except Problem as problem:
        raise problem.at("method") from None
    return name, {key: value for key, value in data.items() if key != "method"}
