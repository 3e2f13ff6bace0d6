"""Size a repair by any method: the one door for the page, the API and the command line."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import Any

from core.card import card
from core.fit_block import fit_block, fit_of
from core.hole_plan import HolePlan, hole_plan, rosette_check, search_block
from core.methods.common import ranked
from core.methods.parts import Parts, read_parts
from core.methods.strength_block import SPLICES, strength_block
from core.problems import Problem, collect
from core.quantity import fine_text
from core.rules import Check
from core.shop_rules import RuleSheet, member_checks
from core.size_options import NAMES, SizeOptions, read_options
from core.tube import one_of, read_tube

MODULES = {
    "outer-sleeve": "core.methods.outer_sleeve",
    "inner-sleeve": "core.methods.inner_sleeve",
    "larger-tube": "core.methods.larger_tube",
    "split-sleeve": "core.methods.split_sleeve",
    "patch": "core.methods.patch",
}


def size(data: Any, sheet: RuleSheet | None = None) -> dict[str, Any]:
    """Return the sized repair as JSON-ready data.

    Parameters
    ----------
    data : mapping
        ``method`` (default "outer-sleeve"), the members that method reads, what
        `core.size_options.read_options` reads, ``member`` of the rule sheet, and for a splice
        ``strength`` (see `core.methods.strength_block.strength_block`). Lengths as text; a bare
        number counts as inches unless ``units`` is "mm".
    sheet : RuleSheet, optional
        The shop's own rules, for a job that names a ``member``.

    Returns
    -------
    dict
        What the method's own ``size`` returns; for a splice also ``fit``
        (`core.fit_block.fit_block`) and ``card`` (`core.card.card`); with ``rosettes``,
        ``rosette.search``; with a ``member``, ``shop_rules``.

    Raises
    ------
    Problem
        ``bad-choice`` for the method, else the method's own and the options' together.

    Source: the method's own (`core.methods`).

    >>> import json
    >>> from core.size_input import EXAMPLE
    >>> size(json.loads(EXAMPLE))["length"]["blank"]["text"]
    '8-1/8 in'
    """
    name, rest = method_of(data)
    asked = {key: rest.pop(key) for key in NAMES if key in rest}
    problems: list[Problem] = []
    options = _attempt(lambda: read_options(name, {**asked, "units": rest.get("units")}), problems)
    sized = _attempt(lambda: import_module(MODULES[name]).size(rest), problems)
    for problem in problems:
        if problem.kind == "unknown-member" and problem.field in rest:
            problem.allowed = ", ".join(sorted({*problem.allowed.removesuffix(".").split(", "), *NAMES})) + "."
    collect(problems)
    parts = read_parts(name, rest)
    if parts:
        _add(sized, parts, options)
    if name in SPLICES:
        sized["strength"] = strength_block(name, rest, asked.get("strength"), sized)
    if asked.get("member"):
        tube = parts.tube if parts else read_tube(rest["tube"], default_unit=rest.get("units") or "in")
        checks = member_checks(sheet, asked["member"], tube, parts.sleeve if parts else None)
        sized["shop_rules"] = [check.as_dict() for check in checks]
    return sized


def _attempt(work: Callable[[], Any], problems: list[Problem]) -> Any:
    """Return what `work` returns, None after keeping its problems: a person sees all of them at once."""
    try:
        return work()
    except Problem as problem:
        problems += [problem, *problem.others]
        problem.others = ()
        return None


def _add(sized: dict[str, Any], parts: Parts, options: SizeOptions) -> None:
    """Add the fit side by side, the holes asked for and the card to what the method worked out."""
    more: list[Check] = []
    fit = fit_of(parts, options.measured) if options.measured else None
    sized["fit"] = fit_block(parts, fit)
    if fit:
        more.append(fit.check())
    plan = hole_plan(parts, options)
    if plan and plan.placement:
        sized["rosette"]["search"] = search_block(parts, plan)
        more.append(rosette_check(parts, plan))
    sized["card"] = card(parts, options, plan)
    if "saw" in sized:
        sized["saw"]["note"] = sized["card"]["saw"]["short"]
    sized["checks"] += [check.as_dict() for check in more]
    sized["warnings"] = sorted([*sized["warnings"], *ranked(more, [])], key=lambda one: one["rank"])


def summary(data: Any) -> dict[str, Any]:
    """Return the tag's essentials and the checklist's figures for a sized repair.

    Parameters
    ----------
    data : mapping
        As `size` takes it; lengths as text.

    Returns
    -------
    dict
        ``tag``: tube, sleeve, material, end, mitre_deg, length, method, clause as text;
        ``context``: the members `core.checklist.checklist_for` takes, lengths in inches.

    Raises
    ------
    Problem
        ``bad-choice`` for the method, else the method's own.

    Source: the method's own (`core.methods`).

    >>> import json
    >>> from core.size_input import EXAMPLE
    >>> summary({**json.loads(EXAMPLE), "hole": "shop"})["context"]["hole_diameter"]
    '13/32 in'
    """
    name, rest = method_of(data)
    asked = {key: rest.pop(key) for key in NAMES if key in rest}
    told = import_module(MODULES[name]).summary(rest)
    if "hole_diameter" in told["context"] and (asked.get("rosettes") or asked.get("hole")):
        told["context"]["hole_diameter"] = _hole_text(read_parts(name, rest), read_options(name, {**asked, "units": rest.get("units")}))
    return told


def _hole_text(parts: Parts, options: SizeOptions) -> str:
    """Return the diameter the checklist asks for: the one on the card."""
    plan: HolePlan = hole_plan(parts, options)
    if plan.hole.key == "own":
        return options.rosettes.diameter.typed
    return fine_text(float(plan.hole.diameter), True) if parts.metric else f"{plan.hole.diameter} in"


def method_of(data: Any) -> tuple[str, dict[str, Any]]:
    """Return the repair method of a sizing input, and the input without it.

    Parameters
    ----------
    data : mapping
        As `size` takes it; its lengths, inches or mm, are not read here.

    Returns
    -------
    tuple of (str, dict)
        Key of `MODULES`, the other members.

    Raises
    ------
    Problem
        ``bad-body``, ``bad-choice``.

    Source: common practice, no source (an outer sleeve unless told).

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
