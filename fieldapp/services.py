"""The core functions the views call, imported when first used.

One place, so that the views name no core module of their own and a test can put a
small function in its place.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from core.shop_rules import RuleSheet


def size(data: dict[str, Any]) -> dict[str, Any]:
    """Return the sized splice for the JSON `data` (`core.sizing.size`)."""
    from core.sizing import size as compute

    return compute(data)


def summary(data: dict[str, Any]) -> dict[str, Any]:
    """Return what a sized splice says on its tag and in its checklist (`core.sizing.summary`)."""
    from core.sizing import summary as compute

    return compute(data)


def drawing(data: dict[str, Any]) -> str:
    """Return the to-scale drawing of a sized splice (`core.drawing.sleeve_drawing`)."""
    from core.drawing import sleeve_drawing as compute

    return compute(data)


def assess(data: dict[str, Any], sheet: RuleSheet | None = None) -> dict[str, Any]:
    """Return which methods the damage allows (`core.assess.assess`)."""
    from core.assess import assess as compute

    return compute(data, sheet)


def candidates(data: dict[str, Any]) -> dict[str, Any]:
    """Return the ranked sleeve stock (`core.stock.candidates`)."""
    from core.stock import candidates as compute

    return compute(data)


def choices() -> dict[str, Any]:
    """Return the words and numbers the page offers (`core.choices.choices`)."""
    from core.choices import choices as compute

    return compute()
