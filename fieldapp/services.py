"""The core functions the views call, imported when first used.

One place, so that the views name no core module of their own and a test can put a
small function in its place.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from core.shop_rules import RuleSheet


def size(data: dict[str, Any], sheet: RuleSheet | None = None) -> dict[str, Any]:
    """Return the sized splice for the JSON `data` (`core.sizing.size`)."""
    from core.sizing import size as compute

    return compute(data, sheet)


def summary(data: dict[str, Any]) -> dict[str, Any]:
    """Return what a sized splice says on its tag and in its checklist (`core.sizing.summary`)."""
    from core.sizing import summary as compute

    return compute(data)


def drawing(data: dict[str, Any], sized: dict[str, Any] | None = None) -> str:
    """Return the to-scale drawing of an outer sleeve (`core.drawing.sleeve_drawing`), "" for other methods.

    With its result at hand the drawing shows the holes that were searched for.
    """
    from core.drawing import sleeve_drawing as compute

    if data.get("method", "outer-sleeve") != "outer-sleeve":
        return ""
    return compute(outer_sleeve_only(data), (sized or {}).get("rosette", {}).get("search"))


def outer_sleeve_only(data: dict[str, Any]) -> dict[str, Any]:
    """Return a sizing input without the members that `core.sizing` takes for itself."""
    from core.size_options import NAMES

    return {key: value for key, value in data.items() if key not in NAMES}


def cuts(data: dict[str, Any]) -> dict[str, Any]:
    """Return a cut plan over bars and remnants (`core.cutting.plan_cuts`)."""
    from core.cutting import plan_cuts
    from core.cutting_input import read_cutting

    return plan_cuts(**read_cutting(data), time_limit=5.0).as_dict()


def template(data: dict[str, Any], kind: str, sheet: str, demo: bool = False) -> tuple[bytes, str]:
    """Return the 1:1 template of a sized repair as a file, and its media type (`core.template_methods`).

    `kind` is svg, pdf or dxf; `sheet` (a4, letter) counts for pdf only.
    """
    from core.template_methods import method_template

    if kind == "dxf":
        from fieldapp.template_dxf import template_dxf

        # A flat blank is cut to the tube's own surface: no paper between.
        return template_dxf(method_template(data, flat=True, demo=demo)).encode("utf-8"), "image/vnd.dxf"
    drawn = method_template(data, demo=demo)
    if kind == "svg":
        from core.template_svg import template_svg

        return template_svg(drawn).encode("utf-8"), "image/svg+xml"
    from fieldapp.template_pdf import template_pdf

    return template_pdf(drawn, sheet), "application/pdf"


def assess(data: dict[str, Any], sheet: RuleSheet | None = None) -> dict[str, Any]:
    """Return which methods the damage allows (`core.assess.assess`)."""
    from core.assess import assess as compute

    return compute(data, sheet)


def candidates(data: dict[str, Any]) -> dict[str, Any]:
    """Return the ranked stock for a method (`core.stock.candidates`)."""
    from core.stock import candidates as compute

    return compute(data)


def choices() -> dict[str, Any]:
    """Return the words and numbers the page offers (`core.choices.choices`)."""
    from core.choices import choices as compute

    return compute()
